"""A name or a note of one line, as a maker typed or pasted it. No Qt."""

from __future__ import annotations

import unicodedata

_BREAKS = ("Cc", "Zl", "Zp")
"""Control signs, and what breaks a line or a paragraph (Unicode standard, general categories). A
pasted text may have them; file names, labels and menus may not.
"""


def one_line(text: str) -> str:
    """The text with a space for each sign that breaks lines or is none, and no space round it."""
    signs = (" " if unicodedata.category(sign) in _BREAKS else sign for sign in text)
    return "".join(signs).strip()
