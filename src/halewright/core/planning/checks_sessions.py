"""Checks of one session at a time: its time, its stations, and the bands it needs."""

import itertools
from collections import Counter
from collections.abc import Iterator
from datetime import date

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Muscle, SetUp
from halewright.core.people.kit import Band, Material, Shape
from halewright.core.planning import rules
from halewright.core.planning.checks_ground import Ground, Sitting, at_session
from halewright.core.planning.plan import Violation
from halewright.core.screening import judge
from halewright.core.session import layout
from halewright.core.session.outline import Purpose
from halewright.core.units import MINUTE_MS, SECOND_MS

MOST_ROUNDS = 3
WORK_BELOW_MS = 60 * SECOND_MS


def work(ground: Ground) -> Iterator[Violation]:
    """A work interval is under a minute, in one to three rounds."""
    for sitting in ground.sittings:
        outline = sitting.outline
        if not 0 < outline.work_ms < WORK_BELOW_MS:
            words = (
                f"{sitting.words}: a work interval of {outline.work_ms / SECOND_MS:g} s; "
                "it must be above nothing and under a minute."
            )
            yield at_session("work", sitting, words)
        if not 1 <= outline.rounds <= MOST_ROUNDS:
            words = f"{sitting.words}: {outline.rounds} rounds; 1 to {MOST_ROUNDS} can be held."
            yield at_session("work", sitting, words)


def slot(ground: Ground) -> Iterator[Violation]:
    """The session fits its slot, with a little time to spare."""
    slot_ms = ground.group.schedule.slot_minutes * MINUTE_MS
    spare_ms = round(slot_ms * ground.durations.slack_share)
    for sitting in ground.sittings:
        outline = sitting.outline
        stations = (*outline.warm_up, *outline.main, *outline.cool_down)
        if any(station.movement not in ground.catalogue for station in stations):
            continue  # Told by `option`: what is not known cannot be timed.
        needs_ms = layout.session_ms(
            outline=outline, catalogue=ground.catalogue, durations=ground.durations
        )
        if needs_ms > slot_ms - spare_ms:
            words = (
                f"{sitting.words} needs {needs_ms / MINUTE_MS:.1f} minutes; "
                f"{(slot_ms - spare_ms) / MINUTE_MS:.1f} of the slot can be planned."
            )
            yield at_session("slot", sitting, words)


def patterns(ground: Ground) -> Iterator[Violation]:
    """Every session holds every required pattern; a strength session has a main part."""
    for sitting in ground.sittings:
        found = {movement.pattern for movement in ground.main(sitting) if movement is not None}
        if not sitting.outline.main:
            if sitting.outline.purpose is Purpose.STRENGTH:
                yield at_session("patterns", sitting, f"{sitting.words} has no main part.")
            continue
        for need in ground.settings.each_session:
            if not need.patterns & found:
                yield at_session("patterns", sitting, f"{sitting.words} lacks {need.words}.")


def neighbours(ground: Ground) -> Iterator[Violation]:
    """Neighbouring stations have different prime movers, from the last to the first as well."""
    for sitting in ground.sittings:
        circuit = list(enumerate(ground.main(sitting), start=1))
        pairs = list(itertools.pairwise(circuit))
        # Two stations are neighbours already; going round adds a pair from three on.
        if sitting.outline.rounds > 1 and len(circuit) > 2:
            pairs.append((circuit[-1], circuit[0]))
        for (before, one), (after, other) in pairs:
            shared = _primes(one) & _primes(other)
            if shared:
                muscles = ", ".join(sorted(muscle.value.replace("_", " ") for muscle in shared))
                words = f"{sitting.words}: stations {before} and {after} both work the {muscles}."
                yield at_session("neighbours", sitting, words, station=after)


def _primes(movement: Movement | None) -> frozenset[Muscle]:
    return frozenset(movement.prime_movers) if movement is not None else frozenset()


def repeat(ground: Ground) -> Iterator[Violation]:
    """A movement stands once in a session."""
    for sitting in ground.sittings:
        seen = set()
        numbered = [*enumerate(sitting.outline.main, start=1)]
        for number, station in (*numbered, *((None, each) for _, each in sitting.gentle())):
            if station.movement in seen:
                known = ground.catalogue.get(station.movement)
                name = known.name if known is not None else station.movement
                words = f"{sitting.words}: {name} stands twice."
                yield at_session("repeat", sitting, words, station=number)
            seen.add(station.movement)


def pattern_repeat(ground: Ground) -> Iterator[Violation]:
    """A pattern stands at most so often in a session."""
    for sitting in ground.sittings:
        counted = Counter(each.pattern for each in ground.main(sitting) if each is not None)
        for pattern, count in counted.items():
            if count > ground.settings.most_of(pattern):
                name = pattern.value.replace("_", " ")
                words = f"{sitting.words} has {count} stations of the pattern “{name}”."
                yield at_session("pattern_repeat", sitting, words)


def loaded(ground: Ground) -> Iterator[Violation]:
    """At least a share of the stations works against a band or body weight."""
    for sitting in ground.sittings:
        known = [movement for movement in ground.main(sitting) if movement is not None]
        count = sum(rules.is_loaded(movement) for movement in known)
        if count < ground.settings.least_loaded_share * len(known):
            words = (
                f"{sitting.words}: only {count} of {len(known)} stations work against a band "
                "or body weight."
            )
            yield at_session("loaded", sitting, words)


def stock(ground: Ground) -> Iterator[Violation]:
    """There are enough bands of the kind for everybody expected."""
    return _bags(ground, "stock")


def retired_band(ground: Ground) -> Iterator[Violation]:
    """A retired band is never counted on."""
    return _bags(ground, "retired_band")


def _bags(ground: Ground, rule: str) -> Iterator[Violation]:
    """Yield the stations without bands enough, by whether retired ones would make up the rest."""
    if not ground.group.bands:
        return
    for sitting in ground.sittings:
        coming = sitting.held.coming if sitting.held else frozenset(sitting.outline.expected)
        people = [person for person in ground.group.people if person.id in coming]
        free = judge.session_latex_free(people=people, local_rules=ground.group.local_rules)
        for number, movement in enumerate(ground.main(sitting), start=1):
            if movement is None or movement.standard.set_up is SetUp.NONE:
                continue
            fitting = [each for each in ground.group.bands if _fits(each, movement, free=free)]
            good = sum(band.count for band in fitting if not _retired(band, sitting.outline.on))
            everything = sum(band.count for band in fitting)
            if good >= len(people):
                continue
            if rule == ("retired_band" if everything >= len(people) else "stock"):
                words = _short(sitting, number, movement, good, len(people), free=free)
                if rule == "retired_band":
                    words += " Only with retired bands would it do."
                yield at_session(rule, sitting, words, station=number)


def _fits(band: Band, movement: Movement, *, free: bool) -> bool:
    loop = any(path.closed for path in movement.standard.paths)
    right_shape = band.shape is (Shape.LOOP if loop else Shape.STRIP)
    return right_shape and (not free or band.material is Material.LATEX_FREE)


def _retired(band: Band, on: date) -> bool:
    return band.retired_on is not None and band.retired_on <= on


def _short(
    sitting: Sitting, number: int, movement: Movement, have: int, need: int, *, free: bool
) -> str:
    loop = any(path.closed for path in movement.standard.paths)
    kind = ("latex-free " if free else "") + ("loops" if loop else "bands")
    return (
        f"{sitting.words}, station {number}: {movement.name} needs {need} {kind}; "
        f"the bag has {have}."
    )
