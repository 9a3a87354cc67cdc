"""From a session's outline to its timeline: events that tile the slot, cues within them."""

from dataclasses import replace

from halewright.core.catalogue.movement import Catalogue
from halewright.core.errors import HalewrightError
from halewright.core.session import cues, layout
from halewright.core.session.durations import Durations
from halewright.core.session.layout import Stretch
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.core.session.timeline import Event, Timeline
from halewright.core.units import MINUTE_MS

MOST_WELCOME_EXTRA_MS = 2 * MINUTE_MS
"""Late-comers and the door chat; the rest of what is left over is for the close."""


class SlotTooShort(HalewrightError):
    """A session that needs longer than its slot."""

    def __init__(self, *, needed_ms: int, slot_ms: int) -> None:
        """Say by how much, and what can be done."""
        over_s = -(-(needed_ms - slot_ms) // 1000)
        super().__init__(
            f"This session needs {over_s} seconds more than its slot. Take out a station or a "
            "round, or shorten the work intervals; the cool-down is never cut."
        )


def timeline(*, outline: SessionOutline, catalogue: Catalogue, durations: Durations) -> Timeline:
    """Return the session in time.

    Time left over goes to the welcome (up to two minutes), in a test session to the tests, and
    then to the close. Raises `SlotTooShort`, or `UnknownMovement` for a strange movement.
    """
    stretches = layout.layout(outline=outline, catalogue=catalogue, durations=durations)
    events = _placed(_filled(stretches, outline))
    return Timeline(
        slot_ms=outline.slot_ms,
        events=events,
        cues=cues.cues(
            events=events, stretches=stretches, catalogue=catalogue, purpose=outline.purpose
        ),
    )


def _filled(stretches: tuple[Stretch, ...], outline: SessionOutline) -> tuple[Stretch, ...]:
    """Give the time left over to the stretches that may grow, so that the slot is filled."""
    needed_ms = sum(stretch.length_ms for stretch in stretches)
    left_ms = outline.slot_ms - needed_ms
    if left_ms < 0:
        raise SlotTooShort(needed_ms=needed_ms, slot_ms=outline.slot_ms)
    welcome_ms = min(MOST_WELCOME_EXTRA_MS, left_ms // 3)
    last = layout.TESTS if outline.purpose is Purpose.TEST else layout.CLOSE
    extra = {layout.WELCOME: welcome_ms, last: left_ms - welcome_ms}
    return tuple(
        replace(stretch, length_ms=stretch.length_ms + extra.get(stretch.title, 0))
        for stretch in stretches
    )


def _placed(stretches: tuple[Stretch, ...]) -> tuple[Event, ...]:
    events = []
    start_ms = 0
    for stretch in stretches:
        end_ms = start_ms + stretch.length_ms
        events.append(
            Event(
                kind=stretch.kind,
                start_ms=start_ms,
                end_ms=end_ms,
                title=stretch.title,
                movement=stretch.movement,
                round=stretch.round,
                side=stretch.side,
                set_up=stretch.set_up,
            )
        )
        start_ms = end_ms
    return tuple(events)
