"""Meaning checks of a catalogue: each is one sentence that every movement must keep.

The checks read only the catalogue. What needs a body (ranges of motion, soles on the floor, bands
long enough) is checked in `core.mechanics`.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterator

from halewright.core.catalogue import repetition, safety, wording
from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.wording import problem
from halewright.core.catalogue.words import OptionKind, Part, Pattern, Position, SetUp
from halewright.core.errors import Problem

KEBAB_CASE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
MOST_PRIME_MOVERS = 2
LEAST_PER_PATTERN = 2
"""Main movements of each pattern, so that the planner has a choice: common practice."""

SUPPORTING_PATTERNS = frozenset({Pattern.PULSE_RAISER, Pattern.MOBILITY, Pattern.STRETCH})
"""The patterns of warm-up and cool-down; all others belong to the main part."""
MAIN_PATTERNS = tuple(pattern for pattern in Pattern if pattern not in SUPPORTING_PATTERNS)


def check_ids(catalogue: Catalogue) -> Iterator[Problem]:
    """A movement's id is lower case with hyphens, and is the key it is kept under."""
    for key, movement in catalogue.items():
        if not KEBAB_CASE.fullmatch(movement.id) or key != movement.id:
            yield problem(
                movement,
                read=f"id: {movement.id}",
                mend="Use lower-case letters, figures and single hyphens, as in “seated-row”.",
            )


def check_names_differ(catalogue: Catalogue) -> Iterator[Problem]:
    """No two movements have the same name, or nobody could tell them apart on a sheet."""
    counted = Counter(movement.name for movement in catalogue.values())
    for movement in catalogue.values():
        if counted[movement.name] > 1:
            yield problem(
                movement, read=f"name: {movement.name}", mend="Another file has this name."
            )


def check_ways(catalogue: Catalogue) -> Iterator[Problem]:
    """A main movement can be made gentler and stronger, and done without its band."""
    for movement in catalogue.values():
        kinds = [option.kind for option in movement.options]
        needed = [OptionKind.STANDARD, OptionKind.GENTLER]
        if movement.part is Part.MAIN:
            needed.append(OptionKind.STRONGER)
        if movement.standard.set_up is not SetUp.NONE:
            needed.append(OptionKind.WITHOUT_BAND)
        for kind in needed:
            if kind not in kinds:
                yield problem(movement, read=f"no option “{kind}”", mend=f"Add a [{kind}] part.")


def check_part_and_pattern(catalogue: Catalogue) -> Iterator[Problem]:
    """Warm-up and cool-down raise the pulse, mobilise or stretch; the main part does not."""
    for movement in catalogue.values():
        supporting = movement.pattern in SUPPORTING_PATTERNS
        if supporting is (movement.part is Part.MAIN):
            yield problem(
                movement,
                read=f"pattern {movement.pattern} in part {movement.part}",
                mend="Change the part or the pattern so that they agree.",
            )


def check_prime_movers(catalogue: Catalogue) -> Iterator[Problem]:
    """One or two muscle groups do the work, and none of them is also called a helper."""
    for movement in catalogue.values():
        movers = movement.prime_movers
        if not 1 <= len(movers) <= MOST_PRIME_MOVERS:
            yield problem(
                movement, read=f"{len(movers)} prime movers", mend="Name one or two, no more."
            )
        for muscle in movers:
            if muscle in movement.helper_muscles:
                yield problem(
                    movement,
                    read=f"{muscle} as prime mover and as helper",
                    mend="Keep it in one of the two lists.",
                )


def check_links(catalogue: Catalogue) -> Iterator[Problem]:
    """A gentler or stronger neighbour is a movement that the catalogue has."""
    for movement in catalogue.values():
        for link in (movement.gentler_movement, movement.stronger_movement):
            if link is not None and link not in catalogue:
                yield problem(
                    movement,
                    read=f"link to {link}",
                    mend="The catalogue has no such movement; mend the id or leave the line out.",
                )


def check_ladders(catalogue: Catalogue) -> Iterator[Problem]:
    """A ladder goes up: no chain of stronger movements comes back to where it began."""
    above: dict[MovementId, set[MovementId]] = {key: set() for key in catalogue}
    for movement in catalogue.values():
        if movement.stronger_movement in above:
            above[movement.id].add(movement.stronger_movement)
        if movement.gentler_movement in above:
            above[movement.gentler_movement].add(movement.id)
    for movement in catalogue.values():
        if movement.id in _reached(above, movement.id):
            yield problem(
                movement,
                read="gentler_movement and stronger_movement",
                mend="These links go round in a ring; a stronger movement must stay stronger.",
            )


def _reached(above: dict[MovementId, set[MovementId]], start: MovementId) -> frozenset[MovementId]:
    found: set[MovementId] = set()
    ahead = list(above[start])
    while ahead:
        here = ahead.pop()
        if here not in found:
            found.add(here)
            ahead.extend(above[here])
    return frozenset(found)


def check_warm_up_seated(catalogue: Catalogue) -> Iterator[Problem]:
    """Everybody can begin and end together: warm-up and cool-down have a seated way."""
    for movement in catalogue.values():
        if movement.part is not Part.MAIN and not _has_seated_way(movement):
            yield problem(
                movement, read="no seated way", mend="Give a seated way that everybody can do."
            )


def check_patterns_are_served(catalogue: Catalogue) -> Iterator[Problem]:
    """Each main pattern has two movements, a way without a band and a way that is seated."""
    for pattern in MAIN_PATTERNS:
        movements = [movement for movement in catalogue.values() if movement.pattern is pattern]
        options = [option for movement in movements for option in movement.options]
        if len(movements) < LEAST_PER_PATTERN:
            yield Problem(
                file="catalogue",
                read=f"{len(movements)} movements of the pattern {pattern}",
                mend=f"Add movements until there are {LEAST_PER_PATTERN}.",
            )
        if not any(option.set_up is SetUp.NONE for option in options):
            yield Problem(
                file="catalogue",
                read=f"no way without a band in the pattern {pattern}",
                mend="Add one for those who may not use a band.",
            )
        if not any(option.position is Position.SEATED for option in options):
            yield Problem(
                file="catalogue",
                read=f"no seated way in the pattern {pattern}",
                mend="Add one for those who do not stand.",
            )


def _has_seated_way(movement: Movement) -> bool:
    return any(option.position is Position.SEATED for option in movement.options)


MOVEMENT_CHECKS: tuple[Callable[[Catalogue], Iterator[Problem]], ...] = (
    check_ids,
    check_ways,
    check_part_and_pattern,
    check_prime_movers,
    check_warm_up_seated,
    repetition.check_set_up_and_paths,
    repetition.check_phases,
    repetition.check_sides,
    repetition.check_tempo,
    safety.check_declared,
    safety.check_gentler_is_gentler,
    safety.check_no_band_on_standing_legs,
    safety.check_face_has_another_anchor,
    wording.check_nothing_blank,
    wording.check_lengths,
    wording.check_counts,
    wording.check_avoided_words,
    wording.check_sources,
    wording.check_views,
)
"""Checks that hold for each movement alone, so that one file can be tried by itself."""

PROBLEM_CHECKS: tuple[Callable[[Catalogue], Iterator[Problem]], ...] = (
    *MOVEMENT_CHECKS,
    check_names_differ,
    check_links,
    check_ladders,
    check_patterns_are_served,
)
"""All checks of a whole catalogue."""


def check(catalogue: Catalogue) -> tuple[Problem, ...]:
    """Return every problem of a whole catalogue; empty when all is well."""
    return tuple(found for rule in PROBLEM_CHECKS for found in rule(catalogue))


def check_alone(movement: Movement) -> tuple[Problem, ...]:
    """Return every problem that one movement has by itself, its neighbours unknown."""
    catalogue = {movement.id: movement}
    return tuple(found for rule in MOVEMENT_CHECKS for found in rule(catalogue))
