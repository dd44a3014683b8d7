"""The lines of an SVG file as chains of cubics, in mm, y up.

Lengths follow the W3C recommendation Scalable Vector Graphics 1.1, section 7.10: a pixel is a 96th
of an inch (CSS Values and Units, level 3), and a viewBox is fitted to width and height. A file
whose size has no unit says nothing of the size of what it shows, and is refused until the maker
names the unit.
"""

from __future__ import annotations

import io
import itertools
import math
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element, ParseError, tostring

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring
from svgelements import SVG, Arc, Close, CubicBezier, Line, Move, QuadraticBezier, Shape
from svgelements import Path as SvgPath

from studio.curves import Chain, Cubic, Point, tolerance
from studio.errors import BadInput, GeometryRefused
from studio.exchange.drawing_units import UNITS_MM
from studio.exchange.dxf_entities import ARC_SEGMENTS, Stroke
from studio.exchange.left_out import LeftOut

PIXEL_MM = 25.4 / 96.0
"""Exact: 96 pixels are an inch."""

MOST_BYTES = 40_000_000
MOST_SHAPES = 50_000
"""A larger drawing is not that of a panel; copies by <use> are counted as often as they show."""

_UNIT_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4, "px": PIXEL_MM, "pt": 25.4 / 72, "pc": 25.4 / 6}
_LENGTH = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*([a-z%]*)\s*")
_ROOM = "{http://www.w3.org/2000/svg}"
_LINK = "{http://www.w3.org/1999/xlink}href"
_SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")


def svg_strokes(path: Path, unit: str | None = None) -> tuple[list[Stroke], list[LeftOut]]:
    """Every line that is drawn, each subpath a stroke; its layer is the id of the line or of the
    innermost group that has one. `unit` is that of the file's plain numbers.

    Arcs are taken within 2e-10 of their radius.

    Raises:
        BadInput: the file cannot be read, is no sound SVG, or has no unit and none was given.
    """
    root = _root(path)
    scale = _fitted(root, unit, str(path))
    layers = {id(part): layer for part, layer in _layered(root, "")}
    for part in root.iter():
        if id(part) in layers:
            # The reader hands on what it does not know: each shape brings its layer along.
            part.set("data-layer", layers[id(part)])
    try:
        drawing = SVG.parse(io.BytesIO(tostring(root)), reify=True, ppi=96.0)
        shapes = [part for part in drawing.elements() if isinstance(part, Shape)]
        return _strokes(shapes, scale)
    except (
        ValueError,
        TypeError,
        KeyError,
        IndexError,
        AttributeError,
        ArithmeticError,
        RecursionError,
        ParseError,
    ) as problem:
        raise BadInput(f"is not a sound SVG file: {problem}.", path=str(path)) from problem


def _root(path: Path) -> Element:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BadInput("is too large for the drawing of a panel.", path=str(path))
        content = path.read_bytes()
    except OSError as problem:
        raise BadInput(f"cannot be read: {problem.strerror}.", path=str(path)) from problem
    try:
        root: Element = fromstring(content, forbid_dtd=False)
    except DefusedXmlException as problem:
        raise BadInput(
            "is refused: it declares entities or reads other files.", path=str(path)
        ) from problem
    except (ParseError, ValueError, LookupError) as problem:
        raise BadInput(f"is not XML: {problem}.", path=str(path)) from problem
    if root.tag not in ("svg", f"{_ROOM}svg"):
        raise BadInput(f"is not an SVG file: it begins with <{root.tag}>.", path=str(path))
    if _shown(root, {}) > MOST_SHAPES:
        raise BadInput("shows more lines than the drawing of a panel could.", path=str(path))
    return root


def _shown(root: Element, known: dict[str, int]) -> int:
    """How many shapes are shown, copies too; more than the most when copies go in a circle."""
    by_name = {part.get("id", ""): part for part in root.iter()}
    under_way: set[str] = set()

    def copied(name: str) -> int:
        if name in under_way:
            return MOST_SHAPES + 1
        if name not in known and name in by_name:
            under_way.add(name)
            known[name] = shown(by_name[name])
            under_way.discard(name)
        return known.get(name, 0)

    def shown(part: Element) -> int:
        total = 0
        for one in part.iter():
            word = str(one.tag).rpartition("}")[2]
            if word in _SHAPES:
                total += 1
            elif word == "use":
                total += 1 + copied((one.get("href") or one.get(_LINK) or "").lstrip("#"))
        return min(total, MOST_SHAPES + 1)

    return shown(root)


def _fitted(root: Element, unit: str | None, path: str) -> float:
    """Millimetres in a pixel of what the reader gives, with the root's size set in pixels."""
    if unit is not None and unit not in UNITS_MM:
        raise BadInput(f"unknown unit {unit!r}; known are {', '.join(UNITS_MM)}.")
    box = [float(word) for word in re.findall(r"[-+0-9.eE]+", root.get("viewBox", ""))]
    sizes = []
    for at, side in enumerate(("width", "height")):
        number, word = _length(root.get(side, ""))
        if word in _UNIT_MM:
            sizes.append(number * _UNIT_MM[word] / PIXEL_MM)
        elif unit is None:
            raise BadInput(
                f'does not say its unit: {side}="{root.get(side, "")}". '
                "Save it with its size in mm, or name the unit of its numbers.",
                where="unit",
                path=path,
            )
        elif not word and number > 0.0:
            sizes.append(number)
        elif len(box) == 4:
            sizes.append(box[2 + at])
        else:
            sizes.append(100.0)
    own = all(_length(root.get(side, ""))[1] in _UNIT_MM for side in ("width", "height"))
    if unit is not None and own:
        # The numbers of the drawing count, not the size it is shown in.
        sizes = box[2:] if len(box) == 4 else sizes
    for side, size in zip(("width", "height"), sizes, strict=True):
        if not size > 0.0:
            raise BadInput(f"has no {side}.", where=side, path=path)
        root.set(side, f"{size!r}")
    return PIXEL_MM if unit is None else UNITS_MM[unit]


def _length(text: str) -> tuple[float, str]:
    """A number and its unit; (0, "%") when it is no length."""
    found = _LENGTH.fullmatch(text)
    return (float(found[1]), found[2]) if found else (0.0, "%")


def _layered(part: Element, layer: str) -> Iterator[tuple[Element, str]]:
    own = part.get("id") or layer
    yield part, own
    for inner in part:
        yield from _layered(inner, own)


def _strokes(shapes: list[Shape], scale: float) -> tuple[list[Stroke], list[LeftOut]]:
    strokes: list[Stroke] = []
    left_out: list[LeftOut] = []
    for number, shape in enumerate(shapes, start=1):
        values = shape.values or {}
        layer = str(values.get("data-layer") or "")
        word = type(shape).__name__.lower()
        what = f"{word} {shape.id}" if shape.id else f"{word} {number}"
        for part in SvgPath(shape).as_subpaths():
            try:
                chain = _chain(part, scale)
            except GeometryRefused as refusal:
                left_out.append(LeftOut(what, refusal.message))
                continue
            if chain is not None:
                strokes.append(Stroke(chain, "", layer, what))
    return strokes, left_out


def _chain(part: object, scale: float) -> Chain | None:
    """A subpath as a chain; None when it is but a place."""
    cubics: list[Cubic] = []
    for segment in part:  # type: ignore[attr-defined]
        for cubic in _cubics(segment, scale):
            if not math.isfinite(sum(cubic.numbers)):
                raise GeometryRefused("it has a point that is not a number")
            if cubic.length > tolerance.NOTHING_MM:
                cubics.append(cubic)
    if not cubics:
        return None
    for at, (one, two) in enumerate(itertools.pairwise(cubics)):
        cubics[at + 1] = two.with_ends(one.p3, two.p3)
    return Chain.of(cubics)


def _cubics(segment: object, scale: float) -> Iterator[Cubic]:
    def point(place: object) -> Point:
        return Point(float(place.x) * scale, -float(place.y) * scale)  # type: ignore[attr-defined]

    if isinstance(segment, Move) or getattr(segment, "start", None) is None:
        return
    if isinstance(segment, Line | Close):
        if segment.end is not None:
            yield Cubic.straight(point(segment.start), point(segment.end))
    elif isinstance(segment, CubicBezier):
        yield Cubic(
            point(segment.start),
            point(segment.control1),
            point(segment.control2),
            point(segment.end),
        )
    elif isinstance(segment, QuadraticBezier):
        start, control, end = point(segment.start), point(segment.control), point(segment.end)
        one, two = start.toward(control, 2.0 / 3.0), end.toward(control, 2.0 / 3.0)
        yield Cubic(start, one, two, end)
    elif isinstance(segment, Arc):
        turns = abs(float(segment.sweep)) / math.tau
        for curve in segment.as_cubic_curves(max(1, math.ceil(turns * ARC_SEGMENTS))):
            yield from _cubics(curve, scale)
