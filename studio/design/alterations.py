"""Flat-pattern work asked for, step by step; how each is done lives in `studio.alter`."""

from __future__ import annotations

from typing import TypeAlias

import msgspec


class LowerWaist(
    msgspec.Struct, frozen=True, tag="lower-waist", tag_field="kind", forbid_unknown_fields=True
):
    """Move a panel's waist down the grain, by amounts (mm) at its rise end and its side end."""

    panel: str
    at_rise: float
    at_side: float
    active: bool = True


class SwingRise(
    msgspec.Struct, frozen=True, tag="swing-rise", tag_field="kind", forbid_unknown_fields=True
):
    """Move the top of a panel's rise in towards the side by `amount` mm.

    The new rise runs straight to the hip line and smooth into what is below. With
    `releases_darts` the panel's waist darts are given up: the swing takes out their width.
    """

    panel: str
    amount: float
    releases_darts: bool = False
    active: bool = True


Alteration: TypeAlias = LowerWaist | SwingRise
