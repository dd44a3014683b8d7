"""Split a dart: two darts side by side take the intake of one."""

from __future__ import annotations

import msgspec

from studio import numbers
from studio.alter.closing import (
    closed_stretches,
    closing_moves,
    dart_of,
    darts_on,
    reopened,
    with_edge,
)
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Dart, Panel, Pleat
from studio.curves import Affine, Chain, Point, turn_between
from studio.design.alterations import SplitDart
from studio.errors import GeometryRefused


class SplitDartKind(Kind[SplitDart]):
    """Both new darts lie along the old one's line, their angles add up to its angle, and they
    stand so that the edge's far end stays where it was. They are called `<dart>-a` and `-b`.
    """

    title = "Split a dart"
    fields = (
        Field("dart", "Dart", "dart"),
        Field("apart", "Apart", least=5.0),
        Field("share", "First takes", "share"),
    )

    def do(self, panel: Panel, step: SplitDart) -> Panel:
        """Raises GeometryRefused when the darts would leave the edge or run into each other."""
        dart = dart_of(panel, step.dart)
        if not 0.0 < step.share < 1.0:
            raise GeometryRefused("Each dart takes a share between 0 and 1.", where=dart.name)
        chain = panel.outline.edge(dart.edge).chain
        darts = darts_on(panel, dart.edge)
        closed = Chain(
            tuple(c for stretch in closed_stretches(chain, darts) for c in stretch.cubics)
        )
        shut: list[_Shut] = []
        for known, move in zip(darts, closing_moves(darts), strict=False):
            one = _shut(known, move)
            shut += _split(one, closed, step) if known is dart else [one]
        redrawn, placed = reopened(closed, _opened(shut, dart.edge), chain.start, chain.end)
        return with_edge(panel, dart.edge, redrawn, placed)

    def sentence(self, step: SplitDart, say: Say = numbers.length) -> str:
        """Which dart, how far apart, in which shares."""
        shares = f"{numbers.percent(step.share)} and {numbers.percent(1.0 - step.share)}"
        return f"Split {step.dart} into two, {say(step.apart)} apart, with {shares} of its intake."

    def axes(self, panel: Panel, step: SplitDart) -> dict[str, Axis]:
        """Pulled along the mouth, from the first new dart's place."""
        dart = dart_of(panel, step.dart)
        along = (dart.last - dart.first).unit()
        middle = dart.first.toward(dart.last, 0.5)
        return {"apart": Axis(middle + along * (-step.apart * (1.0 - step.share)), along)}

    def drafting(self, panel: Panel, step: SplitDart, say: Say = numbers.length) -> Drafting:
        """Two new middles and their intakes."""
        dart = dart_of(panel, step.dart)
        made = self.do(panel, step)
        one, two = (dart_of(made, f"{dart.name}-{which}") for which in "ab")
        return Drafting(
            (
                one.point,
                two.point,
                one.first.toward(one.last, 0.5),
                two.first.toward(two.last, 0.5),
            ),
            (
                f"Beside the middle of {dart.name} draw two lines along it, {say(step.apart)} "
                "apart, from {2} to {0} and from {3} to {1}, as long as the dart.",
                f"Draw a dart on each: {say(one.intake)} wide at {{2}}, {say(two.intake)} at "
                "{3}. Rub the old dart out; fold both shut and true the edge over them.",
            ),
        )

    def fresh(self, panel: Panel) -> SplitDart:
        """The first dart, in halves."""
        if not panel.darts:
            raise GeometryRefused(f"{panel.name} has no dart.", where=panel.name)
        return SplitDart(panel.name, panel.darts[0].name, 30.0)


class _Shut(msgspec.Struct, frozen=True):
    """A dart of the closed edge: where its legs meet the edge, its point, its closing turn, and how
    it is folded where it is a pleat.
    """

    name: str
    seam: Point
    point: Point
    turn: float
    pleat: Pleat | None


def _shut(dart: Dart, move: Affine) -> _Shut:
    turn = turn_between(dart.last - dart.point, dart.first - dart.point)
    return _Shut(dart.name, move(dart.first), move(dart.point), turn, dart.pleat)


def _split(dart: _Shut, closed: Chain, step: SplitDart) -> list[_Shut]:
    """Two darts along the old one's line, their turns about one common centre."""
    along = closed.distance_of(dart.seam)
    axis = dart.point - dart.seam
    places = along - step.apart * (1.0 - step.share), along + step.apart * step.share
    if places[0] <= 0.0 or places[1] >= closed.length:
        raise GeometryRefused(
            f"{dart.name} cannot be split {numbers.length(step.apart)} apart: the edge ends "
            "before.",
            where=dart.name,
            exact=(step.apart,),
        )
    found = []
    for place, which, share in zip(places, "ab", (step.share, 1.0 - step.share), strict=True):
        seam = closed.at(place)
        turn = dart.turn * share
        found.append(_Shut(f"{dart.name}-{which}", seam, seam + axis, turn, dart.pleat))
    return found


def _opened(shut: list[_Shut], edge: str) -> list[Dart]:
    """Darts of a closed edge opened one after the other from its start."""
    open_ = Affine()
    found = []
    for dart in shut:
        beyond = Affine.turn(-dart.turn, dart.point).then(open_)
        found.append(
            Dart(
                dart.name,
                edge,
                open_(dart.seam),
                beyond(dart.seam),
                open_(dart.point),
                dart.pleat,
            )
        )
        open_ = beyond
    return found
