"""The rules of the house that no linter holds."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import studio

ROOT = Path(studio.__file__).parent.parent
LONGEST_FILE = 600
TOP_LEVEL = {
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "assets",
    "docs",
    "pyproject.toml",
    "studio",
    "tests",
}
LEFT_BY_TOOLS = {"__pycache__", "build", "dist", "yokewright-demo"}


def project() -> dict[str, object]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def test_no_file_of_the_studio_is_too_long_to_read() -> None:
    lengths = {
        str(file.relative_to(ROOT)): len(file.read_text(encoding="utf-8").splitlines())
        for file in (ROOT / "studio").rglob("*.py")
    }
    assert lengths
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_FILE} == {}


NO_NUMBER_FOR_A_MAKER = {
    "studio/numbers.py": "writes every number that a maker reads",
    "studio/window/style.py": "the size of letters in the syntax of a style sheet",
    "studio/exchange/paint/printing.py": "the size of a page in the syntax of PDF (ISO 32000-1)",
}
"""Files that may write numbers with so many digits, and why."""

_FLOAT = re.compile(r"[^{}]*(?:\.\d+[a-zA-Z%]?|[eEfFgG%])$")
"""A format that writes a number by its own rounding: ".1f", "+.3g", "g", ".0%"."""

_BY_HAND = re.compile(r" (?:(?:mm|cm|inch|dm²|cm²|per cent|degrees)\b|%)|°")
"""A unit right after a value: that value was written by hand."""

REFUSALS = {"BadInput", "BodyRefused", "GeometryRefused"}

TELLING = {"plain", "bare", "short"}
"""Functions of `numbers` that leave the unit to the sentence."""


def trees() -> Iterator[tuple[str, ast.Module]]:
    for file in sorted((ROOT / "studio").rglob("*.py")):
        name = file.relative_to(ROOT).as_posix()
        if name not in NO_NUMBER_FOR_A_MAKER:
            yield name, ast.parse(file.read_text(encoding="utf-8"))


def written_by_itself(node: ast.AST) -> bool:
    """A number formatted with so many digits outside studio/numbers.py."""
    if isinstance(node, ast.FormattedValue) and isinstance(node.format_spec, ast.JoinedStr):
        spec = "".join(
            one.value if isinstance(one, ast.Constant) else "" for one in node.format_spec.values
        )
        return bool(_FLOAT.match(spec))
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod):
        left = node.left
        return isinstance(left, ast.Constant) and isinstance(left.value, str | bytes)
    called = node.func if isinstance(node, ast.Call) else None
    return isinstance(called, ast.Name) and called.id == "format"


def unit_by_hand(node: ast.AST) -> bool:
    """A value with its unit written after it, where neither came from studio/numbers.py."""
    if not isinstance(node, ast.JoinedStr):
        return False
    return any(
        isinstance(one, ast.FormattedValue)
        and isinstance(after, ast.Constant)
        and _BY_HAND.match(after.value)
        and not _is_from_numbers(one.value)
        for one, after in zip(node.values, node.values[1:], strict=False)
    )


def _is_from_numbers(node: ast.AST) -> bool:
    """Whether it is `numbers.plain(…)` or the like."""
    called = node.func if isinstance(node, ast.Call) else None
    return (
        isinstance(called, ast.Attribute)
        and isinstance(called.value, ast.Name)
        and called.value.id == "numbers"
        and called.attr in TELLING
    )


def keeps_its_lengths_back(node: ast.AST) -> bool:
    """A refusal that speaks of a length and does not bring it unrounded."""
    made = node.exc if isinstance(node, ast.Raise) else None
    if not isinstance(made, ast.Call) or getattr(made.func, "id", "") not in REFUSALS:
        return False
    tells = any(
        isinstance(part, ast.Attribute)
        and part.attr in ("length", "bare")
        and getattr(part.value, "id", "") == "numbers"
        for argument in made.args
        for part in ast.walk(argument)
    )
    return tells and not any(keyword.arg == "exact" for keyword in made.keywords)


@pytest.mark.parametrize(
    ("rule", "caught", "passed"),
    [
        (
            written_by_itself,
            ("f'{x:.1f} mm'", "f'{x:g}'", "f'{x:>+8.2f}'", "'%.1f' % x", "format(x, '.2f')"),
            ("f'{name:<{width}}'", "f'{row:05d}'", "f'{one!r}'", "one % two"),
        ),
        (
            unit_by_hand,
            ("f'{low} to {high} mm'", "f'{round(x, 1)} %'", "f'{half * 2}°'"),
            ("f'{numbers.plain(x)} per cent'", "f'{numbers.bare(x)} mm'", "f'{one.name} mmm'"),
        ),
        (
            keeps_its_lengths_back,
            ("raise BadInput(f'{numbers.length(x)} off.', where='a')",),
            ("raise BadInput(f'{numbers.length(x)} off.', exact=(x,))", "raise BadInput('No.')"),
        ),
    ],
)
def test_the_rules_on_numbers_see_what_they_are_for(rule, caught, passed):
    for lines, is_caught in ((caught, True), (passed, False)):
        for line in lines:
            assert any(map(rule, ast.walk(ast.parse(line)))) is is_caught, line


@pytest.mark.parametrize("rule", [written_by_itself, unit_by_hand, keeps_its_lengths_back])
def test_every_number_that_a_maker_reads_comes_from_studio_numbers(rule):
    found = [
        f"{name}:{getattr(node, 'lineno', 0)}"
        for name, tree in trees()
        for node in ast.walk(tree)
        if rule(node)
    ]
    assert found == []


def test_what_may_write_numbers_is_there_still():
    assert all((ROOT / name).is_file() for name in NO_NUMBER_FOR_A_MAKER)


def test_the_top_level_holds_what_it_should_and_no_more() -> None:
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert names - LEFT_BY_TOOLS == TOP_LEVEL


def test_the_version_is_the_same_in_both_places() -> None:
    assert project()["version"] == studio.__version__


def test_the_version_has_its_heading_in_the_change_log() -> None:
    changes = (ROOT / "docs" / "changes.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {re.escape(studio.__version__)}$", changes, re.MULTILINE)


@pytest.mark.parametrize(
    ("marker", "command"),
    [
        ("run", ".ci/setup && .venv/bin/yokewright demo"),
        ("test", ".ci/setup test && .venv/bin/pytest -n 2"),
    ],
)
def test_the_readme_holds_the_command(marker: str, command: str) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"<!-- {marker} -->\n```sh\n{command}\n```\n" in readme
