"""Steps that are neither a seam nor an edge: rows, loops, a zip, a folded waistband."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain

from studio.alter.kind import Say
from studio.design.design import Design
from studio.design.joins import Join
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.exchange.along import Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.along.words import edge_words
from studio.exchange.work_sheet_needs import zip_long, zips
from studio.pattern import Pattern
from studio.sew import SewnPiece
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.order import is_centre
from studio.sew.topstitch import asked_rows

_TUBE = (
    "Fold the strip along its length, right sides together, and sew the long edges; turn it right "
    "side out and press. Its ends are left raw and laid on each other where they are caught."
)
_MOUTH = (
    "Baste the finished mouth on the piece behind it where the two meet at the ends, once the bag "
    "is sewn."
)

LOOP_STITCH = 2.0
"""A loop is stitched so far from its long edges, mm (practice)."""


def how_words(join: Join, design: Design) -> str:
    """How a join is sewn: as its construction has it, or as a tube, or as the edge of a mouth."""
    kind = CONSTRUCTIONS[join.construction]
    if join.construction == "plain" and len({ref.piece for ref in join.refs}) == 1:
        return kind.words if is_centre(join) else _TUBE
    mouths = {line.name for line in design.lines if line.kind == "mouth"}
    if join.construction in ("plain", "faced") and {ref.edge for ref in join.refs} <= mouths:
        return f"{CONSTRUCTIONS['faced'].words} {_MOUTH}"
    return kind.words


def rows_before(
    join: Join, design: Design, pieces: Mapping[str, SewnPiece], told: set[str], say: Say
) -> Iterator[Stage]:
    """Rows asked for on pieces of a join that were not stitched yet: while each lies flat."""
    for name in dict.fromkeys(ref.piece for ref in join.refs):
        asked = [one for one in design.topstitching if one.piece == name]
        if not asked or name in told or name not in pieces:
            continue
        told.add(name)
        piece = pieces[name].piece
        sentences = []
        for one in asked:
            edge = edge_words(one.along, piece.panel).rpartition(".")[2]
            inside = ", ".join(say(row) for row in one.rows)
            sentences.append(f"On {name}, topstitch at {inside} from {edge}.")
        sentences.append(
            "Stitch while the piece lies flat and nothing is beneath it, so that a pocket stays "
            "open; run the rows out into the allowances. Where they go on across a seam their "
            "ends stand at notches, or at drilled places under the edge of a patch: lay them there."
        )
        lines = [Stroked(edge.chain, "before") for edge in piece.outline]
        lines += [Stroked(row, "cut") for row in asked_rows(piece, asked)]
        yield Stage(f"Rows on {name}", tuple(sentences), figure(lines, (), (), piece.outline.box))


def folded_strips(design: Design) -> dict[str, StripPiece]:
    """Strips whose long edges stay raw inside their folds, by the seam they are caught in first."""
    raw = {one.edge.text for one in design.finishes if one.how == "raw"}
    return {
        one.name: one
        for one in design.pieces
        if isinstance(one, StripPiece)
        and one.folded > 2
        and {f"{one.name}:{one.name}.one", f"{one.name}:{one.name}.two"} <= raw
    }


def loops_before(join: Join, design: Design, say: Say) -> Iterator[Stage]:
    """Loops that are caught in a join, made before it."""
    caught = {one.edge.piece for one in design.finishes if one.into == join.name}
    for name, strip in folded_strips(design).items():
        if name in caught:
            yield Stage(
                f"Make {name}",
                (
                    f"Fold each of the {strip.count} along its two fold lines, right side out, one "
                    "raw edge inside, the other beneath, and press. Topstitch both long edges at "
                    f"{say(LOOP_STITCH)}.",
                    "Spread them round the waist, the first at the centre back, the front ones "
                    "clear of the fly and where a pocket's mouth is not in their way. Lay them "
                    "right sides together on the trousers, hanging down, and catch the lower end "
                    f"in {join.name}, and in the seam of the other leg.",
                ),
            )


def loop_ends(design: Design) -> Iterator[Stage]:
    """The upper ends of belt loops, last of all."""
    for name in folded_strips(design):
        yield Stage(
            f"Upper ends of {name}",
            (
                "Lay each up over the finished band, with room for the belt, turn its end under, "
                "and stitch it down at the band's top, to and fro.",
            ),
        )


def zips_before(join: Join, pattern: Pattern, told: set[str], say: Say) -> Iterator[Stage]:
    """A fly's zip, before the first join along the waist of either leg."""
    measured = {one.join.name: one for one in pattern.measured}
    for edge, shield in zips(pattern.design):
        if edge.name in told or edge.name not in measured:
            continue
        if not _waist(shield.name, pattern.design).isdisjoint(
            (ref.piece, ref.edge) for ref in join.refs
        ):
            told.add(edge.name)
            yield Stage(
                f"Zip of {edge.name}", _zip(edge, shield, zip_long(measured[edge.name]), say)
            )


def _waist(shield: str, design: Design) -> set[tuple[str, str]]:
    """Edges of the seam in which a shield's upper end is caught, on the trousers' side."""
    into = {one.into for one in design.finishes if one.edge.edge == f"{shield}.start" and one.into}
    sewn = [join for join in design.joins if join.name in into]
    return {(ref.piece, ref.edge) for ref in chain(*(join.a.edges for join in sewn))}


def _zip(edge: Join, shield: StripPiece, long: float, say: Say) -> tuple[str, ...]:
    facing = edge.b.edges[0].piece
    return (
        f"The crotch seam must be sewn up to the lower end of {edge.name}, and the free edge of "
        f"{facing} bound or neatened.",
        f"Fold {shield.name} along its fold line, right side out; its long edges are sewn as one.",
        f"Lay the zip, {say(long)} long, face down on {facing}, and sew that tape to it alone.",
        f"On the other front turn the allowance of the edge under. Lay it beside the teeth of the "
        f"other tape, {shield.name} beneath with its raw long edges towards the allowance, and "
        "stitch through all three.",
        f"Close the zip and topstitch {facing} down from outside, along its bound edge, "
        f"{shield.name} folded out of the way. Bar the lower end, {shield.name} caught in it. "
        "Hand-turn the wheel over a metal zip: a needle that meets a tooth breaks and flies.",
    )


def folded_bands(design: Design) -> set[str]:
    """Waistbands that are folded, and closed once for all their free edges."""
    return {one.name for one in design.pieces if isinstance(one, WaistbandPiece)}


def band_closed(name: str) -> Stage:
    """How a folded waistband is closed."""
    return Stage(
        f"Close {name}",
        (
            "Press its seam up into the band. Turn the allowance of the inner long edge under, so "
            "that it lies a little beyond the seam of the waist.",
            "Fold the band along its fold line, right sides together, sew both ends, and the "
            "overlap along its lower edge; trim the corners, and turn.",
            "Lay the inner edge over the seam, baste it, and stitch from outside in the ditch of "
            "the seam, so that the fold is caught.",
        ),
    )
