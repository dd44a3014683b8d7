"""What a batch writes of each body: the files that `export` writes, read by ezdxf and pdfium."""

import json
import math

import ezdxf
import pypdfium2
import pytest

from studio.cli import main
from studio.demo import demo_design
from studio.design.file import load, save
from studio.exchange.dxf_out import SEWING
from studio.pattern import evaluate

HEADER = "name,waist_girth,hip_girth,inside_leg,body_rise"
ROWS = ("Ada,780,1000,790,278", "Bo,900,1080,800,290", "Cy,700,930,740,262")
NAMES = ("00002-ada", "00003-bo", "00004-cy")

A4 = (210.0, 297.0)
"""ISO 216, mm."""


@pytest.fixture
def bodies(tmp_path):
    path = tmp_path / "bodies.csv"
    path.write_text("\n".join((HEADER, *ROWS)) + "\n")
    return path


def sewing_lines(path):
    """The length round each piece by name, as ezdxf reads it, mm."""
    drawing = ezdxf.readfile(path)
    assert drawing.audit().errors == []
    # 4 is millimetres in the DXF reference.
    assert drawing.header["$INSUNITS"] == 4
    found = {}
    for block in drawing.blocks:
        for line in block.query("POLYLINE"):
            if line.dxf.layer == SEWING:
                points = [vertex.dxf.location for vertex in line.vertices]
                around = zip(points, (*points[1:], points[0]), strict=True)
                found[block.name] = sum(math.dist(one, two) for one, two in around)
    return found


def pages_of(path):
    """Size, mm, and words of every page, as pdfium reads them."""
    sheets = pypdfium2.PdfDocument(path)
    # A point of PDF is 1/72 inch (ISO 32000-1).
    return [
        (
            tuple(side / 72.0 * 25.4 for side in sheets[at].get_size()),
            sheets[at].get_textpage().get_text_range(),
        )
        for at in range(len(sheets))
    ]


def test_the_pieces_of_each_body_are_written_beside_its_project(bodies, tmp_path, capsys):
    out = tmp_path / "out"
    words = ["batch", str(bodies), "--to", str(out), "--as", "dxf,pdf", "--jobs", "2", "--json"]
    assert main(words) == 0
    results = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [one["written"] for one in results] == [[f"{n}.dxf", f"{n}.pdf"] for n in NAMES]
    assert sorted(path.name for path in out.iterdir()) == sorted(
        f"{name}.{suffix}" for name in NAMES for suffix in ("dxf", "pdf", "yoke")
    )
    counts = set()
    for name in NAMES:
        pattern = evaluate(load(out / f"{name}.yoke"))
        lengths = sewing_lines(out / f"{name}.dxf")
        assert lengths == {
            sewn.piece.name.upper(): pytest.approx(sewn.piece.outline.perimeter, abs=0.01)
            for sewn in pattern.pieces
        }
        counts.add(lengths["FRONT"])
        pages = pages_of(out / f"{name}.pdf")
        # A pair of long legs takes more than a few sheets of paper.
        assert len(pages) > 8
        assert all(size == pytest.approx(A4, abs=0.2) for size, _ in pages)
        assert "100 mm" in pages[0][1]
        assert any("front" in told.lower() for _, told in pages)
    assert len(counts) == 3, "three bodies, three patterns"


def test_a_batch_writes_what_export_writes(bodies, tmp_path, capsys):
    project = tmp_path / "demo.yoke"
    save(demo_design(), project)
    more = ["--as", "pdf,dxf", "--paper", "letter", "--unit", "cm"]
    bodies.write_text("\n".join((HEADER, "Ada,78,100,79,27.8")) + "\n")
    batched, exported = tmp_path / "batched", tmp_path / "exported"
    assert main(["batch", str(project), str(bodies), "--to", str(batched), *more]) == 0
    assert main(["export", str(batched / "00002-ada.yoke"), "--to", str(exported), *more]) == 0
    capsys.readouterr()
    one, two = (folder / "00002-ada.dxf" for folder in (batched, exported))
    assert sewing_lines(one) == sewing_lines(two)
    one, two = (folder / "00002-ada.pdf" for folder in (batched, exported))
    assert pages_of(one) == pages_of(two)
    # US letter is 8.5 by 11 inches (ANSI A).
    (size, told), *_ = pages_of(one)
    assert size == pytest.approx((215.9, 279.4), abs=0.2)
    assert "10 cm" in told


def test_without_formats_only_projects_are_written(bodies, tmp_path, capsys):
    assert main(["batch", str(bodies), "--to", str(tmp_path / "out"), "--json"]) == 0
    results = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert not any("written" in one for one in results)
    assert {path.suffix for path in (tmp_path / "out").iterdir()} == {".yoke"}


def test_a_format_that_is_not_known_is_refused_before_anything_is_written(bodies, tmp_path, capsys):
    words = ["batch", str(bodies), "--to", str(tmp_path / "out"), "--as", "dxf,svg"]
    assert main(words) == 2
    assert "unknown format 'svg'" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_file_that_cannot_be_written_stops_nothing(bodies, tmp_path, capsys):
    out = tmp_path / "out"
    # What lies there cannot be written over.
    (out / "00002-ada.dxf").mkdir(parents=True)
    assert main(["batch", str(bodies), "--to", str(out), "--as", "dxf"]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0].startswith(f"line 2: not written: {out / '00002-ada.dxf'}")
    assert told[1:] == [f"3 drafted, 0 refused, in {out}"]
    assert (out / "00002-ada.yoke").is_file()
    assert {path.name for path in out.glob("*.dxf") if path.is_file()} == {
        "00003-bo.dxf",
        "00004-cy.dxf",
    }
