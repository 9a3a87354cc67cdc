"""Measured points: one small file for each measured band, `bands/LABEL.csv`."""

import re
from collections.abc import Sequence
from pathlib import Path

from halewright.core.errors import Problem
from halewright.core.people.kit import Band, BandLabel, MeasuredPoint, Phase
from halewright.files import choices, headings, quantities, records, tables

MOST_STRETCH_RATIO = 4.0
"""Stretched over slack length beyond which a reading is taken for a slip: the higher of the
stretch limits found, “300 % longer” (needs research §4.3, S23)."""

FIELDS = (
    headings.Field(key="band", names=("Band", "Label")),
    headings.Field(key="slack", names=("slack_length_m", "Slack length", "Slack"),
                   units=("m", "cm", "mm", "in")),
    headings.Field(key="stretched", names=("stretched_length_m", "Stretched length", "Stretched"),
                   units=("m", "cm", "mm", "in")),
    headings.Field(key="reading", names=("Reading", "Force", "Scale", "Scale reading", "Pull"),
                   units=("n", "kg")),
    headings.Field(key="phase", names=("Phase", "Loading or unloading")),
)  # fmt: skip

_HEADINGS = ("slack_length_m", "stretched_length_m", "reading_n")
_NO_STEMS = ("", "con", "prn", "aux", "nul")
"""Names that a file cannot have on some machines."""
_LONGEST_STEM = 60
_NEEDED = ("slack", "stretched", "reading")


def read(
    path: Path, *, file: str, bands: Sequence[Band], findings: records.Findings
) -> tuple[BandLabel | None, tuple[MeasuredPoint, ...]]:
    """Return the band that a file is about and its points in the order measured.

    The band is the one in the column `band`, else the one the file is named after; None, with a
    problem noted, when no band has that label.
    """
    rows = records.read(path, file=file, fields=FIELDS, required=_NEEDED, findings=findings)
    rows = tuple(row for row in rows if row.cells)
    points = [point for row in rows if (point := _point(row)) is not None]
    said = {label for row in rows if (label := row.take("band", quantities.text, blank=""))}
    label = next(iter(said)) if len(said) == 1 else path.stem
    exact = [band.label for band in bands if band.label.casefold() == label.casefold()]
    alike = [band.label for band in bands if stem_of(band.label).casefold() == label.casefold()]
    if exact or (alike and not said):
        return (exact or alike)[0], tuple(points)
    findings.problems.append(
        Problem(
            file=file,
            read=label,
            mend="Name the file after the label of a band in the bands file, ending in .csv.",
        )
    )
    return None, tuple(points)


def read_alone(path: Path, *, file: str, findings: records.Findings) -> tuple[MeasuredPoint, ...]:
    """Return the points of a file that is about no band of a group, in the order measured."""
    rows = records.read(path, file=file, fields=FIELDS, required=_NEEDED, findings=findings)
    return tuple(point for row in rows if row.cells and (point := _point(row)) is not None)


def write(folder: Path, bands: Sequence[Band]) -> None:
    """Write a file for each band that has points; makes the folder when one has."""
    measured = [band for band in bands if band.points]
    if measured:
        folder.mkdir(parents=True, exist_ok=True)
    used: set[str] = set()
    for band in measured:
        stem = _free_stem(stem_of(band.label), used=used)
        used.add(stem.casefold())
        # A label that cannot be a file's name is written inside the file.
        inside = stem != band.label
        both_ways = any(point.phase is Phase.UNLOADING for point in band.points)
        tables.write_csv(
            folder / f"{stem}.csv",
            headings=(*(("band",) * inside), *_HEADINGS, *(("phase",) * both_ways)),
            rows=[
                (*((band.label,) * inside), *_row(point), *((point.phase.value,) * both_ways))
                for point in band.points
            ],
        )


def stem_of(label: str) -> str:
    """Return a label without the signs that some machines forbid in the name of a file."""
    stem = re.sub(r'[<>:"/\\|?*\x00-\x1f]', "-", label)[:_LONGEST_STEM].strip(" .")
    # Readers pass over names that begin with a tilde: offices lock files with such.
    if stem.casefold() in _NO_STEMS or stem.startswith("~"):
        return f"band-{stem}"
    return stem


def _free_stem(stem: str, *, used: set[str]) -> str:
    free, number = stem, 2
    while free.casefold() in used:
        free, number = f"{stem}-{number}", number + 1
    return free


def _row(point: MeasuredPoint) -> tuple[str, str, str]:
    return (
        quantities.number_text(point.slack_length_m),
        quantities.number_text(point.stretched_length_m),
        quantities.number_text(point.reading_n),
    )


def _point(row: records.Record) -> MeasuredPoint | None:
    slack_m = row.take("slack", quantities.length_m, blank=None)
    stretched_m = row.take("stretched", quantities.length_m, blank=None)
    reading_n = row.take("reading", quantities.force_n, blank=None)
    for key in _NEEDED:
        if key in row.columns and key not in row.cells:
            row.problem(key=key, read="", mend="Fill in the reading, or take the row out.")
    if slack_m is None or stretched_m is None or reading_n is None:
        return None
    if not slack_m <= stretched_m <= MOST_STRETCH_RATIO * slack_m:
        row.problem(
            key="stretched",
            read=f"{stretched_m:g} m from {slack_m:g} m",
            mend="The stretched length must be from one to four times the slack length.",
        )
    return MeasuredPoint(
        slack_length_m=slack_m,
        stretched_length_m=stretched_m,
        reading_n=reading_n,
        phase=row.take("phase", choices.phase, blank=Phase.LOADING),
    )
