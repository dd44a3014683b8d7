"""Makes every picture of the docs from the program itself: `.venv/bin/python docs/pictures.py`."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec
from lay_pictures import of_the_table
from PySide6.QtCore import QCoreApplication, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from stash_pictures import of_the_stash

from studio.alter import altered, kind_of
from studio.canvas.hold_item import sign_of
from studio.canvas.selection import Selection
from studio.canvas.theme import LIGHT
from studio.curves import Box, Point, Vector
from studio.cut.edit import Grip
from studio.cut.parts import (
    BeltLoops,
    Fly,
    HandPocket,
    KneePanel,
    PatchPocket,
    ShapedWaistband,
    ToolLoop,
    Waistband,
)
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import (
    AddLevel,
    Alteration,
    AnchoredPath,
    CloseDart,
    Design,
    FairEdge,
    FoldPleat,
    Hinge,
    Lengthen,
    LowerWaist,
    MirrorEdge,
    MoveDart,
    MoveSeam,
    Node,
    OnEdge,
    OpenDart,
    Reshape,
    ShortenDart,
    SplitDart,
    Spread,
    Straighten,
    StyleLine,
    SwingRise,
    TakeIn,
    TakeOffDart,
    TrueSeam,
    holds,
)
from studio.design.holds import Hold, LinePoint, title_beside
from studio.design.plain import plain_design
from studio.exchange.along import Figure, Sheet, Stroked, sheet_of
from studio.exchange.along.figures import changed_lines, figure, level_lines, panel_lines
from studio.exchange.paint.along import Picture, pages_of, paint_page, paint_picture
from studio.exchange.paint.offscreen import ensure_gui, painting
from studio.exchange.paper_sizes import PAPERS
from studio.exchange.picture import write_png
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from studio.window.app import application, picture_of_window
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery

FOLDER = Path(__file__).parent / "pictures"

SMALL = 260
"""Side of a small picture, pixels."""

_UP = 4.0
"""Pixels a millimetre of a small picture."""


def main() -> None:
    """Write the pictures."""
    ensure_gui()
    FOLDER.mkdir(exist_ok=True)
    of_the_window()
    of_the_sheets()
    of_sewing()
    of_alterations()
    of_holds()
    of_the_stash(FOLDER)
    of_the_table(FOLDER)


def of_the_window() -> None:
    """The window at work."""
    demo = demo_design()
    mouth = Selection("line", "hand-pocket", Grip("hand-pocket", "end", 2))
    picture_of_window(demo, FOLDER / "window.png", selection=mouth)
    picture_of_window(demo, FOLDER / "dark.png", selection=Selection("line", "yoke"), dark=True)
    picture_of_window(plain_design(ORCHARD_BODY), FOLDER / "block.png", size=(1280, 800))
    seam = Selection("join", "side seam")
    picture_of_window(demo, FOLDER / "seam.png", selection=seam, size=(1280, 800))
    line = demo.line("yoke")
    low = msgspec.structs.replace(line.path, end=OnEdge("back.side", "back.waist", mm=400.0))
    broken = demo.with_line(msgspec.structs.replace(line, path=low))
    picture_of_window(
        broken, FOLDER / "finding.png", selection=Selection("line", "yoke"), size=(1280, 800)
    )
    hinge = next(k for k, step in enumerate(demo.alterations) if isinstance(step, Hinge))
    step = Selection("step", str(hinge))
    picture_of_window(demo, FOLDER / "step.png", selection=step, size=(1280, 800), close=True)
    held = msgspec.structs.replace(
        demo, holds=(holds.Square("yoke", "start"), holds.Length("yoke", 252.0))
    )
    yoke = Selection("line", "yoke")
    picture_of_window(held, FOLDER / "holds.png", selection=yoke, size=(1280, 800), close=True)
    colours = {cloth.name: cloth.colour for cloth in demo.cloths}
    write_png(evaluate(demo).pieces, FOLDER / "pieces.png", colours=colours, width_px=1400)


def of_the_sheets() -> None:
    """A page of the draft-along sheet, and of the work sheet."""
    pattern = evaluate(demo_design())
    _page(FOLDER / "draft-along.png", sheet_of(pattern), 3)
    _page(FOLDER / "work-sheet.png", work_sheet_of(pattern), 7)


def _page(path: Path, sheet: Sheet, number: int) -> None:
    paper, scale = PAPERS["a4"], 3.4
    page = pages_of(sheet, paper)[number]
    image = QImage(
        round(paper.width * scale), round(paper.height * scale), QImage.Format.Format_RGB32
    )
    image.fill(QColor("#ffffff"))
    with painting(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(scale, scale)
        paint_page(painter, page)
    image.save(str(path))


def of_sewing() -> None:
    """A seam walked, the pockets put to the test, every part on one plain pair."""
    demo = demo_design()
    application()
    with TemporaryDirectory() as aside:
        window = MainWindow(demo, None, recovery=Recovery(Path(aside)))
        window.set_theme(LIGHT)
        window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        window.resize(1280, 800)
        window.show()
        QCoreApplication.processEvents()
        window.document.select(Selection("join", "side seam"))
        QCoreApplication.processEvents()
        window.walk()
        window.walking.slider.setValue(2240)
        for _ in range(4):  # Words that wrap ask for their room in a turn of their own.
            QCoreApplication.processEvents()
        window.grab().save(str(FOLDER / "walk.png"))
        window.walking.end()
        pockets = window.check_pockets()
        pockets.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        pockets.resize(560, 720)
        QCoreApplication.processEvents()
        pockets.grab().save(str(FOLDER / "pockets.png"))
        pockets.close()
        window.close_quietly()
    plain = plain_design(ORCHARD_BODY)
    design = with_parts(
        plain,
        Waistband(),
        HandPocket(),
        PatchPocket(),
        KneePanel(),
        ToolLoop(),
        BeltLoops(),
        Fly(),
    )
    write_png(evaluate(design).pieces, FOLDER / "parts.png", width_px=1200)
    band = evaluate(with_parts(plain, ShapedWaistband()))
    layers = [sewn for sewn in band.pieces if sewn.piece.name.startswith("band-")]
    write_png(layers, FOLDER / "band.png", width_px=1200)


_SIDE, _RISE = "back.side", "back.rise"

STEPS: tuple[tuple[tuple[Alteration, ...], Alteration], ...] = (
    ((), LowerWaist("back", 40.0, 25.0)),
    ((), SwingRise("front", 30.0, releases_darts=True)),
    (
        (),
        Hinge(
            "back",
            OnEdge(_SIDE, "back.waist", mm=200.0),
            OnEdge(_RISE, "back.waist", mm=200.0),
            30.0,
        ),
    ),
    ((), CloseDart("back", "back-dart-2", OnEdge("back.hem", _SIDE, share=0.25))),
    ((), MoveDart("back", "back-dart-1", OnEdge(_SIDE, "back.waist", mm=120.0))),
    ((), SplitDart("back", "back-dart-1", 40.0)),
    (
        (),
        OpenDart(
            "front",
            "knee-dart",
            OnEdge("front.side", "front.hem", mm=480.0),
            OnEdge("front.inseam", "front.hem", mm=480.0),
            28.0,
            85.0,
        ),
    ),
    ((), ShortenDart("back", "back-dart-1", 45.0)),
    ((), FoldPleat("front", "front-dart", "rise", 30.0)),
    ((), TakeOffDart("back", "back-dart-2", "side")),
    ((), TakeIn("back", _SIDE, 22.0, at="waist", lower="hip")),
    ((), MoveSeam("front", "front.side", 40.0)),
    ((), Lengthen("back", "knee", 80.0)),
    (
        (),
        Spread(
            "back",
            OnEdge("back.waist", _SIDE, share=0.5),
            OnEdge("back.hem", _SIDE, share=0.5),
            0.0,
            60.0,
        ),
    ),
    ((), Reshape("back", _SIDE, (Node(Vector(0.35, 0.045)), Node(Vector(0.75, -0.01))))),
    ((), FairEdge("back", _SIDE, within=14.0)),
    ((), Straighten("back", _SIDE, upper="hip", lower="hem")),
    (
        (TakeIn("back", _SIDE, 35.0, at="hem", upper="knee"),),
        MirrorEdge("back", _SIDE, "back.inseam"),
    ),
    ((), TrueSeam("back", _SIDE, "front.side", ease=40.0)),
    ((), AddLevel("back", "yoke", "hip", 90.0)),
)
"""One step of each kind, after others that give it something to do."""

_WHOLE = (CloseDart, Lengthen, OpenDart, Spread, Reshape, FairEdge, Straighten)


def of_alterations() -> None:
    """Every kind of step on the plain block: as it was in grey, as it is in blue."""
    block = {panel.name: panel for panel in evaluate(plain_design(ORCHARD_BODY)).panels}
    for first, step in STEPS:
        kind = kind_of(step)
        before = altered(block[step.panel], first)
        after = kind.do_beside(before, step, block)
        whole = Box.round_all((before.outline.box, after.outline.box))
        lines = changed_lines(before, after)
        if isinstance(step, AddLevel):
            lines += level_lines(after)
        about = () if isinstance(step, _WHOLE) else kind.drafting(before, step).points
        name = kind.title.lower().replace(" ", "-")
        _small(FOLDER / f"step-{name}.png", figure(lines, (), about, whole))


_LINE = StyleLine(
    "line",
    "front",
    "mark",
    AnchoredPath(
        OnEdge("front.rise", "front.waist", mm=110.0),
        OnEdge("front.side", "front.waist", mm=170.0),
        (Node(Vector(0.3, 0.16)), Node(Vector(0.72, -0.12))),
    ),
)
_OTHER = StyleLine(
    "other",
    "front",
    "mark",
    AnchoredPath(
        OnEdge("front.rise", "front.waist", mm=40.0),
        OnEdge("front.side", "front.waist", mm=60.0),
        (Node(Vector(0.5, 0.02)),),
    ),
)


def _at(node: int) -> LinePoint:
    return LinePoint("line", node)


def _of_other(node: int) -> LinePoint:
    return LinePoint("other", node)


HELD: tuple[tuple[Hold, ...], ...] = (
    (holds.Fixed(_at(1), Point(-40.0, 880.0)),),
    (holds.Level(_at(1), _at(2)),),
    (holds.Upright(_at(1), _of_other(1)),),
    (holds.Slides(_at(3), "front.side"), holds.Level(_at(2), _at(3))),
    (holds.FromCorner(_at(3), "front.side", "front.waist", mm=120.0),),
    (holds.Distance(_at(1), _at(2), 60.0),),
    (holds.Angle(_at(1), _at(2), 15.0),),
    (holds.Parallel(_at(1), _at(2), _of_other(0), _of_other(2), -60.0),),
    (holds.Mirrored(_at(1), _at(2)),),
    (holds.Square("line", "start"),),
    (holds.Smooth("line", 1),),
    (holds.Length("line", 330.0),),
    (holds.SameLength("line", "other", 60.0),),
    (holds.CornersAdd("line", "start", "other", "start"),),
)
"""One hold of each kind, with others that let it be seen at work on the same line."""


def of_holds() -> None:
    """Every kind of hold: the line as drawn in dashes, held in blue, and its mark."""
    for asked in HELD:
        design = _with_lines(sharp=isinstance(asked[0], holds.Smooth))
        bare = evaluate(design)
        pattern = evaluate(msgspec.structs.replace(design, holds=asked))
        assert not [finding for finding in pattern.findings if finding.rule == "hold"], asked
        front = next(panel for panel in pattern.panels if panel.name == "front")
        lines = panel_lines(front, "before")
        lines += [Stroked(line.chain, "dashed") for line in bare.lines]
        lines += [Stroked(line.chain, "drawn") for line in pattern.lines]
        near = [node.at for line in pattern.lines for node in line.nodes]
        words = title_beside(asked[0], "line").partition(",")[0]
        path = FOLDER / f"hold-{words.lower().replace(' ', '-')}.png"
        _small(path, figure(lines, (), near, front.outline.box), asked[0])


def _with_lines(*, sharp: bool) -> Design:
    """A plain pair with two lines on its front; the first node of one may be a corner."""
    path = _LINE.path
    if sharp:
        first, *rest = path.nodes
        path = msgspec.structs.replace(
            path, nodes=(msgspec.structs.replace(first, smooth=False), *rest)
        )
    line = msgspec.structs.replace(_LINE, path=path)
    return msgspec.structs.replace(plain_design(ORCHARD_BODY), lines=(line, _OTHER))


def _small(path: Path, drawing: Figure, hold: Hold | None = None) -> None:
    image = QImage(SMALL, SMALL, QImage.Format.Format_RGB32)
    image.fill(QColor(LIGHT.paper))
    with painting(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.save()
        painter.scale(_UP, _UP)
        paint_picture(painter, Picture(3.0, 3.0, 59.0, 59.0, drawing))
        painter.restore()
        if hold is not None:
            painter.translate(26.0, 26.0)
            painter.scale(2.2, 2.2)
            painter.setPen(QPen(QColor(LIGHT.work), 1.3))
            painter.setBrush(QColor(LIGHT.paper))
            painter.drawRoundedRect(QRectF(-8.0, -8.0, 16.0, 16.0), 4.0, 4.0)
            painter.drawPath(sign_of(type(hold)))
    image.save(str(path))


if __name__ == "__main__":
    main()
