"""Both legs, front and back, as a sketch in the colours of the cloths.

A picture to look at, nothing to measure: the pieces are laid where they are sewn, the centre seams
are drawn upright, and what of the crotch curves goes between the legs is cut off at the middle.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import TypeAlias

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from studio.block.panel import Panel
from studio.canvas.theme import CLOTH, Theme
from studio.curves import Outline
from studio.cut.copies import drawn_legs
from studio.cut.facing import facings
from studio.design import Design, PanelPiece, ShapePiece
from studio.memo import remembered
from studio.pattern import Pattern
from studio.sew.parallel import moved, run_out
from studio.sew.sewn import SewnPiece
from studio.window.document import Document

_CHORD_ERROR = 0.8
_BETWEEN = 0.16
"""Room between front and back view, as a share of a view's width."""

_ABOVE = 0.5
"""A patch lies so far above what it is laid on, in layers."""

_BESIDE_CENTRE = 40.0
_ABOVE_CROTCH = 10.0
"""A steep row of stitches no further than this from the middle of the body, and so far above the
crotch, runs along the centre seam, mm."""

_THREAD = "#f4e3c3"
"""Rows of topstitching, in the colour of undyed thread."""

Places: TypeAlias = list[tuple[float, float]]


class WearerPane(QWidget):
    """Front and back view side by side."""

    def __init__(self, document: Document, theme: Theme) -> None:
        super().__init__()
        self._document = document
        self._theme = theme
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(220)
        self.setAccessibleName("On the wearer: both legs, front and back")
        document.shown.connect(self.update)

    def sizeHint(self) -> QSize:
        """Room for both views."""
        return QSize(330, 330)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = theme
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Both views as large as the room allows."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._theme.chrome))
        pattern = self._document.pattern
        views = [
            view for name in ("front", "back") if (view := _view_of(pattern, name)) is not None
        ]
        if not views:
            painter.setPen(QColor(self._theme.faint))
            painter.drawText(
                self.rect(),
                Qt.AlignmentFlag.AlignCenter,
                "A front and a back panel\nare needed to show the legs.",
            )
            return
        room = QRectF(self.rect()).adjusted(14.0, 10.0, -14.0, -26.0)
        width = max(view.half_width for view in views) * 2.0
        height = max(view.top - view.bottom for view in views)
        across = width * (len(views) + _BETWEEN * (len(views) - 1))
        scale = min(room.width() / across, room.height() / height)
        x = room.center().x() - across * scale / 2.0
        for view in views:
            middle = x + width * scale / 2.0
            # Both stand on one floor: a back that is hinged open reaches higher, not lower.
            top = room.top() + (height - (view.top - view.bottom)) * scale
            self._paint_view(painter, view, middle, top, scale, pattern.design)
            x += width * (1.0 + _BETWEEN) * scale

    def _paint_view(
        self,
        painter: QPainter,
        view: _View,
        middle: float,
        top: float,
        scale: float,
        design: Design,
    ) -> None:
        colours = {cloth.name: cloth.colour for cloth in design.cloths}
        for side in (1.0, -1.0):
            painter.save()
            reach = view.half_width * scale + 5.0
            left = middle if side > 0 else middle - reach
            painter.setClipRect(QRectF(left, top - 5.0, reach, 4000.0))
            for shape in view.shapes:
                colour = QColor(colours.get(shape.cloth, CLOTH))
                painter.setBrush(colour)
                painter.setPen(QPen(QColor(_edge_of(colour)), 1.1))
                if shape.once and side != view.once_side:
                    continue
                painter.drawPolygon(_placed(shape.points, view, side, middle, top, scale))
                painter.setPen(QPen(QColor(_THREAD), 1.0, Qt.PenStyle.DashLine))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                for row in shape.rows:
                    for part in [row] if side == view.once_side else _off_centre(row, view):
                        painter.drawPolyline(_placed(part, view, side, middle, top, scale))
                painter.setBrush(colour)
                painter.setPen(QPen(QColor(_edge_of(colour)), 1.1))
                for turned_up in shape.turn_ups:
                    painter.drawPolygon(_placed(turned_up, view, side, middle, top, scale))
            painter.restore()
        painter.setPen(QPen(QColor(self._theme.ink), 1.0))
        crotch = top + (view.top - view.crotch) * scale
        painter.drawLine(QPointF(middle, top + view.dip * scale), QPointF(middle, crotch))
        painter.setPen(QColor(self._theme.faint))
        painter.drawText(
            QRectF(middle - 60.0, top + (view.top - view.bottom) * scale + 4.0, 120.0, 20.0),
            Qt.AlignmentFlag.AlignCenter,
            view.name,
        )


class _Shape:
    """A piece as a polygon with the middle of the body at x = 0 and the leg at positive x; its
    turn-ups lie over its rows.
    """

    def __init__(
        self,
        sewn: SewnPiece,
        points: Places,
        rows: list[Places],
        turn_ups: list[Places],
        layer: float,
        once: bool,
    ) -> None:
        self.cloth = sewn.piece.cloth
        self.points = points
        self.rows = rows
        self.turn_ups = turn_ups
        self.layer = layer
        self.once = once


class _View:
    """Front or back, its shapes from the undermost to the topmost."""

    def __init__(self, name: str, panel: Panel, shapes: list[_Shape]) -> None:
        self.name = name
        self.shapes = sorted(shapes, key=lambda shape: shape.layer)
        xs = [x for shape in shapes for x, _ in shape.points]
        ys = [y for shape in shapes for _, y in shape.points]
        self.half_width = max(xs)
        self.top, self.bottom = max(ys), min(ys)
        self.crotch = panel.levels.get("crotch", self.bottom)
        centre = [y for shape in shapes for x, y in shape.points if x < 2.0]
        self.dip = self.top - max(centre, default=self.top)
        self.once_side = once_side(panel)


def once_side(panel: Panel) -> float:
    """The side of its view that a panel is drawn for, on which what is cut once is sewn: 1 at the
    right, -1 at the left. Seen from the front the wearer's left leg is at the right, seen from
    behind at the left; a panel that tells no leg is taken for a left one, as the blocks are drawn.
    """
    left = 1.0 if panel.name == "front" else -1.0
    return -left if drawn_legs((panel,))[panel.name] == "right" else left


def _off_centre(row: Places, view: _View) -> list[Places]:
    """A row without what runs beside the centre seam, which is sewn on one leg only."""
    parts: list[Places] = [[]]
    for one, two in itertools.pairwise(row):
        steep = abs(two[1] - one[1]) > abs(two[0] - one[0])
        above = min(one[1], two[1]) > view.crotch + _ABOVE_CROTCH
        if steep and above and max(one[0], two[0]) < _BESIDE_CENTRE:
            parts.append([])
        else:
            parts[-1] += [one, two]
    return [part for part in parts if part]


def _view_of(pattern: Pattern, name: str) -> _View | None:
    panel = pattern.panel(name)
    if panel is None or not panel.outline.has(f"{name}.rise"):
        return None
    layers = _layers(pattern.design)
    closed = {
        recipe.name
        for recipe in pattern.design.pieces
        if isinstance(recipe, PanelPiece) and recipe.close_darts
    }
    inside = facings(pattern.design.pieces)
    drawn, turned = _on_both_legs(pattern.design)
    given = pattern.work.given
    turn_ups = {} if given is None else given.rules.turn_ups
    shapes = []
    for sewn in pattern.pieces:
        piece = sewn.piece
        if piece.panel != name or piece.name in inside or piece.name in turned:
            continue
        layer = -1 if piece.name in closed else layers.get(piece.name, 1)
        once = piece.cut == "single" and piece.name not in drawn
        high = tuple([(edge, mm) for (one, edge), mm in turn_ups.items() if one == piece.name])
        shapes.append(_shape(panel, sewn, high, layer, once))
    return _View(name, panel, shapes) if shapes else None


def _on_both_legs(design: Design) -> tuple[set[str], set[str]]:
    """Pieces that are cut once for each leg, as the ends of a band are: those that are drawn as the
    leg of their panel has them, and those that are turned over for the other.
    """
    recipes = [one for one in design.pieces if isinstance(one, PanelPiece)]
    turned = [one for one in recipes if one.over]
    alike = {(one.panel, one.bounds) for one in turned}
    drawn = {one.name for one in recipes if not one.over and (one.panel, one.bounds) in alike}
    return drawn, {one.name for one in turned}


def _shape_of(
    panel: Panel, sewn: SewnPiece, high: tuple[tuple[str, float], ...], layer: float, once: bool
) -> _Shape:
    """A piece in a layer of its view; one whose darts are closed is in layer -1, and one that is
    there `once` is seen on one leg alone. `high` are its edges with a turn-up and how high it
    stands, mm.
    """
    upright, piece = _upright(panel), sewn.piece
    # A yoke lies flat only once its darts are closed: on the wearer it fills the panel's top.
    outline = panel.outline if layer < 0 else piece.outline
    points = _pairs(upright(np.array(outline.polyline(_CHORD_ERROR))))
    rows = sewn.rows if layer > 0 else ()
    shown = [_pairs(upright(np.array(row.polyline(_CHORD_ERROR)))) for row in rows]
    turn_ups = [_pairs(upright(_turned_up(outline, *one))) for one in high]
    return _Shape(sewn, points, shown, turn_ups, layer, once)


def _turned_up(outline: Outline, edge: str, high: float) -> np.ndarray:
    """A turn-up round its edge, from there up to where it ends on the seams."""
    hem, *others = [one.chain for one in outline.starting_with(edge)]
    top = run_out(moved(hem, high), others[-1], others[0], high)
    return np.array([*hem.polyline(_CHORD_ERROR), *reversed(top.polyline(_CHORD_ERROR))])


def _layers(design: Design) -> dict[str, float]:
    """0 for what lies inside (bags and bearers), 1 for the legs, 2 for what is laid on top; a patch
    laid on a bearer lies inside with it.
    """
    kinds = {line.name: line.kind for line in design.lines}
    layers: dict[str, float] = {}
    for recipe in design.pieces:
        if isinstance(recipe, PanelPiece):
            bounds = [kinds.get(bound.line) for bound in recipe.bounds]
            layers[recipe.name] = 2 if "patch" in bounds else 0 if "mark" in bounds else 1
    for recipe in design.pieces:
        if isinstance(recipe, ShapePiece):
            beneath = [
                layers.get(one.name, 2)
                for one in design.pieces
                if isinstance(one, PanelPiece | ShapePiece) and recipe.line in one.marks
            ]
            layers[recipe.name] = min(2, max(beneath, default=2) + _ABOVE)
    return layers


def _upright_of(panel: Panel) -> Callable[[np.ndarray], np.ndarray]:
    """Moves points so that the rise stands upright at x = 0, fading out towards the side seam."""
    rise = panel.outline.edge(f"{panel.name}.rise").chain
    points = np.array(rise.polyline(_CHORD_ERROR))
    hip = panel.levels.get("hip", float(points[:, 1].min()))
    above = points[points[:, 1] >= hip - 1.0]
    above = above[np.argsort(above[:, 1])]
    sign = 1.0 if panel.outline.box.centre.x >= above[0, 0] else -1.0
    centre = float(above[0, 0])
    reach = float(max(abs(panel.outline.box.left - centre), abs(panel.outline.box.right - centre)))

    def move(shape: np.ndarray) -> np.ndarray:
        x = (shape[:, 0] - centre) * sign
        lean = (np.interp(shape[:, 1], above[:, 1], above[:, 0]) - centre) * sign
        lean = np.where(shape[:, 1] > hip, lean, 0.0)
        fade = np.clip(1.0 - x / reach, 0.0, 1.0)
        return np.column_stack([x - lean * fade, shape[:, 1]])

    return move


def _pairs(points: np.ndarray) -> Places:
    return [(float(x), float(y)) for x, y in points]


def _placed(
    points: Places, view: _View, side: float, middle: float, top: float, scale: float
) -> QPolygonF:
    """Places of a view in pixels, the wearer's one side or the other."""
    return QPolygonF(
        [QPointF(middle + side * x * scale, top + (view.top - y) * scale) for x, y in points]
    )


def _edge_of(colour: QColor) -> QColor:
    return colour.darker(165) if colour.lightness() > 90 else colour.lighter(170)


_upright = remembered(_upright_of, 8)
_shape = remembered(_shape_of, 256)
"""In a drag most pieces stay as they were."""
