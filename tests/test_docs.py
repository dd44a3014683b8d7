"""The docs speak of everything that can be done, and every picture they show is there."""

import re
from pathlib import Path

import pytest

import studio
from studio.alter import KINDS
from studio.design.holds import _WORDS

DOCS = Path(studio.__file__).parent.parent / "docs"
DEVELOPERS = (DOCS.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
FLAT = (DOCS / "flat-pattern.md").read_text(encoding="utf-8")


def row_of(words):
    """The table row that begins with these words."""
    return next(line for line in FLAT.splitlines() if line.startswith(f"| {words} |"))


@pytest.mark.parametrize("title", [kind.title for kind in KINDS.values()])
def test_every_step_has_a_line_and_a_picture(title):
    assert f"pictures/step-{title.lower().replace(' ', '-')}.png" in row_of(title)


@pytest.mark.parametrize("words", _WORDS.values())
def test_every_hold_has_a_line_and_a_picture(words):
    assert f"pictures/hold-{words.lower().replace(' ', '-')}.png" in row_of(words)


def test_every_picture_shown_is_there_and_every_picture_there_is_shown():
    shown = set()
    for page in (*DOCS.glob("*.md"), DOCS.parent / "README.md"):
        for link in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", page.read_text(encoding="utf-8")):
            path = (page.parent / link).resolve()
            assert path.exists(), f"{page.name}: {link}"
            shown.add(path.name)
    assert shown == {path.name for path in (DOCS / "pictures").glob("*.png")}


def test_every_link_between_pages_leads_somewhere():
    for page in (*DOCS.glob("*.md"), DOCS.parent / "README.md", DOCS.parent / "DEVELOPERS.md"):
        for link in re.findall(r"\]\(([^)#]+\.(?:md|json))", page.read_text(encoding="utf-8")):
            assert (page.parent / link).exists(), f"{page.name}: {link}"


def found_in_the_house(path):
    """What a path of DEVELOPERS.md may mean: from the top, from studio/, or from a room."""
    top = DOCS.parent
    below = [top, top / "studio", *(top / "studio").iterdir()]
    return [folder / path for folder in below if (folder / path).exists()]


def test_every_file_that_developers_are_told_of_is_there():
    told = set(re.findall(r"`([\w./]+(?:\.py|\.json|/))`", DEVELOPERS))
    assert len(told) > 50
    assert [path for path in sorted(told) if not found_in_the_house(path)] == []


def test_every_name_that_developers_are_told_of_stands_in_its_file():
    told = re.findall(r"`(\w+)`\s+(?:of|in)\s+`([\w./]+\.py)`", DEVELOPERS)
    assert len(told) >= 8
    for name, path in told:
        files = found_in_the_house(path)
        assert any(re.search(rf"\b{name}\b", file.read_text("utf-8")) for file in files), name
