"""The words of movement files: short, plain, sourced, and none that the trade avoids."""

import re
from collections.abc import Iterator

from halewright.core.catalogue.movement import COMMON_PRACTICE, Catalogue, Movement
from halewright.core.catalogue.words import FigureView
from halewright.core.errors import Problem

MOST_POINTS = 3
"""Teaching points and faults of one movement: common practice (one message at a time)."""
LONGEST_POINT = 60
"""Characters of a teaching point: two caption lines at most; common practice."""
LONGEST_NAME = 40
MOST_VIEWS = 2
LONGEST_HOW = 140

FROM_MEMORY = "from memory"

AVOIDED = re.compile(
    r"\b(patients?|prescri(?:be[sd]?|bing|ptions?)|cleared|treat(?:s|ed|ing|ments?)?|cure[sd]?"
    r"|elderly|easy|fail(?:s|ed|ing|ures?)?|falls? prevention)\b",
    re.IGNORECASE,
)
"""Words that are never on screen (DESIGN, section 4), with their inflections."""
COLOURS = re.compile(
    r"\b(yellow|red|green|blue|black|silver|gold|purple|pink|orange|beige)\b", re.IGNORECASE
)
"""A band is known by its measured force, so no movement needs a colour."""
MARKS = re.compile("[®™]")
"""Signs of a brand."""
_YEAR = re.compile(r"\b(19|20)\d\d\b")


def words_of(movement: Movement) -> Iterator[tuple[str, str]]:
    """Yield each text of a movement with the name of its place in the file."""
    teaching = movement.teaching
    yield "name", movement.name
    yield "source", movement.source
    for place in ("start", "set_up", "breath", "safety", "daily_life"):
        yield f"teaching.{place}", str(getattr(teaching, place))
    for number, point in enumerate(teaching.points, start=1):
        yield f"teaching.points {number}", point
    for number, fault in enumerate(teaching.faults, start=1):
        yield f"teaching.faults {number}", fault
    for option in movement.options:
        yield f"{option.kind}.how", option.how


def check_nothing_blank(catalogue: Catalogue) -> Iterator[Problem]:
    """Every text is written: a safety line or a source left blank protects nobody."""
    for movement in catalogue.values():
        for place, text in words_of(movement):
            if not text.strip():
                yield problem(movement, read=f"{place} is blank", mend="Write it.")


def check_lengths(catalogue: Catalogue) -> Iterator[Problem]:
    """Names, ways and teaching points are short enough to be taken in at a glance."""
    for movement in catalogue.values():
        for place, text in words_of(movement):
            longest = _longest(place)
            if longest is not None and len(text) > longest:
                yield problem(
                    movement,
                    read=f"{place}: {text}",
                    mend=f"This has {len(text)} characters; shorten it to {longest}.",
                )


def _longest(place: str) -> int | None:
    if place.startswith("teaching.points"):
        return LONGEST_POINT
    if place.endswith(".how"):
        return LONGEST_HOW
    return LONGEST_NAME if place == "name" else None


def check_counts(catalogue: Catalogue) -> Iterator[Problem]:
    """One to three teaching points and at most three faults."""
    for movement in catalogue.values():
        points, faults = movement.teaching.points, movement.teaching.faults
        if not 1 <= len(points) <= MOST_POINTS:
            yield problem(
                movement,
                read=f"{len(points)} teaching points",
                mend=f"Give one to {MOST_POINTS}: people can hold no more in mind.",
            )
        if len(faults) > MOST_POINTS:
            yield problem(
                movement, read=f"{len(faults)} faults", mend=f"Keep the {MOST_POINTS} commonest."
            )


def check_avoided_words(catalogue: Catalogue) -> Iterator[Problem]:
    """No word that the trade avoids, no colour of a band, no brand."""
    reasons = (
        (AVOIDED, "Choose another word: participants should not be called or told this."),
        (COLOURS, "Leave colours out: a band's force is measured, not told by its colour."),
        (MARKS, "Leave brands out."),
    )
    for movement in catalogue.values():
        for place, text in words_of(movement):
            for pattern, mend in reasons:
                found = pattern.search(text)
                if found:
                    yield problem(movement, read=f"{place}: … {found.group()} …", mend=mend)


def check_sources(catalogue: Catalogue) -> Iterator[Problem]:
    """The source is a publication with its year, or says openly that it is none."""
    for movement in catalogue.values():
        source = movement.source
        if not (source.startswith((COMMON_PRACTICE, FROM_MEMORY)) or _YEAR.search(source)):
            yield problem(
                movement,
                read=f"source: {source}",
                mend=f"Name the publication with its year, or write “{COMMON_PRACTICE}” "
                f"or “{FROM_MEMORY}”.",
            )


def check_views(catalogue: Catalogue) -> Iterator[Problem]:
    """At most two views are asked for, each by a name that the figure knows."""
    names = tuple(view.value for view in FigureView)
    for movement in catalogue.values():
        unknown = [view for view in movement.views if view not in names]
        if (
            unknown
            or len(movement.views) > MOST_VIEWS
            or len(set(movement.views)) < len(movement.views)
        ):
            yield problem(
                movement,
                read=f"views: {', '.join(movement.views)}",
                mend=f"Name one or two different views of {', '.join(names)}; or leave them out.",
            )


def problem(movement: Movement, *, read: str, mend: str) -> Problem:
    """Return a problem placed in the movement's own file."""
    return Problem(file=f"{movement.id}.toml", read=read, mend=mend)
