"""Invented people, movements and demands for the screening tests."""

import math
from collections.abc import Mapping
from datetime import date

from halewright.core.catalogue.movement import (
    Declared,
    Movement,
    MovementId,
    Option,
    Teaching,
    Tempo,
)
from halewright.core.catalogue.words import (
    HandSupport,
    OptionKind,
    Part,
    Pattern,
    Position,
    SetUp,
    Sides,
)
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import RawScreen
from halewright.core.people.limits import Measure
from halewright.core.people.person import LatexReaction, Person, PersonId, Standing
from halewright.core.screening.questions import QUESTIONS

ON = date(2026, 11, 20)


def person(
    *,
    latex: LatexReaction = LatexReaction.NONE,
    standing: Standing = Standing.NO_SUPPORT,
    name: str = "Moira",
) -> Person:
    """Return somebody with nothing to avoid unless told otherwise."""
    return Person(id=PersonId(name.lower()), preferred_name=name, latex=latex, standing=standing)


def screen(*, name: str = "Moira", **answers: str) -> RawScreen:
    """Return a screen with every question answered "no", but for those given."""
    told = {question.id: "no" for question in QUESTIONS} | answers
    return RawScreen(
        person=PersonId(name.lower()),
        answered_on=date(2026, 11, 1),
        completed_by="self",
        answers=tuple(told.items()),
    )


def option(
    *,
    kind: OptionKind = OptionKind.STANDARD,
    set_up: SetUp = SetUp.IN_HANDS,
    position: Position = Position.SEATED,
    support: HandSupport = HandSupport.NONE,
    declared: Declared | None = None,
) -> Option:
    """Return one way of moving: seated with a band in the hands unless told otherwise."""
    return Option(
        kind=kind,
        how="As shown.",
        position=position,
        set_up=set_up,
        support=support,
        sides=Sides.BOTH,
        tempo=Tempo(out_s=2.0, hold_s=1.0, back_s=3.0),
        poses=(),
        paths=(),
        declared=declared or Declared(),
    )


def movement(*options: Option, power: bool = False, name: str = "Row") -> Movement:
    """Return a movement with these options, or one seated row."""
    return Movement(
        id=MovementId(name.lower()),
        name=name,
        part=Part.MAIN,
        pattern=Pattern.HORIZONTAL_PULL,
        prime_movers=(),
        helper_muscles=(),
        goals=(),
        options=options or (option(),),
        teaching=Teaching(
            start="", set_up="", points=(), breath="", faults=(), safety="", daily_life=""
        ),
        source="common practice",
        power=power,
    )


def demands(
    *,
    left: Mapping[Measure, float] | None = None,
    right: Mapping[Measure, float] | None = None,
    both: Mapping[Measure, float] | None = None,
    load_known: bool = False,
) -> Demands:
    """Return demands; `both` fills each side."""
    return Demands(
        left={**(both or {}), **(left or {})},
        right={**(both or {}), **(right or {})},
        load_known=load_known,
    )


def rad(angle_deg: float) -> float:
    """Return degrees as radians."""
    return math.radians(angle_deg)
