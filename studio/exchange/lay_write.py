"""A lay in all its files at once: plans to read, each cloth at true size, a drawing a cloth."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from studio.exchange.lay_plan import cloth_plans, lay_words
from studio.numbers import LengthUnit
from studio.pattern import Pattern

if TYPE_CHECKING:
    from studio.exchange.paint.printing import Book


def write_lay(
    pattern: Pattern, folder: Path, stem: str, *, paper: str = "a4", unit: LengthUnit = "mm"
) -> list[Path]:
    """Write `<stem>-lay.pdf`, `<stem>-<cloth>.pdf` and `<stem>-<cloth>.dxf` for the design's lay in
    an existing folder; returns the files. A cloth longer than a page of a PDF can be has only its
    DXF.

    Raises:
        BadInput: nothing is laid, a cloth cannot be used, or a file cannot be written.
    """
    from studio.exchange.lay_dxf import write_lay_dxf  # Slow to load.
    from studio.exchange.lay_paper import fits_page, write_lay_pdf, write_true_pdf

    plans = cloth_plans(pattern)
    plan = folder / f"{stem}-lay.pdf"
    title, verdict = pattern.design.name, lay_words(pattern)
    write_lay_pdf(plans, plan, title=title, verdict=verdict, paper=paper, unit=unit)
    on_a_page = [one for one in plans if one.laid and fits_page(one)]
    true_size = write_true_pdf(on_a_page, folder, stem, unit=unit) if on_a_page else []
    return [plan, *true_size, *write_lay_dxf(plans, folder, stem)]


def book_of_lay(pattern: Pattern, *, paper: str, unit: LengthUnit = "mm") -> Book:
    """The pages of `<stem>-lay.pdf`, to be painted wherever they are wanted.

    Raises:
        BadInput: nothing is laid, a cloth cannot be used, or the paper is not one for reading.
    """
    from studio.exchange.lay_paper import book_of_plans

    return book_of_plans(
        cloth_plans(pattern),
        title=pattern.design.name,
        verdict=lay_words(pattern),
        paper=paper,
        unit=unit,
    )
