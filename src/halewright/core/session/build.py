"""From a session's outline to its timeline: events that tile the slot, cues within them."""

from dataclasses import dataclass, replace

from halewright.core.catalogue.movement import Catalogue
from halewright.core.errors import HalewrightError
from halewright.core.session import cues, layout
from halewright.core.session.durations import Durations
from halewright.core.session.layout import Stretch
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.core.session.timeline import Event, EventKind, Timeline
from halewright.core.units import MINUTE_MS, SECOND_MS


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Stretches of some kinds may each grow by so much when there is time left over."""

    kinds: frozenset[EventKind]
    most_ms: int

    def takes(self, stretch: Stretch) -> bool:
        """Whether a stretch is one of those that grow; swapping sides stays quick."""
        return stretch.kind in self.kinds and stretch.title != layout.SWAP


WELCOME_SHARE = Share(kinds=frozenset({EventKind.WELCOME}), most_ms=2 * MINUTE_MS)
"""Late-comers and the door chat (common practice)."""

SHARES = (
    Share(kinds=frozenset({EventKind.COOL_DOWN}), most_ms=15 * SECOND_MS),
    Share(kinds=frozenset({EventKind.CHANGEOVER, EventKind.REST}), most_ms=30 * SECOND_MS),
    Share(kinds=frozenset({EventKind.WARM_UP}), most_ms=15 * SECOND_MS),
    Share(kinds=frozenset({EventKind.WATER}), most_ms=60 * SECOND_MS),
)
"""Who takes up time left over, in turn, each at most half of what is left: in a session with few
rounds people rest longer and are shown more, and nobody waits for the end (common practice)."""


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

    Time left over goes to the welcome (up to two minutes), then to longer rests, stretches and
    water; in a test session to the tests. What then remains is for the close.
    Raises `SlotTooShort`, or `UnknownMovement` for a strange movement.
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
    left_ms = outline.slot_ms - sum(stretch.length_ms for stretch in stretches)
    if left_ms < 0:
        needed_ms = outline.slot_ms - left_ms
        raise SlotTooShort(needed_ms=needed_ms, slot_ms=outline.slot_ms)
    extra = [0] * len(stretches)
    shares = () if outline.purpose is Purpose.TEST else SHARES
    for share in (WELCOME_SHARE, *shares):
        places = [place for place, stretch in enumerate(stretches) if share.takes(stretch)]
        each_ms = min(share.most_ms, left_ms // 2 // len(places)) if places else 0
        for place in places:
            extra[place] += each_ms
        left_ms -= each_ms * len(places)
    last = layout.TESTS if outline.purpose is Purpose.TEST else layout.CLOSE
    return tuple(
        replace(
            stretch,
            length_ms=stretch.length_ms + more_ms + (left_ms if stretch.title == last else 0),
        )
        for stretch, more_ms in zip(stretches, extra, strict=True)
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
