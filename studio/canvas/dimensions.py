"""The numbers of what is picked, each where it is measured, to be read and typed on the sheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from studio.alter import kind_of
from studio.block.panel import Panel
from studio.block.places import point_at
from studio.canvas.hold_places import HoldPlace, hold_places
from studio.canvas.selection import Selection
from studio.curves import Chain, Point, Vector
from studio.cut.drawn import DrawnLine
from studio.design import AnchoredPath, Design, OnEdge, StyleLine, holds
from studio.design.holds import title_of, value_field
from studio.design.recipe import step_changed
from studio.pattern import Pattern, StepMade

Measure: TypeAlias = Literal["length", "degrees", "share"]

OUT = 20.0
"""Pixels a number stands off what it measures."""


class Dimension(msgspec.Struct, frozen=True):
    """A number on the sheet: its panel and place (mm), how far off it stands (pixels right and
    down), a word before it, its value (mm, degrees or a share), and what typing another does.

    `measured` is the stretch it measures; `title` names the change in the history.
    """

    panel: str
    at: Point
    away: Vector
    word: str
    value: float
    title: str
    change: Callable[[Design, float], Design]
    measure: Measure = "length"
    measured: Chain | None = None
    least: float = 0.0


def dimensions(pattern: Pattern, selection: Selection) -> tuple[Dimension, ...]:
    """The numbers of a picked line or step; none for anything else."""
    if selection.kind == "line":
        drawn = pattern.drawn(selection.name)
        return () if drawn is None else tuple(_of_line(pattern, drawn))
    if selection.kind == "step" and int(selection.name) < len(pattern.steps):
        made = pattern.steps[int(selection.name)]
        return tuple(_of_step(made, int(selection.name)))
    return ()


def _of_line(pattern: Pattern, drawn: DrawnLine) -> list[Dimension]:
    line = pattern.design.line(drawn.name)
    panel = pattern.panel_of(drawn)
    places = [
        place
        for place in hold_places(pattern.design.holds, pattern.lines)
        if drawn.name in place.lines and value_field(place.hold) is not None
    ]
    kept = {type(place.hold) for place in places if place.hold.active}
    found = []
    if isinstance(line.path, AnchoredPath):
        if holds.FromCorner not in kept:
            found += _of_ends(line, line.path, drawn, panel)
        if holds.Length not in kept:
            found.append(_length(drawn))
    elif line.path.at.mm is not None:
        chain = panel.outline.edge(line.path.at.edge).chain
        along = chain.distance_of(point_at(panel, line.path.at))
        setter = partial(_set_place, name=line.name, which="at")
        found.append(_on_edge(panel, line.path.at, along, f"Set the place of {line.name}", setter))
    return found + [_of_hold(place) for place in places]


def _of_ends(
    line: StyleLine, path: AnchoredPath, drawn: DrawnLine, panel: Panel
) -> list[Dimension]:
    return [
        _on_edge(
            panel,
            place,
            end.distance,
            f"Set the {which} of {line.name}",
            partial(_set_place, name=line.name, which=which),
        )
        for which, place, end in zip(
            ("start", "end"), (path.start, path.end), drawn.ends, strict=True
        )
        if place.mm is not None
    ]


def _on_edge(
    panel: Panel,
    place: OnEdge,
    along: float,
    title: str,
    change: Callable[[Design, float], Design],
) -> Dimension:
    """The distance along an edge from its corner, outside the panel."""
    edges = panel.outline.edges
    index = next(k for k, edge in enumerate(edges) if edge.name == place.edge)
    chain = edges[index].chain
    from_start = edges[index - 1].name == place.corner
    low, high = (0.0, along) if from_start else (along, chain.length)
    middle = (low + high) / 2.0
    out = chain.tangent(middle).right() * OUT
    measured = chain.between(low, high) if high - low > 1e-3 else None
    at = chain.at(middle)
    value = high - low
    return Dimension(
        panel.name, at, Vector(out.x, -out.y), "", value, title, change, measured=measured
    )


def _length(drawn: DrawnLine) -> Dimension:
    """The whole length; typing one holds the line to it."""
    chain = drawn.chain
    middle = chain.length / 2.0
    out = chain.tangent(middle).left() * OUT
    if out.x > 0.0:  # The marks of holds stand to the right.
        out = -out
    return Dimension(
        drawn.panel,
        chain.at(middle),
        Vector(out.x, -out.y),
        "",
        chain.length,
        f"Hold: Length, {drawn.name}",
        partial(_hold_length, name=drawn.name),
        least=1.0,
    )


def _of_hold(place: HoldPlace) -> Dimension:
    field = value_field(place.hold)
    assert field is not None
    measure: Measure = "length"
    if field in ("degrees", "share"):
        measure = "degrees" if field == "degrees" else "share"
    title = title_of(place.hold)
    return Dimension(
        place.panel,
        place.at,
        Vector(36.0, -16.0 - 19.0 * place.nth),
        "",
        getattr(place.hold, field),
        f"Set: {title}",
        partial(_set_hold, index=place.index, field=field),
        measure=measure,
        least=-1000.0,
    )


def _of_step(made: StepMade, index: int) -> list[Dimension]:
    """The lengths and places of a step that have handles."""
    if made.before is None:
        return []
    kind = kind_of(made.step)
    fields = {field.name: field for field in kind.fields}
    found = []
    for handle in kind.handles(made.before, made.step):
        value = getattr(made.step, handle.field, None)
        known = fields.get(handle.field)
        is_place = isinstance(value, OnEdge)
        mm = value.mm if isinstance(value, OnEdge) else value
        if known is None or mm is None:
            continue
        found.append(
            Dimension(
                made.step.panel,
                handle.at,
                Vector(0.0, OUT if is_place else -OUT),
                known.label.lower(),
                mm,
                f"{kind.title}: {known.label.lower()}",
                partial(_set_step, index=index, field=handle.field),
                least=0.0 if is_place else known.least,
            )
        )
    return found


def _set_place(design: Design, mm: float, name: str, which: str) -> Design:
    line = design.line(name)
    place = replace(getattr(line.path, which), mm=mm, share=None)
    return design.with_line(replace(line, path=replace(line.path, **{which: place})))


def _hold_length(design: Design, mm: float, name: str) -> Design:
    """Holds the line to a length; a hold of that kind that was switched off comes on again."""
    kept = tuple(
        hold for hold in design.holds if not (isinstance(hold, holds.Length) and hold.line == name)
    )
    return replace(design, holds=(*kept, holds.Length(name, mm)))


def _set_hold(design: Design, value: float, index: int, field: str) -> Design:
    asked = list(design.holds)
    asked[index] = replace(asked[index], **{field: value})
    return replace(design, holds=tuple(asked))


def _set_step(design: Design, value: float, index: int, field: str) -> Design:
    step = design.alterations[index]
    old = getattr(step, field)
    fresh = replace(old, mm=value) if isinstance(old, OnEdge) else value
    return step_changed(design, index, replace(step, **{field: fresh}))
