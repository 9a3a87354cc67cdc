"""This installation: start it, and stock it with a demo group that is planned."""

import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import django
from django.core.management import call_command

from halewright.core.errors import HalewrightError
from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan


class NoGroupNamed(HalewrightError):
    """The database holds no group of this name."""

    def __init__(self, name: str) -> None:
        """Say what can be done."""
        super().__init__(
            f"No group named “{name}” is kept here. Bring in its whole folder first, or give the "
            "name as the list of groups shows it."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocked:
    """A group in the database with the plan that is in use for it."""

    group: Group
    plan: Plan


def start(home: Path) -> None:
    """Read the settings and bring the tables up to date; call it before any row is touched."""
    os.environ["HALEWRIGHT_HOME"] = str(home)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "halewright.web.settings")
    django.setup()
    call_command("migrate", verbosity=0, interactive=False)


def stock(*, folder: Path, now: datetime, progress: Callable[[str, float], None]) -> Stocked:
    """Keep a demo group and a plan for it, unless they are kept already.

    Rows are recorded by a member who cannot sign in; the first leader takes the organisation over.
    Raises what planning raises when there is no plan.
    """
    # Rows can be spoken to only after `start`.
    from halewright.store import models, queries
    from halewright.usecases import accounts, blocks, drafting, groups, groups_kept

    group = groups.load(folder)
    row = models.Group.objects.filter(name=group.name).first()
    keeper = accounts.keeper() if row is None else row.kept_by
    if row is None:
        row = groups_kept.keep(group, organisation=keeper.organisation, by=keeper, at=now)
    if queries.current_plan(row) is None:
        whole = queries.whole(row)
        plan = drafting.draft(whole, seed=1, progress=progress)
        blocks.keep(plan, group=row, by=keeper, at=now)
    current = queries.current_plan(row)
    assert current is not None  # noqa: S101  kept just above
    return Stocked(group=queries.whole(row), plan=queries.read(current))


def import_people(file: Path, *, group: str, now: datetime) -> int:
    """Bring the people of a spreadsheet, or a whole folder, into a kept group, by its name.

    Returns how many people were read. Raises BadInput with every problem, nothing saved.
    """
    from halewright.store import models, queries
    from halewright.usecases import accounts, arrivals, groups, groups_kept

    row = models.Group.objects.filter(name=group).first()
    if file.is_dir():
        whole = replace(groups.load(file), name=group)
        count = len(whole.people)
    else:
        if row is None:
            raise NoGroupNamed(group)
        sent = arrivals.Sent(name=file.name, content=file.read_bytes())
        arrival = arrivals.people_into(queries.whole(row), sent=sent)
        whole, count = arrival.group, arrival.people_count
    by = row.kept_by if row is not None else accounts.keeper()
    groups_kept.keep(whole, organisation=by.organisation, by=by, at=now)
    return count
