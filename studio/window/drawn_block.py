"""A block that came from a drawing: taking it, and saying which outline is which."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QFormLayout, QLineEdit, QMessageBox, QPushButton, QWidget

from studio.block.recognised import as_trousers
from studio.design import Design, ImportedBlock
from studio.design.naming import renamed_panel
from studio.design.plain import design_of_drawing
from studio.errors import GeometryRefused, YokewrightError
from studio.window import dialogs
from studio.window.document import Document
from studio.window.one_line import one_line
from studio.window.widgets import faint

_NAMED = "Name front and back"

_UNIT_ALONE = ("$INSUNITS", "unit")
"""Where a drawing is refused for want of a unit, DXF and SVG."""


def read_design(over: QWidget, path: Path, unit: str | None = None) -> Design | None:
    """A design of a drawing's closed outlines; asks for its unit when it has none, and whether to
    name front and back where it looks like them. None when it is refused, which is told.
    """
    from studio.exchange.block_in import read_drawing, strange_size  # Slow to load.

    try:
        imported = read_drawing(path, unit)
    except YokewrightError as problem:
        asked = dialogs.ask_unit(over) if problem.where in _UNIT_ALONE and not unit else None
        if asked is not None:
            return read_design(over, path, asked)
        dialogs.tell(over, "No block could be made of this drawing.", problem.sentence)
        return None
    if unit is None and (strange := strange_size(imported.panels)):
        asked = dialogs.ask_unit(over, _capital(strange[0]) + ". It is in")
        if asked is not None:
            return read_design(over, path, asked)
    design = design_of_drawing(imported, path.stem)
    try:
        named = as_trousers(design)
    except GeometryRefused:
        return design
    return named if _may_name(over) else design


def what_was_done(block: ImportedBlock) -> str:
    """What was done to a drawing and what of it was left out, a line each; empty when nothing."""
    lines = [*block.notes, *(f"left out: {one}" for one in block.left_out)]
    return "\n".join(_capital(line) for line in lines)


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _may_name(over: QWidget) -> bool:
    return dialogs.ask(
        over,
        "This looks like the front and the back of a pair of trousers.",
        "Their edges can be named hem, side, waist, rise and inseam, level lines drawn, and the "
        "side seam, inseam and crotch seam joined. Every step and part then finds its place.",
        _NAMED,
        ("Leave it as drawn", QMessageBox.ButtonRole.RejectRole),
    )


class DrawnBlockForm(QWidget):
    """Where the block came from, the names of its panels, and a way to have all edges named."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.names: dict[str, QLineEdit] = {}
        form = QFormLayout(self)
        form.setContentsMargins(14, 4, 12, 10)
        form.setVerticalSpacing(5)
        block = document.design.block
        assert isinstance(block, ImportedBlock)
        form.addRow(faint(f"From {block.source or 'a drawing'}."))
        for number, panel in enumerate(block.panels, start=1):
            field = QLineEdit(panel.name)
            field.setAccessibleName(f"Name of panel {number}")
            field.editingFinished.connect(partial(self._rename, panel.name, field))
            form.addRow(f"Panel {number}", field)
            self.names[panel.name] = field
        edges = [edge.name for panel in block.panels for edge in panel.edges]
        if all(f"{panel.name}.waist" in edges for panel in block.panels):
            return
        self.naming = QPushButton(_NAMED)
        self.naming.setToolTip(
            "Call the panels front and back, name their edges, draw level lines, join the seams"
        )
        self.naming.clicked.connect(lambda _on=False: self.name_all())
        form.addRow(self.naming)
        form.addRow(
            faint(
                "Or click an edge on the sheet and name it at the right, after its panel: "
                "front.side, front.waist, front.rise, front.inseam, front.hem."
            )
        )

    def name_all(self) -> None:
        """Name everything as on a pair of trousers, in one step."""
        self._document.edit(_NAMED, as_trousers)

    def _rename(self, old: str, field: QLineEdit) -> None:
        wanted = one_line(field.text())
        if wanted == old:
            return
        if not self._document.edit(f"Name {wanted}", partial(renamed_panel, old=old, new=wanted)):
            field.setText(old)
