"""The stash file: back byte for byte, refused with place and reason, names that clash told."""

import json
from pathlib import Path

import jsonschema
import pytest
from msgspec.structs import replace

from studio.assets import asset_path
from studio.cloth.stash_edit import rectangle, with_cloth, with_stock
from studio.demo import demo_design
from studio.design.cloth import Cloth, Flaw, Roll, SalvagedPanel, Trace
from studio.errors import BadInput, NewerVersion
from studio.exchange.stash_file import (
    SCHEMA_ASSET,
    Stash,
    at_home,
    beside,
    clashes,
    decoded_stash,
    encoded_stash,
    given,
    load_stash,
    save_stash,
    stash_of,
    stash_schema_text,
    taken,
)

COAT = Cloth("old coat", "#556644", "drill", fibre="cotton", warp_shrinkage=3.0)
SLEEVE = replace(
    rectangle("sleeve", "old coat", 400.0, 600.0),
    flaws=(
        Flaw("hole", ((50.0, 50.0), (80.0, 50.0), (80.0, 90.0))),
        Flaw("seam", ((200.0, 0.0), (200.0, 600.0)), wide=12.5, note="felled"),
    ),
    trace=Trace("sleeve.jpg", ((10.5, 20.0), (900.0, 20.0)), ((0.0, 0.0), (400.0, 0.0))),
)
REST = Roll("rest", "old coat", 1500.0, 640.0)
STASH = Stash((COAT,), (SLEEVE, REST))


def test_a_stash_comes_back_the_same_and_its_bytes_too(tmp_path):
    content = encoded_stash(STASH)
    assert decoded_stash(content) == STASH
    assert encoded_stash(decoded_stash(content)) == content
    path = tmp_path / "shelf.stash"
    save_stash(STASH, path)
    assert path.read_bytes() == content
    assert load_stash(path) == STASH
    assert list(json.loads(content)) == ["format", "version", "needs", "stash"]


def test_the_schema_asset_is_in_step_and_is_satisfied():
    assert asset_path(SCHEMA_ASSET).read_text(encoding="utf-8") == stash_schema_text()
    jsonschema.validate(json.loads(encoded_stash(STASH)), json.loads(stash_schema_text()))


def edited(change):
    tree = json.loads(encoded_stash(STASH))
    change(tree)
    return json.dumps(tree).encode()


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (lambda t: t.update(version="one"), "version"),
        (lambda t: t.update(version=0), "version"),
        (lambda t: t.update(format="yokewright design"), "format"),
        (lambda t: t["stash"]["cloths"][0].update(warp_shrinkage=90), "stash.cloths[0]"),
        (lambda t: t["stash"]["cloths"][0].update(colour="green"), "stash.cloths[0]"),
        (lambda t: t["stash"]["cloths"][0].update(weight=3), "stash.cloths[0]"),
        (lambda t: t["stash"]["stock"][0].update(cloth="silk"), "stash.stock[0]"),
        (lambda t: t["stash"]["stock"][0].update(outline=[[0, 0], [1, 1]]), "stash.stock[0]"),
        (lambda t: t["stash"]["stock"][1].update({"as": "heap"}), "stash.stock[1]"),
        (lambda t: t["stash"]["stock"][1].update(name="sleeve"), "stash.stock[1]"),
        (lambda t: t["stash"]["stock"][1].update(width=10), "stash.stock[1]"),
        (lambda t: t["stash"]["stock"][0].update(grain=[[0, 0], [0, 0]]), "stash.stock[0]"),
    ],
)
def test_broken_content_is_refused_with_file_place_and_reason(change, place):
    with pytest.raises(BadInput) as refusal:
        decoded_stash(edited(change), "shelf.stash")
    told = str(refusal.value)
    assert told.startswith("shelf.stash: ")
    assert place in told


def test_a_later_version_and_what_is_no_stash_are_told(tmp_path):
    with pytest.raises(NewerVersion, match=r"8\.1"):
        decoded_stash(edited(lambda t: t.update(version=7, needs="8.1")))
    for content in (b"", b"[]", b"\xff", b"null"):
        with pytest.raises(BadInput, match="not a stash file"):
            decoded_stash(content)
    with pytest.raises(BadInput, match="cannot be read"):
        load_stash(tmp_path / "none.stash")
    with pytest.raises(BadInput, match="cannot be written"):
        save_stash(STASH, tmp_path / "no" / "shelf.stash")


def test_taking_a_stash_and_giving_it_back():
    design = demo_design()
    filled = taken(design, STASH)
    assert filled.cloths == (*design.cloths, COAT)
    assert filled.stash == (*design.stash, SLEEVE, REST)
    assert taken(filled, STASH) == filled
    assert given(filled, STASH).stock[:2] == (SLEEVE, REST)
    assert stash_of(filled) == Stash(filled.cloths, filled.stash)


def test_names_that_clash_are_refused_or_taken_under_new_ones_once():
    design = with_cloth(demo_design(), replace(COAT, colour="#ffffff"))
    design = with_stock(design, rectangle("rest", "old coat", 100.0, 200.0))
    assert clashes(design, STASH) == ("old coat", "rest")
    with pytest.raises(BadInput, match="old coat, rest"):
        taken(design, STASH)
    filled = taken(design, STASH, "rename")
    assert filled.cloths[-1] == replace(COAT, name="old coat 2")
    assert filled.stash[-2:] == (
        replace(SLEEVE, cloth="old coat 2"),
        replace(REST, name="rest 2", cloth="old coat 2"),
    )
    assert taken(filled, STASH, "rename") == filled


def test_a_photograph_is_found_from_another_folder(tmp_path):
    old, new = tmp_path / "a", tmp_path
    moved = at_home((SLEEVE, REST), old, new)
    assert isinstance(moved[0], SalvagedPanel)
    assert moved[0].trace.photograph == "a/sleeve.jpg"
    assert at_home(moved, new, old)[0] == SLEEVE
    away = at_home((SLEEVE,), old, tmp_path / "b")[0].trace.photograph
    assert Path(away) == old / "sleeve.jpg"
    assert beside(old / "x.png", old) == "x.png"
    assert at_home((SLEEVE,), None, new) == (SLEEVE,)
    assert beside(old / "x.png", None) == str(old / "x.png")
