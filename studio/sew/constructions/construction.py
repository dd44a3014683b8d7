"""What every construction of a seam or an edge knows: its allowances, its stitching, its class.

Classes of ISO 4916:1991 and ASTM D6193 are given only where they are sure; those of D6193 other
than LSc are from memory. Stitch types are those of ISO 4915:1991.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import ClassVar, Literal, TypeAlias

import msgspec

SideName: TypeAlias = Literal["a", "b"]

EDGE_STITCH = 2.0
"""A row this near an edge or a fold keeps it down, mm (practice)."""


LEAST = 6.0
"""With less allowance a seam frays open, mm (practice)."""


class Row(msgspec.Struct, frozen=True):
    """A row of topstitching on a side, `inward` mm inside its sewing line."""

    side: SideName
    inward: float


class Construction(ABC):
    """How two sides are sewn together."""

    title: ClassVar[str]
    iso_4916: ClassVar[str] = ""
    astm_d6193: ClassVar[str] = ""
    stitch: ClassVar[str] = "301"
    """Of the seam and its rows: a home machine's lockstitch."""

    is_notched: ClassVar[bool] = True
    """False where one side lies on a line drawn on the other."""

    lies_over: ClassVar[bool] = False
    """True where side b is a seam sewn before, which has its allowance already."""

    words: ClassVar[str] = ""
    """What else is to be said of how it is sewn, for the work sheet."""

    chooses_wrap: ClassVar[bool] = False
    """True where it matters which side's allowance folds round the other."""

    @abstractmethod
    def allowances(self, standard: float, wraps: SideName) -> tuple[float, float]:
        """Allowance of side a and of side b, mm, from the maker's standard one."""

    def least(self, _standard: float, _wraps: SideName) -> tuple[float, float]:
        """The least allowance of side a and of side b it can still be sewn with, mm (practice)."""
        return LEAST, LEAST

    def rows(self, _standard: float, _wraps: SideName) -> tuple[Row, ...]:
        """Rows of topstitching that come with it."""
        return ()


class EdgeFinish(ABC):
    """How an edge that is not joined is finished."""

    title: ClassVar[str]
    iso_4916: ClassVar[str] = ""
    astm_d6193: ClassVar[str] = ""
    stitch: ClassVar[str] = "301"
    folds_up: ClassVar[bool] = False
    """True where the allowance is turned up on the leg, so that its corners are folded."""

    words: ClassVar[str] = ""
    """What else is to be said of how it is finished, for the work sheet."""

    turn_up: float = 0.0
    """How high it stands turned up on the outside of the leg, mm; 0 for what is no turn-up."""

    def standing(self, _turn_up: float | None) -> EdgeFinish:
        """The finish with its turn-up so high, mm; the same where it has none."""
        return self

    @abstractmethod
    def allowance(self, standard: float) -> float:
        """Allowance in mm when the maker sets none."""

    def least(self, allowance: float) -> float:
        """The least it can still be finished with, mm, when so much is asked for (practice)."""
        return min(LEAST, allowance)

    def rows(self, _allowance: float) -> tuple[float, ...]:
        """Rows of topstitching, mm inside the edge."""
        return ()
