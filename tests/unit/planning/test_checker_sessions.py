"""The checker's view of one session: its time, its stations, its bands."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import plan_world as worlds

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import Muscle, Pattern
from halewright.core.people.kit import Material, Shape
from halewright.core.planning.rules import Settings
from halewright.core.session import layout
from halewright.core.session.durations import Durations
from halewright.core.session.outline import Station

MAIN_SESSIONS = len(worlds.TABLE)


@pytest.mark.parametrize("work_ms", [0, 60_000])
def test_a_work_interval_is_under_a_minute(work_ms: int) -> None:
    """Nothing at all and a whole minute are both outside."""
    made = worlds.world()
    kept = tuple(replace(each, work_ms=work_ms) for each in made.plan.sessions)

    found = {each.rule for each in worlds.check(worlds.with_sessions(made, kept))}

    assert "work" in found
    assert found <= {"work", "slot", "dose"}


@pytest.mark.parametrize("rounds", [0, 4])
def test_rounds_are_one_to_three(rounds: int) -> None:
    """No round and four rounds are both outside; the session is named."""
    made = worlds.with_session(worlds.world(), 5, 2, rounds=rounds)

    assert ("work", 5, 2, None, None) in worlds.places(made)


def test_a_session_longer_than_its_slot_is_named() -> None:
    """In a slot of 20 minutes every two-round session is too long, and says by how much."""
    made = worlds.with_schedule(worlds.world(), slot_minutes=20)
    kept = tuple(replace(each, slot_ms=20 * worlds.MINUTE_MS) for each in made.plan.sessions)

    found = worlds.check(worlds.with_sessions(made, kept))

    assert {each.rule for each in found} == {"slot"}
    assert {(5, 1), (5, 2)} <= {(each.week, each.session) for each in found}
    # 20 minutes less 3 % for slack.
    assert "19.4 of the slot" in found[-1].words


def test_a_session_that_just_fits_is_kept() -> None:
    """Slack to the very millisecond is enough; a millisecond less in the slot is not."""
    made = worlds.world()
    long = worlds.session(made, 5, 1)
    slot_ms = 60 * worlds.MINUTE_MS
    needs_ms = layout.session_ms(outline=long, catalogue=made.catalogue, durations=made.durations)
    just = replace(made, durations=Durations(slack_share=(slot_ms - needs_ms) / slot_ms))
    short = replace(made, durations=Durations(slack_share=(slot_ms - needs_ms + 1) / slot_ms))

    assert worlds.places(just) == []
    assert ("slot", 5, 1, None, None) in worlds.places(short)


def test_a_session_without_a_pattern_is_named_with_what_it_lacks() -> None:
    """Without a push there is a breach in each of Tuesday's sessions."""
    made = worlds.world()
    push = made.catalogue[MovementId("push-1")]

    found = worlds.check(worlds.with_catalogue(made, replace(push, pattern=Pattern.GRIP)))

    assert [(each.rule, each.week, each.session) for each in found] == [
        ("patterns", week, 1) for week in (1, 2, 3, 4, 5, 6)
    ]
    assert found[0].words == "Week 1, session 1 lacks pushing."


def test_two_missing_patterns_are_one_breach_with_both_sentences() -> None:
    """One acceptance would cover both, so they are told together."""
    made = worlds.world()
    changed = [
        replace(made.catalogue[MovementId(name)], pattern=pattern)
        for name, pattern in (("push-1", Pattern.BALANCE), ("pull-1", Pattern.GRIP))
    ]

    found = worlds.check(worlds.with_catalogue(made, *changed))

    assert [each.week for each in found] == [1, 2, 3, 4, 5, 6]
    assert "pushing" in found[0].words
    assert "pulling" in found[0].words


def test_a_strength_session_needs_a_main_part() -> None:
    """A warm-up and a cool-down alone are no strength session."""
    found = worlds.places(worlds.with_session(worlds.world(), 5, 2, main=()))

    assert ("patterns", 5, 2, None, None) in found


def test_neighbours_with_one_prime_mover_are_named_at_the_second() -> None:
    """Stations 3 and 4 both working the chest is told at station 4."""
    made = worlds.world()
    hip = made.catalogue[MovementId("hip-2")]
    chest = replace(hip, prime_movers=(*hip.prime_movers, Muscle.CHEST))

    found = worlds.check(worlds.with_catalogue(made, chest))

    assert [(each.rule, each.session, each.station) for each in found] == [("neighbours", 2, 4)] * 5
    assert "stations 3 and 4 both work the chest" in found[0].words


def test_the_last_and_first_stations_are_neighbours_from_two_rounds_on() -> None:
    """Going round once, the end never meets the beginning; weeks 3 and 5 have two."""
    made = worlds.world()
    trunk = made.catalogue[MovementId("trunk-2")]
    legs = replace(trunk, prime_movers=(Muscle.TRUNK, Muscle.QUADRICEPS))

    found = worlds.places(worlds.with_catalogue(made, legs))

    assert found == [("neighbours", 3, 2, 1, None), ("neighbours", 5, 2, 1, None)]


def test_a_movement_twice_in_a_session_is_named() -> None:
    """The second place is told."""
    made = worlds.world()
    trunk = made.catalogue[MovementId("trunk-1")]
    roomy = worlds.with_catalogue(
        made, replace(trunk, pattern=Pattern.ANKLE), made.catalogue[MovementId("ankle-1")]
    )
    first = worlds.session(roomy, 2, 1)
    again = worlds.with_session(made, 2, 1, main=(*first.main, first.main[1]))

    found = worlds.places(again)

    assert ("repeat", 2, 1, 8, None) in found
    assert {each[0] for each in found} <= {"repeat", "shape"}


def test_a_pattern_three_times_in_a_session_is_named() -> None:
    """Two stations of a pattern are kept, three are not."""
    made = worlds.world()
    changed = [
        replace(made.catalogue[MovementId(name)], pattern=Pattern.HORIZONTAL_PULL)
        for name in ("raise-1", "trunk-1")
    ]

    two = worlds.check(worlds.with_catalogue(made, changed[0]))
    three = worlds.check(worlds.with_catalogue(made, *changed))

    assert "pattern_repeat" not in {each.rule for each in two}
    assert [(e.week, e.session) for e in three if e.rule == "pattern_repeat"] == [
        (week, 1) for week in (1, 2, 3, 4, 5, 6)
    ]


def test_two_stations_of_grip_are_too_many() -> None:
    """Hands rest between: one station of grip is kept, two are not."""
    made = worlds.world()
    changed = [
        replace(made.catalogue[MovementId(name)], pattern=Pattern.GRIP)
        for name in ("raise-2", "curl-2", "hip-2")
    ]

    one = worlds.check(worlds.with_catalogue(made, *changed[:2]))
    two = worlds.check(worlds.with_catalogue(made, *changed))

    assert "pattern_repeat" not in {each.rule for each in one}
    assert {(e.rule, e.session) for e in two if e.rule == "pattern_repeat"} == {
        ("pattern_repeat", 2)
    }


def test_less_than_half_the_stations_loaded_is_named() -> None:
    """Of seven stations five are loaded: a share of five sevenths is kept, and no more."""
    made = worlds.world()
    asks = replace(made, settings=Settings(least_loaded_share=5 / 7))
    more = replace(made, settings=Settings(least_loaded_share=0.75))

    assert worlds.places(asks) == []
    assert [each[0] for each in worlds.places(more)] == ["loaded"] * MAIN_SESSIONS


def with_bands(made: worlds.World, **changes: object) -> worlds.World:
    """Return the world with its loops changed."""
    bands = tuple(
        replace(each, **changes) if each.shape is Shape.LOOP else each  # type: ignore[arg-type]
        for each in made.group.bands
    )
    return replace(made, group=replace(made.group, bands=bands))


def test_too_few_loops_are_named_where_they_are_needed() -> None:
    """Four loops do for four people and not for the five of weeks 4, 5 and 6 on Tuesdays."""
    found = worlds.check(with_bands(worlds.world(), count=4))

    assert [(each.rule, each.week, each.session, each.station) for each in found] == [
        ("stock", week, 1, 3) for week in (4, 5, 6)
    ]
    assert found[0].words == "Week 4, session 1, station 3: Hip 1 needs 5 latex-free loops; " + (
        "the bag has 4."
    )
    assert not found[0].incurable


@pytest.mark.parametrize("material", [Material.LATEX, Material.NOT_KNOWN])
def test_latex_loops_are_no_stock_for_a_latex_free_session(material: Material) -> None:
    """What it is made of counts, and not known counts as latex."""
    found = worlds.places(with_bands(worlds.world(), material=material))

    assert {(rule, station) for rule, _, _, station, _ in found} == {("stock", 3)}
    assert len(found) == MAIN_SESSIONS


def test_retired_bands_are_never_counted_on() -> None:
    """From the day they are retired (29 December) the loops are an incurable breach."""
    found = worlds.check(with_bands(worlds.world(), retired_on=date(2026, 12, 29)))

    assert [(each.rule, each.week, each.session, each.station) for each in found] == [
        ("retired_band", week, session, 3) for week in (5, 6) for session in (1, 2)
    ]
    assert all(each.incurable for each in found)


def test_retired_bands_that_would_not_do_either_are_a_matter_of_stock() -> None:
    """Five loops, all retired, would just do for five people; four would not."""
    just = with_bands(worlds.world(), count=5, retired_on=date(2026, 1, 1))
    short = with_bands(worlds.world(), count=4, retired_on=date(2026, 1, 1))

    full = [(4, 1), (5, 1), (6, 1)]
    assert {each.rule for each in worlds.check(just)} == {"retired_band"}
    assert [(e.week, e.session) for e in worlds.check(short) if e.rule == "stock"] == full


def test_a_bag_with_nothing_recorded_is_not_judged() -> None:
    """No band on the list says nothing about the bag."""
    made = worlds.world()

    assert worlds.places(replace(made, group=replace(made.group, bands=()))) == []


def test_a_band_for_each_is_asked_at_every_station_of_the_kind() -> None:
    """Strips short by one are told at stations 2, 4 and 6 of a full Tuesday."""
    made = worlds.world()
    bands = tuple(
        replace(each, count=4) if each.shape is Shape.STRIP else each for each in made.group.bands
    )

    found = worlds.places(replace(made, group=replace(made.group, bands=bands)))

    assert [(week, station) for _, week, _, station, _ in found] == [
        (week, station) for week in (4, 5, 6) for station in (2, 4, 6)
    ]


def test_stations_are_counted_whoever_uses_them() -> None:
    """A station without uses still has its number: what follows keeps its place."""
    made = worlds.world()
    first, *rest = worlds.session(made, 2, 1).main
    bare = Station(movement=first.movement)

    found = worlds.places(worlds.with_session(made, 2, 1, main=(bare, *rest)))

    assert {each[3] for each in found if each[0] == "expected"} == {1}
