"""Fixtures for tests that need the database: quick passwords, an own home, the cast."""

from pathlib import Path
from typing import Any

import pytest
from tests import stories
from tests.cast import KEPT_AT, Cast, gather

from halewright.store import models
from halewright.usecases import blocks


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let golden files be written anew: `pytest --golden`, then read the difference."""
    parser.addoption("--golden", action="store_true", help="Write golden files anew.")


@pytest.fixture
def site(settings: Any, tmp_path: Path) -> None:
    """Keep what a page writes out of the checkout, and make passwords cheap to check."""
    settings.HOME = tmp_path
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.HALEWRIGHT_PLANNER = "tests.fakes.planner"
    settings.HALEWRIGHT_IN_BACKGROUND = False


@pytest.fixture
def cast(db: None, site: None) -> Cast:  # noqa: ARG001  fixtures for their effect
    """Alma, Bram, Cass, and Alma's group."""
    return gather()


@pytest.fixture
def plan(cast: Cast) -> models.PlanDocument:
    """A plan of Alma's group, in use."""
    value = stories.plain_plan(stories.four_chairs())
    return blocks.keep(value, group=cast.group, by=cast.alma, at=KEPT_AT)
