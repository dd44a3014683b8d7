"""A project laid on its stash: a lay searched for, its files written, what fell short told."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from studio.cloth.bed import bed_of
from studio.cloth.filled import filled
from studio.cloth.items import items_in
from studio.cloth.searching import lay_out
from studio.design.file import SUFFIX, save
from studio.errors import YokewrightError
from studio.exchange.lay_report import Wanting, wanting
from studio.exchange.lay_write import write_lay
from studio.numbers import LengthUnit
from studio.pattern import Pattern, evaluate


def laid_out(
    pattern: Pattern,
    seconds: float,
    folder: Path,
    stem: str,
    *,
    paper: str = "a4",
    unit: LengthUnit = "mm",
) -> tuple[Pattern, tuple[Wanting, ...], list[Path]]:
    """The pattern with the best lay found in so many seconds (the design's own in none), what it
    leaves out, and the files written: `<stem>-laid.yoke`, and those of `write_lay` when anything
    is laid. Locked pieces stay where they are.

    Raises:
        BadInput: a stock cannot be used, or a file cannot be written.
        YokewrightError: the search could not run; the sentence says why.
    """
    design = pattern.design
    beds = [bed_of(stock) for stock in design.stash]
    items = items_in(design, pattern.pieces)
    if seconds > 0.0:
        layout, problem = lay_out(items, beds, design.lay, seconds=seconds)
        if layout is None:
            raise YokewrightError(problem or "No lay was found in that time: give it longer.")
        lay = filled(replace(design.lay, placements=layout.placements), items, beds, pattern.pieces)
        pattern = evaluate(replace(design, lay=lay))
    written = []
    if pattern.design.lay.placements:
        written = write_lay(pattern, folder, stem, paper=paper, unit=unit)
    project = folder / f"{stem}-laid{SUFFIX}"
    save(pattern.design, project)
    return pattern, wanting(pattern, items, beds), [project, *written]
