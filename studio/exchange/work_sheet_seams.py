"""A seam, an edge or the darts of a piece as a step of the work sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

from msgspec.structs import replace

from studio.alter.kind import Say
from studio.block.panel import Dart, Pleat
from studio.curves import Chain
from studio.cut.facing import facings
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import StripPiece
from studio.exchange.adding_up import EACH_ROUNDED, adds_up
from studio.exchange.along import Figure, Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.marks import dart_lines
from studio.exchange.work_sheet_figures import (
    START,
    centre_figure,
    drawn_shut,
    edge_figure,
    notches_met,
    other_leg,
    seam_figure,
)
from studio.exchange.work_sheet_fly import Fly
from studio.exchange.work_sheet_how import how_words, is_covered, is_faced_by
from studio.exchange.work_sheet_loop_figures import hung, tube_figure
from studio.exchange.work_sheet_loops import folded_strips, is_tube
from studio.sew import SewnPiece, darts_name
from studio.sew.allowance import asked_sides, finish_allowance, finish_rows, sides_rows
from studio.sew.constructions import CONSTRUCTIONS, finished
from studio.sew.edge_words import edge_of_piece, edge_words
from studio.sew.legs import is_centre, is_other_leg
from studio.sew.loop_places import Placed
from studio.sew.pressing import PRESSED
from studio.sew.sewn import MeasuredJoin
from studio.sew.thread import times_sewn
from studio.sew.walk import Walk


def seam_stage(
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    flies: Sequence[Fly],
    why: Sequence[str],
    done: Set[str],
    placed: Placed | None,
    say: Say,
) -> Stage:
    """A join, sentence by sentence, with its figure; `done` are the steps before it, `placed` the
    loops spread round the waist of which it sews a part.
    """
    asked, standard = join.join, design.standard_allowance
    kind = CONSTRUCTIONS[asked.construction]
    walk = Walk(join, pieces)
    fly = next((one for one in flies if one.opening.shielded == asked), None)
    said = how_words(asked, design, pieces, done)
    if fly is not None:
        said = fly.shield_words(say)
    sentences = [f"Sew {_what(asked, design)}: {kind.title.lower()}, {_each(join, pieces)}."]
    sentences.append(_length_words(join, standard, say))
    sentences += _trimmed(join, design, pieces, say)
    if said:
        sentences.append(said)
    if kind.chooses_wrap:
        sentences.append(_wrap_words(asked))
    rows = [row for side in sides_rows(asked, standard) for row in side]
    if rows:
        sentences.append(_stitched(rows, say))
    places = [say(along) for along in notches_met(walk)]
    if places and not is_tube(asked):
        meet = "meet stitching or drilled places beneath," if walk.lays_on else "meet"
        sentences.append(f"Notches {meet} at {', '.join(places)} from {START}.")
    if is_covered(asked, design):
        sentences.append("Sew it to the outer layer only and keep the facing clear.")
    caught = list(_caught(join, design, pieces, placed, say))
    if caught:
        sentences.append(f"Catch in it: {'; '.join(caught)}.")
    sentences += [f"Why now: {_capital(reason)}" for reason in [*dict.fromkeys(why)][:3]]
    shut = shut_by(done, pieces)
    drawing = _drawing(walk, join, design, pieces, shut) if fly is None else fly.shield_figure()
    return Stage(_capital(asked.name), tuple(sentences), drawing)


def shut_by(done: Set[str], pieces: Mapping[str, SewnPiece]) -> set[str]:
    """The pieces whose darts are sewn when these steps are done."""
    return {name for name in pieces if darts_name(name) in done}


def on_leg(
    stage: Stage, join: MeasuredJoin, pieces: Mapping[str, SewnPiece], legs: Mapping[str, str]
) -> Stage:
    """The step with the leg it is sewn on, where that is one of two: as drawn, or the other."""
    paired = [
        (ref.piece, side.mirrored)
        for side in (join.join.a, join.join.b)
        for ref in side.edges
        if pieces[ref.piece].piece.cut == "pair"
    ]
    if is_centre(join.join) or times_sewn(join, pieces) == 2 or not paired:
        return stage
    piece, mirrored = paired[0]
    as_drawn = legs.get(pieces[piece].piece.panel, "")
    if not as_drawn:
        return stage
    leg = as_drawn if not mirrored else {"left": "right", "right": "left"}[as_drawn]
    first, *rest = stage.sentences
    said = f"It belongs to the {leg} leg, as worn."
    return replace(stage, sentences=(first, said, *rest))


def darts_stage(sewn: SewnPiece, say: Say) -> Stage:
    """Every dart of a piece, as it is pinned and sewn, and every pleat, as it is folded."""
    piece = sewn.piece
    ordered = sorted(piece.darts, key=lambda dart: dart.name)
    darts = [dart for dart in ordered if dart.pleat is None]
    sentences: list[str] = []
    if darts:
        said = [
            f"{_wide(dart, piece, say)}, "
            f"{say(dart.point.distance_to(dart.first.toward(dart.last, 0.5)))} long"
            for dart in darts
        ]
        sentences += [
            f"Sew {'; '.join(said)}.",
            "Fold each right sides together, its two notches on each other, and sew from the edge "
            f"to the drilled point, running out to nothing; {_in_all(piece.quantity)}.",
            PRESSED,
        ]
    for dart in ordered:
        if dart.pleat is not None:
            sentences += _pleat_words(dart, dart.pleat, piece, say)
    lines = drawn_shut(piece)
    lines += [Stroked(line, "cut") for line in dart_lines(piece.darts)]
    name = darts_name(piece.name)
    if not darts:
        name = name.replace("darts", "pleats", 1)
    elif len(darts) < len(ordered):
        name = name.replace("darts", "darts and pleats", 1)
    return Stage(_capital(name), tuple(sentences), figure(lines, (), (), piece.outline.box))


def _wide(dart: Dart, piece: Piece, say: Say) -> str:
    at = edge_words(dart.edge, piece.panel)
    if at == dart.edge:
        at = f"the {edge_of_piece(dart.edge)}"
    return f"{dart.name}, {say(dart.intake)} wide at {at}"


def _pleat_words(dart: Dart, pleat: Pleat, piece: Piece, say: Say) -> Iterator[str]:
    """A pleat is folded as a dart is, and opens below; how it is pressed is common practice."""
    inside, outside = ("rise", "side") if pleat.towards == "rise" else ("side", "rise")
    yield (
        f"Fold {_wide(dart, piece, say)}, as a pleat: right sides together, its two notches on "
        f"each other; {_in_all(piece.quantity)}."
    )
    if pleat.down > 0.0:
        yield (
            f"Sew it {say(pleat.down)} down from the edge, to the drilled places, and secure "
            "both ends."
        )
    yield (
        f"Turn what is folded inside towards the {inside}, so that outside its edge lies towards "
        f"the {outside}; baste it flat across the edge, and press."
    )


def finish_stage(
    finishes: Sequence[Finish],
    pieces: Mapping[str, SewnPiece],
    standard: float,
    more: Sequence[str],
    why: Sequence[str],
    done: Set[str],
    say: Say,
) -> Stage:
    """An edge that is finished, or edges that are finished in one round; `more` is told of it
    beside how it is made.
    """
    finish = finishes[0]
    kind = finished(finish)
    allowance = finish_allowance(finish, standard)
    wide = f"{say(allowance)} in all" if allowance > 0.0 else "the edge has no allowance"
    high = f" {say(kind.turn_up)} high" if kind.turn_up > 0.0 else ""
    named = _said(JoinSide(tuple(one.edge for one in finishes)))
    title, on = f"Finish {named}", ""
    if len(finishes) > 2 and len({edge_of_piece(one.edge.edge) for one in finishes}) == 1:
        title, on = f"Finish the {edge_of_piece(finish.edge.edge)}", f": {named}"
    sentences = [f"{kind.title}{high}, {wide}; {_how_often(finishes, pieces)}{on}."]
    if kind.words:
        sentences.append(kind.words)
    rows = finish_rows(finish, standard)
    if rows:
        sentences.append(f"Stitch at {', '.join(map(say, rows))} from the edge.")
    sentences += more
    sentences += [f"Why now: {_capital(reason)}" for reason in why[:2]]
    shown = [
        (pieces[one.edge.piece].piece, one.edge.edge)
        for one in finishes
        if one.edge.piece in pieces
    ]
    drawing = edge_figure(shown, shut_by(done, pieces)) if shown else None
    return Stage(title, tuple(sentences), drawing)


def _how_often(finishes: Sequence[Finish], pieces: Mapping[str, SewnPiece]) -> str:
    counts = {pieces[one.edge.piece].piece.quantity for one in finishes if one.edge.piece in pieces}
    if len(finishes) > 1:
        if all(one.edge.edge.endswith(".waist") for one in finishes):
            return "all round, once"
        return "all round, once a leg" if counts == {2} else "in one round"
    return _in_all(min(counts, default=1))


def _length_words(join: MeasuredJoin, standard: float, say: Say) -> str:
    asked = join.join
    a, b = say(join.a.length), say(join.b.length)
    lengths = a if a == b else f"{a} on {b}"
    # What is eased is what is there, not what was meant: both lengths stand beside it.
    fitted = asked.ease
    if fitted and abs(join.difference - fitted) <= asked.allowed:
        fitted = join.difference
    is_there = fitted == join.difference
    by_itself = EACH_ROUNDED if is_there and not adds_up(a, b, say(fitted)) else ""
    eased = f", {say(fitted)} eased in{by_itself}" if fitted > 0.0 else ""
    if fitted < 0.0:
        eased = f", the second side {say(-fitted)} shorter{by_itself}: stretch it to fit"
    widths = [say(width) if width > 0.0 else "none" for _, width in asked_sides(asked, standard)]
    allowances = f"Allowance{'s' if len(widths) > 1 else ''} {' and '.join(widths)}"
    return f"The seam is {lengths} long{eased}. {allowances}."


def _trimmed(
    join: MeasuredJoin, design: Design, pieces: Mapping[str, SewnPiece], say: Say
) -> Iterable[str]:
    """Where a piece is cut wider than a seam asks, because of another seam along that edge."""
    if is_centre(join.join):
        return
    told = set()
    for side, width in asked_sides(join.join, design.standard_allowance):
        for ref in side.edges:
            sewn = pieces[ref.piece]
            cut = {
                edge.name: wide
                for edge, wide in zip(sewn.piece.outline, sewn.allowances, strict=True)
            }.get(ref.edge, width)
            if cut > width + 0.5 and (ref.piece, ref.edge) not in told:
                told.add((ref.piece, ref.edge))
                edge = edge_of_piece(ref.edge)
                yield (
                    f"{_capital(ref.piece)} is cut {say(cut)} wide along the {edge}, for "
                    f"another seam: trim it to {say(width)} here, where it was not done yet."
                )


def _wrap_words(join: Join) -> str:
    if is_centre(join):
        return "The double allowance wraps the single one: cut one leg double, the other single."
    wraps = _said(join.a if join.wraps == "a" else join.b)
    return f"The double allowance, of {wraps}, wraps the single one."


def _what(join: Join, design: Design) -> str:
    """What a join sews to what: both sides, or pieces and the facings that have their edges."""
    faced = facings(design.pieces)
    one, two = _said(join.a), _said(join.b)
    several = len({ref.piece for ref in join.a.edges}) > 1
    if is_faced_by(join.b, join.a, faced):
        return f"{one}{', each' if several else ''} to its facing"
    if is_faced_by(join.a, join.b, faced):
        return f"the facing{'s' if several else ''} of {two} to {'them' if several else 'it'}"
    how = ""
    if is_centre(join):
        how = ", left to right"
    elif join.b.mirrored and not join.a.mirrored:
        how = ", turned over"
    return f"{one} to {two}{how}"


def _stitched(rows: Sequence[float], say: Say) -> str:
    """Rows beside a seam; one on the seam itself is sunk into it."""
    apart = [say(row) for row in rows if row]
    said = [f"Topstitch at {', '.join(apart)} from the seam."] if apart else []
    if len(apart) < len(rows):
        said.append("Stitch in the ditch of the seam.")
    return " ".join(said)


def _caught(
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    placed: Placed | None,
    say: Say,
) -> Iterable[str]:
    """What is caught in a join, and where; of what is cut as a pair, in the same seam of the other
    leg too.
    """
    asked = join.join
    others = {one.name for one in design.joins if is_other_leg(one, asked)}
    once = times_sewn(join, pieces) == 2
    loops = folded_strips(design)
    told: set[str] = set()
    for finish in design.finishes:
        name = finish.edge.piece
        if not _is_caught(finish, join, others, placed):
            continue
        both = name in loops or (name in pieces and pieces[name].piece.cut == "pair")
        leg = _leg_of(name, design) if others else None
        if not both and (finish.into != asked.name if leg is None else leg != asked.a.mirrored):
            continue
        if name in loops:
            notched = placed is not None and placed.within(join, name)
            said = f"the lower ends of {name}{' at their notches' if notched else ''}"
        elif finish.at is not None:
            where = finish.at if finish.at >= 0.0 else join.a.length + finish.at
            said = f"both ends of {name} at {say(where)} from {START}"
            if once and name in pieces and pieces[name].piece.quantity == 1:
                said += ", on one leg only"
        else:
            said = _said(JoinSide((finish.edge,)))
            if once and not both:
                said += ", on its own leg only"
        if said not in told:
            told.add(said)
            yield said


def _is_caught(finish: Finish, join: MeasuredJoin, others: set[str], placed: Placed | None) -> bool:
    """True for what is caught in a join or in that of the other leg; of loops that are spread round
    a waist, where some lie in this part of it.
    """
    piece = finish.edge.piece
    if finish.how != "caught":
        return False
    if placed is not None and placed.places.get(piece):
        return bool(placed.within(join, piece))
    return finish.into in {join.join.name, *others}


def _leg_of(piece: str, design: Design) -> bool | None:
    """Whether a piece that is cut once is sewn to the other leg; None where no seam tells."""
    for join in design.joins:
        mine = {ref.piece for ref in join.b.edges}
        if mine == {piece} and all(ref.piece != piece for ref in join.a.edges):
            return join.a.mirrored
    return None


def _drawing(
    walk: Walk,
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    shut: Set[str],
) -> Figure:
    asked = join.join
    strips = {one.name: one for one in design.pieces if isinstance(one, StripPiece)}
    if is_centre(asked):
        return centre_figure(join, pieces, shut)
    if is_tube(asked) and asked.refs[0].piece in strips:
        return tube_figure(strips[asked.refs[0].piece])
    faced = facings(design.pieces)
    on_itself = is_faced_by(asked.a, asked.b, faced) or is_faced_by(asked.b, asked.a, faced)
    also: list[tuple[str, Chain]] = hung(walk, design.finishes, strips)
    made = seam_figure(walk, pieces, alone=on_itself, also=also, shut=shut)
    return other_leg(made) if asked.a.mirrored else made


def _in_all(quantity: int) -> str:
    return {1: "in the one piece", 2: "in both pieces"}.get(quantity, f"in all {quantity} pieces")


def _each(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> str:
    return "once a leg" if times_sewn(join, pieces) == 2 else "once"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _said(side: JoinSide) -> str:
    """Pieces of a side with their edges: "front-leg (side seam) and bearer (side seam)"."""
    said: list[tuple[str, list[str]]] = []
    for ref in side.edges:
        words = _edge_said(ref)
        if said and said[-1][0] == ref.piece:
            said[-1][1].append(words)
        else:
            said.append((ref.piece, [words]))
    return " and ".join(f"{piece} ({', '.join(edges)})" for piece, edges in said)


def _edge_said(ref: EdgeRef) -> str:
    words = edge_of_piece(ref.edge)
    if ref.before or ref.after:
        words += f" {'up to' if ref.before else 'from'} {ref.before or ref.after}"
    return words
