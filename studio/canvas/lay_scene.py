"""The table: every cloth with what is laid on it, and a tray for what is not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QGraphicsScene
from shapely import Polygon

from studio import numbers
from studio.canvas.lay_items import (
    BESIDE,
    ROOM_ABOVE,
    LaidItem,
    StockItem,
    TrayItem,
)
from studio.canvas.lay_photographs import Photograph
from studio.canvas.paths import to_scene
from studio.canvas.sheet_item import SheetItem
from studio.canvas.table_places import (
    BETWEEN,
    TablePlaces,
    TrayPlaces,
    place_cloths,
    place_waiting,
)
from studio.canvas.theme import CLOTH, Theme
from studio.cloth.items import Item
from studio.cloth.stance import Stance, lying, stance_of
from studio.cloth.table import Table, shares_used, stance_there
from studio.curves import Affine, Point
from studio.cut.copies import copy_name, drawn_legs
from studio.design.cloth import Lay, Place, Placement
from studio.pattern import Pattern
from studio.sew.sewn import SewnPiece

Key: TypeAlias = tuple[str, int]
"""A piece and which copy of it."""

_NEAR_MM = 60.0
"""A piece held so near a cloth is held over it."""

_UPRIGHT = 90.0


class LayScene(QGraphicsScene):
    """The scene of the laying table. `picked` is the piece that keys act on."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.table = Table({}, {}, Lay())
        self.picked: Key | None = None
        self._hovered: Key | None = None
        self._sewn: dict[str, SewnPiece] = {}
        self._names: dict[Key, str] = {}
        self._colours: dict[str, str] = {}
        self.troubles: Mapping[Key, str] = {}
        self._short: Mapping[Key, str] = {}
        self._stocks: dict[str, StockItem] = {}
        self._pieces: dict[Key, LaidItem] = {}
        self._places = TablePlaces({}, 0.0, 0.0)
        self._waiting = TrayPlaces({}, 0.0, 0.0, 0.0)
        self._tray = TrayItem(theme)
        self.addItem(self._tray)

    def show_cloths(
        self, table: Table, pattern: Pattern, photographs: Mapping[str, Photograph]
    ) -> None:
        """Show the stash of a pattern and take its pieces, which `show_lay` then shows; cloths keep
        their places while they are the same.
        """
        design = pattern.design
        stash = [stock for stock in design.stash if stock.name in table.beds]
        self._colours = {cloth.name: cloth.colour for cloth in design.cloths}
        self._sewn = pattern.pieces_by_name()
        legs = drawn_legs(pattern.panels)
        self._names = {
            key: copy_name(self._sewn[key[0]].piece, key[1], legs) for key in table.items
        }
        if table.beds != self.table.beds:
            area = sum(
                Polygon(self._stance(item, resting(item)).cut).area for item in table.items.values()
            )
            # Half of them: full before a search, the tray is all but empty after it.
            self._places = place_cloths(list(table.beds.values()), area / 2.0)
            self._waiting = TrayPlaces({}, 0.0, 0.0, 0.0)
        for stock in stash:
            item = self._stocks.get(stock.name)
            if item is None:
                item = self._stocks[stock.name] = StockItem(self.theme)
                self.addItem(item)
            item.show_stock(
                stock,
                table.beds[stock.name],
                self._places.moves[stock.name],
                self._colours.get(stock.cloth, CLOTH),
                photographs.get(stock.name),
            )
        for name in [name for name in self._stocks if name not in table.beds]:
            self.removeItem(self._stocks.pop(name))
        self.table = table

    def show_lay(
        self, table: Table, troubles: Mapping[Key, str], short: Mapping[Key, str] | None = None
    ) -> None:
        """Show a lay of these pieces on these cloths. `troubles` says what is wrong with where a
        piece lies; `short` says what allowance a
        piece does without where it lies, the one shown before when it is not given.
        """
        self.table, self.troubles = table, troubles
        if short is not None:
            self._short = short
        for key in [key for key in self._pieces if key not in table.items]:
            self.removeItem(self._pieces.pop(key))
        if self.picked not in table.items:
            self.picked = None
        waiting = table.not_laid
        self._place_tray(waiting)
        laid = {(one.piece, one.copy): one for one in table.laid}
        for key, item in table.items.items():
            shown = self._item(key)
            shown.setVisible(key in laid or item.piece not in table.left_out)
            if not shown.isVisible():
                continue
            self._pose(shown, item, laid.get(key))
            placed = laid.get(key)
            shown.show_state(
                locked=placed is not None and placed.locked,
                trouble=troubles.get(key, ""),
                short=self._short.get(key, ""),
                waits=placed is None,
            )
        self._show_attention()
        self._show_words()

    def show_held(
        self, key: Key, placement: Placement | None, pose: Placement, middle: Point, trouble: str
    ) -> None:
        """Show a piece in hand: on its cloth, or, with None, where the hand holds it."""
        item, shown = self.table.items[key], self._item(key)
        if placement is not None:
            self._pose(shown, item, placement)
        else:
            self._hold(shown, item, pose, middle)
        shown.show_state(trouble=trouble, waits=placement is None)
        shown.setZValue(9.0)

    def show_over(self, stock: str | None, *, tray: bool = False) -> None:
        """Light up the cloth, or the tray, over which a piece is held."""
        for name, item in self._stocks.items():
            item.show_lit(name == stock)
        self._tray.show_lit(tray)

    def pick(self, key: Key | None) -> None:
        """Pick a piece, or none."""
        self.picked = key
        self._show_attention()

    def hover(self, key: Key | None) -> None:
        """The piece under the pointer, or none."""
        if key != self._hovered:
            self._hovered = key
            self._show_attention()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        for item in self.items():
            if isinstance(item, SheetItem):
                item.set_theme(theme)
        self.update()

    def tidy(self) -> None:
        """Lay out the tray anew."""
        self._waiting = TrayPlaces({}, 0.0, 0.0, 0.0)
        self._place_tray(self.table.not_laid)
        for item in self.table.not_laid:
            key = item.piece, item.copy
            self._pose(self._item(key), item, None)

    @property
    def names(self) -> dict[Key, str]:
        """What every copy is called, as a value that stays as it is."""
        return dict(self._names)

    def name_of(self, key: Key) -> str:
        """A copy as it is called: "back-leg, left"."""
        return self._names.get(key, key[0])

    def piece_at(self, place: Point) -> Key | None:
        """The uppermost piece under a place of the table."""
        for item in self.items(to_scene(place)):
            if isinstance(item, LaidItem):
                return next(key for key, one in self._pieces.items() if one is item)
        return None

    def stock_at(self, place: Point) -> str | None:
        """The cloth over which something is held there: under it, or near enough to it."""
        at = to_scene(place)
        boxes = {name: item.box for name, item in self._stocks.items()}
        for name, item in self._stocks.items():
            if item.shape().contains(at):
                return name
        near = {name: _away(box, at.x(), at.y()) for name, box in boxes.items()}
        return min(
            (name for name, far in near.items() if far <= _NEAR_MM),
            key=lambda name: near[name],
            default=None,
        )

    def middle_of(self, key: Key) -> Point:
        """Where the middle of a piece lies on the table."""
        for one in self.table.laid:
            if (one.piece, one.copy) == key:
                return self.to_table(one.stock, one.at)
        return self._waiting.middles[key]

    def to_table(self, stock: str, at: Place) -> Point:
        """A place on a stock as one on the table."""
        return self._places.moves[stock](Point(*at))

    def to_stock(self, stock: str, place: Point) -> Place:
        """A place on the table as one on a stock."""
        at = self._places.moves[stock].inverse()(place)
        return (at.x, at.y)

    def box_of(self, stock: str) -> QRectF:
        """The box of a cloth with its name; empty when it is not there."""
        item = self._stocks.get(stock)
        return _named(item.box) if item is not None else QRectF()

    def content(self) -> QRectF:
        """The box round all cloths and the tray, with their names."""
        rect = _named(self._tray.box)
        for item in self._stocks.values():
            rect = rect.united(_named(item.box))
        return rect

    def _item(self, key: Key) -> LaidItem:
        item = self._pieces.get(key)
        if item is None:
            item = self._pieces[key] = LaidItem(self.theme)
            self.addItem(item)
        return item

    def _pose(self, shown: LaidItem, item: Item, placement: Placement | None) -> None:
        """Put a piece where it is laid, or in the tray."""
        key = item.piece, item.copy
        if placement is None:
            pose = resting(item)
            self._hold(shown, item, pose, self._waiting.middles[key])
            return
        stance = stance_there(self.table, placement)
        bed = self.table.beds[placement.stock]
        self._show_piece(shown, key, stance)
        shown.lie(lying(stance, placement, bed.warp).then(self._places.moves[placement.stock]))

    def _hold(self, shown: LaidItem, item: Item, pose: Placement, middle: Point) -> None:
        """Put a piece on the table itself, its warp upright."""
        stance = self._stance(item, pose)
        self._show_piece(shown, (item.piece, item.copy), stance)
        there = Placement(
            pose.piece, pose.copy, "", (middle.x, middle.y), pose.turn, flipped=pose.flipped
        )
        shown.lie(lying(stance, there, _UPRIGHT))

    def _stance(self, item: Item, pose: Placement) -> Stance:
        way = item.way(pose) or (item.ways[0] if item.ways else None)
        return way.stance if way is not None else stance_of(self._sewn[item.piece])

    def _show_piece(self, shown: LaidItem, key: Key, stance: Stance) -> None:
        sewn = self._sewn[key[0]]
        colour = self._colours.get(sewn.piece.cloth, CLOTH)
        shown.show_piece(sewn, stance, colour, self.name_of(key))

    def _place_tray(self, waiting: tuple[Item, ...]) -> None:
        """Pieces keep their place in the tray until one has none, or none is left."""
        keys = {(item.piece, item.copy) for item in waiting}
        if not keys <= self._waiting.middles.keys() or not keys or not self._waiting.width:
            sizes = {
                (item.piece, item.copy): _size(self._stance(item, pose), pose)
                for item in waiting
                for pose in (resting(item),)
            }
            left = self._places.width + BETWEEN if self._places.width else 0.0
            self._waiting = place_waiting(sizes, left, self._places.height)
        tray = self._waiting
        words = f"Not laid yet: {len(keys)}" if keys else "Nothing waits"
        self._tray.show_tray(QRectF(tray.left, 0.0, tray.width, tray.height), words)
        room = self.content()
        self.setSceneRect(room.adjusted(-1500.0, -1500.0, 1500.0, 1500.0))

    def _show_attention(self) -> None:
        for key, item in self._pieces.items():
            item.show_attention(picked=key == self.picked, hovered=key == self._hovered)

    def _show_words(self) -> None:
        shares = shares_used(self.table)
        for name, item in self._stocks.items():
            used = shares[name]
            cloth = item.stock.cloth if item.stock is not None else ""
            item.show_words(name, f"{cloth}, {numbers.percent(used)} used" if used else cloth)


def resting(item: Item) -> Placement:
    """A piece as it waits in the tray: as it may lie on the first cloth it may be cut from."""
    if not item.ways:
        return Placement(item.piece, item.copy, "", (0.0, 0.0))
    way = item.ways[0]
    return Placement(
        item.piece, item.copy, way.stock, (0.0, 0.0), way.turns[0], flipped=way.faces[0]
    )


def _size(stance: Stance, pose: Placement) -> tuple[float, float]:
    """The width and height of a piece's box in a pose."""
    move: Affine = lying(stance, pose, _UPRIGHT)
    places = [move(Point(x, y)) for x, y in stance.cut]
    xs, ys = [at.x for at in places], [at.y for at in places]
    return max(xs) - min(xs), max(ys) - min(ys)


def _named(box: QRectF) -> QRectF:
    """A box with the room for what is written beside and above it."""
    return box.adjusted(-BESIDE / 2.0, -ROOM_ABOVE, BESIDE / 2.0, 20.0)


def _away(box: QRectF, x: float, y: float) -> float:
    """How far a place is from a box."""
    across = max(box.left() - x, 0.0, x - box.right())
    along = max(box.top() - y, 0.0, y - box.bottom())
    return float((across**2 + along**2) ** 0.5)
