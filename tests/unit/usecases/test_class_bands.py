from dataclasses import replace
from datetime import date

import pytest
from tests import stories

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics.loads import ShareOf
from halewright.core.people.group import Decision, Group
from halewright.core.people.kit import Band, BandLabel, Material, MeasuredPoint, Shape
from halewright.core.people.limits import Limit, Measure, Strength
from halewright.core.people.person import LatexReaction, Person, PersonId, Sex
from halewright.core.screening.verdict import Fit
from halewright.core.session.outline import SessionOutline, Station, Use
from halewright.usecases import cautions, class_bands, one_band
from halewright.usecases.class_bands import Aims

STATIONS = ("seated-row", "pull-apart", "chest-push", "knees-apart-loop")


def _points(scale: float, *, strands: int = 1) -> tuple[MeasuredPoint, ...]:
    """Readings of F(λ) = scale · (λ - λ⁻²), every 0.2 from 1.2 to 2.4."""
    return tuple(
        MeasuredPoint(
            slack_length_m=0.5,
            stretched_length_m=0.5 * ratio,
            reading_n=round(strands * scale * (ratio - ratio**-2), 2),
        )
        for ratio in (1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.4)
    )


def _band(label: str, scale: float, *, material: Material = Material.LATEX, **more: object) -> Band:
    return Band(  # type: ignore[arg-type]
        label=BandLabel(label), material=material, points=_points(scale), length_m=2.5, **more
    )


def _ring(scale: float) -> Band:
    return Band(
        label=BandLabel("ring"),
        material=Material.LATEX,
        shape=Shape.LOOP,
        length_m=0.7,
        points=_points(scale, strands=2),
    )


def _limit(at_most: float, *, strength: Strength = Strength.AVOID) -> Limit:
    return Limit(
        measure=Measure.TENSION,
        at_most=at_most,
        strength=strength,
        reason="Band at most so much.",
        source="Nell Byrne, physiotherapist",
        rule="told",
        told_by="Nell Byrne, physiotherapist",
    )


def _person(name: str, **more: object) -> Person:
    return Person(  # type: ignore[arg-type]
        id=PersonId(name),
        preferred_name=name.capitalize(),
        sex=Sex.FEMALE,
        **({"stature_m": 1.62, "mass_kg": 68.0, "latex": LatexReaction.NONE} | more),
    )


def _group(*people: Person, bands: tuple[Band, ...]) -> Group:
    return replace(
        stories.four_chairs(),
        people=people,
        screens=(),
        decisions=tuple[Decision, ...](),
        bands=bands,
        local_rules=(),
    )


def _outline(group: Group, *, latex_free: bool = False) -> SessionOutline:
    plan = stories.plain_plan(group)
    main = tuple(
        Station(
            movement=MovementId(each),
            uses=tuple(
                Use(person=p.id, movement=MovementId(each), option=OptionKind.STANDARD)
                for p in group.people
            ),
        )
        for each in STATIONS
    )
    return replace(plan.sessions[1], main=main, latex_free=latex_free)


def _sheet(group: Group, *, aims: Aims | None = None) -> class_bands.ClassSheet:
    return class_bands.for_session(group, _outline(group), aims=aims or Aims(standard_n=15.0))


def test_each_person_is_told_a_band_and_a_grip_that_gives_the_aim() -> None:
    """15 N is asked for at each station and computed there, friction round the back included."""
    group = _group(_person("ann"), bands=(_band("oak", 10.0),))

    (ann,) = _sheet(group).people

    assert ann.bands == {Shape.STRIP: "oak", Shape.LOOP: None}
    for station in ann.stations[:3]:
        assert station.load is not None
        assert station.load.tension_peak_n == pytest.approx(15.0, rel=0.02)
        assert station.load.stretch_most_ratio <= 2.4 + 1e-6


def test_a_taller_person_grips_more_of_the_same_band() -> None:
    """The same pull at 1.80 m takes a longer piece than at 1.50 m."""
    group = _group(
        _person("tall", stature_m=1.80), _person("small", stature_m=1.50),
        bands=(_band("oak", 10.0, count=2),),
    )  # fmt: skip

    tall, small = _sheet(group).people

    for one, other in zip(tall.stations[:3], small.stations[:3], strict=True):
        assert one.load is not None
        assert other.load is not None
        assert one.load.grip_length_m > other.load.grip_length_m


def test_a_limit_in_newtons_is_aimed_under_and_judged_by_the_computed_peak() -> None:
    """At most 12 N: we aim at four fifths of it, and the verdict no longer says "not checked"."""
    free = _group(_person("ann"), bands=(_band("oak", 10.0),))
    held = _group(_person("ann", limits=(_limit(12.0),)), bands=(_band("oak", 10.0),))

    before = _sheet(free).people[0].stations[0]
    after = _sheet(held).people[0].stations[0]

    assert before.target_n == 15.0
    assert after.target_n == pytest.approx(0.8 * 12.0)
    assert after.load is not None
    assert after.load.tension_peak_n == pytest.approx(9.6, rel=0.02)
    assert after.verdict is not None
    assert not any("not checked" in reason.words for reason in after.verdict.reasons)
    assert not any("at most 12 N" in reason.words for reason in after.verdict.reasons)


def test_a_load_beyond_a_limit_is_not_suitable() -> None:
    """The computed peak itself is held against the limit: 15 N against at most 12 N."""
    person = _person("ann", limits=(_limit(12.0),))
    group = _group(person, bands=(_band("oak", 10.0),))
    load = _sheet(_group(_person("ann"), bands=group.bands)).people[0].stations[0].load
    verdict = one_band.verdict_of(
        load,
        person=person,
        outcome=cautions.outcomes(group, on=stories.STARTS_ON)["ann"],  # type: ignore[index]
        movement=MovementId("seated-row"),
        option=OptionKind.STANDARD,
        band=group.bands[0],
    )

    assert verdict is not None
    assert verdict.fit is Fit.NOT_SUITABLE
    assert any("at most 12 N" in reason.words for reason in verdict.reasons)


def test_latex_goes_to_nobody_for_whom_it_is_barred_and_a_retired_band_to_nobody() -> None:
    """Bea reacts at once, so the session is free of latex for everybody."""
    bands = (
        _band("oak", 10.0, count=2),
        _band("heath", 9.0, material=Material.LATEX_FREE, count=2),
        _band("gone", 9.5, material=Material.LATEX_FREE, retired_on=date(2026, 11, 1)),
    )
    group = _group(_person("ann"), _person("bea", latex=LatexReaction.IMMEDIATE), bands=bands)

    sheet = _sheet(group)

    assert [person.bands[Shape.STRIP] for person in sheet.people] == ["heath", "heath"]
    assert sheet.latex_free
    assert sheet.retired == ("gone",)


def test_skin_that_reacts_to_latex_is_spared_it_without_sparing_everybody() -> None:
    """Bea's skin reacts: she has the latex-free band, Ann may have the latex one."""
    bands = (_band("oak", 10.0), _band("heath", 9.0, material=Material.LATEX_FREE))
    group = _group(_person("ann"), _person("bea", latex=LatexReaction.SKIN), bands=bands)

    sheet = _sheet(group)

    assert not sheet.latex_free
    assert [person.bands[Shape.STRIP] for person in sheet.people] == ["oak", "heath"]


def test_a_loop_beyond_a_persons_limit_is_not_given() -> None:
    """A loop cannot be gripped longer: one that pulls more than 10 N is no band for this person."""
    ring = _ring(12.0)

    free = _sheet(_group(_person("ann"), bands=(ring,)))
    held = _sheet(_group(_person("ann", limits=(_limit(10.0),)), bands=(ring,)))

    load = free.people[0].stations[3].load
    assert load is not None
    assert (load.tension_peak_n or 0.0) > 10.0
    assert held.people[0].bands[Shape.LOOP] is None
    assert held.people[0].stations[3].grip is None


def test_without_a_height_nothing_is_computed() -> None:
    """The sheet says so; no number stands in for it."""
    group = _group(_person("ann", stature_m=None), bands=(_band("oak", 10.0),))

    (ann,) = _sheet(group).people

    assert not ann.stature_known
    assert all(station.load is None and station.grip is None for station in ann.stations)


def test_last_time_can_set_the_aim() -> None:
    """Nine tenths of the 20 N of last time are 18 N."""
    key = (PersonId("ann"), MovementId("seated-row"))
    aims = Aims(before={key: ShareOf(share_ratio=0.9, tension_n=20.0)})
    group = _group(_person("ann"), bands=(_band("oak", 10.0),))

    station = _sheet(group, aims=aims).people[0].stations[0]

    assert station.target_n == pytest.approx(18.0)


def test_a_loop_is_shared_out_beside_the_strips() -> None:
    """A person may have one of each; the loop's load is of its own length."""
    group = _group(_person("ann"), bands=(_band("oak", 10.0), _ring(8.0)))

    (ann,) = _sheet(group).people

    loop = ann.stations[3]
    assert ann.bands == {Shape.STRIP: "oak", Shape.LOOP: "ring"}
    assert loop.load is not None
    assert loop.load.grip_length_m == pytest.approx(0.7)
