"""`yokewright lay`: placements, used share, what falls short, and the files of the lay."""

import json

import pytest
from msgspec.structs import replace

from studio.cli import main
from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.referee import faults
from studio.design import Body
from studio.design.cloth import Flaw, Lay, Placement, Roll, SalvagedPanel
from studio.design.file import load, save
from studio.design.plain import plain_design
from studio.pattern import evaluate

BODY = Body(waist_girth=780.0, hip_girth=1000.0, body_rise=278.0, inside_leg=790.0)


def project(tmp_path, *stash, **changed):
    path = tmp_path / "plain.yoke"
    save(replace(plain_design(BODY), stash=stash, **changed), path)
    return path


def test_all_of_a_plain_pair_comes_out_of_a_roll_and_is_written(tmp_path, capsys):
    path = project(tmp_path, Roll("canvas", "main", 1500.0, 2600.0))
    code = main(["lay", str(path), "--seconds", "1", "--to", str(tmp_path / "out"), "--json"])
    tree = json.loads(capsys.readouterr().out)
    assert code == 0
    assert tree["all_laid"]
    assert tree["not_laid"] == []
    assert [cloth["name"] for cloth in tree["cloths"]] == ["canvas"]
    assert len(tree["cloths"][0]["placements"]) == 4
    assert 0.2 < tree["cloths"][0]["used"] < 1.0
    names = sorted(one.name for one in (tmp_path / "out").iterdir())
    assert names == [
        "plain-canvas.dxf", "plain-canvas.pdf", "plain-laid.yoke", "plain-lay.pdf",
    ]  # fmt: skip
    design = load(tmp_path / "out" / "plain-laid.yoke")
    items = items_of(evaluate(design).pieces, design.cloths, (), design.stash)
    beds = [bed_of(stock) for stock in design.stash]
    assert faults(items, beds, design.lay.placements, design.lay.gap) == ()


def test_what_does_not_fit_is_told_with_its_shortfall_and_the_answer_is_one(tmp_path, capsys):
    sewn = evaluate(plain_design(BODY)).piece("front")
    box = sewn.piece.outline.box
    wide = box.width + 2.0 * 12.0 - 5.0
    corners = ((0.0, 0.0), (wide, 0.0), (wide, 1300.0), (0.0, 1300.0))
    panel = SalvagedPanel("old leg", "main", corners, ((9.0, 9.0), (9.0, 900.0)))
    path = project(tmp_path, panel)
    code = main(["lay", str(path), "--seconds", "0", "--to", str(tmp_path / "out"), "--json"])
    tree = json.loads(capsys.readouterr().out)
    assert code == 1
    front = next(one for one in tree["not_laid"] if one["name"] == "front, left")
    assert front["shortfall"]["cloth"] == "old leg"
    assert not front["shortfall"]["sewing_line_crossed"]
    assert {"edge", "from_mm", "to_mm", "missing_mm", "of_mm"} == set(
        front["shortfall"]["missing"][0]
    )
    assert [one.name for one in (tmp_path / "out").iterdir()] == ["plain-laid.yoke"]


def test_without_search_the_lay_of_the_project_is_told(tmp_path, capsys):
    lay = Lay((Placement("front", 0, "canvas", (300.0, 700.0)),))
    path = project(tmp_path, Roll("canvas", "main", 1500.0, 2600.0), lay=lay)
    assert main(["lay", str(path), "--seconds", "0", "--to", str(tmp_path / "out")]) == 1
    told = capsys.readouterr().out
    assert "On no cloth: front, right; back (2); of 4 pieces in all." in told
    assert "front, left" in told
    assert "there is room for it on canvas" in told


@pytest.mark.parametrize(
    ("stash", "seconds", "reason"),
    [
        ((), "5", "holds no stash"),
        ((Roll("canvas", "main", 1500.0, 2600.0),), "-1", "0 or more"),
        ((Roll("canvas", "main", 10.0, 2600.0),), "5", "canvas"),
    ],
)
def test_what_cannot_be_laid_is_refused_with_the_reason(stash, seconds, reason, tmp_path, capsys):
    path = project(tmp_path, *stash)
    out = tmp_path / "out"
    assert main(["lay", str(path), f"--seconds={seconds}", "--to", str(out)]) == 2
    assert reason in capsys.readouterr().err


def test_nothing_is_left_for_which_the_report_says_that_there_is_room(tmp_path, capsys):
    """Small panels with holes: however short the search is, what has room is laid."""
    corners = ((0.0, 0.0), (330.0, 0.0), (360.0, 1150.0), (20.0, 1150.0))
    hole = Flaw("hole", ((150.0, 60.0), (190.0, 60.0), (190.0, 100.0), (150.0, 100.0)))
    stash = [
        SalvagedPanel(f"old-{n}", "main", corners, ((160.0, 9.0), (170.0, 900.0)), (hole,)[: n % 2])
        for n in range(4)
    ]
    path = project(tmp_path, *stash)
    main(["lay", str(path), "--seconds", "1", "--to", str(tmp_path / "out"), "--json"])
    tree = json.loads(capsys.readouterr().out)
    told = [one["shortfall"] for one in tree["not_laid"]]
    assert told
    assert all(one["missing"] or one["sewing_line_crossed"] for one in told)


def test_what_falls_short_is_told_in_the_unit_asked_for(tmp_path, capsys):
    box = evaluate(plain_design(BODY)).piece("front").piece.outline.box
    wide = box.width + 2.0 * 12.0 - 5.0
    corners = ((0.0, 0.0), (wide, 0.0), (wide, 1300.0), (0.0, 1300.0))
    panel = SalvagedPanel("old leg", "main", corners, ((9.0, 9.0), (9.0, 900.0)))
    path = project(tmp_path, panel)
    told = {}
    for unit in ("mm", "inch"):
        to = str(tmp_path / unit)
        main(["lay", str(path), "--seconds", "0", "--unit", unit, "--to", to])
        told[unit] = capsys.readouterr().out
    # 12 mm of allowance are 0.472 inch.
    assert "of 12.0 mm missing" in told["mm"]
    assert "of 0.472 inch missing" in told["inch"]
    assert " mm" not in told["inch"]


def test_what_falls_short_in_inches_is_what_was_measured(tmp_path, capsys):
    """It was told from the tenths of a mm that are left when it is told in mm."""
    box = evaluate(plain_design(BODY)).piece("front").piece.outline.box
    wide = box.width + 2.0 * 12.0 - 5.06
    corners = ((0.0, 0.0), (wide, 0.0), (wide, 1300.0), (0.0, 1300.0))
    panel = SalvagedPanel("old leg", "main", corners, ((9.0, 9.0), (9.0, 900.0)))
    words = ["lay", str(project(tmp_path, panel)), "--seconds", "0", "--to", str(tmp_path / "x")]
    main([*words, "--unit", "inch"])
    told = capsys.readouterr().out
    main([*words, "--json"])
    tree = json.loads(capsys.readouterr().out)
    lacking = [
        one
        for left in tree["not_laid"]
        for one in (left["shortfall"] or {"missing": ()})["missing"]
    ]
    depths = [one["missing_mm"] for one in lacking if one["missing_mm"] < one["of_mm"] - 0.1]
    assert depths
    # An inch is 25.4 mm by definition (ISO 80000-3).
    for depth in depths:
        assert f"up to {depth / 25.4:.3f} inch of" in told
    assert any(f"{round(depth, 1) / 25.4:.3f}" != f"{depth / 25.4:.3f}" for depth in depths)
