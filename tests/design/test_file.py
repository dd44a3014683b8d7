"""The project file: written whole, read back byte for byte, refused with place and reason."""

import json
import os
from pathlib import Path

import pytest
from msgspec.structs import replace

from studio.demo import demo_design
from studio.design import Design, DraftedBlock, Fit
from studio.design import file as project_file
from studio.design.file import decoded, encoded, load, save
from studio.design.upgrades import CURRENT_VERSION
from studio.errors import BadInput, NewerVersion

DEMO = demo_design()
OLD = sorted((Path(__file__).parent / "data").glob("version-*.yoke"))


def edited(change):
    tree = json.loads(encoded(DEMO))
    change(tree)
    return json.dumps(tree).encode()


def test_a_design_comes_back_the_same_and_its_bytes_too():
    content = encoded(DEMO)
    assert decoded(content) == DEMO
    assert encoded(decoded(content)) == content


def test_the_version_stands_before_the_design():
    assert list(json.loads(encoded(DEMO))) == ["format", "version", "needs", "design"]


def test_there_is_a_file_of_every_old_version():
    assert [path.stem for path in OLD] == [f"version-{n}" for n in range(1, CURRENT_VERSION)]


@pytest.mark.parametrize("path", OLD, ids=lambda path: path.stem)
def test_files_of_every_old_version_still_load(path):
    assert load(path).name == "Orchard trousers"


def test_a_newer_file_is_refused_by_the_version_it_needs():
    def change(tree):
        tree["version"], tree["needs"] = 99, "7.5"

    with pytest.raises(NewerVersion, match=r"7\.5") as refusal:
        decoded(edited(change), "later.yoke")
    assert refusal.value.path == "later.yoke"


def body(tree):
    return tree["design"]["body"]


def first_path(tree):
    return tree["design"]["lines"][0]["path"]


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (lambda t: body(t).update(hip_girth="wide"), "design.body.hip_girth"),
        (lambda t: body(t).update(hips=1000), "design.body"),
        (lambda t: body(t).pop("inside_leg"), "design.body"),
        (lambda t: t["design"].pop("name"), "design"),
        (lambda t: t.update(extra=1), "extra"),
        (lambda t: first_path(t)["start"].update(share=0.5), "design.lines[0].path.start"),
        (lambda t: first_path(t)["start"].update(mm=None), "design.lines[0].path.start"),
        (lambda t: first_path(t).update(path="freehand"), "design.lines[0].path"),
        (lambda t: t["design"]["block"].update({"from": "thin air"}), "design.block"),
        (lambda t: t["design"]["lines"][0].update(kind="zip"), "design.lines[0].kind"),
        (lambda t: t.update(version="one"), "version"),
        (lambda t: t.update(version=0), "version"),
        (lambda t: t.update(version=True), "version"),
        (lambda t: t.update(format="something else"), "format"),
        (lambda t: t.pop("format"), "format"),
    ],
)
def test_broken_content_is_refused_with_file_place_and_reason(change, place):
    with pytest.raises(BadInput) as refusal:
        decoded(edited(change), "mine.yoke")
    told = str(refusal.value)
    assert told.startswith("mine.yoke: ")
    assert place in told


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b"null", b'{"format": 3}'])
def test_what_is_no_project_is_told_so(content):
    with pytest.raises(BadInput, match="not a project file"):
        decoded(content, "mine.yoke")


def test_saving_and_loading(tmp_path):
    path = tmp_path / "mine.yoke"
    save(DEMO, path)
    assert load(path) == DEMO
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_the_old_file_stands_when_saving_fails(tmp_path, monkeypatch, step):
    path = tmp_path / "mine.yoke"
    save(DEMO, path)

    def fail(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(BadInput, match="No space left"):
        save(Design(name="other"), path)
    monkeypatch.undo()
    assert load(path) == DEMO
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_folder_is_told(tmp_path):
    with pytest.raises(BadInput, match=r"none.mine\.yoke"):
        save(DEMO, tmp_path / "none" / "mine.yoke")
    with pytest.raises(BadInput, match="cannot be read"):
        load(tmp_path / "none.yoke")


def test_a_file_keeps_its_permissions(tmp_path):
    path = tmp_path / "mine.yoke"
    save(DEMO, path)
    path.chmod(0o640)
    save(Design(name="other", block=DraftedBlock(Fit(hip_ease=60.0))), path)
    assert path.stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize(("mode", "told"), [(0o640, True), (0o600, False)])
def test_a_disk_that_knows_no_permissions_is_written_to_and_it_is_told(
    tmp_path, monkeypatch, mode, told
):
    path = tmp_path / "mine.yoke"
    save(DEMO, path)
    path.chmod(mode)

    def refuse(*_):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "chmod", refuse)
    note = save(Design(name="other"), path)
    assert ("Operation not permitted" in note) == told
    assert load(path).name == "other"
    assert list(tmp_path.iterdir()) == [path]


def test_nothing_is_left_beside_a_new_file(tmp_path):
    save(DEMO, tmp_path / "new.yoke")
    assert [p.name for p in tmp_path.iterdir()] == ["new.yoke"]
    assert project_file.SUFFIX == ".yoke"


def as_once_told(tree):
    """A fly as it was told before: both long edges of the shield caught in the faced edge."""
    design = tree["design"]
    design["joins"] = [join for join in design["joins"] if join["name"] != "fly shield"]
    for finish in design["finishes"]:
        if finish["edge"]["edge"] == "fly-shield.two":
            finish["into"] = "fly edge"
            ref = {"piece": "fly-shield", "edge": "fly-shield.one"}
            design["finishes"].append({"edge": ref, "how": "caught", "into": "fly edge"})
            break


def test_a_shield_told_as_caught_in_the_faced_edge_is_sewn_to_the_other_front():
    old = decoded(edited(as_once_told))
    wanted = {join.name: join for join in DEMO.joins}["fly shield"]
    assert {join.name: join for join in old.joins}["fly shield"] == wanted
    assert set(old.finishes) == set(DEMO.finishes)
    assert decoded(encoded(old)) == old


def test_a_fly_that_is_broken_in_the_file_is_told_with_its_place():
    def change(tree):
        as_once_told(tree)
        next(one for one in tree["design"]["joins"] if one["name"] == "fly edge")["a"] = 7

    with pytest.raises(BadInput) as refusal:
        decoded(edited(change), "broken.yoke")
    assert refusal.value.where.startswith("design.joins")


def test_a_link_stays_one_and_the_file_it_leads_to_is_written(tmp_path):
    there, link = tmp_path / "kept" / "mine.yoke", tmp_path / "mine.yoke"
    there.parent.mkdir()
    save(replace(demo_design(), name="one"), there)
    link.symlink_to(there)
    save(replace(demo_design(), name="two"), link)
    assert link.is_symlink()
    assert load(there).name == "two"
    assert [one.name for one in there.parent.iterdir()] == ["mine.yoke"]


def test_a_name_as_long_as_the_disk_takes_can_be_written(tmp_path):
    # POSIX, limits.h: a name has up to NAME_MAX bytes, 255 on the usual disks.
    most = os.pathconf(tmp_path, "PC_NAME_MAX")
    path = tmp_path / ("\N{BLACK SCISSORS}" * ((most - 5) // 3) + ".yoke")
    save(replace(demo_design(), name="one"), path)
    save(replace(demo_design(), name="two"), path)
    assert load(path).name == "two"
