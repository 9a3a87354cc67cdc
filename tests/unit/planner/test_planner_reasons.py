"""Why there is no plan, each reason proven true by taking it away."""

from dataclasses import replace
from typing import Any

import pytest
from tests.fakes import small_block
from tests.fakes.small_block import PLAIN, PUSH_AND_PULL

from halewright.core.catalogue.words import Muscle, OptionKind, Part, Pattern, Position, SetUp
from halewright.core.people.kit import Band, BandLabel, Material, Shape
from halewright.core.people.person import LatexReaction, Weekday
from halewright.core.planning.problem import Problem
from halewright.core.planning.problem import Shape as Circuit
from halewright.core.planning.rules import Requirement
from halewright.planner import solving
from halewright.planner.solving import NoPlan, Solved

WORDS = ("rise", "pull", "hip", "push", "ankle", "raise", "curl", "trunk")
SIXTEEN = tuple(f"{word}-{number}" for word in WORDS for number in (1, 2))
BOTH_PUSHES = ("push-1", "push-2")


def block(group: Any = None, *, names: tuple[str, ...] = SIXTEEN, **changes: Any) -> Problem:
    """Return a week of two days, four stations, one round."""
    return small_block.build(
        group or small_block.group(days=(Weekday.TUESDAY, Weekday.FRIDAY)),
        changes.pop("movements", None) or small_block.catalogue(*names),
        shape=changes.pop("shape", Circuit(rounds=1, stations=4)),
        **{"settings": replace(PUSH_AND_PULL, major_muscles=()), **changes},
    )


def refused(problem: Problem) -> NoPlan:
    answer = solving.solve(problem, seed=1, work=0.5)
    assert isinstance(answer, NoPlan)
    return answer


def works(problem: Problem) -> bool:
    return isinstance(solving.solve(problem, seed=1, work=0.5), Solved)


def test_who_lacks_a_way_is_named_with_day_and_pattern() -> None:
    """Two people lack a way of pushing on Fridays, and the sentence says just that."""
    people = (
        small_block.person("ann", days=(Weekday.FRIDAY,)),
        small_block.person("bob", days=(Weekday.FRIDAY,)),
        small_block.person("cyd"),
    )
    group = small_block.group(*people, days=(Weekday.TUESDAY, Weekday.FRIDAY))
    barred = [(name, push) for name in ("ann", "bob") for push in BOTH_PUSHES]
    answer = refused(block(group, barred=barred))
    assert answer.reason.startswith(
        "On Fridays two people need a way of pushing, and there is none: Ann and Bob."
    )
    assert "Her shoulder says no." in answer.reason
    assert works(block(group, barred=barred[:1]))


def test_seated_way_is_asked_for_where_none_is_seated() -> None:
    """Where every way of the nearest movement is done standing, a seated way is what is needed."""
    movements = small_block.catalogue(*SIXTEEN)
    for each in list(movements.values()):
        if each.pattern is Pattern.PUSH:
            standing = tuple(
                replace(option, position=Position.SUPPORTED_STANDING, set_up=SetUp.NONE, paths=())
                for option in each.options
            )
            movements[each.id] = replace(each, options=standing)
    answer = refused(block(movements=movements, barred=[("ann", push) for push in BOTH_PUSHES]))
    assert "one person needs a seated way of pushing, and there is none: Ann." in answer.reason
    assert works(block(movements=movements))


def test_way_without_a_band_is_asked_for_in_a_first_session() -> None:
    """Ann may push with a band and not without: only her first session stands against it."""
    verdicts = {("ann", push, OptionKind.WITHOUT_BAND): small_block.BARRED for push in BOTH_PUSHES}
    answer = refused(block(verdicts=verdicts))
    assert "needs a way without a band for the first session of pushing" in answer.reason
    assert works(block())


def test_ways_out_that_are_named_do_help() -> None:
    """The last resort that is offered gives a plan; for three people it is not offered."""
    one = [("ann", push) for push in BOTH_PUSHES]
    assert refused(block(barred=one)).ways_out[0].startswith("Accept last resorts")
    assert works(block(barred=one, allow_last_resorts=True))
    all_three = [(name, push) for name in ("ann", "bob", "cyd") for push in BOTH_PUSHES]
    assert not any("last resort" in way for way in refused(block(barred=all_three)).ways_out)
    assert not works(block(barred=all_three, allow_last_resorts=True))


def test_pattern_missing_from_the_catalogue() -> None:
    """Without a push in the catalogue nobody is to blame, and adding one helps."""
    names = tuple(name for name in SIXTEEN if not name.startswith("push"))
    assert refused(block(names=names)).reason == "The catalogue has no movement for pushing."
    assert works(block(names=(*names, "push-1")))


def test_weekly_pattern_that_suits_nobody_names_who() -> None:
    """A weekly pattern that Ann has no way of is told like one of each session."""
    need = Requirement(name="trunk", words="working the trunk", patterns=frozenset({Pattern.TRUNK}))
    settings = replace(PLAIN, each_week=(need,))
    barred = [("ann", "trunk-1"), ("ann", "trunk-2")]
    answer = refused(block(settings=settings, barred=barred))
    assert "one person needs a way of working the trunk, and there is none: Ann." in answer.reason
    assert works(block(settings=settings))


def _bag(count: int, material: Material) -> tuple[Band, ...]:
    return tuple(
        Band(label=BandLabel(shape.value), material=material, shape=shape, count=count)
        for shape in Shape
    )


def test_too_few_bands_says_how_many_more() -> None:
    """Two strips for three people: one more helps, as the sentence says."""
    days = (Weekday.TUESDAY, Weekday.FRIDAY)
    answer = refused(block(small_block.group(days=days, bands=_bag(2, Material.LATEX))))
    assert "3 people are expected and the bag holds 2 strips" in answer.reason
    assert answer.ways_out == ("Bring 1 more strips.",)
    assert works(block(small_block.group(days=days, bands=_bag(3, Material.LATEX))))


def test_latex_free_bands_are_asked_for_by_name() -> None:
    """Enough bands of latex are none where Ann reacts to it."""
    ann = small_block.person("ann", latex=LatexReaction.IMMEDIATE)
    days = (Weekday.TUESDAY, Weekday.FRIDAY)
    answer = refused(block(small_block.group(ann, days=days, bands=_bag(5, Material.LATEX))))
    assert "the bag holds 0 latex-free strips" in answer.reason
    assert works(block(small_block.group(ann, days=days, bands=_bag(1, Material.LATEX_FREE))))


def test_slot_too_short_says_how_long_it_must_be() -> None:
    """Ten minutes hold no circuit; the minutes named do."""
    group = small_block.group(slot_minutes=10)
    answer = refused(block(group))
    assert answer.reason.startswith("A slot of 10 minutes is too short")
    (way,) = [way for way in answer.ways_out if "at least" in way]
    minutes = int("".join(letter for letter in way if letter.isdigit()))
    assert 10 < minutes < 30
    assert works(block(small_block.group(slot_minutes=minutes)))


@pytest.mark.parametrize(
    ("changes", "shape", "words"),
    [
        ({"work_s": 75.0}, Circuit(rounds=1, stations=4), "under 60 seconds"),
        ({}, Circuit(rounds=4, stations=4), "a session can hold 1 to 3"),
    ],
)
def test_what_no_session_can_be_is_told(
    changes: dict[str, Any], shape: Circuit, words: str
) -> None:
    """Work of a minute or more, or four rounds, is refused in words; the usual is not."""
    answer = refused(block(small_block.group(slot_minutes=90, **changes), shape=shape))
    assert words in answer.reason
    assert works(block(small_block.group(slot_minutes=90)))


def test_too_few_movements_that_suit_everybody() -> None:
    """Three movements cannot fill four stations; four can."""
    names = ("push-1", "pull-1", "rise-1")
    assert "only 3 movements suit everybody" in refused(block(names=names)).reason
    assert works(block(small_block.group(), names=(*names, "trunk-1")))


def test_too_little_warm_up() -> None:
    """Two items that suit everybody are no warm-up."""
    movements = small_block.catalogue(*SIXTEEN)
    first = next(each for each in movements.values() if each.part is Part.WARM_UP)
    left = {name: each for name, each in movements.items() if each != first}
    assert "only 2 warm-up movements suit everybody" in refused(block(movements=left)).reason
    assert works(block(movements=movements))


def test_no_session_at_all() -> None:
    """A block whose only date is off says so."""
    group = small_block.group(dates_off=(small_block.day(0, 1),))
    assert refused(block(group)).reason.startswith("The block holds no session")
    assert works(block(small_block.group()))


def test_clash_names_a_small_set_of_rules_and_what_alone_helps() -> None:
    """Five patterns and four stations: every rule named takes part, and fewer needs would do."""
    needs = tuple(
        Requirement(name=word, words=f"the {word}", patterns=frozenset({pattern}))
        for word, pattern in (
            ("push", Pattern.PUSH),
            ("pull", Pattern.HORIZONTAL_PULL),
            ("rise", Pattern.SIT_TO_STAND),
            ("ankle", Pattern.ANKLE),
            ("trunk", Pattern.TRUNK),
        )
    )
    settings = replace(PLAIN, each_session=needs)
    answer = refused(block(settings=settings))
    assert answer.reason.startswith("These wishes cannot be had together: ")
    told = answer.reason.partition(": ")[2].rstrip(".").split("; ")
    assert sorted(told) == sorted(
        [
            "4 stations in each session",
            *(f"every session has a station for the {need.name}" for need in needs),
        ]
    )
    for left_out in needs:
        fewer = tuple(need for need in needs if need != left_out)
        assert works(block(settings=replace(settings, each_session=fewer)))
    assert works(block(settings=settings, shape=Circuit(rounds=1, stations=5)))


def test_corridor_for_those_of_one_day_says_so() -> None:
    """Only Ann, who comes on Tuesdays alone, misses the trunk when Tuesdays have none of it."""
    ann = small_block.person("ann", days=(Weekday.TUESDAY,))
    group = small_block.group(
        ann, small_block.person("bob"), days=(Weekday.TUESDAY, Weekday.FRIDAY)
    )
    settings = replace(PLAIN, major_muscles=(Muscle.TRUNK,))
    barred = [("ann", "trunk-1"), ("ann", "trunk-2")]
    answer = refused(block(group, settings=settings, barred=barred))
    assert "sets for the trunk each week, for whoever comes on Tuesdays only" in answer.reason
    assert works(block(group, settings=replace(settings, major_muscles=()), barred=barred))
    assert works(block(group, settings=settings))


def test_neighbours_that_cannot_be_parted_are_told() -> None:
    """Four stations of which three must work the chest cannot be laid in a circle."""
    needs = tuple(
        Requirement(name=name, words=f"the {name}", patterns=frozenset({pattern}))
        for name, pattern in (
            ("push", Pattern.PUSH),
            ("raise", Pattern.SHOULDER_RAISE),
            ("curl", Pattern.ELBOW_FLEXION),
        )
    )
    movements = small_block.catalogue(*SIXTEEN)
    chest = {
        name: replace(each, prime_movers=(Muscle.CHEST,))
        if each.pattern in {Pattern.PUSH, Pattern.SHOULDER_RAISE, Pattern.ELBOW_FLEXION}
        else each
        for name, each in movements.items()
    }
    settings = replace(PLAIN, each_session=needs)
    answer = refused(block(movements=chest, settings=settings))
    assert "neighbouring stations have different prime movers" in answer.reason
    assert works(block(movements=movements, settings=settings))


def test_plain_block_has_no_reason() -> None:
    """What has a plan is not refused, with or without last resorts."""
    assert works(block())
    assert works(block(allow_last_resorts=True))


def test_a_group_without_people_is_told_so() -> None:
    """Nothing can be unsafe for nobody, but no leader wants that plan."""
    group = small_block.group(days=(Weekday.TUESDAY, Weekday.FRIDAY))

    assert "lists nobody" in refused(block(replace(group, people=()))).reason
    assert works(block(group))
