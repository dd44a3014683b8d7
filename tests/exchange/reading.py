"""Reading our PDF files back: every painted path in mm from the paper's top left, y down."""

from __future__ import annotations

import ctypes

import pypdfium2 as pdfium
import pypdfium2.raw as raw

from studio.curves import Chain, Cubic, Point

MM = 25.4 / 72.0


def page_size_mm(path, index=0):
    with pdfium.PdfDocument(path) as book:
        width, height = book[index].get_size()
        return width * MM, height * MM


def page_count(path):
    with pdfium.PdfDocument(path) as book:
        return len(book)


def words_on(path, index):
    """The text of a page, all white in it single plain spaces."""
    with pdfium.PdfDocument(path) as book:
        return " ".join(book[index].get_textpage().get_text_range().split())


def painted_chains(path, index):
    """Each path of a page as a chain, curves kept as curves."""
    with pdfium.PdfDocument(path) as book:
        page = book[index]
        height = page.get_size()[1]
        chains = []
        for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=4):
            chains += _chains(thing.raw, height)
        return chains


def _chains(path, height):
    """A path as chains, one for each time the pen is lifted."""
    found, cubics, held = [], [], []
    last = start = None
    for kind, at, closes in _segments(path, height):
        if kind == raw.FPDF_SEGMENT_MOVETO:
            found.append(cubics)
            cubics, start = [], at
        elif kind == raw.FPDF_SEGMENT_LINETO:
            cubics.append(Cubic.straight(last, at))
        else:
            held.append(at)
            if len(held) < 3:
                continue
            cubics.append(Cubic(last, *held))
            held = []
        last = at
        if closes:
            cubics.append(Cubic.straight(last, start))
            last = start
    found.append(cubics)
    # A line to where the pen is already adds nothing.
    drawn = [tuple(cubic for cubic in part if cubic.p0 != cubic.p3) for part in found]
    return [Chain(part) for part in drawn if part]


def _segments(path, height):
    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(path, matrix)
    for k in range(raw.FPDFPath_CountSegments(path)):
        segment = raw.FPDFPath_GetPathSegment(path, k)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        across = matrix.a * x.value + matrix.c * y.value + matrix.e
        up = matrix.b * x.value + matrix.d * y.value + matrix.f
        at = Point(across * MM, (height - up) * MM)
        closes = bool(raw.FPDFPathSegment_GetClose(segment))
        yield raw.FPDFPathSegment_GetType(segment), at, closes
