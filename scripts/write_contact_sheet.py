"""Writes docs/pictures/contact-sheet-*.png: every shipped movement in its two best views.

Run it after a change to a movement or to the figure, and look at every picture. A sheet holds one
part of the session; beneath each pair stand the movement's name and the two views.
"""

import html
import tempfile
from collections.abc import Sequence
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from halewright.core.catalogue.movement import Movement, MovementId
from halewright.core.catalogue.words import Part
from halewright.files import movements
from halewright.media import figure, figure_people, palette

PICTURES = Path(__file__).resolve().parents[1] / "docs" / "pictures"
BROWSER = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
PAGE = 42
"""Movements to a sheet, so that each stays large enough to judge."""
COLUMNS = 5
CELL = 250
STYLE = f"""
body {{ margin: 0; padding: 16px; background: {palette.GROUND}; color: {palette.INK};
  font: 13px sans-serif; width: {COLUMNS * CELL}px; }}
h1 {{ font-size: 20px; margin: 0 0 8px; }}
ol {{ display: grid; grid-template-columns: repeat({COLUMNS}, 1fr); gap: 10px 0; margin: 0;
  padding: 0; list-style: none; }}
li div {{ display: flex; }}
svg {{ width: 122px; height: 150px; }}
small {{ display: block; }}
"""


def main() -> None:
    """Draw every part's sheets anew and say how large they are."""
    found: dict[str, str] = {}
    for part in Part:
        shown = [item for item in movements.shipped().values() if item.part is part]
        for start in range(0, len(shown), PAGE):
            name = f"contact-sheet-{part.value.replace('_', '-')}-{start // PAGE + 1}"
            found[name] = _sheet(title=name.replace("-", " "), shown=shown[start : start + PAGE])
    found["contact-sheet-people"] = _people()
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=BROWSER)
        page = browser.new_page(
            viewport={"width": COLUMNS * CELL + 32, "height": 600}, device_scale_factor=1.5
        )
        for name, text in found.items():
            _shoot(page, name=name, text=text, folder=Path(folder))
        browser.close()


def _sheet(*, title: str, shown: Sequence[Movement]) -> str:
    cells = "".join(_cell(item) for item in shown)
    return f"<style>{STYLE}</style><h1>{html.escape(title)}</h1><ol>{cells}</ol>"


def _cell(item: Movement) -> str:
    views = figure.views(item, item.standard)
    drawn = "".join(figure.svg(item.standard, view=view) for view in views)
    told = " and ".join(view.value.replace("_", " ") for view in views)
    return (
        f"<li><div>{drawn}</div><strong>{html.escape(item.name)}</strong>"
        f"<small>{item.id}</small><small>{told}</small></li>"
    )


def _people() -> str:
    """Return every look doing the same few movements."""
    cells = []
    for name, look in figure_people.PEOPLE.items():
        for movement in ("seated-row", "pull-apart"):
            option = movements.shipped()[MovementId(movement)].standard
            drawn = "".join(
                figure.svg(option, view=view, look=look, labels=("L", "R"))
                for view in ("right_quarter", "front")
            )
            cells.append(
                f"<li><div>{drawn}</div><strong>{html.escape(look.words)}</strong>"
                f"<small>{name}</small></li>"
            )
    return f"<style>{STYLE}</style><h1>contact sheet people</h1><ol>{''.join(cells)}</ol>"


def _shoot(page: Page, *, name: str, text: str, folder: Path) -> None:
    file = folder / f"{name}.html"
    file.write_text(f"<!doctype html><meta charset=utf-8>{text}", encoding="utf-8")
    page.goto(file.as_uri())
    target = PICTURES / f"{name}.png"
    page.screenshot(path=target, full_page=True)
    print(f"{target.name}: {target.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
