"""Which findings the maker has accepted, and still may: the number is what it was."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from studio.check.finding import Finding
from studio.design.accepted import Accepted

SAME = 0.05
"""Half of the last digit shown: a number this near is the one that was accepted."""


def acceptance(finding: Finding, reason: str) -> Accepted:
    """What is kept when a finding is accepted."""
    message = finding.message if finding.measured is None else ""
    return Accepted(finding.rule, finding.where, reason, finding.measured, message)


def with_acceptance(
    findings: Iterable[Finding], accepted: Iterable[Accepted]
) -> tuple[Finding, ...]:
    """The findings, those the maker has accepted with the reason for it."""
    known = tuple(accepted)
    return tuple(
        next(
            (
                replace(finding, accepted=one.reason or "accepted")
                for one in known
                if is_accepted(finding, one)
            ),
            finding,
        )
        for finding in findings
    )


def is_accepted(finding: Finding, one: Accepted) -> bool:
    """True when this is what was accepted."""
    if not speaks_of(finding, one):
        return False
    if finding.measured is None or one.measured is None:
        return (
            finding.measured is None
            and one.measured is None
            and _alike(finding.message, one.message)
        )
    return abs(finding.measured - one.measured) <= SAME


def speaks_of(finding: Finding, one: Accepted) -> bool:
    """True when what was accepted is of the same rule and place, whatever its number."""
    return finding.rule == one.rule and _alike(finding.where, one.where)


def _alike(words: str, other: str) -> bool:
    """Whether two say the same; what was kept before every length had its unit still holds."""
    return words.replace(" mm", "") == other.replace(" mm", "")
