"""Pictures of the stash, with a photograph of an invented coat back, drawn by the program."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from msgspec.structs import replace
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QWidget

from studio.canvas.selection import Selection
from studio.canvas.theme import LIGHT
from studio.cloth import stash_edit as edit
from studio.cloth.tracing import Handle, Tracing, blank
from studio.demo import demo_design
from studio.design.cloth import Cloth, Flaw, Roll, Stock
from studio.window.app import application
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.road_pane import CLOTH
from studio.window.style import palette_of, style_sheet_of
from studio.window.trace_window import TraceWindow

Places = tuple[tuple[float, float], ...]

COAT = (
    (60.0, 40.0),
    (660.0, 40.0),
    (640.0, 420.0),
    (690.0, 640.0),
    (560.0, 760.0),
    (360.0, 735.0),
    (160.0, 760.0),
    (30.0, 640.0),
    (80.0, 420.0),
)
HOLE = Flaw("hole", ((470.0, 560.0), (520.0, 570.0), (510.0, 612.0), (478.0, 604.0)))
STAIN = Flaw("stain", ((130.0, 120.0), (190.0, 105.0), (215.0, 160.0), (150.0, 185.0)))
SEAM = Flaw("seam", ((360.0, 40.0), (360.0, 735.0)), wide=16.0)
GRAIN = ((500.0, 90.0), (500.0, 500.0))
SHEET = QRectF(400.0, 200.0, 210.0, 297.0)
"""Where an A4 sheet lies on it, mm."""

_GROUND = QRectF(-140.0, -80.0, 1000.0, 950.0)
_SEEN = QPolygonF([QPointF(250, 40), QPointF(1610, 90), QPointF(1800, 1480), QPointF(40, 1380)])
"""The corners of the ground in the photograph: upper left, upper right, lower right, lower left."""

_WIDE, _HIGH = 1840, 1500


def of_the_stash(folder: Path) -> None:
    """A photograph brought to scale, the panel traced over it, and the stash with it."""
    application()
    with TemporaryDirectory() as home:
        to_picture = _photograph(Path(home) / "coat-back.png")
        window = TraceWindow(
            blank("back of the coat", "old coat", "coat-back.png"), Path(home), "mm", LIGHT
        )
        window.setPalette(palette_of(LIGHT))
        window.setStyleSheet(style_sheet_of(LIGHT))
        window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        window.resize(1180, 780)
        window.show()
        corners = (SHEET.topLeft(), SHEET.topRight(), SHEET.bottomRight(), SHEET.bottomLeft())
        marks = [to_picture.map(QPointF(at.x(), -at.y())) for at in _turned(corners)]
        window.hand.set_marks(tuple((at.x(), at.y()) for at in marks))
        window.hand.picked = 1
        window.view._pointer = window.view.spot_of((marks[1].x(), marks[1].y()))
        window.refresh()
        _grab(window, folder / "to-scale.png")
        window.straighten()
        window.hand.set_tracing(_traced())
        window.hand.tool, window.hand.picked = "move", Handle("flaw", 0, 2)
        window.drawing.up.setCurrentText("the right side")
        window.view._pointer = None
        window.refresh()
        _grab(window, folder / "traced.png")
        panel = window.made()
        # Not closed, which would ask whether what is drawn may go.
        window.done(TraceWindow.DialogCode.Rejected)
    _of_the_window(panel, folder / "stash.png")


def _of_the_window(panel: Stock, path: Path) -> None:
    design = replace(demo_design(), stash=(), cutting=())
    if all(cloth.name != "old coat" for cloth in design.cloths):
        coat = Cloth("old coat", "#5e7f6b", "washed many times", fibre="cotton")
        design = edit.with_cloth(design, coat)
    design = edit.with_stock(design, panel)
    design = edit.with_stock(design, Roll("rest of the drill", "main", 1480.0, 1250.0))
    with TemporaryDirectory() as folder:
        window = MainWindow(design, None, recovery=Recovery(Path(folder)))
        window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        window.set_theme(LIGHT)
        window.resize(1280, 800)
        window.show()
        window.road.open_stage(CLOTH)
        window.document.select(Selection("stock", "back of the coat"))
        _grab(window, path)
        window.close_quietly()


def _traced() -> Tracing:
    """What is drawn, from the lower left corner of the sheet."""

    def moved(points: Places) -> tuple[tuple[float, float], ...]:
        return tuple((x - SHEET.left(), y - SHEET.top()) for x, y in points)

    flaws = tuple(replace(flaw, points=moved(flaw.points)) for flaw in (SEAM, HOLE, STAIN))
    return Tracing(moved(COAT), flaws, moved(GRAIN))


def _turned(corners: tuple[QPointF, ...]) -> tuple[QPointF, ...]:
    """From upper left clockwise, y up."""
    upper_left, upper_right, lower_right, lower_left = corners
    return lower_left, lower_right, upper_right, upper_left


def _photograph(path: Path) -> QTransform:
    """Draw the floor as a tilted camera sees it; gives the way from mm, y down, to the picture."""
    ground = QPolygonF(
        [
            QPointF(_GROUND.left(), -_GROUND.bottom()),
            QPointF(_GROUND.right(), -_GROUND.bottom()),
            QPointF(_GROUND.right(), -_GROUND.top()),
            QPointF(_GROUND.left(), -_GROUND.top()),
        ]
    )
    to_picture = QTransform()
    QTransform.quadToQuad(ground, _SEEN, to_picture)
    image = QImage(_WIDE, _HIGH, QImage.Format.Format_RGB32)
    image.fill(QColor("#8d7458"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(to_picture)
    for number in range(-9, 16):
        painter.fillRect(QRectF(number * 90.0, -1600.0, 90.0, 2600.0), _board(number))
    painter.scale(1.0, -1.0)
    _paint_coat(painter)
    painter.fillRect(SHEET, QColor("#fbfaf6"))
    painter.end()
    image.save(str(path))
    return to_picture


def _board(number: int) -> QColor:
    return QColor("#96795a") if number % 2 else QColor("#8b7052")


def _paint_coat(painter: QPainter) -> None:
    painter.setPen(QPen(QColor("#3d5447"), 2.0))
    painter.setBrush(QColor("#5e7f6b"))
    painter.drawPolygon(_polygon(COAT))
    painter.save()
    shape = QPainterPath()
    shape.addPolygon(_polygon(COAT))
    painter.setClipPath(shape)
    painter.setPen(QPen(QColor("#567564"), 1.0))
    for x in range(30, 700, 6):
        painter.drawLine(QPointF(x, 0.0), QPointF(x, 800.0))
    painter.restore()
    painter.setPen(QPen(QColor("#4a6656"), 12.0))
    painter.drawPolyline(_polygon(SEAM.points))
    painter.setPen(QPen(QColor("#d8cfa8"), 1.2, Qt.PenStyle.DashLine))
    for aside in (-6.0, 6.0):
        painter.drawLine(QPointF(360.0 + aside, 42.0), QPointF(360.0 + aside, 733.0))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("#8b7052"))
    painter.drawPolygon(_polygon(HOLE.points))
    painter.setBrush(QColor(70, 62, 40, 150))
    painter.drawPolygon(_polygon(STAIN.points))


def _polygon(points: Places) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points])


def _grab(window: QWidget, path: Path) -> None:
    for _ in range(3):
        QCoreApplication.processEvents()
    window.grab().save(str(path))
