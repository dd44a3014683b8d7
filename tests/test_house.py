"""The rules of the house that no linter holds."""

from __future__ import annotations

import re
import tomllib
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
