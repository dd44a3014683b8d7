"""The sheets of a lay: plans to read, each cloth at true size, and a drawing for a cutter."""

from __future__ import annotations

from pathlib import Path

from studio.exchange.lay_dxf import write_lay_dxf
from studio.exchange.lay_paper import write_lay_pdf, write_true_pdf
from studio.exchange.lay_plan import cloth_plans, lay_words
from studio.numbers import LengthUnit
from studio.pattern import Pattern


def write_lay_sheets(
    pattern: Pattern, folder: Path, project: Path | None, unit: LengthUnit
) -> list[Path]:
    """Write the lay of a pattern to a folder, named after its project file or the design; lengths
    on the plans in `unit`. Gives the files written.

    Raises:
        YokewrightError: nothing is laid, a cloth is too long for a page, a file cannot be written.
    """
    name = pattern.design.name
    stem = (project or Path(name)).stem
    plans = cloth_plans(pattern)
    target = folder / f"{stem}-lay.pdf"
    write_lay_pdf(plans, target, title=f"{name}, lay", verdict=lay_words(pattern), unit=unit)
    return [target, *write_true_pdf(plans, folder, stem), *write_lay_dxf(plans, folder, stem)]
