"""A measured bag: readings that fit a band of about 15 N at twice its slack length."""

from tests.cast import Cast

from halewright.core.people.kit import MeasuredPoint
from halewright.store import queries
from halewright.usecases import bands

GOOD = ((60, 5.0), (70, 8.4), (80, 11.1), (90, 13.3), (100, 15.3), (110, 17.0))
"""Length in cm from 50 cm slack, and newtons."""
SENT = {
    "slack": "50",
    "unit": "n",
    **{f"out-length-{k}": str(length) for k, (length, _) in enumerate(GOOD, start=1)},
    **{f"out-reading-{k}": f"{reading:g}" for k, (_, reading) in enumerate(GOOD, start=1)},
}
"""The same as a form sends it."""


def band_id(cast: Cast) -> int:
    """Return the number of the first band in the bag, "thin"."""
    return queries.bands_of(cast.group)[0][0]


def measure(cast: Cast) -> None:
    """Measure the first band in the bag."""
    points = tuple(
        MeasuredPoint(slack_length_m=0.5, stretched_length_m=length / 100, reading_n=reading)
        for length, reading in GOOD
    )
    found = bands.measure(points, group=cast.group, band_id=band_id(cast), limit_ratio=3.0)
    assert (found.refused, found.doubts) == ((), ())
