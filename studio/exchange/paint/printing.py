"""Pages painted into a PDF."""

from __future__ import annotations

import re
import uuid
from collections.abc import Callable, Iterable

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF, QUuid
from PySide6.QtGui import QPageSize, QPainter, QPdfWriter

from studio.exchange.paint.offscreen import painting
from studio.exchange.paper_sizes import Paper

CREATOR = "Yokewright"

_RESOLUTION = 1200
_POINTS_PER_MM = 72.0 / 25.4


def printed(paper: Paper, title: str, pages: Iterable[Callable[[QPainter], None]]) -> bytes:
    """A PDF of pages, each painted in mm from the upper left corner of the paper.

    The same pages give the same bytes but for the date in it.
    """
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = _writer(buffer, paper, title)
    with painting(writer) as painter:
        painter.scale(_RESOLUTION / 25.4, _RESOLUTION / 25.4)
        for number, paint in enumerate(pages):
            if number:
                writer.newPage()
            paint(painter)
    return _with_true_size(bytes(buffer.data().data()), paper)


def _writer(buffer: QBuffer, paper: Paper, title: str) -> QPdfWriter:
    writer = QPdfWriter(buffer)
    writer.setResolution(_RESOLUTION)
    writer.setTitle(title)
    writer.setCreator(CREATOR)
    writer.setDocumentId(QUuid(str(uuid.uuid5(uuid.NAMESPACE_URL, f"{CREATOR}:{title}"))))
    size = QSizeF(paper.width, paper.height)
    match = QPageSize.SizeMatchPolicy.ExactMatch
    writer.setPageSize(QPageSize(size, QPageSize.Unit.Millimeter, paper.name, match))
    writer.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0))
    return writer


def _with_true_size(content: bytes, paper: Paper) -> bytes:
    """Qt rounds the paper to whole points (A0 by 0.14 mm); put the true size, as many bytes."""
    true = b"/MediaBox [0 0 %.6f %.6f]" % (
        paper.width * _POINTS_PER_MM,
        paper.height * _POINTS_PER_MM,
    )
    return re.sub(
        rb"/MediaBox \[0 0 \d+\.\d{6} \d+\.\d{6}\]",
        lambda found: true if len(found[0]) == len(true) else found[0],
        content,
    )
