"""When a band should be looked at again or taken out of use."""

from datetime import date

from halewright.core.people.kit import Band, CheckResult

LIFE_MONTHS = 12
"""Months of weekly use after which a band is replaced, unless a fault comes first: common
practice is 6 to 12 (needs research §4.3). The local rule `band_life_months` takes its place."""
LOOK_CLOSELY_MONTHS = 6
CHECK_MONTHS = 3
"""A recorded look at every band this often, besides the look before each use: common practice."""


def is_retired(band: Band, *, on: date) -> bool:
    """Return whether a band may not be handed out on a day."""
    return band.retired_on is not None and band.retired_on <= on


def warnings(band: Band, *, on: date, life_months: float = LIFE_MONTHS) -> tuple[str, ...]:
    """Return what the leader must know of a band's state on a day, the gravest first."""
    if is_retired(band, on=on):
        return ("Retired: it is never handed out.",)
    told = []
    last = max(band.checks, key=lambda check: check.on, default=None)
    if last is not None and last.result is CheckResult.WATCH:
        told.append(f"To watch since the last check: {last.fault or 'fault not described'}.")
    used_since = band.first_used_on or band.bought_on
    if used_since is None:
        told.append("No day of first use is recorded, so its age is not known.")
    else:
        told += _age(_months(used_since, on), life_months=life_months)
    looked_on = max((day for day in (band.checked_on, last.on if last else None) if day),
                    default=None)  # fmt: skip
    if looked_on is None:
        told.append("No check is recorded. Look it over from end to end before anybody uses it.")
    elif _months(looked_on, on) >= CHECK_MONTHS:
        told.append(f"Last recorded check {_months(looked_on, on)} months ago: check it again.")
    return tuple(told)


def _age(months: int, *, life_months: float) -> list[str]:
    if months >= life_months:
        return [f"In use for {months} months: replace it (after {life_months:g}, local rule or "
                "common practice)."]  # fmt: skip
    if months >= LOOK_CLOSELY_MONTHS:
        return [f"In use for {months} months: look closely (bands last 6 to 12 months of weekly "
                "use, common practice)."]  # fmt: skip
    return []


def _months(since: date, on: date) -> int:
    """Return the whole months between two days."""
    return (on.year - since.year) * 12 + on.month - since.month - (on.day < since.day)
