"""How much work a solve may take, by count: what it gives never depends on the machine."""

from __future__ import annotations

_EXACT_MM, _TO_THE_EYE_MM = 1e-6, 0.02


class Effort:
    """As many states may be looked at as `most` tells, or as it takes; it was `cut_short` once more
    were wanted. The least movement is sought until home is no nearer by more than `still_mm`
    along what the rows leave free: with little effort, by what the eye does not see.
    """

    def __init__(self, most: int | None = None) -> None:
        self._left = most
        self.still_mm = _EXACT_MM if most is None else _TO_THE_EYE_MM
        self.cut_short = False

    def goes_on(self) -> bool:
        """Whether one more may be looked at, which then counts."""
        if self._left is None:
            return True
        self.cut_short = self._left <= 0
        self._left -= 1
        return not self.cut_short
