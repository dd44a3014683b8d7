"""Loops as steps of the work sheet: made, set on the waist and fixed above."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from studio.alter.kind import Say
from studio.cut.width import EVEN_MM, Width, width_between
from studio.design.design import Design
from studio.design.joins import Join
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.exchange.along import Stage
from studio.exchange.work_sheet_loop_figures import (
    LOOP_STITCH,
    made_figure,
    placed_figure,
    upper_figure,
)
from studio.pattern import Pattern
from studio.sew import SewnPiece
from studio.sew.legs import is_other_leg
from studio.sew.loop_places import Placed, placed, places_in_all
from studio.sew.loops import waists_of
from studio.sew.sewn import MeasuredJoin


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


def placed_loops(pattern: Pattern) -> dict[str, Placed]:
    """Loops that are spread round a waist, by the name of each join that sews a part of it."""
    design = pattern.design
    waists = waists_of(design.pieces, design.joins, design.finishes)
    return placed(waists, pattern.measured_by_name())


def loops_before(
    join: Join,
    pattern: Pattern,
    pieces: Mapping[str, SewnPiece],
    told: set[str],
    say: Say,
) -> Iterator[Stage]:
    """Loops that are caught in a join, made before it and laid where they are caught. `told` are
    kinds of loops that were made before, or laid on the same seam of the other leg.
    """
    design = pattern.design
    measured = pattern.measured_by_name()
    here = placed_loops(pattern).get(join.name)
    for name, strip in folded_strips(design).items():
        if not _is_caught_here(name, join, design, here):
            continue
        if name not in told:
            told.add(name)
            yield _made(strip, say)
        legs = {join.name, *(one.name for one in design.joins if is_other_leg(one, join))}
        if join.name in measured and told.isdisjoint(f"{name} in {seam}" for seam in legs):
            told.add(f"{name} in {join.name}")
            yield from _places(strip, measured[join.name], here, design, pieces, say)


def _is_caught_here(loop: str, join: Join, design: Design, placed: Placed | None) -> bool:
    """True where a join is named for loops, or some of those spread round a waist lie in it."""
    if placed is not None and placed.places.get(loop):
        here = next(one for one in placed.run if one.join.name == join.name)
        return bool(placed.within(here, loop))
    return any(one.edge.piece == loop and one.into == join.name for one in design.finishes)


def _made(strip: StripPiece, say: Say) -> Stage:
    return Stage(
        f"Make {strip.name}",
        (
            f"Fold each of the {strip.count} along its two fold lines, right side out, one raw "
            "edge inside, the other beneath, and press. Topstitch both long edges at "
            f"{say(LOOP_STITCH)}.",
            "The figure shows a strip with its folds, the loop when it is stitched, and how it is "
            "folded, seen from its end.",
        ),
        made_figure(strip),
    )


def _places(
    strip: StripPiece,
    join: MeasuredJoin,
    placed: Placed | None,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    say: Say,
) -> Iterator[Stage]:
    """Where belt loops are laid on the waist, by their notches, or by eye where there are none; of
    a waist that is sewn front and back apart, those of one of them.
    """
    name, seam = strip.name, join.join.name
    others = [one.name for one in design.joins if is_other_leg(one, join.join)]
    hang = (
        "Lay each right side down on the right side of the trousers, hanging down, its end level "
        f"with the raw edge of the waist, and baste it; the end is caught in {seam}"
        f"{''.join(f', or in {other}' for other in others)}."
    )
    all_of_it = () if placed is None else placed.places.get(name, ())
    if placed is None or not all_of_it:
        yield _by_eye(name)
        return
    along = placed.within(join, name)
    if not along:
        return
    apart = [mm for mm in along if mm > 0.0]
    told = ["One sits at the centre back, on the seam."] if len(apart) < len(along) else []
    if apart:
        begins = placed.begins(join)
        told.append(
            f"The middles of the {'others' if told else 'loops'} lie "
            f"{' and '.join(say(mm - begins) for mm in apart)} from the "
            f"{'side' if begins else 'centre back'}, measured along the sewing line of the waist, "
            "on either side. They are notched there, on the trousers and on the band."
        )
    told.append(hang)
    marked = places_in_all(all_of_it)
    if marked != strip.count:
        told.insert(-1, f"{strip.count} are cut, and {marked} places are marked: see to the rest.")
    title = f"Place {name}"
    if len(placed.run) > 1:
        title += f", {_panel_of(join)}"
    yield Stage(title, tuple(told), placed_figure(strip, join, placed, pieces, say))


def _by_eye(name: str) -> Stage:
    where = (
        "Spread them round the waist, the first at the centre back, the front ones clear of "
        "the fly and where a pocket's mouth is not in their way."
    )
    hang = (
        "Lay each right side down on the right side of the trousers, hanging down, its end "
        "level with the raw edge, and baste it; the end is caught in the seam by which the "
        "band is sewn on."
    )
    return Stage(f"Place {name}", (where, hang))


def _panel_of(join: MeasuredJoin) -> str:
    ground = join.a.stretches[0].ground
    return ground.panel if ground is not None else join.join.name


def loop_ends(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    """The upper ends of belt loops, last of all."""
    for name, strip in folded_strips(pattern.design).items():
        width, is_even = _band_width(name, pattern, pieces)
        sentences = [
            "Lay each up over the finished band, with room for the belt, turn its end under, "
            "and stitch it down at the band's top, to and fro.",
        ]
        drawing = None
        if width is not None:
            room = strip.length - width
            if room > 0.0:
                sentences.append(
                    f"Each is {'' if is_even else 'at least '}{say(room)} longer than the band is "
                    "wide: that is the room, below or above it, for a thick belt."
                )
            sentences.append("The figure is a section through the band: outside left.")
            drawing = upper_figure(width, max(room, 0.0))
        yield Stage(f"Upper ends of {name}", tuple(sentences), drawing)


def _band_width(
    loop: str, pattern: Pattern, pieces: Mapping[str, SewnPiece]
) -> tuple[float | None, bool]:
    """How wide the band is over which a loop is laid, mm, and whether it is so all along: as
    folded, or, of one cut off the top, from the edge by which it is sewn on up to the waist where
    that is farthest. None where there is none.
    """
    widths: list[Width] = []
    into = {one.into for one in pattern.design.finishes if one.edge.piece == loop}
    folded = {
        one.name: one.width for one in pattern.design.pieces if isinstance(one, WaistbandPiece)
    }
    for join in pattern.measured:
        if join.join.name not in into:
            continue
        for stretch in (*join.b.stretches, *join.a.stretches):
            if stretch.piece in folded:
                return folded[stretch.piece], True
            chain = stretch.edge.chain
            widths += [
                width_between(chain, edge.chain)
                for edge in pieces[stretch.piece].piece.outline
                if edge.name.endswith(".waist") and edge.name != stretch.edge.name
            ]
    if not widths:
        return None, False
    most = max(one.most for one in widths)
    return most, most - min(one.least for one in widths) <= EVEN_MM


def is_tube(join: Join) -> bool:
    """True for a strip whose long edges are sewn to each other."""
    return join.construction == "plain" and len(join.pieces) == 1
