"""The kit bag: measure a band, look it over, take it out of use."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.db import transaction

from halewright.core.errors import HalewrightError
from halewright.core.mechanics import kit_use, readings
from halewright.core.mechanics.readings import Flag, FlagKind
from halewright.core.people import wear
from halewright.core.people.group import Group
from halewright.core.people.kit import Band, BandCheck, CheckResult, MeasuredPoint
from halewright.core.screening import locally
from halewright.store import mapping, models, queries

LIFE = "band_life_months"
"""The local rule that sets after how many months a band is replaced."""


class NoSuchBand(HalewrightError):
    """The group's bag holds no band with this number."""

    def __init__(self, band_id: int) -> None:
        """Say where the bands are listed."""
        super().__init__(f"The bag has no band number {band_id}. Choose one from the group's kit.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What a measuring came to; with `refused` nothing was kept. `doubts` only ask for a look."""

    refused: tuple[Flag, ...]
    doubts: tuple[Flag, ...]


def examine(points: Sequence[MeasuredPoint], *, band: Band, limit_ratio: float) -> Measured:
    """Return what is wrong with readings, and what is doubtful, without keeping anything.

    Readings beyond the stretch limit are refused, and so are too few of them.
    """
    flags = readings.check(points, limit_ratio=limit_ratio, strands=kit_use.strands_read(band))
    grave = (FlagKind.BEYOND_LIMIT, FlagKind.TOO_FEW)
    return Measured(
        refused=tuple(flag for flag in flags if flag.kind in grave),
        doubts=tuple(flag for flag in flags if flag.kind not in grave),
    )


@transaction.atomic
def measure(
    points: Sequence[MeasuredPoint], *, group: models.Group, band_id: int, limit_ratio: float
) -> Measured:
    """Keep readings in place of those that a band had; raises NoSuchBand.

    A measuring replaces the one before it, because each has its own slack length.
    """
    row = _row(group, band_id=band_id)
    found = examine(points, band=queries.as_band(row), limit_ratio=limit_ratio)
    if not found.refused:
        keep_points(row, points=points)
    return found


@transaction.atomic
def check(done: BandCheck, *, group: models.Group, band_id: int) -> Band:
    """Add a look at a band to its record; a check that retires it takes it out of use."""
    row = _row(group, band_id=band_id)
    band = queries.as_band(row)
    retires = done.result is CheckResult.RETIRED
    changed = replace(
        band,
        checks=tuple(sorted((*band.checks, done), key=lambda each: each.on)),
        checked_on=max(band.checked_on or done.on, done.on),
        retired_on=min(band.retired_on or done.on, done.on) if retires else band.retired_on,
    )
    _keep(row, band=changed)
    return changed


@transaction.atomic
def record(*, first_used_on: date | None, batch: str, group: models.Group, band_id: int) -> Band:
    """Record when a band came into use and the batch on its packet."""
    row = _row(group, band_id=band_id)
    changed = replace(queries.as_band(row), first_used_on=first_used_on, batch=batch)
    _keep(row, band=changed)
    return changed


def retired(group: Group, *, on: date) -> tuple[Band, ...]:
    """Return the bands that may not be handed out on a day."""
    return tuple(band for band in group.bands if wear.is_retired(band, on=on))


def wear_warnings(band: Band, *, group: Group, on: date) -> tuple[str, ...]:
    """Return what must be known of a band's state, by the group's local rule for its life."""
    local = locally.in_force(group.local_rules).get(LIFE)
    if local is None or local.at_most is None or local.off:
        return wear.warnings(band, on=on)
    return wear.warnings(band, on=on, life_months=local.at_most)


def brought_up_to_date(before: Band, *, told: Band) -> Band:
    """Return a band as a newer list tells it, without losing what was recorded here.

    A list without readings leaves the readings; checks add up; what is retired stays retired.
    """
    checks = dict.fromkeys((*before.checks, *told.checks))
    days = [day for day in (before.retired_on, told.retired_on) if day is not None]
    return replace(
        told,
        points=told.points or before.points,
        checks=tuple(sorted(checks, key=lambda check: check.on)),
        first_used_on=told.first_used_on or before.first_used_on,
        batch=told.batch or before.batch,
        retired_on=min(days, default=None),
    )


def keep_points(row: models.Band, *, points: Sequence[MeasuredPoint]) -> None:
    """Put these readings in place of those that a band had."""
    row.points.all().delete()
    models.BandPoint.objects.bulk_create(
        models.BandPoint(
            organisation_id=row.organisation_id,
            band=row,
            slack_length_m=point.slack_length_m,
            stretched_length_m=point.stretched_length_m,
            reading_n=point.reading_n,
            phase=point.phase.value,
        )
        for point in points
    )


def _row(group: models.Group, *, band_id: int) -> models.Band:
    row = queries.band_in(group, band_id=band_id)
    if row is None:
        raise NoSuchBand(band_id)
    return row


def _keep(row: models.Band, *, band: Band) -> None:
    for name, value in mapping.band_columns(band).items():
        setattr(row, name, value)
    row.save()
