"""Text as an old file can hold it: 7-bit ASCII."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

_SPELLED = {
    "ß": "ss",
    "ẞ": "SS",
    "Æ": "AE",
    "æ": "ae",
    "Œ": "OE",
    "œ": "oe",
    "Ø": "O",
    "ø": "o",
    "Đ": "D",
    "đ": "d",
    "Ð": "D",
    "ð": "d",
    "Þ": "Th",
    "þ": "th",
    "Ł": "L",
    "ł": "l",
    "\N{LATIN SMALL LETTER DOTLESS I}": "i",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{HYPHEN}": "-",
    "\N{NON-BREAKING HYPHEN}": "-",
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{MINUS SIGN}": "-",
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
}
"""Letters that Unicode does not take apart (accents are left to it), common usage."""

_LONGEST_NAME = 64


def ascii_text(text: str) -> str:
    """Accents dropped, ligatures spelled out, line breaks as spaces, anything else a '?'."""
    spelled = "".join(_SPELLED.get(letter, letter) for letter in text)
    letters = []
    for letter in unicodedata.normalize("NFKD", spelled):
        if unicodedata.combining(letter):
            continue
        if letter.isspace():
            letters.append(" ")
        else:
            letters.append(letter if " " < letter < "\x7f" else "?")
    return "".join(letters).strip()


def block_names(names: Iterable[str]) -> list[str]:
    """A name for each that a DXF table takes: letters, digits, '-' and '_', no two the same in
    capitals, at most 64 long; a repeated one gets a number.
    """
    taken: set[str] = set()
    made = []
    for name in names:
        stem = re.sub(r"[^A-Za-z0-9_-]+", "_", ascii_text(name))[:_LONGEST_NAME] or "PIECE"
        stem = stem.upper()
        candidate, number = stem, 2
        while candidate in taken:
            candidate = f"{stem[: _LONGEST_NAME - 8]}-{number}"
            number += 1
        taken.add(candidate)
        made.append(candidate)
    return made
