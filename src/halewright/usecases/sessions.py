"""One session of a plan: its timeline, its run sheet, its hall screen."""

from collections.abc import Mapping
from pathlib import Path

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.errors import NoSuchSession
from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan
from halewright.core.session import build, hall, runsheet
from halewright.core.session.durations import Durations
from halewright.core.session.outline import SessionOutline
from halewright.core.session.runsheet import RunSheet
from halewright.core.session.timeline import Timeline
from halewright.files import figure_cache, movements
from halewright.media import figure

FRAMES_COUNT = 9
"""Pictures from the start of a repetition to its far end; the screen plays them there and back."""


def outline(plan: Plan, *, week: int, session: int) -> SessionOutline:
    """Return one session of a plan; raises NoSuchSession outside the block."""
    for each in plan.sessions:
        if (each.week, each.number) == (week, session):
            return each
    raise NoSuchSession(week=week, session=session, weeks=plan.weeks)


def timeline(plan: Plan, *, week: int, session: int) -> Timeline:
    """Return a session in time, to the millisecond."""
    return build.timeline(
        outline=outline(plan, week=week, session=session),
        catalogue=movements.shipped(),
        durations=Durations(),
    )


def run_sheet(plan: Plan, group: Group, *, week: int, session: int) -> RunSheet:
    """Return the leader's copy of the run sheet, with names."""
    return runsheet.run_sheet(
        outline=outline(plan, week=week, session=session),
        timeline=timeline(plan, week=week, session=session),
        catalogue=movements.shipped(),
        people=group.people,
    )


def wall_copy(plan: Plan, group: Group, *, week: int, session: int) -> RunSheet:
    """Return the copy for the wall, which tells of nobody."""
    return runsheet.without_names(run_sheet(plan, group, week=week, session=session))


def hall_document(
    plan: Plan, *, week: int, session: int, cache: Path | None = None
) -> hall.HallDocument:
    """Return everything the hall screen needs; nothing of any person goes into it.

    Figures take most of a second each to draw; with a `cache` folder each is drawn once.
    """
    laid_out = timeline(plan, week=week, session=session)
    used = {event.movement for event in laid_out.events if event.movement}
    return hall.hall_document(
        timeline=laid_out,
        catalogue=movements.shipped(),
        figures=figures(movements.shipped(), used, cache=cache),
    )


def figures(
    catalogue: Catalogue, used: set[MovementId], *, cache: Path | None = None
) -> Mapping[MovementId, hall.HallFigure]:
    """Return the hall screen's pictures of some movements."""
    return {
        identifier: _figure(catalogue[identifier], cache)
        for identifier in sorted(used & catalogue.keys())
    }


def _figure(movement: Movement, cache: Path | None) -> hall.HallFigure:
    """Return a movement's pictures, from the cache where the same ones were drawn before."""
    if cache is None:
        return _drawn(movement)
    kept = figure_cache.read(movement, count=FRAMES_COUNT, folder=cache)
    if kept is None:
        kept = _drawn(movement)
        figure_cache.write(kept, movement, count=FRAMES_COUNT, folder=cache)
    return kept


def _drawn(movement: Movement) -> hall.HallFigure:
    view, _ = figure.views(movement, movement.standard)
    return hall.figure_of(
        frames=figure.frames(movement.standard, view=view, count=FRAMES_COUNT),
        description=figure.describe(movement, movement.standard),
    )
