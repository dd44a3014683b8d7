"""A drawing read as a pair of trousers: which outline is the front and which the back, which of
their edges is which, where their level lines run. What a maker sees at a glance, so that steps,
parts and girths find on a drawn block what they find on a drafted one.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.block.imported import chain_of, drawn_panel, mirrored_panel, turned_panel
from studio.block.panel import Dart, Panel
from studio.curves import Affine, Chain, Edge, Outline, Point, Vector, turn_between
from studio.design.block import DrawnPanel, ImportedBlock
from studio.design.design import Design
from studio.design.pieces import PanelPiece, PieceRecipe
from studio.design.plain import sewn_plainly
from studio.errors import GeometryRefused

HEM_SLOPE = 0.2
"""A hem rises no more than this for its width: the panel stands upright, the grain up the page."""

TOP_SHARE, FORK_SHARE = 0.8, 0.1
"""Corners of a waist lie above the first share of a panel's height, since a waist is nearly level;
a fork lies between the two, also on shorts (practice)."""

FORK_TURN = 40.0
"""Degrees an outline turns at its fork, at least: a knee or a hip drawn with a corner turns less
(practice)."""

HIP_SHARE = 1.0 / 3.0
"""The hip line above the crotch line, as a share of the body rise (practice)."""

KNEE_UP_MM = 50.0
"""The knee line above the middle between crotch and hem (practice)."""

KNEE_FROM = 1.4
"""Of the body rise: legs shorter than this from crotch to hem end above the knee, on a child as on
an adult (practice).
"""

ASKEW_DEGREES = 2.0
"""A hem that is off level by more may be that of a drawing that lies askew (practice)."""

_TURNS = ((0.0,), (0.0, 180.0), (0.0, 180.0, 90.0, -90.0))
"""Degrees by which a panel may be turned to stand upright: not at all, as one that is laid head to
foot beside another, as on paper that lies along the roll."""

_FORK_MM = 25.0
"""From the fork on, over this length, it is seen which way rise and inseam leave it."""

_DART_LEAST_MM = 30.0
_LEGS_WITHIN_MM = 2.0
"""Two straight edges that run into the panel and back are a dart when they are this long at least
and as long as each other within this: digitised by hand (practice)."""


_SPOKEN_OF = ("alterations", "lines", "joins", "finishes", "corners", "topstitching")
"""Parts of a design that speak of edges by their names."""


class _Known(msgspec.Struct, frozen=True):
    """A panel whose edges were told apart: its roles in order, its darts with the role they open
    on, its fork and its hem's middle, and whether and by how much it was turned or mirrored.
    """

    roles: tuple[tuple[str, Chain], ...]
    darts: tuple[tuple[str, Point, Point, Point], ...]
    fork: Point
    foot: Point
    area_mm2: float
    turned: float = 0.0
    mirrored: bool = False

    def chain(self, role: str) -> Chain:
        """The edge of a role."""
        return dict(self.roles)[role]

    @property
    def waist_at_side(self) -> Point:
        """The top of the side seam."""
        side = self.chain("side")
        return side.end if side.start.y < side.end.y else side.start


def as_trousers(design: Design) -> Design:
    """A design as it came from a drawing, two of its panels called front and back, their edges hem,
    side, waist, rise and inseam, with level lines and darts, its plain seams joined. Shapes stay as
    they were drawn; each of the two is only shifted, the middle of its hem to the origin, and
    turned by a half or a quarter when it does not stand upright, and mirrored when it is seen
    from inside, which is noted. Other outlines
    of the drawing, a pocket or a band, stay what they are.

    Raises:
        GeometryRefused: the drawing does not hold just two such panels, another of its outlines is
            called front or back, or something was drawn on them, joined or finished before.
    """
    block = design.block
    if not isinstance(block, ImportedBlock):
        raise GeometryRefused("The block was drafted: its edges have their names.")
    if any(getattr(design, spoken) for spoken in _SPOKEN_OF):
        raise GeometryRefused(
            "Edges are named before steps, lines, seams and finishes speak of them."
        )
    legs = _legs(block.panels)
    known = [panel for panel, _ in legs]
    others = tuple(panel for panel in block.panels if all(panel is not one for one in known))
    pieces = tuple(one for one in design.pieces if _panel_of(one) not in {p.name for p in known})
    _refuse_called_alike(others, pieces)
    notes = (*block.notes, *_notes(legs))
    drawn = replace(block, panels=(*_both(legs), *others), notes=notes)
    made = sewn_plainly(replace(design, block=drawn))
    return replace(made, pieces=(*made.pieces, *pieces))


def _panel_of(piece: PieceRecipe) -> str:
    return piece.panel if isinstance(piece, PanelPiece) else ""


def _refuse_called_alike(others: Sequence[DrawnPanel], pieces: Sequence[PieceRecipe]) -> None:
    names = {one.name for one in (*others, *pieces)}
    names |= {edge.name.partition(".")[0] for panel in others for edge in panel.edges}
    for name in ("front", "back"):
        if name in names:
            raise GeometryRefused(
                f"Another outline of the drawing is called {name}. Call it otherwise first.",
                where=name,
            )


def recognised(panels: Sequence[DrawnPanel]) -> tuple[DrawnPanel, DrawnPanel]:
    """Front and back among the panels of a drawing, in that order.

    The larger is the back. Levels are those of the front, for both.

    Raises:
        GeometryRefused: not just two of them look like the leg of a pair of trousers.
    """
    return _both(_legs(panels))


def _legs(panels: Sequence[DrawnPanel]) -> list[tuple[DrawnPanel, _Known]]:
    """The panels that are front and back, in that order, with what is known of them."""
    for turns in _TURNS:
        known, reasons = [], []
        for panel in panels:
            try:
                known.append((panel, _stood_up(panel, turns)))
            except GeometryRefused as refusal:
                reasons.append(f"{panel.name}: {refusal.message}")
        if len(known) == 2:
            break
    if len(known) != 2:
        told = f" {' '.join(reasons)}" if reasons else ""
        raise GeometryRefused(
            f"{len(known)} of {len(panels)} outlines look like a front or a back, and two are "
            f"needed.{told}"
        )
    front, back = sorted(known, key=lambda one: one[1].area_mm2)
    return [_facing(front, "side"), _facing(back, "inseam")]


def _facing(leg: tuple[DrawnPanel, _Known], follows: str) -> tuple[DrawnPanel, _Known]:
    """A leg whose hem is followed, counter-clockwise, by this seam: else it is mirrored. Front and
    back of one leg, both seen from outside, lie so; joins and notches are measured by it.
    """
    panel, known = leg
    if known.roles[1][0] == follows:
        return leg
    turned = turned_panel(panel, known.turned) if known.turned else panel
    other = _known(mirrored_panel(turned))
    return panel, replace(other, turned=known.turned, mirrored=True)


def _both(legs: Sequence[tuple[DrawnPanel, _Known]]) -> tuple[DrawnPanel, DrawnPanel]:
    """Front and back with their names and level lines."""
    front, back = (known for _, known in legs)
    waist = front.waist_at_side.y - front.foot.y
    crotch = front.fork.y - front.foot.y
    levels = {
        "waist": waist,
        "hip": crotch + HIP_SHARE * (waist - crotch),
        "crotch": crotch,
        "hem": 0.0,
    }
    if crotch >= KNEE_FROM * (waist - crotch):
        levels["knee"] = crotch / 2.0 + KNEE_UP_MM
    return _named(front, "front", levels), _named(back, "back", levels)


def _notes(legs: Sequence[tuple[DrawnPanel, _Known]]) -> Iterator[str]:
    """What a maker should know of how the legs were taken."""
    for (_, known), name in zip(legs, ("front", "back"), strict=True):
        if known.turned:
            yield f"{name}: turned by {numbers.angle(abs(known.turned), 0)} to stand upright"
        if known.mirrored:
            yield f"{name}: mirrored, so that front and back lie as they are sewn"
        hem = known.chain("hem")
        along = hem.end - hem.start
        askew = abs(math.degrees(math.atan2(along.y, along.x)))
        if askew > ASKEW_DEGREES:
            yield (
                f"{name}: its hem is {numbers.angle(askew)} off level, and its grain is "
                "taken straight up the page; a line on a layer called grain says otherwise"
            )


def _named(known: _Known, name: str, levels: dict[str, float]) -> DrawnPanel:
    move = Affine.shift(Point(0.0, 0.0) - known.foot)
    outline = Outline.of(
        Edge.whole(f"{name}.{role}", chain.transformed(move)) for role, chain in known.roles
    )
    darts = tuple(
        Dart(
            _dart_name(name, number, len(known.darts)),
            f"{name}.{role}",
            move(first),
            move(last),
            move(point),
        )
        for number, (role, first, last, point) in enumerate(known.darts, start=1)
    )
    return drawn_panel(Panel(name, outline, darts, levels))


def _dart_name(panel: str, number: int, count: int) -> str:
    """As on a drafted block."""
    return "front-dart" if panel == "front" and count == 1 else f"{panel}-dart-{number}"


def _stood_up(panel: DrawnPanel, turns: Sequence[float]) -> _Known:
    """What is known of a panel in the first of the turns in which it stands as a leg; raises the
    refusal of the first.
    """
    refusals = []
    for degrees in turns:
        try:
            known = _known(turned_panel(panel, degrees) if degrees else panel)
        except GeometryRefused as refusal:
            refusals.append(refusal)
        else:
            return replace(known, turned=degrees)
    raise refusals[0]


def _known(panel: DrawnPanel) -> _Known:
    """The roles of a panel's edges; raises GeometryRefused with what is not as on a leg."""
    chains = _from_hem([chain_of(edge) for edge in panel.edges])
    hem, others = chains[0], chains[1:]
    low = min(hem.start.y, hem.end.y)
    height = max(chain.start.y for chain in chains) - low
    if height <= 0.0:
        raise GeometryRefused("all of its corners lie level.")
    corners = [chain.start for chain in others[1:]]
    foot = hem.start.toward(hem.end, 0.5)
    heights = [(corner.y - low) / height for corner in corners]
    turns = [
        turn_between(before.end_tangent, after.start_tangent)
        for before, after in itertools.pairwise(others)
    ]
    forks = [
        k
        for k, share in enumerate(heights)
        if FORK_SHARE < share < TOP_SHARE and turns[k] > FORK_TURN
    ]
    tops = [k for k, share in enumerate(heights) if share >= TOP_SHARE]
    if not forks or len(tops) < 2:
        raise GeometryRefused("it has no corner at a fork, or no two at a waist.")
    fork = max(forks, key=lambda k: turns[k])
    first, last = tops[0], tops[-1]
    if first <= fork <= last:
        raise GeometryRefused("its fork lies in its waist.")
    names = ("inseam", "rise", "waist", "side")
    cuts = [fork, first, last]
    if fork > last:
        names, cuts = ("side", "waist", "rise", "inseam"), [first, last, fork]
    bounds = [0, *(cut + 1 for cut in cuts), len(others)]
    runs = {
        name: others[one:two]
        for name, (one, two) in zip(names, itertools.pairwise(bounds), strict=True)
    }
    _refuse_on_its_head(runs)
    waist, cut_in = _darts_out(runs["waist"])
    runs["waist"] = waist
    darts = (*(("waist", *dart) for dart in cut_in), *_drawn_darts(panel, runs))
    roles = (("hem", hem), *((name, _one(runs[name])) for name in names))
    if dict(roles)["side"].length < dict(roles)["waist"].length:
        raise GeometryRefused("its side is shorter than its waist: it should stand upright.")
    outline = Outline.of(Edge.whole(name, chain) for name, chain in roles)
    ordered = tuple(sorted(darts, key=lambda dart: _place_of(dict(roles), dart)))
    return _Known(tuple(roles), ordered, corners[fork], foot, outline.area_mm2)


def _place_of(roles: dict[str, Chain], dart: tuple[str, Point, Point, Point]) -> tuple[str, float]:
    return dart[0], roles[dart[0]].distance_of(dart[1])


def _refuse_on_its_head(runs: dict[str, list[Chain]]) -> None:
    """At the fork the rise leaves nearly level, the inseam nearly upright: else the two are each
    other, and what looks like a hem is a waist.
    """
    steep = {}
    for name in ("rise", "inseam"):
        chain, other = _one(runs[name]), _one(runs["inseam" if name == "rise" else "rise"])
        away = chain if chain.start in (other.start, other.end) else chain.reversed()
        along = away.at(min(_FORK_MM, away.length)) - away.start
        steep[name] = abs(along.y) / along.length
    if steep["rise"] > steep["inseam"]:
        raise GeometryRefused("it stands on its head.")


def _drawn_darts(
    panel: DrawnPanel, runs: dict[str, list[Chain]]
) -> Iterator[tuple[str, Point, Point, Point]]:
    """Darts that are drawn on the panel, each with the role of its edge."""
    for dart in panel.darts:
        for name, run in runs.items():
            if any(cubic.p0 == dart.first for chain in run for cubic in chain.cubics):
                yield name, dart.first, dart.last, dart.point
                break


def _from_hem(chains: list[Chain]) -> list[Chain]:
    """The edges in order from the hem; raises GeometryRefused when the lowest is none."""
    lowest = min(range(len(chains)), key=lambda k: chains[k].start.y + chains[k].end.y)
    along = chains[lowest].end - chains[lowest].start
    if along.x <= 0.0 or abs(along.y) > HEM_SLOPE * along.x:
        raise GeometryRefused("it has no level hem below: it should stand upright.")
    return chains[lowest:] + chains[:lowest]


def _darts_out(
    run: list[Chain],
) -> tuple[list[Chain], tuple[tuple[Point, Point, Point], ...]]:
    """A waist with the darts that are cut into it as mouths, and their ends and points."""
    kept: list[Chain] = []
    darts = []
    k = 0
    while k < len(run):
        if k + 1 < len(run) and _is_dart(run[k], run[k + 1]):
            first, point, last = run[k].start, run[k].end, run[k + 1].end
            kept.append(Chain.straight(first, last))
            darts.append((first, last, point))
            k += 2
        else:
            kept.append(run[k])
            k += 1
    return kept, tuple(darts)


def _is_dart(one: Chain, two: Chain) -> bool:
    down, up = one.end - one.start, two.end - two.start
    legs = (one.length, two.length)
    return (
        one.is_straight
        and two.is_straight
        and min(legs) >= _DART_LEAST_MM
        and abs(legs[0] - legs[1]) <= _LEGS_WITHIN_MM
        and down.dot(Vector(0.0, -1.0)) > 0.5 * legs[0]
        and up.dot(Vector(0.0, 1.0)) > 0.5 * legs[1]
    )


def _one(run: list[Chain]) -> Chain:
    return Chain(tuple(cubic for chain in run for cubic in chain.cubics))
