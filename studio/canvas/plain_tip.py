"""Tips that show words as they were written."""

from __future__ import annotations

from html import escape

from PySide6.QtGui import Qt


def plain_tip(words: str) -> str:
    """The tip for words in which there may be names: one that looks like markup would else be
    taken for it.
    """
    if not Qt.mightBeRichText(words):
        return words
    return f'<div style="white-space: pre">{escape(words, quote=False)}</div>'
