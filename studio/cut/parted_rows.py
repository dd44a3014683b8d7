"""What is said of a piece beside its seams, taught of its two parts: rows of topstitching, corners
of the cut line.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

import msgspec
import shapely
from msgspec.structs import replace

from studio.curves import Chain, Outline, crossings, tolerance
from studio.design.joins import Corner
from studio.design.topstitch import Topstitch

_LEAST_MM = 1.0
"""A row no longer than this cannot be stitched; none is left on a part for it."""


class Parted(msgspec.Struct, frozen=True):
    """A piece that was called `old`, with the sewing line `whole`, and the parts `left` and `right`
    of a line through it, which starts on the edge `starts_on` and ends on `ends_on`. `right_edges`
    are the edges wholly right of it; `marks` the lines drawn on the piece by name, where they lie.
    """

    old: str
    left: str
    right: str
    whole: Outline
    line: Chain
    starts_on: str
    ends_on: str
    right_edges: tuple[str, ...]
    marks: Mapping[str, Chain]

    def shares(self, name: str) -> tuple[tuple[str, float, float], ...]:
        """Which part each stretch of an edge or a mark of the piece lies on, in its order, and from
        where to where, mm along it; none where the piece has nothing of that name.
        """
        if self.whole.has(name):
            return self._shares_of_edge(name)
        return tuple(self._shares_of_mark(self.marks[name])) if name in self.marks else ()

    def corner_on(self, before: str, after: str) -> str:
        """The part that has the corner between two edges, met counter-clockwise."""
        ends = (self.starts_on, self.ends_on)
        if before in ends and after in ends:
            return self.right if before == self.starts_on else self.left
        other = after if before in ends else before
        return self.right if other in self.right_edges else self.left

    def _shares_of_edge(self, name: str) -> tuple[tuple[str, float, float], ...]:
        chain = self.whole.edge(name).chain
        if name not in (self.starts_on, self.ends_on):
            part = self.right if name in self.right_edges else self.left
            return ((part, 0.0, chain.length),)
        first, then = self.left, self.right
        end = self.line.start
        if name == self.ends_on:
            first, then, end = then, first, self.line.end
        at = chain.nearest(end)[0]
        return ((first, 0.0, at), (then, at, chain.length))

    def _shares_of_mark(self, chain: Chain) -> Iterator[tuple[str, float, float]]:
        """Measured as on the piece, where a line that leaves it begins at the sewing line."""
        ground = shapely.Polygon(self.whole.polyline())
        cuts = [at for edge in self.whole for at in crossings(chain, edge.chain)]
        places = sorted({0.0, *cuts, *crossings(chain, self.line), chain.length})
        begins: float | None = None
        for low, high in itertools.pairwise(places):
            middle = chain.at((low + high) / 2.0)
            if high - low <= tolerance.CORNER_MM or not shapely.contains_xy(
                ground, middle.x, middle.y
            ):
                continue
            begins = low if begins is None else begins
            part = self.right if self.line.side_of(middle) < 0.0 else self.left
            yield part, low - begins, high - begins


def rows_on_parts(one: Topstitch, parted: Parted) -> tuple[Topstitch, ...]:
    """Rows along an edge or mark on the parts it lies on, each from where to where they run there;
    rows of other pieces, and along what is not there, as they are.
    """
    shares = parted.shares(one.along) if one.piece == parted.old else ()
    if not shares:
        return (one,)
    found: dict[str, Topstitch] = {}
    for part, low, high in shares:
        start = max(one.start - low, 0.0)
        end = None if one.end is None or one.end >= high else one.end - low
        if part in found:
            # The line runs back over the cut: all of it on that part is stitched.
            found[part] = replace(found[part], end=None)
        elif (high - low if end is None else end) - start > _LEAST_MM:
            found[part] = replace(one, piece=part, start=start, end=end)
    return tuple(found.values())


def corner_on_parts(one: Corner, parted: Parted) -> Corner:
    """A corner of the cut line on the part that has it; of other pieces, or not there, as it is."""
    names = [edge.name for edge in parted.whole]
    pairs = zip(names, (*names[1:], names[0]), strict=True)
    if one.piece != parted.old or (one.before, one.after) not in pairs:
        return one
    return replace(one, piece=parted.corner_on(one.before, one.after))
