"""Open a dart where there was none: a panel is cut across and opened for a bent knee or elbow."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.along_line import opened_along
from studio.alter.closing import edge_of, level_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say, said_place
from studio.alter.opening import Cut, moving_part_first
from studio.block.panel import Dart, Panel
from studio.block.places import place_near, place_on_edge, point_at
from studio.curves import Chain, Point, level_meetings
from studio.design.alterations import OpenDart
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused

_ABOVE_KNEE_MM = 40.0


class OpenDartKind(Kind[OpenDart]):
    """The middle of the panel grows longer; its seams, sewn with the darts closed, stay as long
    as they were. Two darts are called `<dart>-a` (at the place) and `-b` (at the far end).
    """

    title = "Open a dart"
    fields = (
        Field("dart", "Dart", "word"),
        Field("intake", "Intake", least=1.0),
        Field("length", "Length", least=10.0),
        Field("at", "At", "place"),
        Field("across", "Cut across to", "place"),
        Field("both", "A dart at both ends", "yes"),
    )

    def do(self, panel: Panel, step: OpenDart) -> Panel:
        """Raises GeometryRefused when the name is taken or empty, there is no room for the length,
        or as `opened_along` does.
        """
        _refuse_names(panel, step)
        start, end = point_at(panel, step.at), point_at(panel, step.across)
        room = numbers.AtMost(start.distance_to(end) / (2.0 if step.both else 1.0))
        if step.intake <= 0.0 or not 0.0 < step.length < room:
            raise GeometryRefused(
                f"{step.dart} needs a width, and a length of less than {numbers.length(room)} "
                "there.",
                where=step.dart,
                exact=(room,),
            )
        far = step.intake if step.both else 0.0
        opened = opened_along(panel, step.at, step.across, step.intake, far, "mouth")
        ends = (step.at, step.across) if step.both else (step.at,)
        darts = tuple(
            _dart(panel, opened, step, name, place)
            for name, place in zip(_names(step), ends, strict=True)
        )
        return replace(opened, darts=(*opened.darts, *darts))

    def sentence(self, step: OpenDart, say: Say = numbers.length) -> str:
        """Where, how wide, how long."""
        where = f"at {step.at.edge}" + (f" and at {step.across.edge}" if step.both else "")
        what = f"darts {step.dart}-a and -b" if step.both else f"the dart {step.dart}"
        return (
            f"Open {what} in the {step.panel}, {say(step.intake)} wide {where}, "
            f"{say(step.length)} long."
        )

    def axes(self, panel: Panel, step: OpenDart) -> dict[str, Axis]:
        """The width is pulled square to the line, the length along it."""
        start, end = point_at(panel, step.at), point_at(panel, step.across)
        along = (end - start).unit()
        away = along.left() if along.left().y >= 0.0 else along.right()
        return {"intake": Axis(start, away), "length": Axis(start, along)}

    def drafting(self, panel: Panel, step: OpenDart, say: Say = numbers.length) -> Drafting:
        """The line, the cut, the new darts."""
        self.do(panel, step)
        cut = (
            "Cut along the line, lay paper under it, move the upper part up until the gap is "
            f"{say(step.intake)} wide at both ends, and tape both parts down."
            if step.both
            else "Cut along the line from {0} up to {1}, but not through it. Turn the upper part "
            f"about {{1}} until the cut opens by {say(step.intake)} at {{0}}, and tape paper "
            "under it."
        )
        ends = "each end" if step.both else "{0}"
        return Drafting(
            (point_at(panel, step.at), point_at(panel, step.across)),
            (
                f"Mark {{0}}, {said_place(step.at, say)}, and {{1}}, "
                f"{said_place(step.across, say)}. Draw a straight line from one to the other.",
                cut,
                f"The gap at {ends} is a dart: from the middle of the gap draw its line "
                f"{say(step.length)} into the panel, and both legs from there to the edge.",
            ),
        )

    def fresh(self, panel: Panel) -> OpenDart:
        """Above the knee, at the side seam, across to the inseam."""
        places = [_above_knee(panel, edge) for edge in ("side", "inseam")]
        name = f"{panel.name}-knee-dart"
        taken = {dart.name for dart in panel.darts}
        count = 1
        while {name, f"{name}-a", f"{name}-b"} & taken:
            count += 1
            name = f"{panel.name}-knee-dart-{count}"
        return OpenDart(panel.name, name, places[0], places[1], 10.0, 70.0)


def _names(step: OpenDart) -> tuple[str, ...]:
    return (f"{step.dart}-a", f"{step.dart}-b") if step.both else (step.dart,)


def _refuse_names(panel: Panel, step: OpenDart) -> None:
    if not step.dart.strip():
        raise GeometryRefused("A dart needs a name.", where=panel.name)
    for dart in panel.darts:
        if dart.name in _names(step):
            raise GeometryRefused(f"{panel.name} has a dart {dart.name} already.", where=dart.name)


def _dart(before: Panel, opened: Panel, step: OpenDart, name: str, place: OnEdge) -> Dart:
    """The dart in the gap at a place: its mouth is the straight stretch beside what stayed."""
    at = place_on_edge(before, place)
    ends = (Cut.at(place_on_edge(before, step.at)), Cut.at(place_on_edge(before, step.across)))
    opens_onward = moving_part_first(before, *ends)[0] == Cut.at(at)
    stays = point_at(before, place)
    chain = opened.outline.edge(at.edge).chain
    middle = chain.distance_of(stays) + (step.intake if opens_onward else -step.intake) / 2.0
    centre = chain.at(middle)
    along = chain.tangent(middle)
    first = centre + along * (-step.intake / 2.0)
    last = centre + along * (step.intake / 2.0)
    return Dart(name, at.edge, first, last, centre + along.left() * step.length)


def _above_knee(panel: Panel, edge: str) -> OnEdge:
    name = f"{panel.name}.{edge}"
    chain: Chain = edge_of(panel, name).chain
    hits = level_meetings(chain, level_of(panel, "knee") + _ABOVE_KNEE_MM)
    if not hits:
        raise GeometryRefused(f"{name} does not cross the knee line.", where=name)
    place: Point = hits[0].point
    found = place_near(panel, OnEdge(name, f"{panel.name}.hem", mm=0.0), place)
    return replace(found, mm=None if found.mm is None else round(found.mm, 1))
