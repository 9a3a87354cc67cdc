"""A coarse picture of a figure as letters, for comparing pictures by eye and by count.

Only what the figure itself writes is understood: paths of M, l, q and z in whole units.
"""

import re
import xml.etree.ElementTree as ET

import numpy as np
import shapely

_WORD = re.compile(r"([Mlqz])|(-?\d+)")
_COUNTS = {"M": 2, "l": 2, "q": 4, "z": 0}
_SVG = "{http://www.w3.org/2000/svg}"


def letters(svg: str, *, names: dict[str, str], width: int = 64) -> tuple[str, ...]:
    """Return the picture in rows of letters: `names` gives a fill's letter, "." shows nothing.

    A letter is twice as tall as wide. Fills without a name are painted as ".", and faint shapes
    are left out.
    """
    root = ET.fromstring(svg)  # noqa: S314  our own words, not a stranger's
    left, top, wide, tall = (float(word) for word in root.attrib["viewBox"].split())
    group = next(root.iter(f"{_SVG}g"))
    scale = float(group.attrib["transform"].removeprefix("scale(").removesuffix(")"))
    height = round(width * tall / wide / 2.0)
    x = left + (np.arange(width) + 0.5) * wide / width
    y = top + (np.arange(height) + 0.5) * tall / height
    across, down = np.meshgrid(x / scale, y / scale)
    grid = np.full((height, width), ".")
    for path in group.iter(f"{_SVG}path"):
        if "opacity" not in path.attrib:
            inside = np.zeros(grid.shape, dtype=np.bool_)
            for ring in _rings(path.attrib["d"]):
                inside ^= shapely.contains_xy(shapely.Polygon(ring), across, down)
            grid[inside] = names.get(path.attrib["fill"], ".")
    return tuple("".join(row) for row in grid)


def _rings(data: str) -> list[np.ndarray]:
    """Return the corners of every ring of a path; a curve counts by its two last points."""
    rings: list[list[np.ndarray]] = []
    at = np.zeros(2)
    command, numbers = "", []
    for word, number in _WORD.findall(data):
        if word:
            command, numbers = word, []
            continue
        numbers.append(float(number))
        if len(numbers) == _COUNTS[command]:
            steps = np.array(numbers).reshape(-1, 2)
            if command == "M":
                at = steps[0]
                rings.append([at])
            else:
                rings[-1].extend(at + step for step in steps)
                at = at + steps[-1]
            numbers = []
    return [np.stack(ring) for ring in rings if len(ring) > 2]


def unlike_share(one: tuple[str, ...], other: tuple[str, ...]) -> float:
    """Return the share of letters that differ; 1 for pictures of different sizes."""
    if [len(row) for row in one] != [len(row) for row in other]:
        return 1.0
    pairs = [pair for rows in zip(one, other, strict=True) for pair in zip(*rows, strict=True)]
    return sum(a != b for a, b in pairs) / len(pairs)
