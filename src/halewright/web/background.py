"""Work that goes on after the answer was sent: a thread in this program, its state in a row."""

import importlib
import threading
from typing import cast

from django.conf import settings
from django.db import connection
from django.utils.timezone import now

from halewright.usecases import blocks


def planner() -> blocks.Planner:
    """Return what drafts and checks plans here."""
    return cast(blocks.Planner, importlib.import_module(settings.HALEWRIGHT_PLANNER))


def begin_planning(run_id: int) -> None:
    """Carry out a planning run, in the background unless the settings say otherwise."""
    if not settings.HALEWRIGHT_IN_BACKGROUND:
        blocks.carry_out(run_id, planner=planner(), clock=now)
        return
    threading.Thread(target=_plan, args=(run_id,), name=f"planning-{run_id}", daemon=True).start()


def _plan(run_id: int) -> None:
    try:
        blocks.carry_out(run_id, planner=planner(), clock=now)
    finally:
        connection.close()
