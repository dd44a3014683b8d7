"""Pages to be painted, and how they are painted into a PDF."""

from __future__ import annotations

import re
import uuid
from collections.abc import Callable, Iterable
from typing import TypeAlias

import msgspec
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF, QUuid
from PySide6.QtGui import QPagedPaintDevice, QPageSize, QPainter, QPdfWriter

from studio.errors import YokewrightError
from studio.exchange.paint.offscreen import painting
from studio.exchange.paper_sizes import Paper

CREATOR = "Yokewright"

_RESOLUTION = 1200
_POINTS_PER_MM = 72.0 / 25.4


PaintPage: TypeAlias = Callable[[QPainter], None]


class Book(msgspec.Struct, frozen=True):
    """Pages ready to be painted, each in mm from the upper left corner of its paper; nothing is
    drawn nearer than `margin` mm to an edge of it.
    """

    title: str
    paper: Paper
    margin: float
    pages: tuple[PaintPage, ...]


def printed(book: Book) -> bytes:
    """A PDF of a book. The same pages give the same bytes but for the date in it."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = _writer(buffer, book.paper, book.title)
    paint_pages(book.pages, writer)
    return _with_true_size(bytes(buffer.data().data()), book.paper)


def paint_pages(pages: Iterable[PaintPage], device: QPagedPaintDevice) -> None:
    """Paint pages at true size on a device whose origin is the corner of the paper.

    Raises:
        YokewrightError: the device can not be painted on, or takes no further page.
    """
    with painting(device) as painter:
        painter.scale(device.logicalDpiX() / 25.4, device.logicalDpiY() / 25.4)
        for number, paint in enumerate(pages):
            if number and not device.newPage():
                raise YokewrightError(f"No page was taken after page {number}.")
            paint(painter)


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
