"""Bodies in: one as JSON, many as CSV; columns and keys are the names of `Body`, lengths in the
unit the maker measured in. A length may also be text, with a fraction or a unit of its own.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec

from studio.design.body import Body
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.typed_length import in_mm, read_length

_LENGTHS = tuple(name for name in Body.__struct_fields__ if name != "name")
_REQUIRED = tuple(
    field.name for field in msgspec.structs.fields(Body) if field.required and field.name != "name"
)


class BodyRow(msgspec.Struct, frozen=True):
    """A line of a file of bodies: its number in the file (the header is 1), and the body or the
    reason it could not be read.
    """

    line: int
    body: Body | None
    problem: str = ""


def read_body(path: Path | str, unit: LengthUnit = "mm") -> Body:
    """One body from a JSON object with the names of `Body`, its lengths in a unit: 31.5, or as text
    "31 1/2" or "80 cm".

    Raises:
        BadInput: names the file, the measure and the reason.
    """
    try:
        content = Path(path).read_bytes()
    except OSError as problem:
        raise BadInput(f"cannot be read: {problem.strerror}.", path=str(path)) from problem
    try:
        return msgspec.convert(_in_mm(msgspec.json.decode(content), unit), Body)
    except msgspec.ValidationError as problem:
        reason, _, where = str(problem).partition(" - at ")
        raise BadInput(f"{reason}.", where=where.strip("`").lstrip("$."), path=str(path)) from None
    except (msgspec.DecodeError, UnicodeDecodeError) as problem:
        raise BadInput(f"is not JSON: {problem}.", path=str(path)) from problem
    except BadInput as problem:
        problem.path = str(path)
        raise


def _in_mm(tree: object, unit: LengthUnit) -> object:
    """What a file holds with its lengths in mm; what is no length is left for `Body` to refuse."""
    if not isinstance(tree, dict):
        return tree
    return {
        name: _length_in_mm(name, value, unit) if name in _LENGTHS else value
        for name, value in tree.items()
    }


def _length_in_mm(name: str, value: object, unit: LengthUnit) -> object:
    try:
        if isinstance(value, str):
            return read_length(value, unit)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return in_mm(value, unit)
    except BadInput as problem:
        problem.where = name
        raise
    return value


def read_bodies(path: Path | str, unit: LengthUnit = "mm") -> list[BodyRow]:
    """Every line of a CSV file of bodies, its lengths in a unit; a line that cannot be read keeps
    its reason.

    Raises:
        BadInput: the file cannot be read, has no lines, or a column is unknown or missing.
    """
    try:
        with open(path, newline="", encoding="utf-8-sig") as file:
            return list(_rows(file, str(path), unit))
    except OSError as problem:
        raise BadInput(f"cannot be read: {problem.strerror}.", path=str(path)) from problem
    except UnicodeDecodeError as problem:
        raise BadInput("is not text in UTF-8.", path=str(path)) from problem
    except csv.Error as problem:
        raise BadInput(f"is not a CSV file: {problem}.", path=str(path)) from problem


def _rows(file: Any, path: str, unit: LengthUnit) -> Iterator[BodyRow]:
    reader = csv.reader(file)
    header = [name.strip() for name in next(reader, [])]
    _check_header(header, path)
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        yield _row(reader.line_num, header, cells, unit)


def _check_header(header: list[str], path: str) -> None:
    if not header:
        raise BadInput("is empty: the first line should name the columns.", path=path)
    unknown = [name for name in header if name not in Body.__struct_fields__]
    if unknown:
        raise BadInput(
            f"unknown column {unknown[0]!r}; known are {', '.join(Body.__struct_fields__)}.",
            where="line 1",
            path=path,
        )
    repeated = [name for name in header if header.count(name) > 1]
    if repeated:
        raise BadInput(f"column {repeated[0]!r} stands twice.", where="line 1", path=path)
    missing = [name for name in _REQUIRED if name not in header]
    if missing:
        raise BadInput(f"column {missing[0]!r} is missing.", where="line 1", path=path)


def _row(line: int, header: list[str], cells: list[str], unit: LengthUnit) -> BodyRow:
    if len(cells) != len(header):
        return BodyRow(line, None, f"{len(cells)} values for {len(header)} columns.")
    values: dict[str, Any] = {}
    for name, cell in zip(header, cells, strict=True):
        text = cell.strip()
        if name == "name":
            values[name] = text
        elif text:
            try:
                values[name] = read_length(text, unit)
            except BadInput as problem:
                return BodyRow(line, None, f"{name}: {problem.message}")
    missing = [name for name in _REQUIRED if name not in values]
    if missing:
        return BodyRow(line, None, f"{missing[0]} is missing.")
    return BodyRow(line, Body(**values))
