"""Session outlines of any shape from the shipped catalogue, for laws and for hand-worked sums."""

from datetime import date, time

from hypothesis import strategies as st

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import Part
from halewright.core.people.person import PersonId
from halewright.core.session.outline import Notice, Purpose, SessionOutline, Station
from halewright.files import movements

HOUR_MS = 3_600_000


def keys(part: Part) -> list[MovementId]:
    """Return the shipped movements of a part, in order of id."""
    return [key for key, each in movements.shipped().items() if each.part is part]


def outline(
    *,
    main: tuple[str, ...] = (),
    warm_up: tuple[str, ...] = ("warm-march",),
    cool_down: tuple[str, ...] = ("cool-tall-breaths",),
    rounds: int = 1,
    work_ms: int = 40_000,
    rest_ms: int = 15_000,
    slot_ms: int = HOUR_MS,
    purpose: Purpose = Purpose.STRENGTH,
    expected: tuple[PersonId, ...] = (),
    stations: tuple[Station, ...] = (),
    notices: tuple[Notice, ...] = (),
) -> SessionOutline:
    """Return one session; `stations` with people in them go before bare movements of `main`."""

    def bare(names: tuple[str, ...]) -> tuple[Station, ...]:
        return tuple(Station(movement=MovementId(name)) for name in names)

    return SessionOutline(
        week=1,
        number=1,
        on=date(2026, 12, 1),
        starts_at=time(18, 30),
        slot_ms=slot_ms,
        purpose=purpose,
        rounds=rounds,
        work_ms=work_ms,
        rest_ms=rest_ms,
        warm_up=bare(warm_up),
        main=(*stations, *bare(main)),
        cool_down=bare(cool_down),
        expected=expected,
        notices=notices,
    )


def outlines(*, least_work_s: int = 20) -> st.SearchStrategy[SessionOutline]:
    """Draw sessions of any purpose, with any of the shipped movements in any order."""

    def some(part: Part, *, most: int) -> st.SearchStrategy[tuple[str, ...]]:
        return st.lists(st.sampled_from(keys(part)), max_size=most, unique=True).map(tuple)

    return st.builds(
        outline,
        main=some(Part.MAIN, most=10),
        warm_up=some(Part.WARM_UP, most=6),
        cool_down=some(Part.COOL_DOWN, most=5),
        rounds=st.integers(1, 3),
        work_ms=st.integers(least_work_s, 59).map(lambda seconds: seconds * 1000),
        rest_ms=st.integers(0, 45).map(lambda seconds: seconds * 1000),
        slot_ms=st.just(3 * HOUR_MS),
        purpose=st.sampled_from(Purpose),
    )
