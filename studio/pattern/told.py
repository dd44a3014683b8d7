"""What cannot be made is left out and told; the rest stands."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from studio.check import Finding
from studio.errors import GeometryRefused, Told, exact_of

Made = TypeVar("Made")

MANY = 400
"""As many results as a stage holds of pieces or joins: several times those of a rich design, so
that what a drag makes anew does not push out what it leaves alone."""


def told(
    findings: list[Finding],
    rule: str,
    where: str,
    make: Callable[..., Made],
    *read: object,
    what: str = "",
) -> Made | None:
    """What `make` makes; when the geometry refuses, a grave finding (that starts with `what`) and
    None.
    """
    try:
        return make(*read)
    except GeometryRefused as refusal:
        message = f"{what}: {refusal.message}" if what else refusal.message
        findings.append(grave(rule, where, Told(message, refusal.exact)))
        return None


def grave(rule: str, where: str, message: str) -> Finding:
    """A grave finding; the lengths that its sentence brings are its own."""
    return Finding(rule, "grave", where, str(message), exact=exact_of(message))
