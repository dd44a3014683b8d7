"""Pieces shared out on pages of paper: a grid of pages to be glued, or whole pieces on sheets.

A page's core is what is seen once the pages are glued; a strip along its right and lower side
goes on for the neighbour to cover. Rows are letters from the top, columns numbers from the left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec
from shapely.affinity import affine_transform
from shapely.geometry import Polygon, box
from shapely.prepared import PreparedGeometry, prep

from studio.curves import Box, Point, Vector
from studio.errors import BadInput
from studio.exchange.arrange import Laid, arranged, cut_box, extent, on_sheets
from studio.exchange.paper_sizes import MARGIN, STRIP, Paper
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece

GAP = 12.0
"""Between the cut lines of neighbours, mm."""

_INSET = 5.0
"""From the edge of the sheet to the nearest cut line, mm."""

_COLUMNS_TRIED = 10
_SHAPE_ACCURACY = 0.5
"""Chord error of the shapes that tell which pages are needed, mm; a page is also kept when a
piece comes this near."""


class PageMark(msgspec.Struct, frozen=True):
    """A diamond on the line between two pages, drawn on both; `at` in mm on the sheet.
    `beside` says that the pages lie side by side.
    """

    number: int
    at: Point
    beside: bool


class Page(msgspec.Struct, frozen=True):
    """A printed page: its name, its core (mm on the sheet), the pieces on it, its marks."""

    name: str
    row: int
    column: int
    core: Box
    laid: tuple[Laid, ...]
    marks: tuple[PageMark, ...] = ()


class Pages(msgspec.Struct, frozen=True):
    """All pages of a set. `strip` is 0 when nothing is glued; rows and columns count the grid,
    of which pages without anything on them are left out.
    """

    paper: Paper
    strip: float
    rows: int
    columns: int
    laid: tuple[Laid, ...]
    pages: tuple[Page, ...]

    def showing(self, sewn: SewnPiece) -> tuple[int, ...]:
        """Indices of the pages whose core shows a piece."""
        return tuple(
            k
            for k, page in enumerate(self.pages)
            if any(one.sewn is sewn and _meets(_shape(one), page.core) for one in page.laid)
        )


def tiled(pieces: Sequence[SewnPiece], paper: Paper) -> Pages:
    """The pieces on a grid of pages; of several widths the one with the fewest pages is taken."""
    step = Vector(paper.width - 2.0 * MARGIN - STRIP, paper.height - 2.0 * MARGIN - STRIP)
    widest = max(cut_box(sewn).width for sewn in pieces)
    least = math.ceil((widest + 2.0 * _INSET) / step.x)
    best: Pages | None = None
    for columns in range(least, least + _COLUMNS_TRIED):
        tried = _grid(pieces, paper, step, columns)
        if best is None or len(tried.pages) < len(best.pages):
            best = tried
    assert best is not None
    return msgspec.structs.replace(best, pages=_marked(best.pages, step))


def whole(pieces: Sequence[SewnPiece], paper: Paper) -> Pages:
    """Whole pieces on as many sheets as needed; a grid to be glued when one is too large."""
    width, height = paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN
    try:
        sheets = on_sheets(pieces, width - 2.0 * _INSET, height - 2.0 * _INSET, GAP)
    except BadInput:
        return tiled(pieces, paper)
    core = Box(-_INSET, _INSET - height, width - _INSET, _INSET)
    pages = tuple(
        Page(str(number), number - 1, 0, core, tuple(laid))
        for number, laid in enumerate(sheets, start=1)
    )
    everything = tuple(one for page in pages for one in page.laid)
    return Pages(paper, 0.0, len(pages), 1, everything, pages)


def row_name(row: int) -> str:
    """Letters of a row counted from 0: A to Z, then AA, AB and so on."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _grid(pieces: Sequence[SewnPiece], paper: Paper, step: Vector, columns: int) -> Pages:
    laid = arranged(pieces, columns * step.x - 2.0 * _INSET, GAP)
    box = extent(laid)
    columns = math.ceil((box.width + 2.0 * _INSET) / step.x)
    rows = math.ceil((box.height + 2.0 * _INSET) / step.y)
    shapes = [_shape(one) for one in laid]
    pages = []
    for row in range(rows):
        for column in range(columns):
            left, top = column * step.x - _INSET, _INSET - row * step.y
            core = Box(left, top - step.y, left + step.x, top)
            if not any(_meets(shape, core) for shape in shapes):
                continue
            paper_box = Box(core.left, core.bottom - STRIP, core.right + STRIP, core.top)
            shown = tuple(
                one for one, shape in zip(laid, shapes, strict=True) if _meets(shape, paper_box)
            )
            pages.append(Page(f"{row_name(row)}{column + 1}", row, column, core, shown))
    return Pages(paper, STRIP, rows, columns, tuple(laid), tuple(pages))


def _shape(one: Laid) -> PreparedGeometry[Polygon]:
    move = one.move
    drawn = Polygon(cut_outline_points(one.sewn.cut_line, _SHAPE_ACCURACY)).buffer(_SHAPE_ACCURACY)
    return prep(affine_transform(drawn, (move.xx, move.xy, move.yx, move.yy, move.dx, move.dy)))


def _meets(shape: PreparedGeometry[Polygon], core: Box) -> bool:
    return bool(shape.intersects(box(core.left, core.bottom, core.right, core.top)))


def _marked(pages: Sequence[Page], step: Vector) -> tuple[Page, ...]:
    """The pages with two numbered marks on each line that two of them share."""
    by_place = {(page.row, page.column): page for page in pages}
    marks: dict[str, list[PageMark]] = {page.name: [] for page in pages}
    number = 0
    for page in pages:
        for row, column in ((page.row, page.column + 1), (page.row + 1, page.column)):
            neighbour = by_place.get((row, column))
            if neighbour is None:
                continue
            beside = column > page.column
            for share in (0.25, 0.75):
                number += 1
                at = (
                    Point(page.core.right, page.core.top - share * step.y)
                    if beside
                    else Point(page.core.left + share * step.x, page.core.bottom)
                )
                mark = PageMark(number, at, beside)
                marks[page.name].append(mark)
                marks[neighbour.name].append(mark)
    return tuple(msgspec.structs.replace(page, marks=tuple(marks[page.name])) for page in pages)
