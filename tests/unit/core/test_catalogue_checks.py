from dataclasses import replace

import pytest
from tests.fakes import sound_movement as sample

from halewright.core.catalogue import checks, wording, words
from halewright.core.catalogue import movement as values
from halewright.core.catalogue.movement import Movement, MovementId

LOOP = values.BandPath(
    closed=True,
    nodes=(
        values.PathNode(kind=values.NodeKind.WRAP, at="thigh_low_left"),
        values.PathNode(kind=values.NodeKind.WRAP, at="thigh_low_right"),
    ),
)
STANDING = values.Declared(grip_score=1.0, balance_score=1.0)
RISING = values.Declared(grip_score=1.0, balance_score=2.0, rises_per_rep_count=1.0)


def alone(movement: Movement) -> str:
    return "\n".join(problem.sentence() for problem in checks.check_alone(movement))


def together(*movements: Movement) -> str:
    catalogue = {movement.id: movement for movement in movements}
    return "\n".join(problem.sentence() for problem in checks.check(catalogue))


def named(identifier: str, **changes: object) -> Movement:
    return sample.sound(id=MovementId(identifier), name=identifier.title(), **changes)


def test_a_sound_movement_has_no_problem() -> None:
    """The sample that the other tests break is itself without fault."""
    assert alone(sample.sound()) == ""


BROKEN = {
    "upper case in the id": (sample.sound(id=MovementId("Draw_Apart")), "lower-case letters"),
    "no gentler way": (
        sample.sound(options=(sample.STANDARD, sample.STRONGER, sample.WITHOUT_BAND)),
        "no option “gentler”",
    ),
    "no stronger way": (
        sample.sound(options=(sample.STANDARD, sample.GENTLER, sample.WITHOUT_BAND)),
        "no option “stronger”",
    ),
    "no way without the band": (
        sample.sound(options=(sample.STANDARD, sample.GENTLER, sample.STRONGER)),
        "no option “without_band”",
    ),
    "a main pattern in the warm-up": (sample.sound(part=words.Part.WARM_UP), "agree"),
    "a stretch in the main part": (sample.sound(pattern=words.Pattern.STRETCH), "agree"),
    "no prime mover": (sample.sound(prime_movers=()), "0 prime movers"),
    "three prime movers": (
        sample.sound(prime_movers=tuple(words.Muscle)[:3], helper_muscles=()),
        "3 prime movers",
    ),
    "a helper that is a prime mover": (
        sample.sound(helper_muscles=(words.Muscle.UPPER_BACK,)),
        "upper_back as prime mover and as helper",
    ),
    "a path without a set-up": (
        sample.with_standard(set_up=words.SetUp.NONE),
        "set-up none with 1 band paths",
    ),
    "a set-up without a path": (sample.with_standard(paths=()), "in_hands with 0 band paths"),
    "a band in the way without one": (
        sample.sound(
            options=(
                sample.STANDARD,
                sample.GENTLER,
                sample.STRONGER,
                replace(sample.STANDARD, kind=words.OptionKind.WITHOUT_BAND),
            )
        ),
        "without_band: a band",
    ),
    "a band of one place": (
        sample.with_standard(paths=(values.BandPath(nodes=sample.HANDS.nodes[:1]),)),
        "a band path of 1 places",
    ),
    "a clamped loop": (
        sample.with_standard(paths=(replace(sample.HANDS, closed=True),)),
        "closed loop with a clamp",
    ),
    "phases out of order": (
        sample.with_standard(poses=(sample.pose(0.0), sample.pose(0.6), sample.pose(0.4))),
        "phases 0, 0.6, 0.4",
    ),
    "a single pose": (sample.with_standard(poses=(sample.pose(0.0),)), "phases 0”"),
    "both sides that differ": (
        sample.with_standard(poses=(sample.pose(0.0), sample.pose(1.0, knee_flexion_right=1.0))),
        "sides “both”, but left and right differ",
    ),
    "a turn that is called both": (
        sample.with_standard(poses=(sample.pose(0.0), sample.pose(1.0, trunk_rotation=-0.3))),
        "sides “both”, but left and right differ",
    ),
    "each side, but alike": (
        sample.with_standard(sides=words.Sides.EACH),
        "sides “each”, but left and right are alike",
    ),
    "no time out": (
        sample.with_standard(tempo=values.Tempo(out_s=0.0, hold_s=1.0, back_s=3.0)),
        "tempo 0, 1, 3",
    ),
    "a hold before it begins": (
        sample.with_standard(tempo=values.Tempo(out_s=2.0, hold_s=-1.0, back_s=3.0)),
        "tempo 2, -1, 3",
    ),
    "standing that needs no balance": (
        sample.with_standard(position=words.Position.SUPPORTED_STANDING),
        "supported_standing with balance_score 0",
    ),
    "sitting that needs balance": (
        sample.with_standard(declared=STANDING),
        "seated with balance_score 1",
    ),
    "a rise that is not counted": (
        sample.with_standard(position=words.Position.RISING, declared=STANDING),
        "rising with rises_per_rep_count 0",
    ),
    "a gentler way that grips harder": (
        sample.sound(
            options=(
                sample.STANDARD,
                replace(sample.GENTLER, declared=values.Declared(grip_score=2.0)),
                sample.STRONGER,
                sample.WITHOUT_BAND,
            )
        ),
        "gentler: grip_score beyond",
    ),
    "a gentler way with less support": (
        sample.with_standard(support=words.HandSupport.TWO_HANDS),
        "gentler: support beyond",
    ),
    "a loop on standing legs": (
        sample.with_standard(
            position=words.Position.SUPPORTED_STANDING,
            declared=STANDING,
            set_up=words.SetUp.ROUND_THIGHS,
            paths=(LOOP,),
        ),
        "a band on legs or feet while supported_standing",
    ),
    "a band underfoot while rising in another pattern": (
        sample.with_standard(
            position=words.Position.RISING,
            declared=RISING,
            set_up=words.SetUp.UNDER_FEET,
            paths=(sample.UNDER_FOOT,),
        ),
        "a band on legs or feet while rising",
    ),
    "a chair that holds a band for nobody": (
        sample.with_standard(
            position=words.Position.RISING,
            declared=RISING,
            set_up=words.SetUp.CHAIR,
            paths=(sample.ON_CHAIR,),
        ),
        "a band on the chair while rising",
    ),
    "a foot-anchored pull with no other anchor": (
        sample.sound(
            options=(
                *(
                    replace(option, set_up=words.SetUp.UNDER_FEET, paths=(sample.UNDER_FOOT,))
                    for option in (sample.STANDARD, sample.GENTLER, sample.STRONGER)
                ),
                sample.WITHOUT_BAND,
            )
        ),
        "no other anchor",
    ),
    "a blank safety line": (sample.with_words(safety="  "), "teaching.safety is blank"),
    "a blank source": (sample.sound(source=""), "source is blank"),
    "a long teaching point": (sample.with_words(points=("x" * 61,)), "shorten it to 60"),
    "a long name": (sample.sound(name="x" * 41), "shorten it to 40"),
    "four teaching points": (sample.with_words(points=("One.",) * 4), "4 teaching points"),
    "no teaching point": (sample.with_words(points=()), "0 teaching points"),
    "four faults": (sample.with_words(faults=("One.",) * 4), "4 faults"),
    "a band told by its colour": (
        sample.with_words(set_up="Hold the yellow band in both hands."),
        "set_up: … yellow …",
    ),
    "a brand": (sample.with_words(set_up="Hold the Stretchy™ in both hands."), "Leave brands out"),
    "a view that nobody knows": (sample.sound(views=("from_above",)), "views: from_above"),
    "a view twice": (sample.sound(views=("front", "front")), "one or two different views"),
    "three views": (
        sample.sound(views=("front", "right_side", "left_side")),
        "one or two different views",
    ),
    "a number without a source": (sample.sound(source="everyone knows"), "source: everyone knows"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_a_broken_movement_is_found(fault: str) -> None:
    """Each rule broken on purpose is reported, with words that point at it."""
    movement, words_found = BROKEN[fault]

    assert words_found in alone(movement)


@pytest.mark.parametrize(
    "word",
    ["patient", "prescribed", "Cleared", "treatment", "cures", "elderly", "easy", "fails",
     "falls prevention"],
)  # fmt: skip
def test_avoided_words_are_found(word: str) -> None:
    """No inflection of a word that the trade avoids comes through."""
    assert f"… {word} …" in alone(sample.with_words(daily_life=f"Good {word} here."))


@pytest.mark.parametrize("word", ["secure", "uneasy", "retreat", "impatience", "easily"])
def test_innocent_words_pass(word: str) -> None:
    """Words that only contain an avoided one are left alone."""
    assert alone(sample.with_words(daily_life=f"A {word} word.")) == ""


def test_a_source_with_a_year_is_a_source() -> None:
    """A publication named with its year is accepted."""
    assert alone(sample.sound(source="Brooke-Wavell K et al. (2022)")) == ""


def test_a_resisted_rise_must_speak_of_its_band() -> None:
    """A sit-to-stand with the band underfoot passes only with a safety line about the band."""
    rise = replace(
        sample.STANDARD,
        position=words.Position.RISING,
        declared=RISING,
        set_up=words.SetUp.UNDER_FEET,
        paths=(sample.UNDER_FOOT,),
    )
    ways = (rise, sample.GENTLER, sample.STRONGER, sample.WITHOUT_BAND)
    silent = replace(sample.TEACHING, safety="Sit down if you wobble.")
    spoken = replace(sample.TEACHING, safety="Take the feet off the band before you walk.")
    pattern = words.Pattern.SIT_TO_STAND

    assert "leaves out the band" in alone(
        sample.sound(pattern=pattern, options=ways, teaching=silent)
    )
    assert alone(sample.sound(pattern=pattern, options=ways, teaching=spoken)) == ""


def test_a_warm_up_that_nobody_can_sit_for_is_found() -> None:
    """A warm-up movement with only standing ways leaves people out."""
    standing = tuple(
        replace(
            way,
            position=words.Position.SUPPORTED_STANDING,
            declared=values.Declared(balance_score=1.0),
            set_up=words.SetUp.NONE,
            paths=(),
        )
        for way in (sample.STANDARD, sample.GENTLER)
    )
    movement = sample.sound(
        part=words.Part.WARM_UP, pattern=words.Pattern.PULSE_RAISER, options=standing
    )

    assert "no seated way" in alone(movement)


def test_a_link_to_nowhere_is_found() -> None:
    """A gentler neighbour that no file describes is reported."""
    movement = sample.sound(gentler_movement=MovementId("draw-a-little"))

    assert "link to draw-a-little" in together(movement)


def test_a_ring_of_stronger_movements_is_found() -> None:
    """A ladder that comes back to its foot is reported, whichever way its links are written."""
    low = named("low", stronger_movement=MovementId("high"))
    high = named("high", stronger_movement=MovementId("low"))
    also_high = named("high", gentler_movement=MovementId("low"))

    assert "go round in a ring" in together(low, high)
    assert "go round in a ring" not in together(low, also_high)


def test_two_movements_of_one_name_are_found() -> None:
    """A name that two movements share is reported for both."""
    other = sample.sound(id=MovementId("draw-wide"))

    assert together(sample.sound(), other).count("Another file has this name") == 2


def test_a_pattern_that_nothing_serves_is_found() -> None:
    """Each main pattern without two movements, a bandless and a seated way is reported."""
    sentences = together(sample.sound())

    assert "read “1 movements of the pattern horizontal_pull”" in sentences
    assert "no way without a band in the pattern grip" in sentences
    assert "no seated way in the pattern balance" in sentences
    assert "no seated way in the pattern horizontal_pull" not in sentences


def test_every_check_says_what_it_keeps() -> None:
    """Each check carries a sentence of its own, which the guide for authors can quote."""
    sentences = [str(rule.__doc__).strip().splitlines()[0] for rule in checks.PROBLEM_CHECKS]

    assert all(sentence.endswith((".", ",")) for sentence in sentences)
    assert len(set(sentences)) == len(checks.PROBLEM_CHECKS)


def test_words_of_a_movement_are_all_looked_at() -> None:
    """Every text that a person could read is among those checked."""
    places = {place for place, _ in wording.words_of(sample.sound())}

    assert {"name", "teaching.start", "teaching.points 1", "gentler.how"} <= places
