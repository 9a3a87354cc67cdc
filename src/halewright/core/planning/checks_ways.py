"""Checks of what each person is given to do: suitable, unloaded where it must be, no surprise."""

from collections.abc import Iterator

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.catalogue.words import OptionKind, Part, Pattern, Position, SetUp
from halewright.core.mechanics.demands import Demands
from halewright.core.people.limits import BodySide, Limit, Strength
from halewright.core.planning import rules
from halewright.core.planning.checks_ground import Ground, Spot, at_session, at_spot
from halewright.core.planning.plan import Violation
from halewright.core.screening import judge
from halewright.core.screening.verdict import Fit, Reason
from halewright.core.session.outline import NoticeKind, Purpose

_LEGS_AND_FEET = ("thigh_", "under_thigh_", "knee_", "shank_", "ankle_", "sole_", "toe_", "heel_")
"""How the names of `core.mechanics.points` on the legs and feet begin."""

_LIMBS = ("shoulder_", "elbow_", "hip_", "knee_")
"""How the names of measures of paired joints begin."""

_ON_LEGS = frozenset(
    {SetUp.UNDER_FEET, SetUp.ACROSS_THIGHS, SetUp.ROUND_THIGHS, SetUp.UNDER_THIGHS}
)


def option(ground: Ground) -> Iterator[Violation]:
    """Nobody is given a way of moving that is not suitable for them, or that there is not."""
    for sitting in ground.sittings:
        for number, station in enumerate(sitting.outline.main, start=1):
            if station.movement not in ground.catalogue:
                words = f"{sitting.words}, station {number}: {_strange(station.movement)}"
                yield at_session("option", sitting, words, station=number)
        for part, station in sitting.gentle():
            if station.movement not in ground.catalogue:
                words = f"{sitting.words}, {part}: {_strange(station.movement)}"
                yield at_session("option", sitting, words)
    for spot in ground.spots():
        words = _no_such_way(ground, spot)
        if not words and not _grave(ground, spot):
            words = _unsuitable(ground, spot)
        if words:
            yield at_spot("option", spot, words)


def _strange(movement: str) -> str:
    return f"the catalogue has no movement “{movement}”."


def _no_such_way(ground: Ground, spot: Spot) -> str:
    """Say that a use names nothing that the catalogue has; "" where it does."""
    use = spot.use
    if use.option is None or ground.option(use) is not None:
        return ""
    if use.movement == spot.station.movement and use.movement not in ground.catalogue:
        return ""  # Told once for the station.
    who = ground.name(use.person)
    if use.movement not in ground.catalogue:
        return f"{spot.words}: {who} is given “{use.movement}”, which the catalogue lacks."
    name, kind = ground.catalogue[use.movement].name, _kind_words(use.option)
    return f"{spot.words}: {who} is given {name} {kind}, a way that it does not have."


def _unsuitable(ground: Ground, spot: Spot) -> str:
    use, way = spot.use, ground.option(spot.use)
    if way is None:
        return ""
    done = _done(ground, spot)
    if ground.group.seated_only and way.position is not Position.SEATED:
        return f"{done}: nobody stands in this group."
    verdict = ground.matrix.get((use.person, use.movement, way.kind))
    if verdict is None:
        return f"{done}: nobody has judged whether that suits."
    if verdict.fit is not Fit.NOT_SUITABLE:
        return ""
    return f"{done}, which is not suitable. {_reasons(verdict.reasons)}"


def _done(ground: Ground, spot: Spot) -> str:
    """Say where who is given what: "Week 1, session 2, station 3: Ada is given Row (gentler)"."""
    use = spot.use
    name = ground.catalogue[use.movement].name
    kind = "" if use.option is None else f" {_kind_words(use.option)}"
    return f"{spot.words}: {ground.name(use.person)} is given {name}{kind}"


def _kind_words(kind: OptionKind) -> str:
    return f"({kind.value.replace('_', ' ')})"


def _reasons(reasons: tuple[Reason, ...]) -> str:
    return " ".join(reason.words for reason in reasons)


def _grave(ground: Ground, spot: Spot) -> tuple[Reason, ...]:
    """Return the reasons of an unsuitable way that only a recorded change can cure.

    A limit told as "with care" does not by itself make a way unsuitable: it is left out.
    """
    use = spot.use
    if use.option is None:
        return ()
    verdict = ground.matrix.get((use.person, use.movement, use.option))
    if verdict is None or verdict.fit is not Fit.NOT_SUITABLE:
        return ()
    outcome = ground.outcomes.get(use.person)
    mild = [
        limit
        for limit in (outcome.limits if outcome else ())
        if limit.strength is Strength.CARE and limit.told_by is not None
    ]
    return tuple(
        reason
        for reason in verdict.reasons
        if reason.incurable and not any(_says(limit, reason) for limit in mild)
    )


def _says(limit: Limit, reason: Reason) -> bool:
    return reason.source == limit.source and reason.words.startswith(limit.reason)


def told_limit(ground: Ground) -> Iterator[Violation]:
    """A limit told by a clinician is kept."""
    for spot in ground.spots():
        grave = [
            reason
            for reason in _grave(ground, spot)
            if reason.source != judge.LATEX_SOURCE and not _is_flag(ground, spot, reason)
        ]
        said = grave[0].words if grave else _beyond(ground, spot)
        if said:
            words = f"{_done(ground, spot)}, against what a clinician told. {said}"
            yield at_spot("told_limit", spot, words)


def _beyond(ground: Ground, spot: Spot) -> str:
    """Say which told limit a way's demands exceed, whatever its verdict says; "" where none."""
    outcome, use = ground.outcomes.get(spot.use.person), spot.use
    asked = ground.demands.get((use.movement, use.option)) if use.option is not None else None
    if outcome is None or asked is None:
        return ""
    for limit in outcome.limits:
        binding = limit.told_by is not None and limit.strength is Strength.AVOID
        angle = limit.measure.value.endswith("_rad")
        rounding = judge.ANGLE_ROUNDING_RAD if angle else judge.ROUNDING
        if binding and _amount(asked, limit) > limit.at_most + rounding:
            return limit.reason
    return ""


def _amount(asked: Demands, limit: Limit) -> float:
    """Return what is asked of a limit's side; only a limb's angle has one."""
    paired = limit.measure.value.endswith("_rad") and limit.measure.value.startswith(_LIMBS)
    if not paired or limit.side is BodySide.BOTH:
        return asked.most(limit.measure)
    side = asked.left if limit.side is BodySide.LEFT else asked.right
    return side.get(limit.measure, 0.0)


def _is_flag(ground: Ground, spot: Spot, reason: Reason) -> bool:
    """Whether a reason is an open flag: told by no limit, of somebody who has one."""
    outcome = ground.outcomes.get(spot.use.person)
    limits = outcome.limits if outcome else ()
    told = any(limit.told_by is not None and _says(limit, reason) for limit in limits)
    return ground.undecided(spot.use.person) and not told


def latex(ground: Ground) -> Iterator[Violation]:
    """A session is latex-free where a person needs it, and nobody is given latex against that."""
    for sitting in ground.sittings:
        coming = sitting.held.coming if sitting.held else frozenset(sitting.outline.expected)
        people = [person for person in ground.group.people if person.id in coming]
        needed = judge.session_latex_free(people=people, local_rules=ground.group.local_rules)
        if needed and not sitting.outline.latex_free:
            words = f"{sitting.words} must be free of latex for somebody who comes, and is not."
            yield at_session("latex", sitting, words)
    for spot in ground.spots():
        for reason in _grave(ground, spot):
            if reason.source == judge.LATEX_SOURCE:
                yield at_spot("latex", spot, f"{_done(ground, spot)}. {reason.words}")


def ask_first(ground: Ground) -> Iterator[Violation]:
    """A person with an open ask-first flag does seated mobility; the leader is told of them."""
    for sitting in ground.sittings:
        told = {
            notice.person
            for notice in sitting.outline.notices
            if notice.kind is NoticeKind.ASK_FIRST
        }
        for person in sitting.outline.expected:
            if ground.undecided(person) and person not in told:
                words = (
                    f"{sitting.words}: {ground.name(person)} has an open ask-first question, "
                    "and no notice says so."
                )
                yield at_session("ask_first", sitting, words, who=person)
    for spot in ground.spots():
        way = ground.option(spot.use)
        if way is None or not ground.undecided(spot.use.person):
            continue
        if not _is_still(ground.catalogue[spot.use.movement], way):
            words = (
                f"{_done(ground, spot)}; until an ask-first question is decided, "
                "only seated mobility without a band."
            )
            yield at_spot("ask_first", spot, words)


def _is_still(movement: Movement, way: Option) -> bool:
    bandless = way.set_up is SetUp.NONE and not way.paths
    seated = way.position is Position.SEATED
    return bandless and seated and judge.is_seated_mobility(movement=movement, option=way)


def set_up(ground: Ground) -> Iterator[Violation]:
    """Everybody uses the station's set-up or no band."""
    for spot in ground.spots():
        way, movement = ground.option(spot.use), ground.catalogue.get(spot.station.movement)
        if way is None or movement is None:
            continue
        if way.set_up not in {SetUp.NONE, movement.standard.set_up}:
            words = f"{_done(ground, spot)}: another set-up than the group's."
            yield at_spot("set_up", spot, words)


def chairs(ground: Ground) -> Iterator[Violation]:
    """Nobody is to push on the arms of a chair that has none, or may have none."""
    if ground.group.venue.chairs_with_arms:
        return
    for sitting in ground.sittings:
        for number, movement in enumerate(ground.main(sitting), start=1):
            if movement is not None and movement.standard.needs_chair_arms:
                words = (
                    f"{sitting.words}, station {number}: {movement.name} needs chairs with arms."
                )
                yield at_session("chairs", sitting, words, station=number)
    for spot in ground.spots():
        way, movement = ground.option(spot.use), ground.catalogue.get(spot.use.movement)
        shown = movement is not None and way == movement.standard
        if way is not None and way.needs_chair_arms and not shown:
            yield at_spot("chairs", spot, f"{_done(ground, spot)}: that needs chairs with arms.")


def last_resort(ground: Ground) -> Iterator[Violation]:
    """Another movement, or sitting out, is for the leader to accept."""
    for spot in ground.spots():
        if spot.number is not None and (words := _resort(ground, spot)):
            yield at_spot("last_resort", spot, words)


def _resort(ground: Ground, spot: Spot) -> str:
    """Say that somebody sits out or does something else; "" where they do as the group."""
    use = spot.use
    if use.option is None:
        return f"{spot.words}: {ground.name(use.person)} sits this out."
    if use.movement == spot.station.movement or use.movement not in ground.catalogue:
        return ""
    way = ground.option(use)
    still = way is not None and _is_still(ground.catalogue[use.movement], way)
    if still and ground.undecided(use.person):
        return ""
    return f"{_done(ground, spot)} while the group does something else."


def handling(ground: Ground) -> Iterator[Violation]:
    """The first session, the block's or a person's own, is handling without load."""
    for sitting in ground.sittings:
        if sitting.held is None:
            continue
        first = sitting.held.index == 0
        is_handling = sitting.outline.purpose is Purpose.HANDLING
        if first and not is_handling:
            words = f"{sitting.words} is the first with bands and is not for handling."
            yield at_session("handling", sitting, words)
        if is_handling and not first:
            words = f"{sitting.words} is for handling, though the block has begun."
            yield at_session("handling", sitting, words)
        new = sitting.held.coming if first else sitting.held.joining
        for spot in ground.main_spots(sitting):
            way = ground.option(spot.use)
            if way is None or spot.use.person not in new or ground.undecided(spot.use.person):
                continue
            if way.set_up is not SetUp.NONE:
                words = f"{_done(ground, spot)} with a load, in their first session with bands."
                yield at_spot("handling", spot, words)


def back_with_a_step_up(ground: Ground) -> Iterator[Violation]:
    """Whoever comes back after an absence has a step down where there is one for them."""
    for sitting in ground.sittings:
        for spot in ground.main_spots(sitting):
            back = sitting.held is not None and spot.use.person in sitting.held.returning
            full = spot.use.option in {OptionKind.STANDARD, OptionKind.STRONGER}
            if back and full and _has_step_down(ground, spot):
                words = f"{_done(ground, spot)} on coming back after an absence."
                yield at_spot("catch_up", spot, words)


def _has_step_down(ground: Ground, spot: Spot) -> bool:
    """Whether a gentler or a band-free way of the station suits the person."""
    movement = ground.catalogue.get(spot.use.movement)
    if movement is None or ground.undecided(spot.use.person):
        return False
    shared = {SetUp.NONE, movement.standard.set_up}
    return any(
        option.kind in {OptionKind.GENTLER, OptionKind.WITHOUT_BAND}
        and option.set_up in shared
        and (found := ground.matrix.get((spot.use.person, movement.id, option.kind)))
        and found.fit is not Fit.NOT_SUITABLE
        for option in movement.options
    )


def stand_up(ground: Ground) -> Iterator[Violation]:
    """Nobody rises, stands or walks with a loop on the legs or a band underfoot."""
    for sitting in ground.sittings:
        for number, movement in enumerate(ground.main(sitting), start=1):
            if movement is not None and _binds(movement, movement.standard):
                words = f"{sitting.words}, station {number}: {_bound(movement)}"
                yield at_session("stand_up", sitting, words, station=number)
    for spot in ground.spots():
        movement, way = ground.catalogue.get(spot.use.movement), ground.option(spot.use)
        if movement is None or way is None or not _binds(movement, way):
            continue
        shown = spot.use.movement == spot.station.movement and way == movement.standard
        if spot.number is None or not shown:
            yield at_spot("stand_up", spot, f"{_done(ground, spot)}: {_bound(movement)}")


def _bound(movement: Movement) -> str:
    return f"{movement.name} is done on the feet with a band on the legs or underfoot."


def _binds(movement: Movement, way: Option) -> bool:
    """Whether legs or feet are bound while on the feet, a resisted sit-to-stand aside."""
    if way.position is Position.SEATED:
        return False
    places = [node.at for path in way.paths for node in path.nodes]
    on_legs = way.set_up in _ON_LEGS or any(at.startswith(_LEGS_AND_FEET) for at in places)
    resisted = movement.pattern is Pattern.SIT_TO_STAND and way.position is Position.RISING
    return on_legs and not (resisted and movement.teaching.safety.strip())


def warm_up(ground: Ground) -> Iterator[Violation]:
    """Every session has a warm-up and a cool-down for everybody, begun seated."""
    for sitting in ground.sittings:
        parts = (
            ("warm-up", sitting.outline.warm_up, Part.WARM_UP),
            ("cool-down", sitting.outline.cool_down, Part.COOL_DOWN),
        )
        for name, stations, part in parts:
            if len(stations) < rules.LEAST_GENTLE_COUNT:
                words = (
                    f"{sitting.words}: the {name} has {len(stations)} items; "
                    f"at least {rules.LEAST_GENTLE_COUNT} are needed."
                )
                yield at_session("warm_up", sitting, words)
            for station in stations:
                movement = ground.catalogue.get(station.movement)
                if movement is not None and (fault := _not_gentle(movement, part)):
                    words = f"{sitting.words}, {name}: {movement.name} {fault}."
                    yield at_session("warm_up", sitting, words)
    for spot in ground.spots():
        if spot.number is None and (words := _resort(ground, spot)):
            yield at_spot("warm_up", spot, words)


def _not_gentle(movement: Movement, part: Part) -> str:
    """Say what keeps a movement from being an item of the part; "" where nothing does."""
    if movement.part is not part:
        return "belongs to another part of the session"
    if movement.standard.set_up is not SetUp.NONE:
        return "uses a band"
    if part is Part.WARM_UP and movement.standard.position is not Position.SEATED:
        return "is not seated"
    return ""
