"""What must hold: kinds write their rows here, as plain numbers for the equation groups.

A place is a linear combination of two columns of the state (a node and its handle, say), so that
the groups know nothing of nodes, handles and thirds. A column is a point or a step as one complex
number, x + iy. The last column is zero for ever.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

import msgspec
import numpy as np

from studio.constrain.group import Complexes, Integers
from studio.constrain.sketch import Asked, PointRef, Sketch
from studio.errors import BadInput

Place = int
"""Number of a place in the table of places."""


class Along(msgspec.Struct, frozen=True):
    """A run's arc length: the whole of it, or from its start to a slide."""

    factor: float
    run: int
    slide: int | None = None


class Between(msgspec.Struct, frozen=True):
    """The direction from one place to another, in radians, times a factor."""

    factor: float
    start: Place
    end: Place


class Tangent(msgspec.Struct, frozen=True):
    """The direction of travel of a run at a slide, in radians, times a factor."""

    factor: float
    run: int
    slide: int


class Columns:
    """Where each node and handle stands in the state vector."""

    def __init__(self, sketch: Sketch) -> None:
        self.values: list[complex] = []
        self.held: list[bool] = []
        self.is_handle: list[bool] = []
        self.of: dict[tuple[int, str], int] = {}
        for index, node in enumerate(sketch.nodes):
            self._add((index, "node"), complex(node.at.x, node.at.y), node.held, False)
            if node.handle_in is not None:
                step = complex(node.handle_in.x, node.handle_in.y)
                self._add((index, "in"), step, node.held, True)
            if node.handle_out is not None:
                step = complex(node.handle_out.x, node.handle_out.y)
                self._add((index, "out"), step, node.held, True)
        self.zero = len(self.values)
        self._add((-1, "node"), 0j, True, False)

    def _add(self, key: tuple[int, str], value: complex, held: bool, is_handle: bool) -> None:
        if not (math.isfinite(value.real) and math.isfinite(value.imag)):
            raise BadInput("A coordinate is not a finite number.", where=f"node {key[0]}")
        self.of[key] = len(self.values)
        self.values.append(value)
        self.held.append(held)
        self.is_handle.append(is_handle)


class Rows:
    """The rows of a sketch, group by group; `owners` say which request each row came from."""

    def __init__(self, sketch: Sketch) -> None:
        """Reads a sketch; raises BadInput naming the node, run or request that can not be used."""
        self.sketch = sketch
        self.columns = Columns(sketch)
        self.places: list[tuple[int, float, int, float]] = []
        self._place_of: dict[tuple[int, float, int, float], Place] = {}
        self.nowhere = self._place(self.columns.zero, 0.0)
        self.run_index = {run.name: index for index, run in enumerate(sketch.runs)}
        self.controls: list[tuple[Place, Place, Place, Place]] = []
        self.first_cubic: list[int] = []
        self.cubic_count: list[int] = []
        self._read_runs()
        self.slide_run: list[int] = []
        self._slide_of: dict[str, int] = {}
        self._slide_at: dict[tuple[int, int], int] = {}
        self._read_slides()

        self.owners: dict[str, list[int]] = {}
        self.linear_terms: list[list[tuple[Place, complex]]] = []
        self.linear_values: list[float] = []
        self.line_rows: list[tuple[Place, Place, Place, float]] = []
        self.distance_rows: list[tuple[Place, Place, float]] = []
        self.mirror_rows: list[tuple[Place, Place, Place, Place]] = []
        self.on_run_rows: list[tuple[Place, int]] = []
        self.length_terms: list[list[Along]] = []
        self.length_values: list[float] = []
        self.angle_terms: list[list[Between | Tangent]] = []
        self.angle_values: list[float] = []
        self.used_slides: set[int] = set()
        self._writer = 0
        self._write_all()

    # What kinds ask for.

    def place(self, ref: PointRef) -> Place:
        """The place of a node or a handle's tip; raises BadInput."""
        self.sketch.point(ref)
        node = self.columns.of[ref.node, "node"]
        if ref.part == "node":
            return self._place(node, 1.0)
        return self._place(node, 1.0, self.columns.of[ref.node, ref.part], 1.0)

    def run(self, name: str) -> int:
        """Number of a run; raises BadInput."""
        self.sketch.run(name)
        return self.run_index[name]

    def own_slide(self, asked: Asked) -> int:
        """The slide of a request that slides."""
        return self._slide_of[asked.name]

    def slide_where(self, node: int, run: str) -> int:
        """The slide of the request that keeps a node on a run; raises BadInput for none."""
        found = self._slide_at.get((node, self.run(run)))
        if found is None:
            raise BadInput(f"Nothing keeps node {node} on run {run!r}.", where="sketch")
        return found

    def end_node(self, run: str, from_end: bool) -> int:
        """The node a run starts or ends with; raises BadInput."""
        return self.sketch.run(run).nodes[-1 if from_end else 0]

    def end_direction(self, run: str, from_end: bool, factor: float) -> Between:
        """The direction in which a run leaves its start, or runs back from its end."""
        number = self.run(run)
        nodes = self.sketch.run(run).nodes
        node, part = (nodes[-1], "in") if from_end else (nodes[0], "out")
        handle = self.columns.of.get((node, part))
        if handle is not None:
            return Between(factor, self.nowhere, self._place(handle, 1.0))
        first = self.first_cubic[number]
        if from_end:
            control = self.controls[first + self.cubic_count[number] - 1]
            return Between(factor, control[3], control[2])
        return Between(factor, self.controls[first][0], self.controls[first][1])

    def handle_direction(self, node: int, part: str, factor: float) -> Between:
        """The direction of a handle, of the straight stretch beside the node when it has none.

        Raises:
            BadInput: the node has neither.
        """
        handle = self.columns.of.get((node, part))
        if handle is not None:
            return Between(factor, self.nowhere, self._place(handle, 1.0))
        step = 1 if part == "out" else -1
        for run in self.sketch.runs:
            for place, found in enumerate(run.nodes):
                if found == node and 0 <= place + step < len(run.nodes):
                    beside = run.nodes[place + step]
                    return Between(factor, self.place(PointRef(node)), self.place(PointRef(beside)))
        raise BadInput(f"Node {node} has no {part} handle and no stretch.", where="sketch")

    def is_held(self, run: int) -> bool:
        """Whether nothing of a run, by its number, may move."""
        held, first = self.columns.held, self.first_cubic[run]
        return all(
            held[one] and held[two]
            for four in self.controls[first : first + self.cubic_count[run]]
            for one, _, two, _ in (self.places[place] for place in four)
        )

    def place_values(self, places: Integers) -> Complexes:
        """Where places are in the sketch as it was given, x + iy."""
        found = []
        for place in places.ravel():
            one, factor, two, other = self.places[place]
            found.append(factor * self.columns.values[one] + other * self.columns.values[two])
        return np.array(found, dtype=complex).reshape(places.shape)

    # Rows, in the order of the groups.

    def linear(self, terms: Iterable[tuple[Place, complex]], value: float) -> None:
        """Sum of (factor.real * x + factor.imag * y) over places = value, mm."""
        self.linear_terms.append(list(terms))
        self.linear_values.append(value)
        self._own("linear", 1)

    def offset_from_line(self, point: Place, start: Place, end: Place, value: float) -> None:
        """Signed distance of a place from a line, left positive = value, mm."""
        self.line_rows.append((point, start, end, value))
        self._own("line", 1)

    def distance(self, start: Place, end: Place, value: float) -> None:
        """Distance of two places = value, mm."""
        self.distance_rows.append((start, end, value))
        self._own("distance", 1)

    def mirror(self, one: Place, two: Place, start: Place, end: Place) -> None:
        """Two places are each other's image in a line: two rows."""
        self.mirror_rows.append((one, two, start, end))
        self._own("mirror", 2)

    def on_run(self, point: Place, slide: int) -> None:
        """A place lies where its slide says on the slide's run: two rows."""
        self.on_run_rows.append((point, slide))
        self.used_slides.add(slide)
        self._own("on_run", 2)

    def lengths(self, terms: Sequence[Along], value: float) -> None:
        """Sum of factor * arc length = value, mm."""
        self.length_terms.append(list(terms))
        self.length_values.append(value)
        self.used_slides.update(term.slide for term in terms if term.slide is not None)
        self._own("length", 1)

    def angles(self, terms: Sequence[Between | Tangent], degrees: float) -> None:
        """Sum of factor * direction = degrees, up to whole turns."""
        self.angle_terms.append(list(terms))
        self.angle_values.append(math.radians(degrees))
        self.used_slides.update(term.slide for term in terms if isinstance(term, Tangent))
        self._own("angle", 1)

    # Reading the sketch.

    def _own(self, group: str, count: int) -> None:
        self.owners.setdefault(group, []).extend([self._writer] * count)

    def _place(self, one: int, factor: float, two: int = -1, other: float = 0.0) -> Place:
        key = (one, factor, two if two >= 0 else self.columns.zero, other)
        found = self._place_of.get(key)
        if found is None:
            found = self._place_of[key] = len(self.places)
            self.places.append(key)
        return found

    def _read_runs(self) -> None:
        if len(self.run_index) != len(self.sketch.runs):
            raise BadInput("Two runs have the same name.", where="sketch")
        for run in self.sketch.runs:
            if len(run.nodes) < 2:
                raise BadInput("A run needs two nodes or more.", where=run.name)
            for node in run.nodes:
                if not 0 <= node < len(self.sketch.nodes):
                    raise BadInput(f"There is no node {node}.", where=run.name)
            self.first_cubic.append(len(self.controls))
            self.cubic_count.append(len(run.nodes) - 1)
            for one, two in itertools.pairwise(run.nodes):
                self.controls.append(self._control(one, two))

    def _control(self, one: int, two: int) -> tuple[Place, Place, Place, Place]:
        of = self.columns.of
        start, end = of[one, "node"], of[two, "node"]
        leaving, arriving = of.get((one, "out")), of.get((two, "in"))
        return (
            self._place(start, 1.0),
            self._place(start, 2.0 / 3.0, end, 1.0 / 3.0)
            if leaving is None
            else self._place(start, 1.0, leaving, 1.0),
            self._place(start, 1.0 / 3.0, end, 2.0 / 3.0)
            if arriving is None
            else self._place(end, 1.0, arriving, 1.0),
            self._place(end, 1.0),
        )

    def _read_slides(self) -> None:
        names: set[str] = set()
        for asked in self.sketch.constraints:
            if asked.name in names:
                raise BadInput("Two requests have this name.", where=asked.name)
            names.add(asked.name)
            if not asked.slides:
                continue
            point, run = asked.point, self.run(asked.run)  # type: ignore[attr-defined]
            slide = self._slide_of[asked.name] = len(self.slide_run)
            self.slide_run.append(run)
            if point.part == "node":
                self._slide_at.setdefault((point.node, run), slide)
        if len(self.slide_run) != len(self.sketch.slides):
            raise BadInput(
                f"The sketch has {len(self.sketch.slides)} slides "
                f"for {len(self.slide_run)} requests that slide.",
                where="sketch",
            )
        if not all(math.isfinite(slide) for slide in self.sketch.slides):
            raise BadInput("A slide is not a finite number.", where="sketch")

    def _write_all(self) -> None:
        for index, asked in enumerate(self.sketch.constraints):
            if not asked.active:
                continue
            value = asked.value
            if value is not None and not math.isfinite(value):
                raise BadInput("The number asked for is not finite.", where=asked.name)
            self._writer = index
            try:
                asked.write(self)
            except BadInput as refused:
                raise BadInput(refused.message, where=asked.name) from refused
