"""The kit bag in a table: a row for each kind of band."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from halewright.core.people.kit import Band, BandLabel, Material, MeasuredPoint, Shape
from halewright.files import band_checks, choices, headings, quantities, records, tables

FIELDS = (
    headings.Field(key="label", names=("Label", "Band", "Band label", "Our name", "Id"),
                   weak=("Name",)),
    headings.Field(key="material", names=("Material", "Made of", "Latex", "Latex or latex-free")),
    headings.Field(key="shape", names=("Shape", "Kind", "Strip or loop", "Type", "Form")),
    headings.Field(key="length", names=("Length", "Slack length", "Long"),
                   units=("m", "cm", "mm", "in", "ft")),
    headings.Field(key="width", names=("Width", "Wide"), units=("m", "cm", "mm", "in")),
    headings.Field(key="count", names=("Count", "How many", "Number", "Quantity", "Qty", "Pieces")),
    headings.Field(key="rank", names=("Rank", "Order", "Lightest first", "Order of strength")),
    headings.Field(key="bought", names=("Bought", "Bought on", "Purchased", "Date bought")),
    headings.Field(key="checked", names=("Checked", "Checked on", "Last check", "Last checked")),
    headings.Field(key="retired", names=("Retired", "Retired on", "Thrown away", "Out of use")),
    headings.Field(key="first_used", names=("First used", "First used on", "In use since")),
    headings.Field(key="batch", names=("Batch", "Batch number", "Lot", "Lot number")),
    headings.Field(key="checks", names=("Checks", "All checks", "Check record")),
)  # fmt: skip

_HEADINGS = (
    "Label", "Material", "Shape", "Length (m)", "Width (m)", "Count", "Rank", "Bought", "Checked",
    "Retired", "First used", "Batch", "Checks",
)  # fmt: skip


def read(path: Path, *, file: str, findings: records.Findings) -> tuple[Band, ...]:
    """Return the bands of a file, not yet measured; labels that differ only in case clash."""
    rows = records.read(path, file=file, fields=FIELDS, required=("label",), findings=findings)
    seen: dict[str, int] = {}
    found = []
    for row in rows:
        if not row.cells:
            continue
        label = row.take("label", quantities.text, blank="")
        if not label and "label" in row.columns:
            row.problem(key="label", read="", mend="Give the band a label of your own.")
        elif label and label.casefold() in seen:
            row.problem(
                key="label",
                read=label,
                mend=f"Row {seen[label.casefold()]} has this label already. Give each kind of "
                "band its own, or raise the count.",
            )
        seen.setdefault(label.casefold(), row.row)
        found.append(_band(row, label=label))
    return tuple(found)


def with_points(
    bands: Sequence[Band], points: Mapping[BandLabel, tuple[MeasuredPoint, ...]]
) -> tuple[Band, ...]:
    """Return the bands with the readings that were found for them."""
    return tuple(replace(band, points=points.get(band.label, ())) for band in bands)


def write(path: Path, bands: Sequence[Band]) -> None:
    """Write bands as csv; their readings go into files of their own."""
    rows = [
        (
            band.label,
            band.material.value.replace("_", "-" if band.material is Material.LATEX_FREE else " "),
            band.shape.value,
            quantities.number_text(band.length_m),
            quantities.number_text(band.width_m),
            str(band.count),
            "" if band.rank is None else str(band.rank),
            *(
                "" if day is None else day.isoformat()
                for day in (
                    band.bought_on,
                    band.checked_on,
                    band.retired_on,
                    band.first_used_on,
                )
            ),
            band.batch,
            band_checks.write(band.checks),
        )
        for band in bands
    ]
    tables.write_csv(path, headings=_HEADINGS, rows=rows)


def _band(row: records.Record, *, label: str) -> Band:
    return Band(
        label=BandLabel(label),
        material=row.take("material", choices.material, blank=Material.NOT_KNOWN),
        shape=row.take("shape", choices.shape, blank=Shape.STRIP),
        length_m=row.take("length", quantities.length_m, blank=None),
        width_m=row.take("width", quantities.width_m, blank=None),
        count=row.take("count", quantities.count, blank=1),
        rank=row.take("rank", quantities.count, blank=None),
        bought_on=row.take("bought", quantities.day, blank=None),
        checked_on=row.take("checked", quantities.day, blank=None),
        retired_on=row.take("retired", quantities.day, blank=None),
        first_used_on=row.take("first_used", quantities.day, blank=None),
        batch=row.take("batch", quantities.text, blank=""),
        checks=row.take("checks", band_checks.read, blank=()),
    )
