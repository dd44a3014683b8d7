"""Findings the maker has looked at and lets stand."""

from __future__ import annotations

from studio.design.kept import Kept


class Accepted(Kept, frozen=True):
    """A finding let stand, with the maker's reason: by its rule and place, and the number it had
    (in the finding's unit) or, without one, its message. Another number is another finding.
    """

    rule: str
    where: str
    reason: str
    measured: float | None = None
    message: str = ""
