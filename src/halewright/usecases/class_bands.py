"""Who has which band, and where each person grips it: for one session, the whole class at once."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics import assignment, kit_use
from halewright.core.mechanics.assignment import Given, Grip, Need, Offer, Served, Wanted
from halewright.core.mechanics.geometry import Geometry
from halewright.core.mechanics.loads import Code, Load, ShareOf
from halewright.core.mechanics.rubber import Curve
from halewright.core.people import wear
from halewright.core.people.group import Group
from halewright.core.people.kit import Band, BandLabel, Shape
from halewright.core.people.person import LatexReaction, Person, PersonId
from halewright.core.screening import judge
from halewright.core.screening.verdict import Outcome, Verdict
from halewright.core.session.outline import SessionOutline, Use
from halewright.files import movements
from halewright.usecases import cautions, one_band
from halewright.usecases import loads as group_loads

WITHIN_LIMIT_SHARE = 0.8
"""We aim at this share of a limit, so that a spread of one in ten (physics notes §5), twice over,
stays within it: our rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Aims:
    """The peak tension to aim at, by way of doing it; `before` is what a person managed last time.

    Where to begin is common practice: lightly, then up. The leader sets it on the sheet.
    """

    gentler_n: float = 10.0
    standard_n: float = 15.0
    stronger_n: float = 25.0
    before: Mapping[tuple[PersonId, MovementId], ShareOf] = field(default_factory=dict)

    def target_n(self, *, person: PersonId, movement: MovementId, option: OptionKind) -> float:
        """Return the peak to aim at for one person at one station."""
        last = self.before.get((person, movement))
        if last is not None:
            return last.share_ratio * last.tension_n
        by_kind = {OptionKind.GENTLER: self.gentler_n, OptionKind.STRONGER: self.stronger_n}
        return by_kind.get(option, self.standard_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class StationLoad:
    """One person at one station: `number` counts stations from 1 as the session does.

    `grip` and `load` are None where the person's band does not serve. `nearest` is set where no
    band that they have does what was aimed at. `verdict` holds the computed load against what the
    person must avoid; `limit_n` is their own limit of tension, None without one.
    """

    number: int
    movement: MovementId
    option: OptionKind
    shape: Shape
    target_n: float
    limit_n: float | None
    grip: Grip | None
    nearest: Grip | None
    load: Load | None
    codes: tuple[Code, ...]
    verdict: Verdict | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonBands:
    """One person: their band of each shape that they need, None where there is none for them.

    `better` names bands that would serve better, of which all are taken. `stature_known` False
    means that nothing could be computed.
    """

    person: PersonId
    name: str
    stature_known: bool
    bands: Mapping[Shape, BandLabel | None]
    better: tuple[BandLabel, ...]
    stations: tuple[StationLoad, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassSheet:
    """The whole class; `unmeasured` are bands in the bag that carry no newtons yet."""

    people: tuple[PersonBands, ...]
    latex_free: bool
    limit_ratio: float
    unmeasured: tuple[BandLabel, ...]
    retired: tuple[BandLabel, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wish:
    """What one person does with a band at one station, before it is known which band."""

    number: int
    use: Use
    option: OptionKind
    shape: Shape
    target_n: float
    limit_n: float | None
    geometry: Geometry | None


def for_session(group: Group, outline: SessionOutline, *, aims: Aims) -> ClassSheet:
    """Return who has which band in a session, and where each grips it at each station.

    Retired bands are left out; so is latex for whom it is barred, and for everybody in a session
    that is free of it.
    """
    expected = [person for person in group.people if person.id in outline.expected]
    outcomes = cautions.outcomes(group, on=outline.on)
    limit_ratio = group_loads.stretch_limit_ratio(group)
    free = outline.latex_free or judge.session_latex_free(
        people=expected, local_rules=group.local_rules
    )
    wishes = {
        person.id: _wishes(person, outline=outline, outcome=outcomes[person.id], aims=aims)
        for person in expected
    }
    needs = [_needs(each, wishes=wishes[each.id], latex_free=free) for each in expected]
    given = assignment.assign(
        tuple(itertools.chain.from_iterable(needs)),
        _offers(group.bands, on=outline.on, limit_ratio=limit_ratio),
        limit_ratio=limit_ratio,
    )
    people = tuple(
        _person(
            person,
            wishes=wishes[person.id],
            given=[each for each in given if each.person == person.id],
            bands={band.label: band for band in group.bands},
            outcome=outcomes[person.id],
            limit_ratio=limit_ratio,
        )
        for person in expected
    )
    return ClassSheet(
        people=people,
        latex_free=free,
        limit_ratio=limit_ratio,
        unmeasured=_unmeasured(group, on=outline.on, limit_ratio=limit_ratio),
        retired=tuple(b.label for b in group.bands if wear.is_retired(b, on=outline.on)),
    )


def _wishes(
    person: Person, *, outline: SessionOutline, outcome: Outcome, aims: Aims
) -> tuple[_Wish, ...]:
    """Return the stations at which a person uses a band, in the order of the session."""
    body = group_loads.body_of(person)
    limit_n = one_band.tension_limit_n(outcome)
    found = []
    for number, station in enumerate(outline.main, start=1):
        use = next((each for each in station.uses if each.person == person.id), None)
        if use is None or use.option is None:
            continue
        option = movements.shipped()[use.movement].option(use.option)
        if not option.paths:
            continue
        aim_n = aims.target_n(person=person.id, movement=use.movement, option=use.option)
        found.append(
            _Wish(
                number=number,
                use=use,
                option=use.option,
                shape=Shape.LOOP if kit_use.takes(option, shape=Shape.LOOP) else Shape.STRIP,
                target_n=aim_n if limit_n is None else min(aim_n, WITHIN_LIMIT_SHARE * limit_n),
                limit_n=limit_n,
                geometry=None
                if body is None
                else one_band.geometry_of(body, movement=use.movement, option=use.option),
            )
        )
    return tuple(found)


def _needs(person: Person, *, wishes: Sequence[_Wish], latex_free: bool) -> list[Need]:
    barred = latex_free or person.latex is not LatexReaction.NONE
    needs = []
    for shape in Shape:
        wanted = tuple(
            Wanted(
                key=str(wish.number),
                ways=ways(wish.geometry),
                target_n=max(wish.target_n, 1.0),
                most_n=wish.limit_n,
            )
            for wish in wishes
            if wish.shape is shape and wish.geometry is not None
        )
        if wanted:
            needs.append(Need(person=person.id, shape=shape, latex_free=barred, wanted=wanted))
    return needs


def ways(geometry: Geometry) -> tuple[assignment.Way, ...]:
    """Return the authored way of laying a band, and the same way with it doubled."""
    laid = max(geometry.bands, key=lambda band: band.longest_m).laid
    single = assignment.way(laid)
    if laid.closed or laid.strands > 1:
        return (single,)
    return single, assignment.way(laid, strands=2)


def _offers(bands: Sequence[Band], *, on: date, limit_ratio: float) -> list[Offer]:
    offers = []
    for band in bands:
        law = group_loads.law_of(band, limit_ratio=limit_ratio)
        if law is None:
            continue
        offers.append(offer(band, curve=law.curve, retired=wear.is_retired(band, on=on)))
    return offers


def offer(band: Band, *, curve: Curve, retired: bool) -> Offer:
    """Return a measured band as it counts when bands are shared out."""
    return Offer(
        label=band.label,
        curve=curve,
        shape=band.shape,
        material=band.material,
        length_m=band.length_m,
        count=band.count,
        retired=retired,
    )


def _unmeasured(group: Group, *, on: date, limit_ratio: float) -> tuple[BandLabel, ...]:
    return tuple(
        band.label
        for band in group.bands
        if not wear.is_retired(band, on=on)
        and group_loads.law_of(band, limit_ratio=limit_ratio) is None
    )


def _person(
    person: Person,
    *,
    wishes: Sequence[_Wish],
    given: Sequence[Given],
    bands: Mapping[BandLabel, Band],
    outcome: Outcome,
    limit_ratio: float,
) -> PersonBands:
    served = {station.key: station for each in given for station in each.stations}
    shapes = dict.fromkeys(wish.shape for wish in wishes)
    labels = {each.shape: each.label for each in given}
    return PersonBands(
        person=person.id,
        name=person.preferred_name,
        stature_known=person.stature_m is not None,
        bands={shape: labels.get(shape) for shape in shapes},
        better=tuple(each.better for each in given if each.better is not None),
        stations=tuple(
            _station(
                wish,
                served=served.get(str(wish.number)),
                bands=bands,
                person=person,
                outcome=outcome,
                limit_ratio=limit_ratio,
            )
            for wish in wishes
        ),
    )


def _station(
    wish: _Wish,
    *,
    served: Served | None,
    bands: Mapping[BandLabel, Band],
    person: Person,
    outcome: Outcome,
    limit_ratio: float,
) -> StationLoad:
    grip = served.grip if served else None
    load, codes = None, tuple[Code, ...]()
    verdict = None
    if grip is not None:
        band = bands[grip.label]
        load, codes = _held(wish, grip=grip, band=band, person=person, limit_ratio=limit_ratio)
        verdict = one_band.verdict_of(
            load,
            person=person,
            outcome=outcome,
            movement=wish.use.movement,
            option=wish.option,
            band=band,
        )
    return StationLoad(
        number=wish.number,
        movement=wish.use.movement,
        option=wish.option,
        shape=wish.shape,
        target_n=wish.target_n,
        limit_n=wish.limit_n,
        grip=grip,
        nearest=served.nearest if served else None,
        load=load,
        codes=codes,
        verdict=verdict,
    )


def _held(
    wish: _Wish, *, grip: Grip, band: Band, person: Person, limit_ratio: float
) -> tuple[Load | None, tuple[Code, ...]]:
    body = group_loads.body_of(person)
    if body is None:
        return None, ()
    return one_band.held(
        body,
        movement=wish.use.movement,
        option=wish.option,
        strands=None if wish.shape is Shape.LOOP else grip.strands,
        band=band,
        peak_n=grip.peak_n,
        limit_ratio=limit_ratio,
    )
