"""Bands, loads and the class sheet, as templates show them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.utils.safestring import SafeString, mark_safe

from halewright.core.catalogue.movement import Movement, Option
from halewright.core.mechanics import kit_use, loads, rubber
from halewright.core.mechanics.loads import Load
from halewright.core.mechanics.rubber import Estimate
from halewright.core.people.group import Group
from halewright.core.people.kit import Band, BandCheck, BandLabel, Shape
from halewright.core.screening.verdict import Fit
from halewright.files import movements
from halewright.media import load_chart
from halewright.usecases import bands as kit_bag
from halewright.usecases import loads as group_loads
from halewright.usecases.class_bands import ClassSheet, PersonBands, StationLoad
from halewright.usecases.load_card import Card
from halewright.web import context, load_words


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """One kind of band on the list of kit."""

    id: int
    label: str
    about: str
    measured: str
    warnings: tuple[str, ...]
    retired: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPage:
    """Everything about one band."""

    label: str
    facts: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...]
    retired: bool
    chart: SafeString
    readings: tuple[tuple[str, str, str], ...]
    says: tuple[str, ...]
    doubts: tuple[str, ...]
    checks: tuple[str, ...]
    first_used_on: str
    batch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GripLine:
    """One person at one station on the class sheet."""

    number: int
    station: str
    grip: str
    tension: str
    notes: tuple[str, ...]
    within: str
    aloud: str
    """The same as it may be printed: what to do, nothing of anybody's limits."""
    watch: bool
    address: tuple[str, str, str]
    """Movement, way and what is asked, for the link to the person's card."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HolderCard:
    """One person on the class sheet: which bands, and where to grip."""

    key: str
    name: str
    bands: tuple[tuple[str, str], ...]
    better: str
    lacking: str
    lines: tuple[GripLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPage:
    """The class sheet."""

    people: tuple[HolderCard, ...]
    latex_free: bool
    unmeasured: str
    retired: str
    worn: tuple[str, ...]
    limit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPage:
    """One person and one movement with a band."""

    movement: str
    way: str
    band: str
    label: str
    grip: str
    where: str
    tension: str
    stretch: str
    work: str
    notes: tuple[str, ...]
    within: str
    watch: bool
    reasons: tuple[tuple[str, str], ...]
    chart: SafeString
    joints: tuple[tuple[str, str, str, str, str], ...]
    what_ifs: tuple[tuple[str, str], ...]
    choices: tuple[tuple[str, str, bool], ...]
    aim: str
    grip_cm: str
    lacking: str


def kit_line(number: int, band: Band, *, group: Group, on: date) -> KitLine:
    """Return one kind of band for the list of kit."""
    line = context.band_line(band)
    law = group_loads.law_of(band)
    double = _double(band, law=law)
    return KitLine(
        id=number,
        label=line.label,
        about=line.about,
        measured=f"{line.measured}; {double}" if double and not line.retired else line.measured,
        warnings=kit_bag.wear_warnings(band, group=group, on=on),
        retired=line.retired,
    )


def band_page(band: Band, *, group: Group, on: date) -> BandPage:
    """Return everything about one band."""
    limit_ratio = group_loads.stretch_limit_ratio(group)
    law = group_loads.law_of(band, limit_ratio=limit_ratio)
    line = context.band_line(band)
    facts = (
        ("What it is", line.about),
        ("How many", str(band.count)),
        ("Bought", context.day(band.bought_on)),
        ("First used", context.day(band.first_used_on)),
        ("Batch", band.batch),
        ("Last check", context.day(band.checked_on)),
        ("Retired", context.day(band.retired_on)),
    )
    flags = kit_bag.examine(band.points, band=band, limit_ratio=limit_ratio) if law else None
    return BandPage(
        label=band.label,
        facts=tuple(fact for fact in facts if fact[1]),
        warnings=kit_bag.wear_warnings(band, group=group, on=on),
        retired=line.retired,
        chart=chart(band, law=law, limit_ratio=limit_ratio),
        readings=tuple(
            (
                f"{point.slack_length_m * 100:.1f} cm",
                f"{point.stretched_length_m * 100:.1f} cm",
                f"{point.reading_n:.1f} N",
            )
            for point in band.points
        ),
        says=_says(band, law=law),
        doubts=tuple(flag.words for flag in (*flags.refused, *flags.doubts)) if flags else (),
        checks=tuple(check_line(check) for check in reversed(band.checks)),
        first_used_on=band.first_used_on.isoformat() if band.first_used_on else "",
        batch=band.batch,
    )


def chart(band: Band, *, law: Estimate | None, limit_ratio: float) -> SafeString:
    """Return the chart of a band's readings, or nothing before there are any."""
    if not band.points:
        return SafeString("")
    drawn = load_chart.of_band(
        band.points, law=law, limit_ratio=limit_ratio, strands=kit_use.strands_read(band)
    )
    return mark_safe(drawn)  # noqa: S308  our own drawing; its words are escaped there


def check_line(check: BandCheck) -> str:
    """Return one look at a band as a sentence."""
    found = {"sound": "sound", "watch": "to watch", "retired": "retired"}[check.result.value]
    fault = f": {check.fault}" if check.fault else ""
    return f"{context.day(check.on)}, {check.by}: {found}{fault}"


def class_page(sheet: ClassSheet, *, group: Group, on: date, leads: bool) -> SheetPage:
    """Return the class sheet of a day; reasons in somebody's health are for leaders only."""
    known = {band.label: band for band in group.bands}
    held = {label for person in sheet.people for label in person.bands.values()}
    return SheetPage(
        people=tuple(_holder(person, bands=known, leads=leads) for person in sheet.people),
        latex_free=sheet.latex_free,
        unmeasured=", ".join(sheet.unmeasured),
        retired=", ".join(sheet.retired),
        worn=tuple(
            f"{band.label}: {words}"
            for band in group.bands
            if band.label in held
            for words in kit_bag.wear_warnings(band, group=group, on=on)
        ),
        limit=f"{sheet.limit_ratio:g}",
    )


def card_page(found: Card, *, movement: Movement, option: Option, grip_cm: str) -> CardPage:
    """Return the card of one person and one movement."""
    load = found.load
    verdict = found.verdict
    within, watch = _within(
        limit_n=found.limit_n,
        interval_n=load.tension_interval_n if load else None,
        fit=verdict.fit if verdict else None,
        leads=True,
    )
    return CardPage(
        movement=movement.name,
        way=context.said(option.kind),
        band=load_words.band(found.band) if found.band else "",
        label=found.band.label if found.band else "",
        grip=load_words.grip(load, doubled=found.doubled) if load else "",
        tension=load_words.tension(load) if load else "",
        stretch=_stretch(load) if load else "",
        work=f"about {load.work_j:.0f} J each time" if load and load.work_j is not None else "",
        where=load_words.where(load) if load else "",
        notes=load_words.codes(found.codes),
        within=within,
        watch=watch,
        reasons=tuple((reason.words, reason.source) for reason in verdict.reasons)
        if verdict
        else (),
        chart=_course(load) if load else SafeString(""),
        joints=load_words.joints(load) if load else (),
        what_ifs=tuple(
            (each.words, load_words.tension(each.load) if each.load else "cannot be held so")
            for each in found.what_ifs
        ),
        choices=tuple(
            (band.label, load_words.band(band), band == found.band) for band in found.choices
        ),
        aim=f"{found.aim_n:g}",
        grip_cm=grip_cm,
        lacking=found.lacking,
    )


def _course(load: Load) -> SafeString:
    drawn = load_chart.of_repetition(
        phase_ratios=load.phase_ratios,
        tension_n=load.tension_n,
        interval_n=load.tension_interval_n,
    )
    return mark_safe(drawn)  # noqa: S308  our own drawing; its words are escaped there


def _stretch(load: Load) -> str:
    return (
        f"{load.stretch_start_ratio:.2f} times its slack length at the start, "
        f"{load.stretch_most_ratio:.2f} times at most"
    )


def _holder(person: PersonBands, *, bands: Mapping[BandLabel, Band], leads: bool) -> HolderCard:
    held: list[tuple[str, str]] = []
    for shape, label in person.bands.items():
        if label is not None:
            held.append((label, load_words.band(bands[label])))
        elif person.stature_known:
            held.append(("", "no loop for this" if shape is Shape.LOOP else "no strip for this"))
    better = " and ".join(person.better)
    return HolderCard(
        key=person.person,
        name=person.name,
        bands=tuple(held) if person.stations else (),
        better=f"{better} would suit better; all are taken." if better else "",
        lacking=""
        if person.stature_known or not person.stations
        else "Height is not recorded, so no grip can be told.",
        lines=tuple(_line(station, leads=leads) for station in person.stations),
    )


def _line(station: StationLoad, *, leads: bool) -> GripLine:
    load, grip = station.load, station.grip
    movement = movements.shipped()[station.movement]
    way = "" if station.option.value == "standard" else f", {context.said(station.option)}"
    own = movement.option(station.option).paths[0].strands
    notes = list(load_words.codes(station.codes))
    if station.nearest is not None:
        notes.append(
            f"no band here gives {rubber.shown_n(station.target_n)} N; the nearest is "
            f"{station.nearest.label} with about {rubber.shown_n(station.nearest.peak_n)} N"
        )
    (within, watch), (aloud, _) = (
        _within(
            limit_n=station.limit_n,
            interval_n=load.tension_interval_n if load else None,
            fit=station.verdict.fit if station.verdict else None,
            leads=told,
        )
        for told in (leads, False)
    )
    return GripLine(
        number=station.number,
        station=f"{movement.name}{way}",
        grip=load_words.grip(load, doubled=grip.strands > own) if load and grip else "no band",
        tension=load_words.tension(load) if load else "",
        notes=tuple(notes),
        within=within,
        aloud=aloud,
        watch=watch,
        address=(
            station.movement,
            station.option.value,
            urlencode({"band": grip.label if grip else "", "aim": f"{station.target_n:g}"}),
        ),
    )


def _within(
    *,
    limit_n: float | None,
    interval_n: tuple[float, float] | None,
    fit: Fit | None,
    leads: bool,
) -> tuple[str, bool]:
    """Return how the load stands to what the person must avoid, and whether to watch.

    An assistant learns what to do, and nothing of why.
    """
    if fit is Fit.NOT_SUITABLE:
        return "not suitable for this person: give a gentler way, or no band", True
    if limit_n is None or interval_n is None:
        return "", False
    if interval_n[1] <= limit_n:
        return (f"within the limit of {limit_n:g} N" if leads else ""), False
    if interval_n[0] > limit_n:
        return "too much for this person: grip longer or take a lighter band", True
    told = f"may pass the limit of {limit_n:g} N" if leads else "may be too much for this person"
    return f"{told}: grip longer or watch closely", True


def _double(band: Band, *, law: Estimate | None) -> str:
    """Return the force of one strand at twice the slack length, in words; "" where not known."""
    if law is None or law.curve.most_ratio < 2.0:
        return ""
    fitted = group_loads.fit(band.points, shape=band.shape)
    if fitted.force_at_double_n is None or fitted.interval_n is None:
        return ""
    told = loads.shown(tension_n=fitted.force_at_double_n, interval_n=fitted.interval_n)
    return f"at twice its slack length {told}"


def _says(band: Band, *, law: Estimate | None) -> tuple[str, ...]:
    if law is None:
        return ()
    told = [f"Measured up to {law.curve.most_ratio:.2f} times its slack length, and never used "
            "beyond that."]  # fmt: skip
    double = _double(band, law=law)
    if double:
        told.insert(0, f"One strand pulls, {double}.")
    loss = rubber.loss_ratio(law)
    if loss is not None:
        told.append(f"Going back it gives {100 * loss:.0f} % less work than it took.")
    return tuple(told)
