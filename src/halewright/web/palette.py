"""The colours of every page, as values; static/web/css/palette.css repeats them for the browser.

Coral means the band and nothing else. Amber is caution. Red is stop only, always with its word
and its shape. Nothing needs colour alone to be understood.
"""

from typing import Final

COLOURS: Final[dict[str, str]] = {
    "ground": "#F6F1EA",
    "paper": "#FFFDF9",
    "wash": "#DDE9E6",
    "ink": "#1C2B2D",
    "quiet": "#4A5958",
    "teal": "#0E4A4D",
    "edge": "#6F7A78",
    "line": "#D8CEC0",
    "band": "#D4492F",
    "band-edge": "#7E2414",
    "caution": "#7A4A00",
    "caution-wash": "#FBE9C6",
    "stop": "#A8141E",
    "stop-wash": "#F9DEDD",
}
"""Name to sRGB colour. `line` only divides what space divides already; it carries no meaning."""

TEXT_PAIRS: Final[tuple[tuple[str, str], ...]] = (
    ("ink", "ground"),
    ("ink", "paper"),
    ("ink", "wash"),
    ("ink", "caution-wash"),
    ("ink", "stop-wash"),
    ("quiet", "ground"),
    ("quiet", "paper"),
    ("quiet", "wash"),
    ("teal", "ground"),
    ("teal", "paper"),
    ("teal", "wash"),
    ("paper", "teal"),
    ("paper", "ink"),
    ("band-edge", "ground"),
    ("band-edge", "paper"),
    ("band-edge", "wash"),
    ("caution", "ground"),
    ("caution", "paper"),
    ("caution", "caution-wash"),
    ("stop", "ground"),
    ("stop", "paper"),
    ("stop", "stop-wash"),
    ("paper", "stop"),
)
"""Text on ground: at least 4.5 to 1 (WCAG 2.2, success criterion 1.4.3)."""

GRAPHIC_PAIRS: Final[tuple[tuple[str, str], ...]] = (
    ("edge", "ground"),
    ("edge", "paper"),
    ("edge", "wash"),
    ("band", "ground"),
    ("band", "paper"),
    ("band", "wash"),
    ("band-edge", "ground"),
    ("caution", "caution-wash"),
    ("stop", "stop-wash"),
    ("ink", "ground"),
)
"""Edges of controls, marks and focus rings: at least 3 to 1 (criterion 1.4.11)."""
