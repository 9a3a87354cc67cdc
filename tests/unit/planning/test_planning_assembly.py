"""From chosen stations to whole sessions."""

from dataclasses import replace

from tests.fakes import plan_world, small_block
from tests.fakes.small_block import ANN, BARRED, BOB, CARE, CYD

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.kit import Band, BandLabel, Material
from halewright.core.people.person import LatexReaction
from halewright.core.planning import assembly
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import Shape
from halewright.core.session.outline import Purpose, Use

NAMES = ("pull-1", "push-1", "rise-1")
ORDER = tuple(MovementId(name) for name in NAMES)


def plan(*people: small_block.Person, **changes: object) -> Plan:
    schedule = {"weeks": 3, "keep_weeks": 4}
    bands = changes.pop("bands", ())
    made = small_block.build(
        small_block.group(*people, bands=bands, **schedule),  # type: ignore[arg-type]
        small_block.catalogue(*NAMES),
        shape=Shape(rounds=2, stations=3),
        **changes,  # type: ignore[arg-type]
    )
    return small_block.assembled(made, {0: ORDER})


def use(found: Plan, session: int, station: int, person: str) -> Use:
    uses = found.sessions[session].main[station].uses
    return next(each for each in uses if each.person == person)


def test_everybody_expected_has_one_use_at_every_station() -> None:
    """Warm-up and cool-down included."""
    for session in plan().sessions:
        for station in (*session.warm_up, *session.main, *session.cool_down):
            assert [each.person for each in station.uses] == [ANN, BOB, CYD]


def test_first_session_is_handling_without_load_and_says_so() -> None:
    """No band is loaded, and the run sheet's first notice says what the session is for."""
    first = plan().sessions[0]
    assert first.purpose is Purpose.HANDLING
    assert {each.option for each in first.main[0].uses} == {OptionKind.WITHOUT_BAND}
    assert first.notices[0].words == assembly.HANDLING
    assert all(notice.words != assembly.HANDLING for notice in plan().sessions[1].notices)


def test_other_way_comes_with_its_reason_and_care_with_its_words() -> None:
    """Ann's gentler pull says why; Bob's pull with care says what to watch."""
    told = {("ann", "pull-1", OptionKind.STANDARD): BARRED}
    told |= {("bob", "pull-1", kind): CARE for kind in OptionKind}
    found = plan(verdicts=told)
    ann, bob = (use(found, 1, 0, person) for person in (ANN, BOB))
    assert (ann.option, ann.why) == (OptionKind.GENTLER, "Her shoulder says no.")
    assert (bob.option, bob.why, bob.with_care) == (
        OptionKind.STANDARD, "", ("Watch the wrist.",),
    )  # fmt: skip


def test_joiner_and_returner_are_told_to_the_leader_on_their_day() -> None:
    """Bob joins in week 2; Cyd, away in week 2, comes back in week 3."""
    bob = small_block.person("bob", joined_on=small_block.day(1, 0))
    away = (small_block.day(1, 0), small_block.day(1, 6))
    cyd = small_block.person("cyd", away=(away,))
    found = plan(small_block.person("ann"), bob, cyd)
    told = {
        (session.week, notice.person, notice.words)
        for session in found.sessions
        for notice in session.notices
        if notice.person is not None
    }
    assert told == {(2, BOB, assembly.JOINING), (3, CYD, assembly.RETURNING)}
    assert use(found, 1, 0, BOB).why == assembly.JOINING
    assert use(found, 2, 0, CYD).why == assembly.RETURNING


def test_open_flag_gets_seated_mobility_and_a_notice() -> None:
    """Bob moves without a band and seated, and the sheet asks what is to be asked."""
    asked_of = {
        ("bob", name, kind): plan_world.ASKED
        for name in NAMES
        for kind in OptionKind
        if kind is not OptionKind.WITHOUT_BAND
    }
    found = plan(asked=["bob"], verdicts=asked_of)
    assert use(found, 1, 0, BOB).option is OptionKind.WITHOUT_BAND
    (notice,) = (each for each in found.sessions[1].notices if each.person == BOB)
    assert "Ask the doctor." in notice.words


def test_latex_free_is_said_where_it_is_needed() -> None:
    """Only in sessions to which Ann, who reacts, comes."""
    ann = small_block.person("ann", latex=LatexReaction.IMMEDIATE, joined_on=small_block.day(1, 0))
    found = plan(ann, small_block.person("bob"))
    assert [session.latex_free for session in found.sessions] == [False, True, True]


def test_bag_without_bands_is_told() -> None:
    """Nothing recorded cannot be judged, so the leader is asked to look."""
    bag = (Band(label=BandLabel("own"), material=Material.LATEX, count=3),)
    assert any(each.words == assembly.NO_BANDS for each in plan().sessions[1].notices)
    assert not any(each.words == assembly.NO_BANDS for each in plan(bands=bag).sessions[1].notices)


def test_bound_is_never_above_the_objective() -> None:
    """A bound that the solver rounded up is cut to what the plan costs."""
    made = small_block.build(
        small_block.group(), small_block.catalogue(*NAMES), shape=Shape(rounds=1, stations=3)
    )
    found = assembly.plan(made, orders={0: ORDER}, seed=1, bound=10**6)
    assert found.bound == found.objective
    assert replace(found, bound=None).bound is None
