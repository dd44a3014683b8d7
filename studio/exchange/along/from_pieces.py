"""The pieces as stages: what is traced, what is closed, what is added round it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from studio.alter.kind import Say
from studio.curves import Chain
from studio.cut import Piece
from studio.cut.width import width_between
from studio.design import PanelPiece, ShapePiece
from studio.design.joins import Finish
from studio.design.pieces import FacingPiece, PieceRecipe, StripPiece, WaistbandPiece
from studio.exchange.along.figures import figure
from studio.exchange.along.stage import Stage, Stroked
from studio.exchange.along.words import plainly
from studio.exchange.arrange import cut_box
from studio.exchange.marks import cut_words, dart_lines, slits
from studio.numbers import LengthUnit
from studio.sew import SewnPiece
from studio.sew.constructions import finished
from studio.sew.short import short_in


def piece_stage(
    recipe: PieceRecipe,
    sewn: SewnPiece,
    say: Say,
    panels: tuple[str, ...],
    unit: LengthUnit = "mm",
    finishes: Sequence[Finish] = (),
) -> Stage:
    """The stage that traces a piece and adds its allowances; `say` tells lengths in `unit`,
    `finishes` are those of the design.
    """
    piece = sewn.piece
    sentences = [*_traced(recipe, sewn, say), _allowances(sewn, say)]
    sentences += _folded(piece.name, finishes, say)
    if sewn.notches:
        count = "one notch" if len(sewn.notches) == 1 else f"{len(sewn.notches)} notches"
        sentences.append(
            f"Cut {count} where the figure shows, to meet the notches of the piece sewn to this "
            "one."
        )
    sentences += [
        f"Less allowance at {said}: cut to the inner line." for said in short_in(sewn, unit)
    ]
    sentences.append(f"Mark the grain; {cut_words(piece)} from {piece.cloth}.")
    lines = [Stroked(edge.chain, "drawn") for edge in piece.outline]
    lines += [Stroked(edge.chain, "cut") for edge in sewn.cut_line]
    lines += [Stroked(mark.chain, "dashed") for mark in piece.marks]
    lines += [Stroked(line, "dashed") for line in (*dart_lines(piece.darts), *sewn.folds)]
    lines += [
        Stroked(Chain.straight(*slit), "cut") for notch in sewn.notches for slit in slits(notch)
    ]
    lines.append(Stroked(Chain.straight(*sewn.grain), "dashed"))
    box = cut_box(sewn)
    return Stage(
        f"Take off the piece {piece.name}",
        tuple(plainly(sentence, piece.panel, panels) for sentence in sentences),
        figure(lines, (), (), box),
    )


def _traced(recipe: PieceRecipe, sewn: SewnPiece, say: Say) -> list[str]:
    piece = sewn.piece
    if isinstance(recipe, WaistbandPiece):
        box = piece.outline.box
        long, wide = max(box.width, box.height), min(box.width, box.height)
        overlap = f"{say(recipe.overlap)} of it for the overlap, "
        if not piece.outline.has(f"{piece.name}.overlap"):
            overlap = ""
        return [
            f"Rule a rectangle {say(long)} long, {overlap}and {say(wide)} wide; it is folded along "
            "its middle."
        ]
    if isinstance(recipe, StripPiece):
        folded = f", folded in {recipe.folded} along its length" if recipe.folded > 1 else ""
        size = f"{say(piece.outline.box.width)} long and {say(recipe.width)} wide"
        return [f"Rule a rectangle {size}{folded}."]
    if isinstance(recipe, FacingPiece):
        return _turned_over(recipe, say)
    if isinstance(recipe, ShapePiece):
        return [f"Trace the outline of {recipe.line}, and the grain of the panel with it."]
    round_it = ", ".join(dict.fromkeys(edge.name for edge in piece.outline))
    sentences = [f"On the {recipe.panel}, trace the part that lies between {round_it}."]
    if recipe.close_darts:
        sentences.append(_closed(recipe, piece, say))
    sentences += _rest(recipe, say, sewn)
    if recipe.over and recipe.ends is not None:
        sentences.append(
            f"Fold the paper along the centre front and trace the first {say(recipe.ends.overlap)} "
            "of the piece beyond it, for the overlap; unfold it."
        )
    if recipe.over:
        sentences.append("Turn it over: it is the other leg's.")
    if recipe.marks:
        sentences.append(f"Mark on it {', '.join(recipe.marks)}.")
    return sentences


def _closed(recipe: PanelPiece, piece: Piece, say: Say) -> str:
    """What becomes of the darts in a yoke or a band, and of its long edges then."""
    shut = "Cut the darts out of it, tape them shut leg to leg, and redraw its"
    top, lows = f"{recipe.panel}.waist", [bound.line for bound in recipe.bounds]
    if len(lows) == 1 and piece.outline.has(top) and piece.outline.has(lows[0]):
        width = width_between(*(piece.outline.edge(name).chain for name in (top, lows[0])))
        if width.is_even:
            return f"{shut} top fair; draw its lower edge {say(width.most)} off that all along."
    return f"{shut} long edges fair."


def _turned_over(recipe: FacingPiece, say: Say) -> list[str]:
    """How a facing is traced off what it faces."""
    traced = (
        f"Trace the outline of {recipe.of}, and its grain, and turn the paper over: this piece "
        "lies inside that one."
    )
    if recipe.less == 0.0:
        return [traced]
    return [
        traced,
        f"Draw its edge {' and '.join(recipe.along)} again, as long as it is, {say(recipe.less)} "
        "further in, so that the seam it is turned along rolls inwards.",
    ]


def _rest(recipe: PanelPiece, say: Say, sewn: SewnPiece) -> list[str]:
    """What becomes of darts cut through by its upper edge; nothing where the piece does not reach
    the edge at which that is taken off.
    """
    if recipe.rest_at == "none":
        return []
    edge = f"{recipe.panel}.{recipe.rest_at}"
    length = sum(one.length for one in sewn.piece.outline if one.name == edge)
    if not length:
        return []
    return [
        f"What the cut leaves of a dart is not sewn: take its width off at {edge} instead, on the "
        f"upper edge, running smooth into the old line at the {recipe.rest_level} line. "
        f"It then measures {say(length)}."
    ]


def _allowances(sewn: SewnPiece, say: Say) -> str:
    """The commonest width all round, and where another is added."""
    widths = [round(width, 3) for width in sewn.allowances]
    usual, _ = Counter(widths).most_common(1)[0]
    others: dict[float, list[str]] = {}
    for edge, width in zip(sewn.piece.outline, widths, strict=True):
        if width != usual:
            others.setdefault(width, []).append(edge.name)
    if usual == 0.0 and not others:
        return "No allowance is added: it is cut on the line."
    but = " and ".join(
        f"{say(width) if width else 'nothing'} at {', '.join(dict.fromkeys(names))}"
        for width, names in others.items()
    )
    if usual == 0.0:
        return f"Add {but}; the rest is cut on the line."
    return f"Add {say(usual)} all round{f', but {but}' if but else ''}."


def _folded(piece: str, finishes: Sequence[Finish], say: Say) -> Iterator[str]:
    """How the seams beside an edge that is turned in are cut: with the paper folded as the cloth
    will be, so that every layer is as wide as what it lies on.
    """
    for finish in finishes:
        kind, edge = finished(finish), finish.edge.edge
        if finish.edge.piece != piece or not kind.folds_up:
            continue
        high = kind.turn_up
        if high > 0.0:
            yield (
                f"The turn-up at {edge}: draw one line {say(high)} beyond it, and one "
                f"{say(2.0 * high)} beyond it. Before the edges beside it are cut, fold the paper "
                f"along the nearer line to the back, then along {edge} to the front; cut them "
                "through all layers, and unfold."
            )
        else:
            yield (
                f"Before the edges beside {edge} are cut, fold the paper to the back along it; cut "
                "them through both layers, and unfold."
            )
