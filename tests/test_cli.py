"""The commands, by what they print, write and answer."""

import json

import msgspec
import pytest

from studio.cli import main
from studio.demo import demo_design
from studio.design import LowerWaist
from studio.design.file import load, save

BODY = {"waist_girth": 780, "hip_girth": 1000, "inside_leg": 790, "body_rise": 278}


@pytest.fixture
def body_file(tmp_path):
    path = tmp_path / "body.json"
    path.write_text(json.dumps(BODY))
    return path


def test_draft_writes_a_project_that_checks_clean(body_file, tmp_path, capsys):
    project = tmp_path / "plain.yoke"
    assert main(["draft", str(body_file), "-o", str(project)]) == 0
    assert load(project).body.hip_girth == 1000
    assert main(["check", str(project)]) == 0
    assert "side seam" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"hip_girth": -5}, "hip_girth"),
        ({"hip_girth": "wide"}, "hip_girth"),
        ({"hips": 1000}, "hips"),
        ({"body_rise": None}, "rise"),
    ],
)
def test_draft_refuses_a_body_by_file_measure_and_reason(change, place, tmp_path, capsys):
    path = tmp_path / "bad.json"
    path.write_text(json.dumps(BODY | change))
    project = tmp_path / "bad.yoke"
    assert main(["draft", str(path), "-o", str(project)]) == 2
    told = capsys.readouterr().err
    assert str(path) in told
    assert place in told
    assert not project.exists()


def test_draft_takes_the_unit_the_body_was_measured_in_to_the_last_digit(tmp_path, capsys):
    path, project = tmp_path / "body.json", tmp_path / "plain.yoke"
    inches = {"waist_girth": "30 3/4", "hip_girth": 39.4, "inside_leg": "79 cm", "body_rise": "11"}
    path.write_text(json.dumps(inches | {"name": "Ada 5 mm"}))
    assert main(["draft", str(path), "-o", str(project), "--unit", "inch"]) == 0
    body = load(project).body
    # One inch is exactly 25.4 mm (the agreement of 1959); no tolerance.
    assert (body.waist_girth, body.hip_girth) == (781.05, 1000.76)
    assert (body.inside_leg, body.body_rise) == (790.0, 279.4)
    assert body.name == "Ada 5 mm"
    same = {"waist_girth": 78.105, "hip_girth": 100.076, "inside_leg": 79, "body_rise": 27.94}
    path.write_text(json.dumps(same))
    assert main(["draft", str(path), "-o", str(project), "--unit", "cm"]) == 0
    assert msgspec.structs.replace(load(project).body, name="Ada 5 mm") == body


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"hip_girth": 10}, "hip_girth: A hip girth of 10.00 inch can not be drawn"),
        ({"hip_girth": "39 1/"}, "hip_girth: '39 1/' is not a length"),
        ({"hip_girth": "39,5"}, "Write a point before its decimals"),
        ({"hip_girth": True}, "hip_girth"),
        ({"hip_girth": [39]}, "hip_girth"),
        ({"waist_height": 31, "body_rise": None}, "The waist height of 31.000 inch is not above"),
    ],
)
def test_draft_tells_what_is_wrong_in_the_unit_it_was_given_in(change, told, tmp_path, capsys):
    path = tmp_path / "bad.json"
    body = {"waist_girth": 30.7, "hip_girth": 39.4, "inside_leg": 31, "body_rise": 11}
    path.write_text(json.dumps(body | change))
    project = tmp_path / "bad.yoke"
    assert main(["draft", str(path), "-o", str(project), "--unit", "inch"]) == 2
    said = capsys.readouterr().err
    assert str(path) in said
    assert told in said
    assert " mm" not in said.replace("mm, cm, m or inch", "")
    assert not project.exists()


def test_draft_tells_what_it_found_in_the_unit(tmp_path, capsys):
    path, project = tmp_path / "body.json", tmp_path / "plain.yoke"
    # Rise and waist height that do not agree: told, and drawn all the same.
    body = {"waist_girth": 30.7, "hip_girth": 39.4, "inside_leg": 31, "body_rise": 11}
    path.write_text(json.dumps(body | {"waist_height": 44}))
    assert main(["draft", str(path), "-o", str(project), "--unit", "inch"]) == 0
    said = capsys.readouterr().err
    assert "The body rise of 11.000 inch was used" in said
    assert "gives 13.000 inch" in said


def test_check_as_json_has_the_published_shape(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    assert main(["check", str(project), "--json"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert set(tree) == {"joins", "girths", "pieces", "findings"}
    assert set(tree["joins"][0]) == {
        "name", "sides", "difference_mm", "ease_mm", "allowed_mm", "verdict",
    }  # fmt: skip
    assert set(tree["joins"][0]["sides"][0]) == {"edges", "length_mm"}
    assert set(tree["girths"][0]) == {"name", "body_mm", "finished_mm", "ease_mm"}
    assert set(tree["pieces"][0]) == {"name", "quantity", "perimeter_mm", "area_mm2"}


def test_check_exits_with_1_on_a_grave_finding(tmp_path, capsys):
    design = demo_design()
    without_front = msgspec.structs.replace(design, pieces=design.pieces[1:])
    project = tmp_path / "broken.yoke"
    save(without_front, project)
    assert main(["check", str(project)]) == 1
    told = capsys.readouterr().out
    assert "grave: side seam: There is no piece front-leg." in told
    assert main(["check", str(project), "--json"]) == 1
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert findings
    for finding in findings:
        assert set(finding) == {"rule", "gravity", "where", "message", "accepted"}


@pytest.mark.parametrize(
    ("content", "reason"),
    [(b"{", "not a project file"), (b'{"format": "yokewright design", "version": 99}', "99")],
)
def test_check_exits_with_2_on_a_file_it_cannot_use(content, reason, tmp_path, capsys):
    path = tmp_path / "bad.yoke"
    path.write_bytes(content)
    assert main(["check", str(path)]) == 2
    told = capsys.readouterr().err
    assert str(path) in told
    assert reason in told


def test_a_missing_file_is_told_in_one_line(tmp_path, capsys):
    assert main(["check", str(tmp_path / "none.yoke")]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


def test_export_writes_each_format_asked_for(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    target = tmp_path / "out"
    assert main(["export", str(project), "--to", str(target), "--as", "dxf,pdf,png"]) == 0
    assert {path.suffix for path in target.iterdir()} == {".dxf", ".pdf", ".png"}
    assert len(capsys.readouterr().out.splitlines()) == 3


def test_export_refuses_an_unknown_format(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    assert main(["export", str(project), "--to", str(tmp_path / "o"), "--as", "doc"]) == 2
    assert "doc" in capsys.readouterr().err


def test_draft_along_writes_a_pdf(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    target = tmp_path / "sheet.pdf"
    words = ["draft-along", str(project), "-o", str(target), "--paper", "letter", "--unit", "cm"]
    assert main(words) == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert capsys.readouterr().out.strip() == str(target)
    assert main(["draft-along", str(project), "-o", str(tmp_path / "none" / "sheet.pdf")]) == 2
    assert "sheet.pdf" in capsys.readouterr().err


def test_work_sheet_writes_a_pdf(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    target = tmp_path / "work.pdf"
    assert main(["work-sheet", str(project), "-o", str(target)]) == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert capsys.readouterr().out.strip() == str(target)


def test_walk_prints_what_it_found_and_draws_it(tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    picture = tmp_path / "walk.png"
    assert main(["walk", str(project), "--join", "inseam", "--png", str(picture)]) == 0
    told = capsys.readouterr().out
    assert "inseam: 794.5 mm along the first side, 794.5 mm along the second." in told
    assert "it meets its partner" in told
    assert picture.read_bytes().startswith(b"\x89PNG")
    assert main(["walk", str(project), "--join", "gone"]) == 2
    assert "side seam" in capsys.readouterr().err


def bodies_file(tmp_path, *lines):
    path = tmp_path / "bodies.csv"
    header = "name,waist_girth,hip_girth,inside_leg,body_rise"
    path.write_text("\n".join((header, *lines)) + "\n")
    return path


def test_batch_gives_one_json_line_a_body_and_goes_on_past_bad_rows(tmp_path, capsys):
    path = bodies_file(
        tmp_path,
        "Ada,780,1000,790,278",
        "short row,1",
        "No numbers,wide,1000,790,278",
        "Impossible,-780,1000,790,278",
        "Bo,900,1080,800,290",
    )
    target = tmp_path / "out"
    assert main(["batch", str(path), "--to", str(target), "--json"]) == 0
    results = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [result["row"] for result in results] == [2, 3, 4, 5, 6]
    assert ["refused" in result for result in results] == [False, True, True, True, False]
    assert "waist_girth" in results[2]["refused"]
    assert "waist_girth" in results[3]["refused"]
    hip = next(girth for girth in results[0]["girths"] if girth["name"] == "hip")
    assert hip["ease_mm"] == pytest.approx(40.0, abs=0.01)
    assert sorted(p.name for p in target.iterdir()) == ["00002-ada.yoke", "00006-bo.yoke"]


def test_batch_with_two_jobs_gives_the_same_results_in_order(tmp_path, capsys):
    path = bodies_file(tmp_path, *(f"b{k},{760 + k},1000,790,278" for k in range(6)))
    outputs = []
    for jobs in ("1", "2"):
        target = tmp_path / jobs
        assert main(["batch", str(path), "--to", str(target), "--json", "--jobs", jobs]) == 0
        outputs.append(capsys.readouterr().out)
    assert outputs[0] == outputs[1]


def test_batch_reads_and_tells_the_unit_and_its_json_stays_in_mm(tmp_path, capsys):
    rows = ("Ada,30 3/4,39.4,79 cm,11", "Bo,31,10,31,11", 'Cy,"31,5",40,31,11')
    path = bodies_file(tmp_path, *rows)
    words = ["batch", str(path), "--unit", "inch", "--to", str(tmp_path / "out")]
    assert main(words) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0].startswith("line 3: refused: hip_girth: A hip girth of 10.00 inch")
    assert told[1].startswith("line 4: refused: waist_girth: '31,5' is not a length")
    assert load(tmp_path / "out" / "00002-ada.yoke").body.waist_girth == 781.05
    assert main([*words, "--json"]) == 0
    results = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    waist = next(girth for girth in results[0]["girths"] if girth["body_mm"] == 781.05)
    assert waist["name"]
    assert "254 mm" in results[1]["refused"]


def test_batch_tells_findings_in_the_unit(tmp_path, capsys):
    design = demo_design()
    joins = tuple(
        msgspec.structs.replace(join, ease=6.0) if join.name == "inseam" else join
        for join in design.joins
    )
    project = tmp_path / "demo.yoke"
    save(msgspec.structs.replace(design, joins=joins), project)
    path = bodies_file(tmp_path, "Ada,30.7,39.4,31,11")
    words = ["batch", str(project), str(path), "--to", str(tmp_path / "out"), "--unit", "inch"]
    assert main(words) == 0
    told = capsys.readouterr().out
    assert "0.236 inch" in told
    assert " mm" not in told


def test_export_tells_the_test_square_in_the_unit_and_draws_it_as_large(tmp_path, capsys):
    from tests.exchange.reading import painted_chains, words_on

    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    for unit, side in (("mm", "100 mm"), ("cm", "10 cm"), ("inch", "3 15/16 inch (100 mm)")):
        words = ["export", str(project), "--to", str(tmp_path / unit), "--as", "pdf"]
        assert main([*words, "--unit", unit]) == 0
        pdf = tmp_path / unit / "demo.pdf"
        told = words_on(pdf, 0)
        assert told.count(side) == 2
        assert f"If it is not {side}, mend" in told
        boxes = [chain.box for chain in painted_chains(pdf, 0) if len(chain.cubics) == 4]
        assert sum(abs(b.width - 100) + abs(b.height - 100) < 0.1 for b in boxes) == 1


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "empty"),
        ("waist_girth,hip_girth\n1,2\n", "inside_leg"),
        ("waist_girth,hip_girth,inside_leg,shoe\n1,2,3,4\n", "shoe"),
        ("waist_girth,hip_girth,inside_leg,inside_leg\n1,2,3,4\n", "twice"),
        ("waist_girth,hip_girth,inside_leg,body_rise\n", "no bodies"),
    ],
)
def test_batch_refuses_a_file_whose_columns_do_not_fit(text, reason, tmp_path, capsys):
    path = tmp_path / "bodies.csv"
    path.write_text(text)
    assert main(["batch", str(path), "--to", str(tmp_path / "out")]) == 2
    assert reason in capsys.readouterr().err


def test_import_makes_a_block_of_a_drawing_and_lists_what_it_left_out(tmp_path, capsys):
    import ezdxf

    drawing = ezdxf.new(units=4)
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 0), (200, 0), (200, 300), (0, 300)], close=True)
    space.add_text("front", dxfattribs={"insert": (10, 10)})
    path = tmp_path / "block.dxf"
    drawing.saveas(path)
    project = tmp_path / "block.yoke"
    assert main(["import", str(path), "-o", str(project)]) == 0
    told = capsys.readouterr()
    assert "edge-1" in told.out
    assert "left out" in told.err
    assert main(["check", str(project), "--json"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert tree["pieces"][0]["perimeter_mm"] == pytest.approx(1000.0, abs=1e-3)


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as leaving:
        main(["--version"])
    assert leaving.value.code == 0
    assert "yokewright" in capsys.readouterr().out


def test_batch_runs_a_design_on_every_body_and_names_what_failed(tmp_path, capsys):
    design = demo_design()
    project = tmp_path / "demo.yoke"
    tall = LowerWaist("back", 5000.0, 5000.0, name="Far too low")
    save(msgspec.structs.replace(design, alterations=(*design.alterations, tall)), project)
    path = bodies_file(tmp_path, "Ada,780,1000,790,278", "Bo,820,1060,800,285")
    target = tmp_path / "out"
    assert main(["batch", str(project), str(path), "--to", str(target), "--json"]) == 0
    results = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [result["name"] for result in results] == ["Ada", "Bo"]
    for result in results:
        told = [one["message"] for one in result["findings"] if one["gravity"] == "grave"]
        assert any(words.startswith("Far too low:") for words in told)
        made = load(target / result["file"].rpartition("/")[2])
        assert made.lines == design.lines
        assert made.body.name == result["name"]
        seams = {row["name"]: row for row in result["joins"]}
        assert seams["inseam"]["verdict"] == "match"
    assert main(["batch", str(project), str(path), "--to", str(target)]) == 0
    told = capsys.readouterr().out
    assert "line 2: back: Far too low:" in told
    assert "2 with grave findings" in told
