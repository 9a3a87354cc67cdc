"""Readings as they were typed: text in, points or plain sentences out."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from halewright.core import units
from halewright.core.people.kit import BandCheck, CheckResult, MeasuredPoint, Phase

ROWS = 10
"""Five to ten pairs are asked for."""
_SLACK_RANGE_CM = (10.0, 400.0)
_MOST_N = 500.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One pair of fields as it was typed."""

    number: int
    length: str = ""
    reading: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureForm:
    """A measuring as it was typed; `wrong` says in sentences what to mend."""

    slack: str = ""
    unit: str = "kg"
    out: tuple[Row, ...] = field(default_factory=lambda: tuple(_empty()))
    back: tuple[Row, ...] = field(default_factory=lambda: tuple(_empty()))
    points: tuple[MeasuredPoint, ...] = ()
    wrong: tuple[str, ...] = ()
    sure: bool = False


def measuring(sent: Mapping[str, str], *, limit_ratio: float) -> MeasureForm:
    """Return a measuring as it was typed, with everything that must be mended.

    Lengths are in centimetres, readings in kilograms or newtons. A length beyond the local limit
    is refused here already.
    """
    out, back = (tuple(_row(sent, way=way, number=k) for k in range(1, ROWS + 1))
                 for way in ("out", "back"))  # fmt: skip
    slack_cm = _number(sent.get("slack", ""))
    unit = "n" if sent.get("unit") == "n" else "kg"
    wrong: list[str] = []
    points: list[MeasuredPoint] = []
    low, high = _SLACK_RANGE_CM
    if slack_cm is None or not low <= slack_cm <= high:
        wrong.append("Give the slack length in centimetres, from 10 to 400.")
    else:
        for phase, rows in ((Phase.LOADING, out), (Phase.UNLOADING, back)):
            for row in rows:
                told = _point(row, slack_cm=slack_cm, unit=unit, phase=phase, limit=limit_ratio)
                if isinstance(told, str):
                    wrong.append(told)
                elif told is not None:
                    points.append(told)
    return MeasureForm(
        slack=sent.get("slack", "").strip(),
        unit=unit,
        out=out,
        back=back,
        points=tuple(points),
        wrong=tuple(wrong),
        sure=sent.get("sure") == "yes",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckForm:
    """A look at a band as it was typed; `check` is None while `wrong` says what to mend."""

    check: BandCheck | None
    wrong: tuple[str, ...] = ()


def check(sent: Mapping[str, str], *, by: str, today: date) -> CheckForm:
    """Return a look at a band, or everything that must be mended."""
    wrong = []
    on = _day(sent.get("on", ""))
    if on is None or on > today:
        wrong.append("Give the day of the check, not later than today.")
    result = sent.get("result", "")
    fault = " ".join(sent.get("fault", "").split())[:200]
    if result not in set(CheckResult):
        wrong.append("Choose what you found.")
    elif result != CheckResult.SOUND and not fault:
        wrong.append("Say what the fault is, in a few words.")
    if wrong or on is None:
        return CheckForm(check=None, wrong=tuple(wrong))
    return CheckForm(check=BandCheck(on=on, by=by, result=CheckResult(result), fault=fault))


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordForm:
    """First use and batch as they were typed."""

    first_used_on: date | None
    batch: str
    wrong: tuple[str, ...] = ()


def record(sent: Mapping[str, str], *, today: date) -> RecordForm:
    """Return when a band came into use and its batch, or what to mend."""
    typed = sent.get("first_used_on", "").strip()
    on = _day(typed)
    wrong: tuple[str, ...] = ()
    if typed and (on is None or on > today):
        wrong = ("Give the day of first use, not later than today, or leave it empty.",)
    return RecordForm(first_used_on=on, batch=sent.get("batch", "").strip()[:60], wrong=wrong)


def newtons(text: str, *, otherwise: float) -> float:
    """Return a tension to aim at, from 5 to 100 N; `otherwise` for anything else."""
    told = _number(text)
    return told if told is not None and 5.0 <= told <= 100.0 else otherwise


def grip_m(text: str) -> float | None:
    """Return a grip length from centimetres; None for nothing or nonsense."""
    told = _number(text)
    return told / 100.0 if told is not None and 5.0 <= told <= 500.0 else None


def _empty() -> list[Row]:
    return [Row(number=k) for k in range(1, ROWS + 1)]


def _row(sent: Mapping[str, str], *, way: str, number: int) -> Row:
    return Row(
        number=number,
        length=sent.get(f"{way}-length-{number}", "").strip()[:12],
        reading=sent.get(f"{way}-reading-{number}", "").strip()[:12],
    )


def _point(
    row: Row, *, slack_cm: float, unit: str, phase: Phase, limit: float
) -> MeasuredPoint | str | None:
    """Return the reading of a row, None where it is empty, or a sentence that says what to mend."""
    if not row.length and not row.reading:
        return None
    name = f"Reading {row.number}" + (" on the way back" if phase is Phase.UNLOADING else "")
    length_cm, size = _number(row.length), _number(row.reading)
    if length_cm is None or size is None:
        return f"{name}: give both the length and what the scale shows, as numbers."
    reading_n = size * units.STANDARD_GRAVITY_M_PER_S2 if unit == "kg" else size
    if not slack_cm < length_cm:
        return f"{name}: {row.length} cm is not longer than the slack length."
    if length_cm > limit * slack_cm * (1.0 + 1e-9):
        return (
            f"{name}: {row.length} cm is more than {limit:g} times the slack length. That is "
            f"beyond the limit; stop at {math.floor(limit * slack_cm)} cm."
        )
    if not 0.0 < reading_n <= _MOST_N:
        return f"{name}: the scale shows more than nothing and at most {_MOST_N:.0f} N (51 kg)."
    return MeasuredPoint(
        slack_length_m=slack_cm / 100.0,
        stretched_length_m=length_cm / 100.0,
        reading_n=reading_n,
        phase=phase,
    )


def _number(text: str) -> float | None:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None
