"""The pieces on their way out: to files, in which formats, on what paper; or to a printer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QWidget,
)

from studio.canvas.type_size import size_with_letters
from studio.check import Finding
from studio.errors import YokewrightError, told_of
from studio.exchange.paper_sizes import PAPERS
from studio.exchange.write import FORMATS, write_pieces
from studio.numbers import LengthUnit, retold
from studio.window import dialogs
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.save_path import stem_of
from studio.window.widgets import column_of, faint, form_in, ok_and_cancel, wrapped

_WORDS = {
    "dxf": "DXF, for a plotter or a cutter",
    "pdf": "PDF, to print at true size",
    "png": "PNG, a picture of all pieces",
}


_FEW = 4
"""So many places are named of those with a grave finding."""


class ExportDialog(QDialog):
    """Starts with every format, A4, and the folder of the project."""

    def __init__(
        self,
        folder: Path,
        parent: QWidget | None,
        unit: LengthUnit = "mm",
        findings: Sequence[Finding] = (),
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Write pieces to files")
        column = column_of(self)
        form = form_in(column)
        self.ticks: dict[str, QCheckBox] = {}
        for word in FORMATS:
            tick = self.ticks[word] = QCheckBox(_WORDS[word])
            tick.setChecked(True)
            tick.toggled.connect(lambda _on: self._judge())
            form.addRow(tick)
        self.paper = ChoiceBox()
        self.paper.setAccessibleName("Paper of the PDF")
        for name, paper in PAPERS.items():
            self.paper.addItem(paper.name, name)
        form.addRow("Paper", self.paper)
        self.folder = QLineEdit(str(folder))
        self.folder.setAccessibleName("Folder")
        size_with_letters(self.folder, minimumWidth=300)
        self.folder.textChanged.connect(lambda _text: self._judge())
        choose = QPushButton("Choose…")
        choose.setAutoDefault(False)
        choose.clicked.connect(lambda _on=False: self._choose())
        where = QHBoxLayout()
        where.setSpacing(8)
        where.addWidget(self.folder, 1)
        where.addWidget(choose)
        form.addRow("Folder", where)
        if words := grave_words(findings):
            grave = wrapped(words)
            grave.setProperty("role", "grave")
            column.addWidget(grave)
        column.addWidget(faint(dialogs.square_caution(unit)))
        buttons = ok_and_cancel(self, "Write")
        self.write = buttons.button(QDialogButtonBox.StandardButton.Ok)
        column.addWidget(buttons)

    @property
    def formats(self) -> tuple[str, ...]:
        """The formats that are ticked."""
        return tuple(word for word, tick in self.ticks.items() if tick.isChecked())

    def _judge(self) -> None:
        self.write.setEnabled(bool(self.formats and self.folder.text().strip()))
        self.paper.setEnabled(self.ticks["pdf"].isChecked())

    def _choose(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder for the pieces", self.folder.text())
        if name:
            self.folder.setText(name)


def grave_words(findings: Sequence[Finding]) -> str:
    """What stands against cutting by the pieces, with the sign of what is grave; "" for nothing."""
    grave = (one for one in findings if one.gravity == "grave" and not one.accepted)
    where = list(dict.fromkeys(one.where for one in grave))
    if not where:
        return ""
    few, more = where[:_FEW], len(where) - _FEW
    named = ", ".join(few) + (f" and {more} more" if more > 0 else "")
    return (
        f"\N{BLACK SQUARE} Grave findings stand on {named}. The pieces are written as they are; "
        "what could not be made is left out."
    )


def export(over: QWidget, document: Document, unit: LengthUnit) -> None:
    """Ask and write, sheets in a unit; asks again before files are written over, and tells what was
    written.
    """
    findings = document.whole().findings
    dialog = ExportDialog(document.home or Path.cwd(), over, unit, findings)
    while dialog.exec():
        stem = stem_of(document)
        try:
            folder = Path(dialog.folder.text().strip()).expanduser()
            files = [folder / f"{stem}.{word}" for word in dialog.formats]
            there = [file.name for file in files if file.exists()]
            if there and not dialogs.ask_write_over(over, ", ".join(there)):
                continue
            folder.mkdir(parents=True, exist_ok=True)
            paper = dialog.paper.currentData()
            pattern = document.whole()
            written = write_pieces(pattern, folder, dialog.formats, paper, stem, unit)
        except (YokewrightError, OSError, ValueError, RuntimeError) as problem:
            # A home that is not known is a RuntimeError, a character no path has a ValueError.
            dialogs.tell(over, "The pieces could not be written.", retold(told_of(problem), unit))
            continue
        names = "\n".join(path.name for path in written)
        told = f"{names}\n\nin {folder}\n\n{dialogs.square_caution(unit)}"
        dialogs.tell(over, "The pieces are written.", told)
        return


def print_pieces(over: QWidget, document: Document, unit: LengthUnit) -> bool:
    """Print the pages that the PDF would have; False when nothing was printed."""
    # Printing takes its time to load, and not every sitting comes to it.
    from studio.exchange.paper import book_of_pieces
    from studio.window.print_pages import ask_and_print

    pattern = document.whole()
    return ask_and_print(
        over,
        lambda paper: book_of_pieces(
            pattern.pieces, paper=paper, title=pattern.design.name, unit=unit
        ),
        tuple(PAPERS),
        instead="Write the pieces to a PDF instead, with Write pieces to files in the File menu, "
        "and print it at 100 % (actual size) where there is a printer.",
        caution=dialogs.square_caution(unit),
        unit=unit,
    )
