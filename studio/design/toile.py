"""What a trial garment showed, as the maker wrote it down."""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.design.kept import Kept

ToilePlace: TypeAlias = Literal[
    "waist", "back waist", "hip", "thigh", "knee", "hem", "leg", "back rise", "front rise"
]

Misfit: TypeAlias = Literal["large", "tight", "long", "short"]


class ToileNote(Kept, frozen=True):
    """A place, what is wrong there, and by how many mm: round the whole body for waist and hip,
    round one leg for thigh, knee and hem, along the seam or the leg for lengths. `taken` once its
    steps are in the recipe.
    """

    place: ToilePlace
    misfit: Misfit
    amount: float
    words: str = ""
    taken: bool = False
