"""The planner that answers at once, slowed down so that a browser can see progress."""

import time

from tests import stories
from tests.fakes.planner import check

from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan
from halewright.usecases.blocks import Progress

__all__ = ["check", "draft"]

PAUSE_S = 0.4


def draft(group: Group, *, seed: int, progress: Progress) -> Plan:
    """Return a plan of full sessions after four steps."""
    for step in range(1, 5):
        progress(f"Laying out week {step}", step / 5)
        time.sleep(PAUSE_S)
    return stories.busy_plan(group, seed=seed)
