"""Pictures of the laying table: the demonstration led from cloth that is short to a whole cut."""

from __future__ import annotations

import time
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pypdfium2
from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtGui import QImage

from studio.canvas.theme import LIGHT
from studio.demo_lay import first_lay, second_lay, whole_lay
from studio.design import Design
from studio.exchange.lay_paper import write_lay_pdf
from studio.exchange.lay_plan import cloth_plans, lay_words
from studio.pattern import evaluate
from studio.window.app import application
from studio.window.document import Document
from studio.window.lay_window import LayWindow
from studio.window.style import palette_of, style_sheet_of

SIZE = QSize(1360, 860)
QUIET, LONGEST_WAIT = 0.6, 60.0
"""The picture is taken when no advice has been sought for so many seconds."""

_PLAN_SCALE = 1.5


def of_the_table(folder: Path) -> None:
    """The first lay with what is told of it, the back legs with less allowance, the whole cut; and
    a page of its plan.
    """
    application()
    for name, design in (
        ("lay-first", first_lay()),
        ("lay-less-allowance", second_lay()),
        ("lay-whole", whole_lay()),
    ):
        _table(design, folder / f"{name}.png")
    _plan(whole_lay(), folder / "lay-plan.png")


def _table(design: Design, path: Path) -> None:
    window = LayWindow(Document(design), "mm", LIGHT, None)
    window.setPalette(palette_of(LIGHT))
    window.setStyleSheet(style_sheet_of(LIGHT))
    window.resize(SIZE)
    window.show()
    begun = quiet_since = time.monotonic()
    while time.monotonic() < quiet_since + QUIET and time.monotonic() < begun + LONGEST_WAIT:
        # The advice is worked out on a thread of this process and needs its turn.
        QCoreApplication.processEvents()
        time.sleep(0.005)
        if window.adviser.is_busy:
            quiet_since = time.monotonic()
    window.view.fit()
    window.grab().save(str(path))
    window.close()


def _plan(design: Design, path: Path) -> None:
    """The plan of the end of the roll, as printed."""
    pattern = evaluate(design)
    plans = [plan for plan in cloth_plans(pattern) if plan.stock.name == "end of the roll"]
    with TemporaryDirectory() as home:
        printed = Path(home) / "plan.pdf"
        write_lay_pdf(plans, printed, title=design.name, verdict=lay_words(pattern))
        with pypdfium2.PdfDocument(printed) as book:
            pixels = book[0].render(scale=_PLAN_SCALE, rev_byteorder=True).to_numpy()
    rows = np.ascontiguousarray(pixels)
    high, wide, channels = rows.shape
    kind = QImage.Format.Format_RGB888 if channels == 3 else QImage.Format.Format_RGBA8888
    QImage(rows.data, wide, high, wide * channels, kind).save(str(path))
