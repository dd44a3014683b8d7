"""The lay on its way out: sheets in a folder, or its plans to a printer."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from studio.check import sentence_in_unit
from studio.errors import YokewrightError, told_of
from studio.exchange.lay_plan import CAUTIONS
from studio.exchange.lay_write import book_of_lay, write_lay
from studio.exchange.paper_sizes import READING_PAPERS
from studio.numbers import LengthUnit
from studio.window import dialogs
from studio.window.document import Document


def ask_and_write(over: QWidget, document: Document, unit: LengthUnit) -> None:
    """Ask for a folder, write the sheets and tell which."""
    name = QFileDialog.getExistingDirectory(over, "Folder for the sheets")
    if not name:
        return
    try:
        written = write_sheets(document, Path(name), unit)
    except (YokewrightError, OSError) as problem:
        told = sentence_in_unit(told_of(problem), document.design, unit)
        dialogs.tell(over, "The sheets could not be written.", told)
        return
    names = "\n".join(path.name for path in written)
    dialogs.tell(over, "The sheets are written.", f"{names}\n\n{CAUTIONS[0]}")


def write_sheets(document: Document, folder: Path, unit: LengthUnit) -> list[Path]:
    """Write the lay to a folder: plans to read, each cloth at true size, a DXF a cloth.

    Raises:
        YokewrightError: nothing is laid, or a file cannot be written.
    """
    stem = (document.path or Path(document.design.name)).stem
    return write_lay(document.whole(), folder, stem, unit=unit)


def print_plans(over: QWidget, document: Document, unit: LengthUnit) -> bool:
    """Print the plans to read, not the cloths at true size; False when nothing was printed."""
    from studio.window.print_pages import ask_and_print  # Slow to load.

    pattern = document.whole()
    return ask_and_print(
        over,
        lambda paper: book_of_lay(pattern, paper=paper, unit=unit),
        READING_PAPERS,
        instead="Write the sheets instead, and print the PDF of the plans elsewhere.",
        caution=CAUTIONS[0],
        unit=unit,
    )
