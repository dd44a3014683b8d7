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
    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(path, matrix)
    found, cubics, last, start, held = [], [], None, None, []

    def place(x, y):
        at_x = matrix.a * x + matrix.c * y + matrix.e
        at_y = matrix.b * x + matrix.d * y + matrix.f
        return Point(at_x * MM, (height - at_y) * MM)

    for k in range(raw.FPDFPath_CountSegments(path)):
        segment = raw.FPDFPath_GetPathSegment(path, k)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = place(x.value, y.value)
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            if cubics:
                found.append(Chain(tuple(cubics)))
            cubics, start = [], at
        elif kind == raw.FPDF_SEGMENT_LINETO:
            if at != last:
                cubics.append(Cubic.straight(last, at))
        elif kind == raw.FPDF_SEGMENT_BEZIERTO:
            held.append(at)
            if len(held) < 3:
                continue
            cubics.append(Cubic(last, *held))
            held = []
        last = at
        if raw.FPDFPathSegment_GetClose(segment) and start is not None and last != start:
            cubics.append(Cubic.straight(last, start))
            last = start
    if cubics:
        found.append(Chain(tuple(cubics)))
    return found
