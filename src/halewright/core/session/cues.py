"""What is said at which instant; the same words serve voice, caption and screen.

Lead times and the count of the last four are common practice (needs of leaders, teaching and
speaking): announce ahead, one instruction and one safety point a set, count down at the end.
Every cue has been spoken before the next begins: where the time is short, the lesser is left out.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from halewright.core.catalogue.movement import Catalogue, Movement
from halewright.core.catalogue.words import Position, SetUp, Side
from halewright.core.session import layout
from halewright.core.session.layout import Stretch
from halewright.core.session.outline import Purpose
from halewright.core.session.timeline import Cue, CueKind, Event, EventKind
from halewright.core.units import MINUTE_MS, SECOND_MS

WORDS_A_MINUTE_COUNT = 110
"""How fast a leader speaks in a hall: 100 to 125 words a minute (common practice)."""

STOP_SIGNS = (
    "Stop and tell me at once if you feel pain or tightness in your chest, feel faint or very "
    "breathless, or anything suddenly hurts. Go at your own pace."
)
WELCOME = "Welcome. Sit tall towards the front of your chair, both feet flat on the floor."
BAND_CARE = "Look along your band for nicks and tears. Keep your face out of the line of pull."
BANDS_DOWN = "Let the band go slowly, put it down, and have a drink."
STAND_UP = (
    "Bands off and put down. Those who stand: move your feet, rise slowly with a hand on a chair, "
    "and stand still for a moment."
)
SIT_DOWN = "Feel for your chair and sit down slowly."
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
_PAUSE_MS = SECOND_MS // 2
"""Between two things said: common practice."""
_LEAD_MS = 50 * SECOND_MS
"""How long before the work the next movement is announced, where there is so much time."""
_AROUND_SAFETY_MS = 14 * SECOND_MS
"""What a work interval keeps for its start and its last ten seconds, beside a safety line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Something to say in an event, not before `after_ms` from its start.

    With `moves` it may be said later, where there is room; else then or not at all.
    """

    kind: CueKind
    words: str
    after_ms: int = 0
    moves: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """An event with what its cues depend on.

    `before` and `ahead` are the movements around it (`ahead` its own, where it has one); `told`
    says that the safety line of `ahead` has been said already in this session. `work_ms` is the
    length of the session's work intervals.
    """

    event: Event
    stretch: Stretch
    purpose: Purpose
    before: Movement | None
    ahead: Movement | None
    told: bool
    work_ms: int

    @property
    def length_ms(self) -> int:
        """How long the event lasts."""
        return self.event.end_ms - self.event.start_ms


def spoken_ms(words: str) -> int:
    """Return how long it takes to say these words."""
    return len(words.split()) * MINUTE_MS // WORDS_A_MINUTE_COUNT


def cues(
    *,
    events: tuple[Event, ...],
    stretches: tuple[Stretch, ...],
    catalogue: Catalogue,
    purpose: Purpose,
) -> tuple[Cue, ...]:
    """Return all cues in order of time; each is said within the event that it belongs to."""
    found: list[Cue] = []
    said: set[str] = set()
    works = [event for event in events if event.kind is EventKind.WORK]
    work_ms = works[0].end_ms - works[0].start_ms if works else 0
    for index, (event, stretch) in enumerate(zip(events, stretches, strict=True)):
        ahead = _first_movement(events[index:], catalogue)
        scene = Scene(
            event=event,
            stretch=stretch,
            purpose=purpose,
            before=_first_movement(reversed(events[:index]), catalogue),
            ahead=ahead,
            told=ahead is not None and ahead.teaching.safety in said,
            work_ms=work_ms,
        )
        spoken = _placed(event, _lines(scene))
        said.update(cue.words for cue in spoken)
        found += spoken
    return tuple(found)


def _first_movement(events: Iterable[Event], catalogue: Catalogue) -> Movement | None:
    for event in events:
        if event.movement is not None:
            return catalogue[event.movement]
    return None


def _placed(event: Event, lines: Iterable[Line]) -> list[Cue]:
    """Give each line its instant, the most important first; leave out what finds no room."""
    length_ms = event.end_ms - event.start_ms
    taken: list[tuple[int, int, Line]] = []
    for line in lines:
        takes_ms = spoken_ms(line.words)
        starts = [line.after_ms]
        if line.moves:
            starts += sorted(end_ms + _PAUSE_MS for _, end_ms, _ in taken)
        for start_ms in starts:
            end_ms = start_ms + takes_ms
            free = all(end_ms <= begun or start_ms >= ended for begun, ended, _ in taken)
            if line.words and line.after_ms <= start_ms and end_ms <= length_ms and free:
                taken.append((start_ms, end_ms, line))
                break
    return [
        Cue(at_ms=event.start_ms + start_ms, kind=line.kind, words=line.words)
        for start_ms, _, line in sorted(taken, key=lambda each: each[0])
    ]


def _lines(scene: Scene) -> Iterator[Line]:
    """Yield what is to be said in an event, the most important first."""
    makers: Mapping[EventKind, Callable[[Scene], Iterator[Line]]] = {
        EventKind.WELCOME: _welcome,
        EventKind.WARM_UP: _gentle,
        EventKind.COOL_DOWN: _gentle,
        EventKind.GET_READY: _get_ready,
        EventKind.CHANGEOVER: _changeover,
        EventKind.REST: _rest,
        EventKind.WATER: _water,
        EventKind.WORK: _work,
        EventKind.CLOSE: _close,
    }
    return makers[scene.event.kind](scene)


def _welcome(scene: Scene) -> Iterator[Line]:  # noqa: ARG001  a maker like the others
    yield Line(kind=CueKind.WELCOME, words=WELCOME)
    yield Line(kind=CueKind.STOP_SIGNS, words=STOP_SIGNS, after_ms=20 * SECOND_MS, moves=True)


def _gentle(scene: Scene) -> Iterator[Line]:
    movement = scene.ahead
    if movement is None:
        return
    if not scene.stretch.first:
        words = f"Now the other side. {_side(scene.event)}".strip()
        yield Line(kind=CueKind.SWAP_SIDES, words=words)
        return
    whole = f"{movement.name}. {movement.teaching.start}"
    fits = spoken_ms(whole) <= scene.length_ms
    yield Line(kind=CueKind.GO, words=whole if fits else f"{movement.name}.")
    yield Line(
        kind=CueKind.BREATH,
        words=movement.teaching.breath,
        after_ms=15 * SECOND_MS,
        moves=True,
    )


def _get_ready(scene: Scene) -> Iterator[Line]:
    opening = [Line(kind=CueKind.GET_READY, words="Get ready for the main part.")]
    # Bands are handed out here even where the first station uses none.
    if scene.event.title == layout.GET_READY:
        opening.append(Line(kind=CueKind.SAFETY, words=BAND_CARE, after_ms=8 * SECOND_MS))
    yield from opening
    yield from _announced(scene, after=opening)


def _announced(scene: Scene, *, after: list[Line]) -> Iterator[Line]:
    """Yield the next movement, how to get there, its band and its safety line, in that order.

    What finds no time is left out, the least important first: the starting position, the safety
    line if it can be said at the start of the work instead, the band's way.
    """
    if scene.ahead is None:
        return
    teaching = scene.ahead.teaching
    name = f"Next: {scene.ahead.name}."
    banded = scene.event.set_up is not SetUp.NONE
    spoken = [
        Line(kind=CueKind.GET_READY, words=name),
        Line(kind=CueKind.SAFETY, words=_moving(scene)),
        Line(kind=CueKind.SET_UP, words=teaching.set_up if banded else ""),
        Line(kind=CueKind.SAFETY, words=teaching.safety),
    ]
    later = scene.told or spoken_ms(teaching.safety) + _AROUND_SAFETY_MS <= scene.work_ms
    wanted = spoken if later else [spoken[0], spoken[3], *spoken[1:3]]
    begun_ms = max((line.after_ms + spoken_ms(line.words) + _PAUSE_MS for line in after), default=0)
    room_ms = scene.length_ms - begun_ms
    chosen: list[Line] = []
    for line in wanted:
        if line.words and _length_ms([*chosen, line]) <= room_ms:
            chosen.append(line)
    kept = [line for line in spoken if line in chosen]
    whole = Line(kind=CueKind.GET_READY, words=f"{name} {teaching.start}")
    if kept[:1] == spoken[:1] and _length_ms([whole, *kept[1:]]) <= room_ms:
        kept[0] = whole
    lead_ms = max(_LEAD_MS, _length_ms(kept))
    yield from _in_turn(kept, at_ms=max(begun_ms, scene.length_ms - lead_ms))


def _in_turn(lines: list[Line], *, at_ms: int) -> Iterator[Line]:
    """Yield the lines one after the other from an instant on."""
    for line in lines:
        yield Line(kind=line.kind, words=line.words, after_ms=at_ms)
        at_ms += spoken_ms(line.words) + _PAUSE_MS


def _length_ms(lines: list[Line]) -> int:
    return sum(spoken_ms(line.words) + _PAUSE_MS for line in lines)


def _moving(scene: Scene) -> str:
    """Return how the group gets up or sits down before the next movement, "" where it does not."""
    stood = scene.before is not None and _stands(scene.before)
    stands = scene.ahead is not None and _stands(scene.ahead)
    if stood is stands:
        return ""
    return STAND_UP if stands else SIT_DOWN


def _stands(movement: Movement) -> bool:
    return movement.standard.position is Position.SUPPORTED_STANDING


def _changeover(scene: Scene) -> Iterator[Line]:
    if scene.stretch.title == layout.SWAP:
        words = f"Swap sides. {_side(scene.event)}".strip()
        yield Line(kind=CueKind.SWAP_SIDES, words=words)
        return
    yield from _announced(scene, after=[])


def _rest(scene: Scene) -> Iterator[Line]:
    if scene.event.title == layout.TESTS:
        yield Line(kind=CueKind.REST, words="Time for the tests.")
    else:
        yield Line(kind=CueKind.REST, words=f"Rest. {scene.event.title}.")


def _water(scene: Scene) -> Iterator[Line]:
    last = scene.event.round is None
    drink = "Have a drink, and shake out your hands and feet."
    opening = [Line(kind=CueKind.WATER, words=drink)]
    if last:
        words = BANDS_DOWN if scene.event.title == layout.BANDS_DOWN else drink
        opening = [Line(kind=CueKind.WATER, words=words)]
        if scene.before is not None and _stands(scene.before):
            yield Line(kind=CueKind.WATER, words=f"{SIT_DOWN} {words}")
            return
    yield from opening
    if not last:
        yield from _announced(scene, after=opening)


def _work(scene: Scene) -> Iterator[Line]:
    length_ms = scene.length_ms
    go = f"Go. {_side(scene.event)}".strip()
    if scene.purpose is Purpose.HANDLING:
        go = "Practise the hold and the anchor. No pull today."
    yield Line(kind=CueKind.GO, words=go)
    for left in range(_COUNTED, 0, -1):
        yield Line(
            kind=CueKind.COUNT, words=str(left), after_ms=max(0, length_ms - left * SECOND_MS)
        )
    ten_ms = length_ms - 10 * SECOND_MS
    if ten_ms > 0:
        yield Line(kind=CueKind.LAST_TEN, words="Last ten seconds.", after_ms=ten_ms)
    if scene.ahead is not None and not scene.told:
        safety = scene.ahead.teaching.safety
        yield Line(kind=CueKind.SAFETY, words=safety, after_ms=3 * SECOND_MS, moves=True)
    if length_ms >= _LONG_MS:
        yield Line(kind=CueKind.HALFWAY, words="Halfway.", after_ms=length_ms // 2)
    if scene.ahead is not None and scene.stretch.first:
        breath = scene.ahead.teaching.breath
        yield Line(kind=CueKind.BREATH, words=breath, after_ms=8 * SECOND_MS, moves=True)


def _close(scene: Scene) -> Iterator[Line]:
    if scene.event.title == layout.RISE_CHECK:
        yield Line(kind=CueKind.RISE_CHECK, words=RISE_CHECK)
    else:
        yield Line(kind=CueKind.CLOSE, words=CLOSE)


def _side(event: Event) -> str:
    return _SIDE_WORDS.get(event.side, "") if event.side else ""
