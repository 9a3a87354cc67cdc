"""The order of a session as stretches of the least length that each needs."""

from collections.abc import Iterator
from dataclasses import dataclass

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Option
from halewright.core.catalogue.words import SetUp, Side, Sides
from halewright.core.errors import UnknownMovement
from halewright.core.session import durations as lengths
from halewright.core.session.durations import Durations, State
from halewright.core.session.outline import Purpose, SessionOutline, Station
from halewright.core.session.timeline import EventKind

WELCOME = "Welcome and stop signs"
GET_READY = "Bands out and checked"
GET_READY_BANDLESS = "Get ready"
SWAP = "Swap sides"
WATER = "Water"
BANDS_DOWN = "Bands down, water"
TESTS = "Tests"
RISE_CHECK = "Rise check"
CLOSE = "Close"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One event before it has its place: what, how long at least.

    `first` marks the first time a movement is met in this session.
    """

    kind: EventKind
    length_ms: int
    title: str
    movement: MovementId | None = None
    round: int | None = None
    side: Side | None = None
    set_up: SetUp | None = None
    first: bool = False


def session_ms(*, outline: SessionOutline, catalogue: Catalogue, durations: Durations) -> int:
    """Return the time the session needs at least, to be held against its slot."""
    stretches = layout(outline=outline, catalogue=catalogue, durations=durations)
    return sum(stretch.length_ms for stretch in stretches)


def usable_ms(*, slot_ms: int, durations: Durations) -> int:
    """Return how much of a slot may be planned, the slack left free."""
    return slot_ms - round(slot_ms * durations.slack_share)


def layout(
    *, outline: SessionOutline, catalogue: Catalogue, durations: Durations
) -> tuple[Stretch, ...]:
    """Return the whole session in order; raise `UnknownMovement` for a strange movement."""
    stretches = [
        Stretch(kind=EventKind.WELCOME, length_ms=durations.welcome_ms, title=WELCOME),
        *_gentle(EventKind.WARM_UP, outline.warm_up, catalogue, durations),
    ]
    if outline.main:
        stretches += _main(outline, catalogue, durations)
    if outline.purpose is Purpose.TEST:
        stretches.append(Stretch(kind=EventKind.REST, length_ms=0, title=TESTS))
    stretches += _gentle(EventKind.COOL_DOWN, outline.cool_down, catalogue, durations)
    stretches += [
        Stretch(kind=EventKind.CLOSE, length_ms=durations.rise_check_ms, title=RISE_CHECK),
        Stretch(kind=EventKind.CLOSE, length_ms=durations.close_ms, title=CLOSE),
    ]
    return tuple(stretches)


def movement_of(station: Station, catalogue: Catalogue) -> Movement:
    """Return a station's movement; raise `UnknownMovement` where the catalogue lacks it."""
    if station.movement not in catalogue:
        raise UnknownMovement(station.movement)
    return catalogue[station.movement]


def sides_in_turn(option: Option) -> tuple[Side, ...]:
    """Return the side of each work interval in turn: two for an option done each side."""
    if option.sides is Sides.EACH:
        return (Side.LEFT, Side.RIGHT)
    return (Side.ALTERNATE,) if option.sides is Sides.ALTERNATE else (Side.BOTH,)


def explain_ms(*, outline: SessionOutline, durations: Durations) -> int:
    """Return the time to explain a station when it is first met."""
    if outline.purpose is Purpose.HANDLING:
        return durations.handling_explain_ms
    return durations.explain_ms


def _gentle(
    kind: EventKind, stations: tuple[Station, ...], catalogue: Catalogue, durations: Durations
) -> Iterator[Stretch]:
    """Yield the warm-up or the cool-down: items that flow into one another."""
    for station in stations:
        movement = movement_of(station, catalogue)
        sides = sides_in_turn(movement.standard)
        for index, side in enumerate(sides):
            yield Stretch(
                kind=kind,
                length_ms=_item_ms(kind, len(sides), durations),
                title=movement.name,
                movement=movement.id,
                side=side,
                set_up=movement.standard.set_up,
                first=index == 0,
            )


def _item_ms(kind: EventKind, sides_count: int, durations: Durations) -> int:
    if kind is EventKind.WARM_UP:
        return durations.warm_up_item_ms // sides_count
    return durations.cool_down_side_ms if sides_count > 1 else durations.cool_down_item_ms


def _main(outline: SessionOutline, catalogue: Catalogue, durations: Durations) -> Iterator[Stretch]:
    """Yield the circuit with its gaps, water between rounds, and bands down at the end."""
    circuit = [movement_of(station, catalogue) for station in outline.main]
    banded = any(movement.standard.set_up is not SetUp.NONE for movement in circuit)
    state = lengths.REST_STATE
    for round_number in range(1, outline.rounds + 1):
        explain = explain_ms(outline=outline, durations=durations) if round_number == 1 else 0
        for index, movement in enumerate(circuit):
            after = lengths.state_of(movement.standard)
            gap = lengths.gap_ms(
                before=state,
                after=after,
                rest_ms=0 if index == 0 else outline.rest_ms,
                explain_ms=explain,
                durations=durations,
            )
            yield from _opening(movement, index, round_number, gap, banded, state, after, durations)
            yield from _work(outline, movement, round_number, durations)
            state = after
    bands_ms = durations.bands_down_ms if banded else 0
    yield Stretch(
        kind=EventKind.WATER,
        length_ms=bands_ms
        + durations.water_ms
        + lengths.changeover_ms(before=state, after=lengths.REST_STATE, durations=durations),
        title=BANDS_DOWN if banded else WATER,
        set_up=SetUp.NONE,
    )


def _opening(
    movement: Movement,
    index: int,
    round_number: int,
    gap: int,
    banded: bool,
    before: State,
    after: State,
    durations: Durations,
) -> Iterator[Stretch]:
    """Yield what comes before a station's work: hand-out, water, changeover or rest."""
    if index == 0 and round_number == 1:
        ready_ms = durations.get_ready_ms + (durations.hand_out_ms if banded else 0)
        title = GET_READY if banded else GET_READY_BANDLESS
        yield Stretch(
            kind=EventKind.GET_READY,
            length_ms=ready_ms + gap,
            title=title,
            round=1,
            set_up=after.set_up,
        )
        return
    if index == 0:
        yield Stretch(
            kind=EventKind.WATER,
            length_ms=durations.water_ms + gap,
            title=WATER,
            round=round_number,
            set_up=after.set_up,
        )
        return
    changes = before != after
    yield Stretch(
        kind=EventKind.CHANGEOVER if changes or round_number == 1 else EventKind.REST,
        length_ms=gap,
        title=f"Next: {movement.name}",
        round=round_number,
        set_up=after.set_up,
        first=round_number == 1,
    )


def _work(
    outline: SessionOutline, movement: Movement, round_number: int, durations: Durations
) -> Iterator[Stretch]:
    set_up = movement.standard.set_up
    for index, side in enumerate(sides_in_turn(movement.standard)):
        if index:
            yield Stretch(
                kind=EventKind.CHANGEOVER,
                length_ms=durations.swap_sides_ms,
                title=SWAP,
                round=round_number,
                side=side,
                set_up=set_up,
            )
        yield Stretch(
            kind=EventKind.WORK,
            length_ms=outline.work_ms,
            title=movement.name,
            movement=movement.id,
            round=round_number,
            side=side,
            set_up=set_up,
            first=round_number == 1 and index == 0,
        )
