"""Sheets of paper a pattern can be printed on, in mm."""

from __future__ import annotations

import msgspec

from studio.errors import BadInput


class Paper(msgspec.Struct, frozen=True):
    """A sheet, upright: `name` as a maker says it, width and height in mm."""

    name: str
    width: float
    height: float


PAPERS: dict[str, Paper] = {
    # ISO 216:2007, trimmed sizes of the A series.
    "a4": Paper("A4", 210.0, 297.0),
    "a0": Paper("A0", 841.0, 1189.0),
    # ANSI/ASME Y14.1, size A: 8.5 by 11 inches.
    "letter": Paper("US letter", 215.9, 279.4),
}

READING_PAPERS = ("a4", "letter")
"""What sheets to read are printed on."""

MARGIN = 10.0
"""Kept clear on every side: home printers leave out the outer 5 to 10 mm (common practice)."""

STRIP = 10.0
"""Of each page, at its right and lower side, drawn once more on the neighbour that covers it."""


def paper_called(word: str) -> Paper:
    """The paper of that name, capitals or not.

    Raises:
        BadInput: it is not known; the sentence lists those that are.
    """
    try:
        return PAPERS[word.lower()]
    except KeyError:
        raise BadInput(
            f"The paper {word!r} is not known; use one of {', '.join(PAPERS)}.", where="paper"
        ) from None
