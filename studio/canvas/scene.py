"""The sheet: keeps an item for every panel, line and piece, and changes only what changed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Literal, TypeAlias, TypeVar

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPixmapCache, QTransform
from PySide6.QtWidgets import QGraphicsScene

from studio.canvas.dimension_item import DimensionItem
from studio.canvas.dimensions import Dimension, dimensions
from studio.canvas.hold_item import HoldItem
from studio.canvas.hold_places import hold_places
from studio.canvas.items import HighlightItem, LineItem, PanelItem, PieceItem
from studio.canvas.paths import to_scene
from studio.canvas.placing import (
    GAP,
    gap_below,
    is_crowded,
    place_panels,
    place_pieces,
    rooms_for_names,
)
from studio.canvas.selection import NOTHING, Selection
from studio.canvas.sheet_item import SheetItem
from studio.canvas.snap import Snap
from studio.canvas.snap_item import SnapItem
from studio.canvas.step_item import StepItem
from studio.canvas.theme import CLOTH, Theme
from studio.canvas.trace_item import TraceItem
from studio.canvas.type_size import larger
from studio.canvas.walk_item import WalkItem
from studio.curves import Chain, Point, Vector
from studio.cut import edit
from studio.cut.facing import facings
from studio.design.joins import JoinSide
from studio.errors import GeometryRefused
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew.measure import stretch
from studio.sew.sewn import SewnPiece
from studio.sew.walk import Step as WalkStep
from studio.sew.walk import Walk

_PICTURES_KB = 160_000
"""Room for pictures of what lies still on the sheet: a large screen full of pieces, twice."""

Shows = TypeVar("Shows", bound=SheetItem)
Shown: TypeAlias = Literal["both", "panels", "pieces"]


class Sheet(QGraphicsScene):
    """The scene of the canvas."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        QPixmapCache.setCacheLimit(max(QPixmapCache.cacheLimit(), _PICTURES_KB))
        self.theme = theme
        self.shown: Shown = "both"
        self._highlit_on: Shown = "pieces"
        self._panels: dict[str, PanelItem] = {}
        self._lines: dict[str, LineItem] = {}
        self._pieces: dict[str, PieceItem] = {}
        self._panel_shifts: dict[str, Vector] = {}
        self._piece_shifts: dict[str, Vector] = {}
        self._name_rooms: dict[str, float] = {}
        self._gap = GAP
        self._highlight = HighlightItem(theme)
        self._step = StepItem(theme)
        self._trace = TraceItem(theme)
        self._snap = SnapItem(theme)
        self._holds = HoldItem(theme)
        self._dimensions = DimensionItem(theme)
        self._walk = WalkItem(theme)
        for item in (
            self._highlight,
            self._step,
            self._trace,
            self._snap,
            self._holds,
            self._dimensions,
            self._walk,
        ):
            self.addItem(item)

    def show_pattern(self, pattern: Pattern, selection: Selection = NOTHING) -> None:
        """Show a pattern; items are kept and places stay while the names are the same."""
        self._place(pattern)
        self._show_panels(pattern)
        self._show_lines(pattern, selection)
        self._show_pieces(pattern, selection)
        self._show_highlight(pattern, selection)
        self._show_step(pattern, selection)
        picked = selection.name if selection.kind == "line" else ""
        places = hold_places(pattern.design.holds, pattern.lines)
        self._holds.show_places(places, self.shift_of_panel, picked)
        self._dimensions.show_dimensions(dimensions(pattern, selection), self.shift_of_panel)

    def dimension_at(
        self, place: QPointF, transform: QTransform
    ) -> tuple[Dimension, QRectF] | None:
        """The number under a pixel of a view with this transform, with its box in pixels."""
        if not self._dimensions.isVisible():
            return None
        return self._dimensions.at(place, transform)

    def set_unit(self, unit: LengthUnit) -> None:
        """Write numbers in another unit."""
        self._dimensions.unit = unit
        self._dimensions.update()

    @property
    def unit(self) -> LengthUnit:
        """The unit numbers are written in."""
        return self._dimensions.unit

    def show_trace(self, points: Sequence[Point]) -> None:
        """Show a line being drawn through points of the sheet."""
        self._trace.show_points(points)

    def show_snap(self, panel: str, snap: Snap | None) -> None:
        """Show what a dragged point of a panel has snapped to; nothing with None."""
        self._snap.set_shift(self.shift_of_panel(panel))
        self._snap.show_snap(snap)

    def show_walk(self, walk: Walk | None, pieces: Mapping[str, SewnPiece]) -> None:
        """Show a seam being walked, alone on the sheet; all else again with None."""
        self._walk.show_walk(walk, pieces)
        for item in self.items():
            if isinstance(item, SheetItem) and item is not self._walk:
                item.setVisible(walk is None)
        if walk is None:
            self.set_shown(self.shown)

    def show_step_of_walk(self, step: WalkStep) -> None:
        """Show a moment of the walk."""
        self._walk.show_step(step)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        for item in self.items():
            if isinstance(item, SheetItem):
                item.set_theme(theme)

    def set_shown(self, shown: Shown) -> None:
        """Show panels, pieces or both."""
        self.shown = shown
        for item in (*self._panels.values(), *self._lines.values(), *self._pieces.values()):
            item.setVisible(self._is_shown(item))
        for beside in (self._step, self._holds, self._dimensions):
            beside.setVisible(shown != "pieces")
        self._highlight.setVisible(self._shows_highlight())

    def replace_places(self) -> None:
        """Lay everything out anew with the next pattern."""
        self._panel_shifts, self._piece_shifts = {}, {}

    def is_crowded(self, pattern: Pattern) -> bool:
        """True when what is shown of a pattern has grown out of the places it was given."""
        panels, pieces = pattern.panels, pattern.pieces
        return is_crowded(panels, self._panel_shifts, pieces, self._piece_shifts, self._gap)

    def shift_of_panel(self, name: str) -> Vector:
        """Where a panel lies."""
        return self._panel_shifts.get(name, Vector(0.0, 0.0))

    def piece_at(self, place: Point) -> str:
        """The piece under a place; empty for none."""
        at = to_scene(place)
        for name, item in self._pieces.items():
            if item.isVisible() and item.contains(item.mapFromScene(at)):
                return name
        return ""

    def content(self) -> QRectF:
        """The box round what is shown."""
        if self._walk.isVisible():
            return self._walk.sceneBoundingRect()
        rect = QRectF()
        for item in (*self._panels.values(), *self._pieces.values()):
            if item.isVisible():
                rect = rect.united(item.sceneBoundingRect())
        return rect

    def box_of(self, selection: Selection) -> QRectF:
        """The box round what is picked; empty for nothing."""
        if selection.kind == "piece" and selection.name in self._pieces:
            return self._pieces[selection.name].sceneBoundingRect()
        if selection.kind == "line" and selection.name in self._lines:
            return self._lines[selection.name].sceneBoundingRect()
        if selection.kind == "step":
            return self._step.box_of_handles()
        if selection.kind in ("join", "edge") and self._highlight.isVisible():
            return self._highlight.sceneBoundingRect()
        return QRectF()

    def _place(self, pattern: Pattern) -> None:
        names = [panel.name for panel in pattern.panels]
        if list(self._panel_shifts) != names:
            self._panel_shifts = place_panels(pattern.panels)
        pieces = {sewn.piece.name for sewn in pattern.pieces}
        if not pieces <= self._piece_shifts.keys():
            boxes = [panel.outline.box for panel in pattern.panels]
            left = sum(box.width + 2.0 * GAP for box in boxes) + GAP
            height = max((box.height for box in boxes), default=1000.0)
            faced = facings(pattern.design.pieces)
            self._gap = gap_below(larger())
            self._piece_shifts = place_pieces(pattern.pieces, left, height, faced, larger())
            self._name_rooms = rooms_for_names(pattern.pieces, self._piece_shifts, self._gap)
            self._grow(left, height)

    def _grow(self, left: float, height: float) -> None:
        """Room to pan a good way past the content."""
        self.setSceneRect(-1500.0, -height - 1500.0, left + 4500.0, height + 3500.0)

    def _show_panels(self, pattern: Pattern) -> None:
        right = -math.inf
        for panel in pattern.panels:
            item = self._item(self._panels, panel.name, PanelItem)
            shift = self._panel_shifts[panel.name]
            item.room = shift.x + panel.outline.box.left - right
            right = shift.x + panel.outline.box.right
            item.set_shift(shift)
            item.show_panel(panel)
        self._drop(self._panels, {panel.name for panel in pattern.panels})

    def _show_lines(self, pattern: Pattern, selection: Selection) -> None:
        for drawn in pattern.lines:
            item = self._item(self._lines, drawn.name, LineItem)
            item.set_shift(self.shift_of_panel(drawn.panel))
            item.show_line(drawn)
            picked = selection.kind == "line" and selection.name == drawn.name
            if picked or item.picked:
                grips = edit.grips(pattern.design.line(drawn.name), drawn) if picked else ()
                item.show_grips(picked, grips, selection.grip if picked else None)
        self._drop(self._lines, {drawn.name for drawn in pattern.lines})

    def _show_pieces(self, pattern: Pattern, selection: Selection) -> None:
        colours = {cloth.name: cloth.colour for cloth in pattern.design.cloths}
        for sewn in pattern.pieces:
            name = sewn.piece.name
            item = self._item(self._pieces, name, PieceItem)
            item.name_room = self._name_rooms.get(name, 0.0), self._gap
            item.set_shift(self._piece_shifts[name])
            picked = selection.kind == "piece" and selection.name == name
            item.show_piece(sewn, colours.get(sewn.piece.cloth, CLOTH), picked)
        self._drop(self._pieces, {sewn.piece.name for sewn in pattern.pieces})

    def _show_highlight(self, pattern: Pattern, selection: Selection) -> None:
        stretches: list[tuple[Chain, Vector, bool]] = []
        if selection.kind == "join":
            for join in pattern.design.joins:
                if join.name == selection.name:
                    stretches += self._stretches(pattern, join.a, False)
                    stretches += self._stretches(pattern, join.b, True)
        elif selection.kind == "edge":
            for panel in pattern.panels:
                for edge in panel.outline:
                    if edge.name == selection.name:
                        stretches.append((edge.chain, self.shift_of_panel(panel.name), False))
        self._highlight.show_stretches(stretches)
        self._highlit_on = "panels" if selection.kind == "edge" else "pieces"
        if not self._walk.isVisible():
            self._highlight.setVisible(self._shows_highlight())

    def _show_step(self, pattern: Pattern, selection: Selection) -> None:
        made = None
        if selection.kind == "step" and int(selection.name) < len(pattern.steps):
            made = pattern.steps[int(selection.name)]
            self._step.set_shift(self.shift_of_panel(made.step.panel))
        self._step.show_step(made)

    def _stretches(
        self, pattern: Pattern, side: JoinSide, second: bool
    ) -> list[tuple[Chain, Vector, bool]]:
        pieces = {sewn.piece.name: sewn.piece for sewn in pattern.pieces}
        found = []
        for ref in side.edges:
            if ref.piece not in pieces:
                continue
            try:
                edge = stretch(pieces[ref.piece], ref)
            except GeometryRefused:
                continue
            found.append((edge.chain, self._piece_shifts[ref.piece], second))
        return found

    def _item(self, items: dict[str, Shows], name: str, make: Callable[[Theme], Shows]) -> Shows:
        """The item of a name, made and put on the sheet when there is none yet."""
        item = items.get(name)
        if item is None:
            item = items[name] = make(self.theme)
            item.setVisible(self._is_shown(item))
            self.addItem(item)
        return item

    def _is_shown(self, item: SheetItem) -> bool:
        """Whether the switch between panels and pieces lets an item be seen."""
        return self.shown != ("panels" if isinstance(item, PieceItem) else "pieces")

    def _shows_highlight(self) -> bool:
        """A seam is shown on its pieces, an edge on its panel: never where those are hidden."""
        return self.shown in ("both", self._highlit_on)

    def _drop(self, items: dict[str, Shows], names: set[str]) -> None:
        for name in [name for name in items if name not in names]:
            self.removeItem(items.pop(name))
