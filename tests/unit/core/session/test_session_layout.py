import pytest
from tests.fakes.outlines import outline

from halewright.core.catalogue.words import SetUp, Side
from halewright.core.errors import UnknownMovement
from halewright.core.session import build, layout
from halewright.core.session.durations import Durations
from halewright.core.session.layout import Stretch
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.core.session.timeline import EventKind, Timeline
from halewright.files import movements

ROW, CURL, LEG_BACK = "seated-row", "arm-curl", "standing-leg-back"
BANDLESS = "knee-straighten"


def laid(session: SessionOutline) -> tuple[Stretch, ...]:
    return layout.layout(outline=session, catalogue=movements.shipped(), durations=Durations())


def in_time(session: SessionOutline) -> Timeline:
    return build.timeline(outline=session, catalogue=movements.shipped(), durations=Durations())


def test_each_side_doubles_the_work() -> None:
    """A bandless movement for each side, 40 s of work: left 40, swap 10, right 40."""
    works = [
        (stretch.kind, stretch.length_ms, stretch.side)
        for stretch in laid(outline(main=(BANDLESS,)))
        if stretch.kind in {EventKind.WORK, EventKind.CHANGEOVER}
    ]

    assert works == [
        (EventKind.WORK, 40_000, Side.LEFT),
        (EventKind.CHANGEOVER, 10_000, Side.RIGHT),
        (EventKind.WORK, 40_000, Side.RIGHT),
    ]


def test_a_bandless_session_worked_by_hand() -> None:
    """Welcome 90, march 45, ready 15 + explain 12, work 40 + 10 + 40, water 60, breaths 40,
    rise check 60, close 60: 472 s.
    """
    needed_ms = layout.session_ms(
        outline=outline(main=(BANDLESS,)), catalogue=movements.shipped(), durations=Durations()
    )

    assert needed_ms == (90 + 45 + 15 + 12 + 40 + 10 + 40 + 60 + 40 + 60 + 60) * 1000


def test_bands_are_handed_out_and_put_down() -> None:
    """With a band: ready 15 + hand-out 60 + band on + explain 12 before; bands down after."""
    session = outline(main=(ROW,))
    on_ms = Durations().handling[movements.shipped()[session.main[0].movement].standard.set_up]
    stretches = {stretch.title: stretch.length_ms for stretch in laid(session)}

    assert stretches[layout.GET_READY] == 15_000 + 60_000 + max(0, on_ms.on_ms) + 12_000
    assert stretches[layout.BANDS_DOWN] == 30_000 + 60_000 + on_ms.off_ms


def test_explaining_is_done_in_the_first_round_only() -> None:
    """The gap to the second station is 12 s shorter in the second round."""
    gaps = [
        stretch.length_ms
        for stretch in laid(outline(main=(CURL, LEG_BACK), rounds=2))
        if stretch.title == f"Next: {movements.shipped()['standing-leg-back'].name}"
    ]

    assert len(gaps) == 2
    assert gaps[0] - gaps[1] == 12_000


def test_rising_for_a_standing_station_worked_by_hand() -> None:
    """Knee straightening to standing leg back, first round: rise 20 (over a rest of 15) + 12."""
    (gap,) = [
        stretch.length_ms
        for stretch in laid(outline(main=(BANDLESS, LEG_BACK)))
        if stretch.title.startswith("Next")
    ]

    assert gap == 20_000 + 12_000


def test_water_stands_between_rounds() -> None:
    """Two rounds have one water break between them and one after the last."""
    waters = [
        stretch.round
        for stretch in laid(outline(main=(BANDLESS,), rounds=2))
        if stretch.kind is EventKind.WATER
    ]

    assert waters == [2, None]


def test_handling_explains_for_longer() -> None:
    """A first session with bands takes 35 s for each explanation instead of 12."""
    usual, handling = (
        {stretch.title: stretch.length_ms for stretch in laid(outline(main=(ROW,), purpose=each))}
        for each in (Purpose.STRENGTH, Purpose.HANDLING)
    )

    assert handling[layout.GET_READY] - usual[layout.GET_READY] == 35_000 - 12_000


def test_a_test_session_gives_the_time_left_to_the_tests() -> None:
    """In an hour, what 472 s of session and 2 minutes more of welcome leave goes to the tests."""
    timeline = in_time(outline(main=(BANDLESS,), purpose=Purpose.TEST))
    (tests,) = [event for event in timeline.events if event.title == layout.TESTS]

    assert tests.end_ms - tests.start_ms == 3_600_000 - 472_000 - 120_000
    assert timeline.events[-1].end_ms - timeline.events[-1].start_ms == 60_000


def test_time_left_over_goes_to_the_welcome_first() -> None:
    """Half of 100 s left over lengthens the welcome by 50 s: 90 + 50."""
    timeline = in_time(outline(main=(BANDLESS,), slot_ms=572_000))

    assert timeline.events[0].end_ms == 90_000 + 50_000


def test_swapping_sides_stays_quick() -> None:
    """However much time is left, swapping sides takes its 10 seconds."""
    timeline = in_time(outline(main=(BANDLESS,)))

    assert [
        event.end_ms - event.start_ms for event in timeline.events if event.title == layout.SWAP
    ] == [10_000]


def test_a_slot_that_is_too_short_says_by_how_much() -> None:
    """472 s do not fit into 450: the error says 22 seconds and what to take out."""
    with pytest.raises(build.SlotTooShort) as caught:
        in_time(outline(main=(BANDLESS,), slot_ms=450_000))

    assert "22 seconds more than its slot" in str(caught.value)
    assert "station" in str(caught.value)
    assert "cool-down is never cut" in str(caught.value)


def test_a_strange_movement_is_named() -> None:
    """A movement that the catalogue lacks stops the layout with its name."""
    with pytest.raises(UnknownMovement, match="no-such-thing"):
        laid(outline(main=("no-such-thing",)))


def test_a_session_may_have_no_main_part() -> None:
    """Seated mobility alone: welcome, warm-up, cool-down and close, no bands."""
    kinds = [stretch.kind for stretch in laid(outline())]

    assert kinds == [
        EventKind.WELCOME,
        EventKind.WARM_UP,
        EventKind.COOL_DOWN,
        EventKind.CLOSE,
        EventKind.CLOSE,
    ]


def test_the_slack_is_three_in_a_hundred() -> None:
    """Of 60 minutes 3 % stay free: 58 minutes 12 seconds may be planned."""
    assert layout.usable_ms(slot_ms=3_600_000, durations=Durations()) == 3_492_000


def test_an_event_tells_where_the_band_is() -> None:
    """The work at a row says its set-up; what comes after the last station has no band."""
    events = in_time(outline(main=(ROW,))).events
    work = next(event for event in events if event.kind is EventKind.WORK)
    down = next(event for event in events if event.title == layout.BANDS_DOWN)

    assert work.set_up is movements.shipped()[outline(main=(ROW,)).main[0].movement].standard.set_up
    assert down.set_up is SetUp.NONE
