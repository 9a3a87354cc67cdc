"""A band's inspections in one cell: "2026-11-03 Alma: sound; 2026-12-01 Bram: watch, nick"."""

import re
from collections.abc import Sequence

from halewright.core.people.kit import BandCheck, CheckResult
from halewright.files import quantities
from halewright.files.quantities import Unread
from halewright.files.tables import Value

_MEND = (
    "Write each check as its day, who looked, a colon and “sound”, “watch” or “retired”, then a "
    "comma and the fault if there is one; put a semicolon between checks."
)
_ONE = re.compile(r"(\S+) ([^:;]+): (sound|watch|retired)(?:, ([^;]+))?")


def read(value: Value, unit: str = "") -> tuple[BandCheck, ...] | Unread:
    """Return the checks of a cell in the order written."""
    del unit
    found = []
    for part in quantities.text(value).split(";"):
        said = _ONE.fullmatch(part.strip())
        on = quantities.day(said[1]) if said else None
        if said is None or on is None or isinstance(on, Unread):
            return Unread(_MEND)
        found.append(
            BandCheck(on=on, by=said[2].strip(), result=CheckResult(said[3]), fault=said[4] or "")
        )
    return tuple(found)


def write(checks: Sequence[BandCheck]) -> str:
    """Return the checks as one cell; signs that part them become commas in people's words."""
    return "; ".join(
        f"{check.on.isoformat()} {_plain(check.by)}: {check.result.value}"
        + (f", {_plain(check.fault)}" if check.fault else "")
        for check in checks
    )


def _plain(words: str) -> str:
    return re.sub(r"\s*[;:]\s*", ", ", words).strip()
