"""The history: designs with the name of the step that led to each. No Qt."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
from msgspec.structs import replace

from studio.design import Design


class Step(msgspec.Struct, frozen=True):
    """A design and what was done to get there; steps with the same `merge` key become one."""

    label: str
    design: Design
    merge: str = ""


class History:
    """Where the maker has been; the one place that knows what is undone and what is saved."""

    def __init__(self, design: Design, label: str = "Open") -> None:
        self._steps = [Step(label, design)]
        self._at = 0
        self._saved: Design | None = design

    @property
    def design(self) -> Design:
        """The design as it stands."""
        return self._steps[self._at].design

    @property
    def is_dirty(self) -> bool:
        """True when the design differs from what was last saved."""
        return self._saved is None or self.design != self._saved

    @property
    def undo_label(self) -> str:
        """What undo would take back; empty when there is nothing."""
        return self._steps[self._at].label if self._at > 0 else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again; empty when there is nothing."""
        following = self._at + 1
        return self._steps[following].label if following < len(self._steps) else ""

    def commit(self, label: str, design: Design, merge: str = "") -> bool:
        """Take a step; returns False, and forgets it, when it changes nothing.

        A step with the same merge key as the one before it, taken right after it, replaces it.
        """
        if design == self.design:
            return False
        del self._steps[self._at + 1 :]
        last = self._steps[self._at]
        if merge and last.merge == merge and self._at > 0 and last.design != self._saved:
            self._steps[self._at] = Step(label, design, merge)
            if design == self._steps[self._at - 1].design:
                del self._steps[self._at]
                self._at -= 1
            return True
        self._steps.append(Step(label, design, merge))
        self._at += 1
        return True

    def rewrite(self, made: Callable[[Design], Design]) -> None:
        """Tell every step otherwise, those that were undone too; none is added."""
        self._steps = [replace(step, design=made(step.design)) for step in self._steps]

    def end_merging(self) -> None:
        """The next step starts a new entry whatever its merge key."""
        last = self._steps[self._at]
        self._steps[self._at] = Step(last.label, last.design)

    def undo(self) -> bool:
        """Go one step back; False when there is none."""
        if self._at == 0:
            return False
        self._at -= 1
        return True

    def redo(self) -> bool:
        """Go one step forward again; False when there is none."""
        if self._at + 1 >= len(self._steps):
            return False
        self._at += 1
        return True

    def mark_saved(self) -> None:
        """What stands now is what is on the disk."""
        self._saved = self.design

    def mark_unsaved(self) -> None:
        """Nothing on the disk holds this design: a new one, or one recovered."""
        self._saved = None
