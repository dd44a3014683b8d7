"""What every kind of flat-pattern work can do: be done, told, drawn on paper, and taken hold of."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from typing import Any, ClassVar, Generic, Literal, TypeAlias, TypeVar

import msgspec
from msgspec.structs import fields, replace

from studio import numbers
from studio.block.panel import Panel
from studio.block.places import place_near, point_at
from studio.curves import Point, Vector
from studio.design.alterations import Alteration
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused

StepT = TypeVar("StepT", bound=Alteration)

Say: TypeAlias = Callable[[float], str]
"""Writes a length (mm) the way the maker reads it."""

Asks: TypeAlias = Literal[
    "length", "share", "yes", "edge", "any-edge", "level", "dart", "end", "place", "word"
]
"""What a field asks for; `edge` is one of the panel's own, `any-edge` one of any panel's."""


class Field(msgspec.Struct, frozen=True):
    """Something of a step the maker decides: the struct's field, what it is called, and what it
    asks for. `least` bounds a length; an `optional` one may be left out.
    """

    name: str
    label: str
    asks: Asks = "length"
    least: float = 0.0
    optional: bool = False


class Axis(msgspec.Struct, frozen=True):
    """How a length is pulled on the canvas: from a place, along a unit direction."""

    origin: Point
    direction: Vector


class Handle(msgspec.Struct, frozen=True):
    """A field of a step as something to take hold of, on the panel before the step (mm)."""

    field: str
    at: Point


class Drafting(msgspec.Struct, frozen=True):
    """A step as it is drawn on paper: the points it names, on the panel before the step, and
    sentences that call them {0}, {1}...
    """

    points: tuple[Point, ...]
    sentences: tuple[str, ...]


class Kind(ABC, Generic[StepT]):
    """One kind of step. Every method is pure."""

    title: ClassVar[str]
    fields: ClassVar[tuple[Field, ...]]

    @abstractmethod
    def do(self, panel: Panel, step: StepT) -> Panel:
        """The panel after the step; raises GeometryRefused."""

    def reads(self, _step: StepT) -> tuple[str, ...]:
        """Other panels the step looks at, by name."""
        return ()

    def do_beside(self, panel: Panel, step: StepT, _others: Mapping[str, Panel]) -> Panel:
        """The panel after the step, with the panels it reads by name; raises GeometryRefused."""
        return self.do(panel, step)

    @abstractmethod
    def sentence(self, step: StepT, say: Say = numbers.length) -> str:
        """The step in one sentence for the maker."""

    @abstractmethod
    def drafting(self, panel: Panel, step: StepT, say: Say = numbers.length) -> Drafting:
        """The step as drawn with ruler and pencil; raises GeometryRefused as `do` does."""

    @abstractmethod
    def fresh(self, panel: Panel) -> StepT:
        """A step of this kind to start from; raises GeometryRefused when the panel has no room."""

    def axes(self, _panel: Panel, _step: StepT) -> dict[str, Axis]:
        """How each length is pulled; raises GeometryRefused."""
        return {}

    def handles(self, panel: Panel, step: StepT) -> tuple[Handle, ...]:
        """Every place and every length that can be pulled; none when the step cannot be done."""
        try:
            found = [Handle(name, point_at(panel, place)) for name, place in places_of(step)]
            for name, axis in self.axes(panel, step).items():
                value = getattr(step, name)
                if value is not None:
                    found.append(Handle(name, axis.origin + axis.direction * value))
        except GeometryRefused:
            return ()
        return tuple(found)

    def dragged(self, panel: Panel, step: StepT, field: str, to: Point) -> StepT:
        """The step with a handle pulled as near to a place as its field allows.

        Raises:
            GeometryRefused: the step has no such place on this panel.
        """
        value = getattr(step, field)
        if isinstance(value, OnEdge):
            return self._with(step, field, place_near(panel, value, to))
        axis = self.axes(panel, step)[field]
        least = next((known.least for known in self.fields if known.name == field), 0.0)
        return self._with(step, field, max(least, (to - axis.origin).dot(axis.direction)))

    def _with(self, step: StepT, field: str, value: Any) -> StepT:
        return replace(step, **{field: value})


def places_of(step: Alteration) -> list[tuple[str, OnEdge]]:
    """The places a step names, by field."""
    found = []
    for known in fields(step):
        value = getattr(step, known.name)
        if isinstance(value, OnEdge):
            found.append((known.name, value))
    return found


def said_place(place: OnEdge, say: Say) -> str:
    """A place in words: "80.0 mm along back.rise from back.waist"."""
    if place.mm is not None:
        return f"{say(place.mm)} along {place.edge} from {place.corner}"
    return f"{numbers.percent(place.share or 0.0, 1)} along {place.edge} from {place.corner}"
