"""What the whole source keeps: layers, units, sizes, names, words. DESIGN says why."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from importlinter import cli
from tests.fakes import source
from tests.fakes.source import ROOT, SRC, TESTS

from halewright.core.catalogue import wording

MOST_FUNCTION_LINES = 40
MOST_MODULE_LINES = 400

UNITS = frozenset(
    {"m", "s", "kg", "n", "rad", "ms", "nm", "w", "hz", "deg", "j", "pt", "mm", "months"}
)
"""The last word of a name that holds a float; degrees, millimetres and months as published."""
PLAIN = frozenset({"ratio", "share", "score", "count", "points", "sign"})
"""The last word where a float has no unit."""
RATE = re.compile(r"_per_(m|m2|s|s2|kg)$")
EXCUSED = "unit:"
"""A comment on the line gives the reason where a float's unit is told elsewhere."""


def test_layers_are_kept() -> None:
    """Every contract of .importlinter holds."""
    code = cli.lint_imports(config_filename=str(ROOT / ".importlinter"), cache_dir=None)

    assert code == cli.EXIT_STATUS_SUCCESS, "Run lint-imports and read which goes the wrong way."


@pytest.mark.parametrize("stranger", ["django", "ortools", "click", "msgspec", "halewright.files"])
def test_core_loads_none_of_the_others(stranger: str) -> None:
    """Importing every module of core loads no framework, solver or other layer."""
    names = [
        ".".join(("halewright", *path.relative_to(SRC).with_suffix("").parts))
        for path in source.modules(SRC / "core")
        if path.name != "__init__.py"
    ]
    code = f"import sys, {', '.join(names)}; sys.exit({stranger!r} in sys.modules)"

    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)  # noqa: S603

    assert ran.returncode == 0


def floats(path: Path) -> Iterator[tuple[int, str]]:
    """Yield the line and name of every field and parameter that is a float."""
    for node in ast.walk(source.tree(path)):
        found: list[tuple[str, ast.expr | None, int]] = []
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            found = [(node.target.id, node.annotation, node.lineno)]
        if isinstance(node, ast.FunctionDef):
            args = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
            found = [(each.arg, each.annotation, each.lineno) for each in args]
        for name, annotation, line in found:
            if annotation is not None and ast.unparse(annotation) in {"float", "float | None"}:
                yield line, name


def has_unit(name: str) -> bool:
    """Return whether the last word of a name is a unit, or says that there is none."""
    last = name.lower().rsplit("_", 1)[-1]
    return last in UNITS | PLAIN or RATE.search(name.lower()) is not None


def test_every_float_of_core_says_its_unit() -> None:
    """The unit is the last word of a float's name, or its line says why not."""
    bare = [
        f"{source.place(path, line)} {name}"
        for path in source.modules(SRC / "core")
        for line, name in floats(path)
        if not has_unit(name)
        and EXCUSED not in path.read_text(encoding="utf-8").splitlines()[line - 1]
    ]

    assert bare == []


def test_functions_are_short() -> None:
    """No function has more than 40 lines, its signature and docstring included."""
    long = [
        f"{source.place(path, each.lineno)} {each.name}: {each.end_lineno - each.lineno + 1} lines"
        for path in source.modules(SRC)
        for each in source.functions(path)
        if each.end_lineno is not None and each.end_lineno - each.lineno + 1 > MOST_FUNCTION_LINES
    ]

    assert long == []


def test_modules_are_short() -> None:
    """No module has more than 400 lines."""
    long = [
        f"{source.place(path)}: {count} lines"
        for path in source.modules(SRC)
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > MOST_MODULE_LINES
    ]

    assert long == []


def test_modules_are_named_for_what_they_hold() -> None:
    """No module or package is called for being of use: utils, helpers, manager, common, misc."""
    vague = re.compile(r"(^|_)(utils?|helpers?|managers?|common|misc)($|_)")

    assert [
        source.place(path)
        for path in source.modules(SRC)
        if vague.search(path.stem) or vague.search(path.parent.name)
    ] == []


def test_every_test_promises_something() -> None:
    """Every test function has a docstring that ends its first sentence."""
    silent = [
        source.place(path, each.lineno)
        for path in source.modules(TESTS)
        if path.name.startswith("test_")
        for each in source.functions(path)
        if each.name.startswith("test_") and "." not in (ast.get_docstring(each) or "")
    ]

    assert silent == []


def test_nothing_is_mocked() -> None:
    """Tests use fakes: none imports unittest.mock or uses monkeypatch.setattr."""
    mocking = re.compile(r"unittest\.mock|from mock|monkeypatch\.setattr")

    assert [
        source.place(path)
        for path in source.modules(TESTS)
        if path.name != Path(__file__).name and mocking.search(path.read_text(encoding="utf-8"))
    ] == []


def shown() -> list[Path]:
    """Return the files whose words people read: templates, data and scripts of pages."""
    return sorted(
        path
        for folder in ("web/templates", "web/static", "data")
        for path in (SRC / folder).rglob("*")
        if path.suffix in {".html", ".js", ".toml", ".csv", ".txt"}
    )


def test_forbidden_words_are_on_no_page() -> None:
    """No template, script of a page or file of data holds a word that DESIGN §4 rules out."""
    found = [
        f"{source.place(path, number)} {match.group()}"
        for path in shown()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        for match in wording.AVOIDED.finditer(visible(path, line))
    ]

    assert found == []


def visible(path: Path, line: str) -> str:
    """Return what of a line may be read by people: of a script only its strings."""
    if path.suffix != ".js":
        return line
    return " ".join(re.findall(r'"[^"]*"|`[^`]*`', line.split("//")[0]))


def strings(path: Path) -> Iterator[tuple[int, str]]:
    """Yield every string of a module that may be shown: neither docstrings nor single words."""
    nodes = list(ast.walk(source.tree(path)))
    bare = {id(node.value) for node in nodes if isinstance(node, ast.Expr)}
    for node in nodes:
        if not isinstance(node, ast.Constant) or id(node) in bare:
            continue
        # A pattern of a regular expression is no sentence.
        if isinstance(node.value, str) and " " in node.value and "|" not in node.value:
            yield node.lineno, node.value


def test_forbidden_words_are_in_no_message() -> None:
    """No string of the source that reads as a sentence holds a word that DESIGN §4 rules out."""
    found = [
        f"{source.place(path, line)} {match.group()}"
        for path in source.modules(SRC)
        for line, words in strings(path)
        for match in wording.AVOIDED.finditer(words)
    ]

    assert found == []


def test_no_file_knows_a_machine() -> None:
    """No tracked file of text holds a path of anybody's machine."""
    # The parts are joined here so that this file does not find itself.
    homes = ("wo" + "rk", "ro" + "ot", "ho" + "me/[a-z]", "Use" + "rs/[a-z]")
    machine = re.compile(rf"(?<![\w.\-/}}\"'])/(?:{'|'.join(homes)})(?:/|\b)")
    found = []
    for path in source.tracked():
        try:
            lines = path.read_text(encoding="utf-8").splitlines()
        except UnicodeDecodeError:
            continue
        found += [
            source.place(path, number)
            for number, line in enumerate(lines, start=1)
            if machine.search(line)
        ]

    assert found == []
