"""Notches that nothing meets when the seam is walked."""

from __future__ import annotations

from collections.abc import Sequence

from studio import numbers
from studio.check.finding import Finding


def judge_partners(join: str, lonely: Sequence[float]) -> tuple[Finding, ...]:
    """A warning for each notch of a join without a partner, at mm along its side."""
    return tuple(
        Finding(
            "notch-apart",
            "warning",
            join,
            f"The notch of {join} at {numbers.length(along)} has no partner on the other side: "
            "walk the seam, and notch both where they meet.",
            along,
        )
        for along in lonely
    )
