"""Which of the rows asked for on a piece are stitched on it alone, and which through what lies
beneath: decided here for the order, its reasons and the work sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from studio.design.joins import Join
from studio.design.topstitch import Topstitch
from studio.sew.reach import laid_by
from studio.sew.steps import Parts


class RowSteps(msgspec.Struct, frozen=True):
    """The rows asked for on a piece by the step that stitches them; `laid` is the join it is laid
    on by, None when it is laid on nothing.
    """

    piece: str
    alone: tuple[Topstitch, ...]
    through: tuple[Topstitch, ...]
    laid: Join | None


def row_steps(
    rows: Sequence[Topstitch], joins: Sequence[Join], pieces: Mapping[str, Parts]
) -> Iterator[RowSteps]:
    """The steps of rows, piece by piece as they are first asked for; those asked for on what is
    none of the pieces are no step.
    """
    for piece in dict.fromkeys(one.piece for one in rows if one.piece in pieces):
        laid = laid_by(piece, joins, pieces)
        asked = [one for one in rows if one.piece == piece]
        yield RowSteps(piece, *alone_and_through(asked, laid is not None), laid)


def alone_and_through(
    asked: Sequence[Topstitch], is_laid: bool
) -> tuple[tuple[Topstitch, ...], tuple[Topstitch, ...]]:
    """Rows on one piece that are stitched on it alone, and those through what it is laid on: a row
    asked for through both layers is stitched alone where there is nothing beneath.
    """
    through = tuple([one for one in asked if one.through and is_laid])
    return tuple([one for one in asked if one not in through]), through
