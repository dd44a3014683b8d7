"""The steps of a fly: the zip on its facing, the other front with the shield, the last row."""

from __future__ import annotations

from collections.abc import Mapping

from studio.alter.kind import Say
from studio.curves import Affine, Chain, Point
from studio.exchange.along import Figure, Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.work_sheet_figures import START, box_of, closed, drawn, laid, other_leg
from studio.exchange.work_sheet_needs import zip_long
from studio.pattern import Pattern
from studio.sew import SewnPiece
from studio.sew.constructions.construction import EDGE_STITCH
from studio.sew.fly import Opening, openings
from studio.sew.parallel import moved
from studio.sew.sewn import MeasuredJoin
from studio.sew.walk import Walk

TEETH_INSIDE = 5.0
"""The teeth of a zip lie so far inside the faced edge, which covers them, mm (common practice, no
source)."""

TAPE = 12.0
"""Of a zip's tape, from the teeth to its edge, mm (common practice, no source)."""

FACING_STITCH = 6.0
"""The facing is stitched down so far inside its free edge, mm (common practice, no source)."""

BAR = 8.0
"""A bar at the end of a fly is so long, mm (common practice, no source)."""

_ROUND = 40.0
"""So much of the front is shown beside a fly, mm."""


class Fly:
    """A fly of a pattern with what its steps and figures are made of."""

    def __init__(self, opening: Opening, pattern: Pattern, pieces: Mapping[str, SewnPiece]) -> None:
        measured = pattern.measured_by_name()
        self.opening = opening
        self.pieces = pieces
        self.faced: MeasuredJoin = measured[opening.faced.name]
        self.shielded: MeasuredJoin = measured[opening.shielded.name]
        self.zip = zip_long(self.faced)

    def zip_stage(self, say: Say) -> Stage:
        """The first tape, before the other front is sewn to the shield."""
        facing, shield = self.opening.facing, self.opening.shield
        seam = self.opening.faced.name
        sentences = (
            f"Fold {facing} out flat beside the front. Lay the zip, {say(self.zip)} long, face "
            f"down on it: the top of its teeth at the sewing line of the waist, the teeth "
            f"{say(TEETH_INSIDE)} from the seam of {seam}, so that the edge covers them later. Sew "
            f"the tape that lies away from the front to {facing} alone, and fold {facing} back "
            "to the inside.",
            f"At the lower end of {seam} snip the allowances of the front to the seam, so that "
            "they turn there; the crotch seam holds all below.",
            f"Fold {shield} along its fold line, right side out, and press; from now on its two "
            "long edges are sewn as one.",
        )
        return Stage(f"Zip of {seam}", sentences, self._zip_figure())

    def shield_words(self, say: Say) -> str:
        """How the other front is sewn to the shield and the zip."""
        return (
            f"On this front turn the allowance of the edge under and press. Lay its fold beside "
            f"the teeth of the other tape, the zip face up, and {self.opening.shield} beneath with "
            f"its raw long edges towards the allowance. Baste, and stitch through all three at "
            f"{say(EDGE_STITCH)} from the fold with the foot for zips. Hand-turn the wheel over a "
            "metal zip: a needle that meets a tooth breaks and flies."
        )

    def last_stage(self, say: Say) -> Stage:
        """The facing stitched down from outside, once the zip holds both fronts."""
        facing, shield = self.opening.facing, self.opening.shield
        sentences = (
            f"Close the zip and lay the front flat over it. Fold {shield} out of the way, and "
            f"topstitch {facing} down from outside, {say(FACING_STITCH)} inside its free edge; "
            "baste along it first, so that the line can be seen.",
            f"Fold {shield} back and sew a bar of close stitches, {say(BAR)} long, across the "
            f"lower end through all layers, {shield} caught in it.",
        )
        return Stage(f"Close {self.opening.faced.name}", sentences, self._last_figure())

    def _edge(self) -> Chain:
        """The faced edge on the front, from the waist down."""
        chain = self.faced.a.stretches[0].edge.chain
        return chain if self._from_waist() else chain.reversed()

    def _from_waist(self) -> bool:
        """True where the edge, counter-clockwise, begins at the waist and ends at a line."""
        return self.opening.faced.a.edges[0].after is None

    def _off(self, inside: float) -> Chain:
        """A line beside the faced edge, so far inside the front (negative: beyond it), mm."""
        return moved(self._edge(), inside if self._from_waist() else -inside)

    def _free(self) -> list[Chain]:
        """The free edge of the facing, which ends at the lower end of the fly."""
        rise = self.opening.faced.b.edges[0].edge
        end = self._edge().end
        outline = self.pieces[self.opening.facing].piece.outline
        others = [one.chain for one in outline if one.name != rise]
        return sorted(others, key=lambda chain: chain.nearest(end)[1])[:1]

    def _zip_figure(self) -> Figure:
        """The facing folded out, the zip on it."""
        walk = Walk(self.faced, self.pieces)
        step = walk.at(walk.length_a / 2.0)
        lines = laid(((walk.still, Affine()), (walk.rolling, step.move)), self.pieces)
        far, near = -TEETH_INSIDE - TAPE, TAPE - TEETH_INSIDE
        tape = [self._off(inside).between(0.0, self.zip) for inside in (far, near)]
        teeth = self._off(-TEETH_INSIDE).between(0.0, self.zip)
        lines += [Stroked(chain, "drawn") for chain in (*tape, teeth)]
        lines += [Stroked(Chain.straight(tape[0].end, tape[1].end), "drawn")]
        sewn = self._off(-TEETH_INSIDE - 0.7 * TAPE).between(0.0, self.zip)
        lines.append(Stroked(sewn, "cut"))
        free = self._free()[0]
        beside = step.move(free.at(free.length / 2.0))
        points = [("zip", teeth.end), (self.opening.facing, beside)]
        return self._shown(lines, points)

    def shield_figure(self) -> Figure:
        """The other front with zip and folded shield behind its edge."""
        walk = Walk(self.shielded, self.pieces)
        step = walk.at(walk.length_a / 2.0)
        lines = laid(((walk.still, Affine()),), self.pieces)
        box = self.pieces[self.opening.shield].piece.outline.box
        half = box.height / 2.0
        corners = (
            Point(box.left, box.bottom),
            Point(box.right, box.bottom),
            Point(box.right, box.bottom + half),
            Point(box.left, box.bottom + half),
        )
        shield = closed(*corners).transformed(step.move)
        lines.append(Stroked(shield, "dashed"))
        teeth = self._off(-EDGE_STITCH).between(0.0, self.zip)
        outer = self._off(-EDGE_STITCH - TAPE).between(0.0, self.zip)
        lines += [Stroked(teeth, "drawn"), Stroked(outer, "drawn")]
        lines.append(Stroked(Chain.straight(teeth.end, outer.end), "drawn"))
        lines.append(Stroked(self._off(EDGE_STITCH), "cut"))
        points = [
            ("zip", outer.end),
            (self.opening.shield, step.move(corners[2])),
            (START, walk.at(0.0).at),
        ]
        return other_leg(self._shown(lines, points))

    def _last_figure(self) -> Figure:
        """The front from outside, the facing's row and the bar."""
        front = self.pieces[self.faced.a.stretches[0].piece].piece
        lines = drawn(front.outline)
        edge = self._edge()
        for chain in self._free():
            lines.append(Stroked(chain, "dashed"))
            lines.append(Stroked(moved(chain, FACING_STITCH), "cut"))
        teeth = self._off(TEETH_INSIDE).between(0.0, self.zip)
        lines.append(Stroked(teeth, "drawn"))
        inside = edge.end_tangent.left() if self._from_waist() else edge.end_tangent.right()
        bar = Chain.straight(edge.end, edge.end + inside * BAR)
        lines.append(Stroked(bar, "cut"))
        return self._shown(lines, [("bar", edge.end), ("zip", teeth.at(self.zip / 2.0))])

    def _shown(self, lines: list[Stroked], points: list[tuple[str, Point]]) -> Figure:
        edge = self._edge().box
        about = (
            Point(edge.left - _ROUND, edge.bottom - _ROUND / 2.0),
            Point(edge.right + _ROUND, edge.top + _ROUND / 2.0),
        )
        return figure(lines, points, about, box_of(lines))


def flies(pattern: Pattern, pieces: Mapping[str, SewnPiece]) -> tuple[Fly, ...]:
    """Every fly of a pattern of which both seams could be made, and that has room for a zip."""
    measured = pattern.measured_by_name()
    return tuple(
        Fly(opening, pattern, pieces)
        for opening in openings(pattern.design.joins)
        if {opening.faced.name, opening.shielded.name} <= measured.keys()
        and {opening.facing, opening.shield} <= pieces.keys()
        and zip_long(measured[opening.faced.name])
    )
