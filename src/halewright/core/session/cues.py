"""What is said at which instant; the same words serve voice, caption and screen.

Lead times and the count of the last four are common practice (needs of leaders, teaching and
speaking): announce ahead, one instruction and one safety point a set, count down at the end.
"""

from collections.abc import Callable, Iterator, Mapping

from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.catalogue.words import SetUp, Side
from halewright.core.session import layout
from halewright.core.session.layout import Stretch
from halewright.core.session.outline import Purpose
from halewright.core.session.timeline import Cue, CueKind, Event, EventKind
from halewright.core.units import SECOND_MS

STOP_SIGNS = (
    "Stop and tell me at once if you feel pain or tightness in your chest, feel faint or very "
    "breathless, or anything suddenly hurts. Go at your own pace."
)
WELCOME = "Welcome. Sit tall towards the front of your chair, both feet flat on the floor."
BAND_CARE = "Look along your band for nicks and tears. Keep your face out of the line of pull."
BANDS_DOWN = "Let the band go slowly, put it down, and have a drink."
RISE_CHECK = (
    "Feet moving, then stand up slowly when you are ready, holding your chair. Wait until you "
    "feel steady. Nobody leaves unsteady."
)
CLOSE = "Well done. Bands back to me, please, and take your time."

_SIDE_WORDS: Mapping[Side, str] = {
    Side.LEFT: "Your left side.",
    Side.RIGHT: "Your right side.",
    Side.ALTERNATE: "One side, then the other.",
}

_LONG_MS = 30 * SECOND_MS
_COUNTED = 4


def cues(
    *,
    events: tuple[Event, ...],
    stretches: tuple[Stretch, ...],
    catalogue: Catalogue,
    purpose: Purpose,
) -> tuple[Cue, ...]:
    """Return all cues in order of time; each lies within the event that it belongs to."""
    found: list[Cue] = []
    for index, (event, stretch) in enumerate(zip(events, stretches, strict=True)):
        ahead = _ahead(events[index:], catalogue)
        found += _of_event(event, stretch, ahead, purpose)
    return tuple(sorted(found, key=lambda cue: cue.at_ms))


def _ahead(events: tuple[Event, ...], catalogue: Catalogue) -> Movement | None:
    for event in events:
        if event.movement is not None:
            return catalogue[event.movement]
    return None


def _of_event(
    event: Event, stretch: Stretch, ahead: Movement | None, purpose: Purpose
) -> Iterator[Cue]:
    makers: Mapping[EventKind, Callable[[], Iterator[Cue]]] = {
        EventKind.WELCOME: lambda: _welcome(event),
        EventKind.WARM_UP: lambda: _gentle(event, stretch, ahead),
        EventKind.COOL_DOWN: lambda: _gentle(event, stretch, ahead),
        EventKind.GET_READY: lambda: _get_ready(event, ahead),
        EventKind.CHANGEOVER: lambda: _changeover(event, stretch, ahead),
        EventKind.REST: lambda: _rest(event),
        EventKind.WATER: lambda: _water(event, ahead),
        EventKind.WORK: lambda: _work(event, stretch, ahead, purpose),
        EventKind.CLOSE: lambda: _close(event),
    }
    return makers[event.kind]()


def _cue(event: Event, *, after_ms: int, kind: CueKind, words: str) -> Iterator[Cue]:
    """Yield the cue where the event is long enough to hold it and there are words to say."""
    at_ms = event.start_ms + after_ms
    if words and event.start_ms <= at_ms < event.end_ms:
        yield Cue(at_ms=at_ms, kind=kind, words=words)


def _welcome(event: Event) -> Iterator[Cue]:
    yield from _cue(event, after_ms=0, kind=CueKind.WELCOME, words=WELCOME)
    yield from _cue(event, after_ms=20 * SECOND_MS, kind=CueKind.STOP_SIGNS, words=STOP_SIGNS)


def _gentle(event: Event, stretch: Stretch, movement: Movement | None) -> Iterator[Cue]:
    if movement is None:
        return
    if stretch.first:
        words = f"{movement.name}. {movement.teaching.start}"
        yield from _cue(event, after_ms=0, kind=CueKind.GO, words=words)
        breath = movement.teaching.breath
        yield from _cue(event, after_ms=15 * SECOND_MS, kind=CueKind.BREATH, words=breath)
    else:
        words = f"Now the other side. {_side(event)}".strip()
        yield from _cue(event, after_ms=0, kind=CueKind.SWAP_SIDES, words=words)


def _get_ready(event: Event, ahead: Movement | None) -> Iterator[Cue]:
    yield from _cue(event, after_ms=0, kind=CueKind.GET_READY, words="Get ready for the main part.")
    if event.set_up is not SetUp.NONE:
        care_ms = 8 * SECOND_MS
        yield from _cue(event, after_ms=care_ms, kind=CueKind.SAFETY, words=BAND_CARE)
    yield from _announced(event, ahead, after_ms=30 * SECOND_MS)


def _announced(event: Event, ahead: Movement | None, *, after_ms: int) -> Iterator[Cue]:
    """Yield the next movement, how its band goes, and its safety line, as far as there is time."""
    if ahead is None:
        return
    words = f"Next: {ahead.name}. {ahead.teaching.start}"
    yield from _cue(event, after_ms=after_ms, kind=CueKind.GET_READY, words=words)
    how = ahead.teaching.set_up if event.set_up is not SetUp.NONE else ""
    set_up_ms = after_ms + 5 * SECOND_MS
    yield from _cue(event, after_ms=set_up_ms, kind=CueKind.SET_UP, words=how)
    safety_ms = after_ms + 11 * SECOND_MS
    yield from _cue(event, after_ms=safety_ms, kind=CueKind.SAFETY, words=ahead.teaching.safety)


def _changeover(event: Event, stretch: Stretch, ahead: Movement | None) -> Iterator[Cue]:
    if stretch.title == layout.SWAP:
        words = f"Swap sides. {_side(event)}".strip()
        yield from _cue(event, after_ms=0, kind=CueKind.SWAP_SIDES, words=words)
        return
    yield from _announced(event, ahead, after_ms=0)


def _rest(event: Event) -> Iterator[Cue]:
    words = "Time for the tests." if event.title == layout.TESTS else f"Rest. {event.title}."
    yield from _cue(event, after_ms=0, kind=CueKind.REST, words=words)


def _water(event: Event, ahead: Movement | None) -> Iterator[Cue]:
    last = event.title == layout.BANDS_DOWN
    words = BANDS_DOWN if last else "Have a drink, and shake out your hands and feet."
    yield from _cue(event, after_ms=0, kind=CueKind.WATER, words=words)
    if not last and event.round is not None:
        length_ms = event.end_ms - event.start_ms
        yield from _announced(event, ahead, after_ms=max(0, length_ms - 20 * SECOND_MS))


def _work(
    event: Event, stretch: Stretch, movement: Movement | None, purpose: Purpose
) -> Iterator[Cue]:
    length_ms = event.end_ms - event.start_ms
    go = f"Go. {_side(event)}".strip()
    if purpose is Purpose.HANDLING:
        go = "Practise the hold and the anchor. No pull today."
    yield from _cue(event, after_ms=0, kind=CueKind.GO, words=go)
    if movement is not None and stretch.first:
        breath = movement.teaching.breath
        yield from _cue(event, after_ms=8 * SECOND_MS, kind=CueKind.BREATH, words=breath)
    if length_ms >= _LONG_MS:
        yield from _cue(event, after_ms=length_ms // 2, kind=CueKind.HALFWAY, words="Halfway.")
    ten_ms = length_ms - 10 * SECOND_MS
    yield from _cue(event, after_ms=ten_ms, kind=CueKind.LAST_TEN, words="Last ten seconds.")
    for left in range(_COUNTED, 0, -1):
        at_ms = length_ms - left * SECOND_MS
        yield from _cue(event, after_ms=at_ms, kind=CueKind.COUNT, words=str(left))


def _close(event: Event) -> Iterator[Cue]:
    if event.title == layout.RISE_CHECK:
        yield from _cue(event, after_ms=0, kind=CueKind.RISE_CHECK, words=RISE_CHECK)
    else:
        yield from _cue(event, after_ms=0, kind=CueKind.CLOSE, words=CLOSE)


def _side(event: Event) -> str:
    return _SIDE_WORDS.get(event.side, "") if event.side else ""
