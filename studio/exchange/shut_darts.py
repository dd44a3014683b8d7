"""Pieces whose darts are sewn by now, as figures show them.

A dart that does not run through its piece leaves it round: it lies flat only where it is cut from
the dart's point on. A seam across such darts is drawn with the piece so parted, the legs of every
dart on each other; elsewhere the piece lies whole, and a dart is the gap between its legs.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

import msgspec

from studio.block.panel import Dart
from studio.curves import Affine, Chain, Point, meetings
from studio.cut.piece import Piece
from studio.exchange.marks import dart_lines

_ON_LINE_MM = 1e-3
_BEYOND_MM = 5000.0
"""A piece is parted from the point of a dart as far as this at most, mm."""


class Section(msgspec.Struct, frozen=True):
    """What is drawn of a piece between two darts: stretches of its outline, and of those that lie
    along the edge with the darts the one between two mouths; `first` and `last` are those darts,
    walked as the outline runs.
    """

    along: Chain
    chains: tuple[Chain, ...]
    first: Dart | None
    last: Dart | None


def shut_lines(piece: Piece) -> tuple[Chain, ...]:
    """The outline without the mouths of darts, as it runs: a dart is the gap between its two legs,
    which stand in its mouth's place.
    """
    lines: list[Chain] = []
    for edge in piece.outline:
        start = 0.0
        for dart, low, high in _mouths(edge.chain, piece):
            lines += _stretch(edge.chain, start, low)
            lines += dart_lines([dart])
            start = high
        lines += _stretch(edge.chain, start, edge.chain.length)
    return tuple(lines)


def runs_of(piece: Piece, edge: str) -> list[Chain]:
    """An edge of a piece without the mouths of darts."""
    return [
        chain
        for one in piece.outline
        if one.name == edge
        for chain in _runs(one.chain, _mouths(one.chain, piece))
    ]


def parted_lines(piece: Piece, lies: Sequence[tuple[Chain, Affine]]) -> list[Chain]:
    """A piece parted as a seam across its darts lies, from stretches of that seam as walked and
    their moves: all of its outline, and the legs of the darts passed, which lie on each other.
    Other darts of it are gaps. Empty where the seam does not pass a dart of it.
    """
    for edge in piece.outline:
        sections = sections_of(piece, edge.name)
        moves = moves_of(sections, lies) if sections else None
        if moves is None:
            continue
        passed = [
            dart
            for section in sections
            for dart in (section.first, section.last)
            if dart is not None
        ]
        lines = []
        for section, move in zip(sections, moves, strict=True):
            lines += [chain.transformed(move) for chain in section.chains]
            if section.last is not None:
                leg = Chain.straight(section.last.first, section.last.point)
                lines.append(leg.transformed(move))
        others = [dart for dart in piece.darts if dart not in passed]
        return lines + [line.transformed(moves[0]) for line in dart_lines(others)]
    return []


def sections_of(piece: Piece, edge: str) -> tuple[Section, ...]:
    """A piece parted from the point of every dart of an edge across to the other side, each section
    flat as it is cut; in the order of the outline along that edge.

    Empty where it has no darts there, or cannot be parted so: two of the cuts cross, or one does
    not end on another edge. Darts of other edges are gaps.
    """
    around = piece.outline.edges
    at = next((k for k, one in enumerate(around) if one.name == edge), None)
    if at is None:
        return ()
    # Round from the edge with the darts, so that it is the first.
    chains = [around[(at + k) % len(around)].chain for k in range(len(around))]
    mouths = _mouths(chains[0], piece)
    darts = [dart for dart, *_ in mouths]
    ends = [_cut_end(dart, chains[1:]) for dart in darts]
    if not darts or any(end is None for end in ends):
        return ()
    reached = [end for end in ends if end is not None]
    if any(later >= sooner for sooner, later in itertools.pairwise(reached)):
        return ()
    runs = _runs(chains[0], mouths)
    if len(runs) != len(darts) + 1:
        return ()
    stretches = _between(chains[1:], list(reversed(reached)), piece)
    return tuple(
        Section(
            run,
            _own(k, run, stretches),
            darts[k - 1] if k else None,
            darts[k] if k < len(darts) else None,
        )
        for k, run in enumerate(runs)
    )


def _own(k: int, run: Chain, stretches: Sequence[tuple[Chain, ...]]) -> tuple[Chain, ...]:
    """The stretches of a section: those after the last cut belong to the first section."""
    return (run, *stretches[len(stretches) - 1 - k])


def moves_of(
    sections: Sequence[Section], lies: Iterable[tuple[Chain, Affine]]
) -> list[Affine] | None:
    """How each section lies, taken from stretches of a seam as walked, and their moves; None where
    one of the sections is not walked.
    """
    walked = [(chain.transformed(move.inverse()), move) for chain, move in lies]
    found: list[Affine] = []
    for section in sections:
        move = next((move for chain, move in walked if _lies_on(chain, section.along)), None)
        if move is None:
            return None
        found.append(move)
    return found


def _lies_on(chain: Chain, line: Chain) -> bool:
    return line.nearest(chain.at(chain.length / 2.0))[1] < _ON_LINE_MM


def _mouths(chain: Chain, piece: Piece) -> list[tuple[Dart, float, float]]:
    """The darts on a chain with the places of their mouths, in its order."""
    found = []
    for dart in piece.darts:
        mouth = dart.mouth_on(chain)
        if mouth is not None:
            found.append((dart, min(mouth), max(mouth)))
    return sorted(found, key=lambda one: one[1])


def _runs(chain: Chain, mouths: Sequence[tuple[Dart, float, float]]) -> list[Chain]:
    """What lies beside the mouths."""
    found: list[Chain] = []
    start = 0.0
    for _, low, high in mouths:
        found += _stretch(chain, start, low)
        start = high
    return found + _stretch(chain, start, chain.length)


def _stretch(chain: Chain, low: float, high: float) -> list[Chain]:
    """The stretch between two places; the chain itself where it is all of it, nothing where it is
    none.
    """
    if high - low <= _ON_LINE_MM:
        return []
    return [chain if high - low >= chain.length else chain.between(low, high)]


def _cut_end(dart: Dart, chains: Sequence[Chain]) -> tuple[int, float] | None:
    """Where the line on through a dart's point first meets one of some chains: which, and where."""
    ahead = (dart.point - dart.first.toward(dart.last, 0.5)).unit()
    line = Chain.straight(dart.point, dart.point + ahead * _BEYOND_MM)
    met = [
        (meeting.first, (k, meeting.second))
        for k, chain in enumerate(chains)
        for meeting in meetings(line, chain)
    ]
    return min(met)[1] if met else None


def _between(
    chains: Sequence[Chain], cuts: Sequence[tuple[int, float]], piece: Piece
) -> list[tuple[Chain, ...]]:
    """What lies before the first cut, between two of them, and after the last."""
    found: list[tuple[Chain, ...]] = []
    start = (0, 0.0)
    for end in (*cuts, (len(chains) - 1, chains[-1].length)):
        stretch: list[Chain] = []
        for k in range(start[0], end[0] + 1):
            low = start[1] if k == start[0] else 0.0
            high = end[1] if k == end[0] else chains[k].length
            if high - low > _ON_LINE_MM:
                middle = chains[k].between(low, high)
                stretch += _runs(middle, _mouths(middle, piece))
        found.append(tuple(stretch))
        start = end
    return found


def corners_of(section: Section, accuracy: float) -> list[tuple[float, float]]:
    """The closed outline of a section, with the legs of its darts and the cuts from their points,
    as points no further than `accuracy` mm off its curves.
    """
    points: list[Point] = []
    for chain in section.chains:
        points += [Point(x, y) for x, y in chain.polyline(accuracy)]
    # From its own edge the outline runs down the leg at its end and up the one at its beginning.
    along = len(section.along.polyline(accuracy))
    if section.last is not None:
        points.insert(along, section.last.point)
    if section.first is not None:
        points.append(section.first.point)
    return [(point.x, point.y) for point in points]
