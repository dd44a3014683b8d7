"""A file of bodies, each drafted, measured and written; a bad row never stops the rest."""

from __future__ import annotations

import multiprocessing
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeAlias

import msgspec

from studio.check import all_in_unit
from studio.design import Design
from studio.design.file import SUFFIX, save
from studio.design.plain import plain_design
from studio.errors import YokewrightError
from studio.exchange.bodies import BodyRow
from studio.exchange.report import report_tree
from studio.exchange.write import write_pieces
from studio.numbers import LengthUnit, retold
from studio.pattern import Pattern, evaluate


class Sheets(msgspec.Struct, frozen=True):
    """What is written of each body beside its project: in which formats (`FORMATS`), on what paper,
    in what unit the sheets speak.
    """

    formats: tuple[str, ...] = ()
    paper: str = "a4"
    unit: LengthUnit = "mm"


NO_SHEETS = Sheets()
"""Projects only."""


def run_batch(
    rows: list[BodyRow],
    folder: Path,
    jobs: int = 1,
    design: Design | None = None,
    unit: LengthUnit = "mm",
    sheets: Sheets = NO_SHEETS,
) -> Iterator[dict[str, Any]]:
    """One result a row, in the order of the rows; each body's project file goes to `folder`, and
    with `sheets` its pieces, under the same name.

    With `design` that design is run on every body, else a plain pair. With more than one job the
    rows are shared among spawned processes. A result holds `row` (line in the file), `name`,
    and either `file`, `girths`, `joins` and `findings`, or `refused` with the reason; with `sheets`
    also `written`, their files, and `unwritten` with the reason where one could not be made. Its
    sentences speak `unit`; its numbers are in mm whatever that is.
    """
    tasks = [(row, folder, design, unit, sheets) for row in rows]
    if jobs <= 1 or len(rows) < 2:
        yield from map(_one, tasks)
        return
    with multiprocessing.get_context("spawn").Pool(min(jobs, len(rows))) as pool:
        yield from pool.imap(_one, tasks, chunksize=8)


_Task: TypeAlias = tuple[BodyRow, Path, Design | None, LengthUnit, Sheets]


def _one(task: _Task) -> dict[str, Any]:
    row, folder, design, unit, sheets = task
    result: dict[str, Any] = {"row": row.line, "name": "" if row.body is None else row.body.name}
    if row.body is None:
        return result | {"refused": row.problem}
    made = (
        plain_design(row.body) if design is None else msgspec.structs.replace(design, body=row.body)
    )
    try:
        pattern = evaluate(made)
        path = folder / _file_name(row)
        save(made, path)
    except YokewrightError as problem:
        return result | {
            "refused": retold(str(problem), unit, exact=(*problem.exact, *row.body.lengths))
        }
    findings = all_in_unit(pattern.findings, made, unit)
    tree = report_tree(msgspec.structs.replace(pattern, findings=findings))
    return result | {
        "file": path.name,
        "girths": tree["girths"],
        "joins": tree["joins"],
        "findings": tree["findings"],
        **_written(pattern, path, unit, sheets),
    }


def _written(pattern: Pattern, path: Path, unit: LengthUnit, sheets: Sheets) -> dict[str, Any]:
    """The files of a body's pieces, those before the first that cannot be made, and why it cannot;
    nothing where none are wanted.
    """
    files: list[str] = []
    try:
        for word in sheets.formats:
            made = write_pieces(pattern, path.parent, (word,), sheets.paper, path.stem, sheets.unit)
            files += [one.name for one in made]
    except YokewrightError as problem:
        return {"written": files, "unwritten": retold(problem.sentence, unit)}
    return {"written": files} if sheets.formats else {}


def _file_name(row: BodyRow) -> str:
    """The row's number, so that no two share a file, and what of its name a file may bear."""
    name = "" if row.body is None else row.body.name
    words = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40]
    return f"{row.line:05d}{'-' + words if words else ''}{SUFFIX}"
