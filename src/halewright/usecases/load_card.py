"""One person, one way of doing a movement, one band: the load, and what would change it."""

from dataclasses import dataclass, replace
from datetime import date

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.mechanics import assignment, kit_use, loads, what_if
from halewright.core.mechanics.assignment import Offer, Wanted
from halewright.core.mechanics.loads import Code, Load
from halewright.core.people import wear
from halewright.core.people.group import Group
from halewright.core.people.kit import Band, BandLabel, Material
from halewright.core.people.person import LatexReaction, Person
from halewright.core.screening.verdict import Outcome, Verdict
from halewright.usecases import class_bands, one_band
from halewright.usecases import loads as group_loads


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """One change and the load that it makes; None where the band cannot be held so."""

    words: str
    load: Load | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What a band asks of a person; `load` None with the reason in `codes` or `lacking`.

    `choices` are the bands that this person may use for this; `band` is the chosen one.
    """

    choices: tuple[Band, ...]
    band: Band | None
    limit_n: float | None
    aim_n: float
    load: Load | None
    codes: tuple[Code, ...]
    doubled: bool
    verdict: Verdict | None
    what_ifs: tuple[WhatIf, ...]
    lacking: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the leader asks: a band or None for the best, a grip length or else a peak to aim at."""

    band: BandLabel | None
    aim_n: float
    grip_length_m: float | None = None


def card(
    *,
    group: Group,
    person: Person,
    outcome: Outcome,
    movement: Movement,
    option: Option,
    asked: Asked,
    on: date,
) -> Card:
    """Return the card of one person and one option with a band."""
    limit_ratio = group_loads.stretch_limit_ratio(group)
    choices = _choices(group, person=person, option=option, on=on)
    limit_n = one_band.tension_limit_n(outcome)
    aim_n = asked.aim_n
    if limit_n is not None:
        aim_n = min(aim_n, class_bands.WITHIN_LIMIT_SHARE * limit_n)
    empty = Card(
        choices=choices, band=None, limit_n=limit_n, aim_n=aim_n, load=None, codes=(),
        doubled=False, verdict=None, what_ifs=(),
    )  # fmt: skip
    if person.stature_m is None:
        return replace(empty, lacking="Nobody has recorded this person’s height. Measure it first.")
    if not choices:
        return replace(
            empty, lacking="No measured band in the bag is right for this. Measure one, or see "
            "what this person must avoid.",
        )  # fmt: skip
    return _filled(
        empty, person=person, outcome=outcome, movement=movement, option=option, asked=asked,
        limit_ratio=limit_ratio,
    )  # fmt: skip


def _filled(
    empty: Card,
    *,
    person: Person,
    outcome: Outcome,
    movement: Movement,
    option: Option,
    asked: Asked,
    limit_ratio: float,
) -> Card:
    band, strands, peak_n = _chosen(
        empty, person=person, movement=movement, option=option, asked=asked,
        limit_ratio=limit_ratio,
    )  # fmt: skip
    if band is None:
        return replace(empty, lacking="No band here does it within its limits.")
    load, codes = _load(
        person, movement=movement, option=option, strands=strands, band=band, peak_n=peak_n,
        grip_length_m=asked.grip_length_m, limit_ratio=limit_ratio,
    )  # fmt: skip
    verdict = one_band.verdict_of(
        load, person=person, outcome=outcome, movement=movement.id, option=option.kind, band=band
    )
    return replace(
        empty,
        band=band,
        load=load,
        codes=codes,
        doubled=strands is not None and strands > option.paths[0].strands,
        verdict=verdict,
        what_ifs=()
        if load is None or load.closed
        else _what_ifs(
            person, load=load, option=option, strands=strands, band=band, limit_ratio=limit_ratio
        ),
    )


def _choices(group: Group, *, person: Person, option: Option, on: date) -> tuple[Band, ...]:
    limit_ratio = group_loads.stretch_limit_ratio(group)
    return tuple(
        band
        for band in group.bands
        if kit_use.takes(option, shape=band.shape)
        and not wear.is_retired(band, on=on)
        and group_loads.law_of(band, limit_ratio=limit_ratio) is not None
        and (person.latex is LatexReaction.NONE or band.material is Material.LATEX_FREE)
    )


def _chosen(
    empty: Card,
    *,
    person: Person,
    movement: Movement,
    option: Option,
    asked: Asked,
    limit_ratio: float,
) -> tuple[Band | None, int | None, float]:
    """Return the band asked for or the best, how many strands, and the peak it gives."""
    body = group_loads.body_of(person)
    named = [band for band in empty.choices if band.label == asked.band]
    if body is None:
        return None, None, empty.aim_n
    geometry = one_band.geometry_of(body, movement=movement.id, option=option.kind)
    wanted = Wanted(
        key="", ways=class_bands.ways(geometry), target_n=empty.aim_n, most_n=empty.limit_n
    )
    found = [
        (band, grip)
        for band in named or empty.choices
        if (offer := _offer(band, limit_ratio=limit_ratio)) is not None
        and (grip := assignment.best_grip(wanted, offer=offer, limit_ratio=limit_ratio)) is not None
    ]
    if not found:
        return (named[0], None, empty.aim_n) if named else (None, None, empty.aim_n)
    band, grip = min(found, key=lambda pair: pair[1].cost_points)
    return band, None if geometry.bands[0].laid.closed else grip.strands, grip.peak_n


def _offer(band: Band, *, limit_ratio: float) -> Offer | None:
    law = group_loads.law_of(band, limit_ratio=limit_ratio)
    return None if law is None else class_bands.offer(band, curve=law.curve, retired=False)


def _load(
    person: Person,
    *,
    movement: Movement,
    option: Option,
    strands: int | None,
    band: Band,
    peak_n: float,
    grip_length_m: float | None,
    limit_ratio: float,
) -> tuple[Load | None, tuple[Code, ...]]:
    body = group_loads.body_of(person)
    law = group_loads.law_of(band, limit_ratio=limit_ratio)
    if body is None or law is None:
        return None, ()
    geometry = one_band.geometry_of(body, movement=movement.id, option=option.kind, strands=strands)
    if grip_length_m is None or geometry.bands[0].laid.closed:
        return one_band.held(
            body, movement=movement.id, option=option.kind, strands=strands, band=band,
            peak_n=peak_n, limit_ratio=limit_ratio,
        )  # fmt: skip
    found = loads.given(
        geometry=geometry, law=law, grip_length_m=grip_length_m, limit_ratio=limit_ratio
    )
    if not isinstance(found, Load):
        return None, found.codes
    enough = kit_use.is_long_enough(found, band=band)
    return found, found.codes if enough else (*found.codes, Code.TOO_SHORT)


def _what_ifs(
    person: Person,
    *,
    load: Load,
    option: Option,
    strands: int | None,
    band: Band,
    limit_ratio: float,
) -> tuple[WhatIf, ...]:
    body = group_loads.body_of(person)
    law = group_loads.law_of(band, limit_ratio=limit_ratio)
    if body is None or law is None:
        return ()
    _, *changes = what_if.table(
        body=body,
        option=option,
        law=law,
        grip_length_m=load.grip_length_m,
        strands=strands,
        limit_ratio=limit_ratio,
    )
    return tuple(
        WhatIf(
            words=each.words[0].upper() + each.words[1:],
            load=each.load if isinstance(each.load, Load) else None,
        )
        for each in changes
    )
