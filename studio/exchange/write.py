"""The pieces of a pattern in several formats at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from studio.numbers import LengthUnit
from studio.pattern import Pattern

FORMATS = ("dxf", "pdf", "png")


def write_pieces(
    pattern: Pattern,
    folder: Path,
    formats: Sequence[str],
    paper: str,
    stem: str,
    unit: LengthUnit = "mm",
) -> list[Path]:
    """Write `<stem>.<format>` in an existing folder for each format; returns the files. The sheets
    speak `unit`; a drawing is in mm.

    Raises:
        BadInput: a file cannot be written.
        ValueError: a format is not known.
    """
    written = []
    colours = {cloth.name: cloth.colour for cloth in pattern.design.cloths}
    for word in formats:
        path = folder / f"{stem}.{word}"
        if word == "dxf":
            from studio.exchange.dxf_out import write_dxf

            write_dxf(pattern.pieces, path, style=pattern.design.name)
        elif word == "pdf":
            from studio.exchange.paper import write_pdf

            title = pattern.design.name
            write_pdf(pattern.pieces, path, paper=paper, title=title, unit=unit)
        elif word == "png":
            from studio.exchange.picture import write_png

            write_png(pattern.pieces, path, colours=colours)
        else:
            raise ValueError(word)
        written.append(path)
    return written
