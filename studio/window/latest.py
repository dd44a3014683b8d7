"""Work beside the window: only the answer to the latest question is told."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from PySide6.QtCore import QObject, Signal

from studio.errors import YokewrightError


class Latest(QObject):
    """Answers questions on a thread of its own, one at a time. A question that was overtaken is
    not begun, or its answer is dropped. `answered` carries the answer, `refused` a sentence when
    there is none.
    """

    answered = Signal(object)
    refused = Signal(str)
    _came = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked = 0
        self._told = 0
        self._worker = ThreadPoolExecutor(1, "beside the window")
        self._came.connect(self._tell)

    @property
    def is_busy(self) -> bool:
        """Whether the latest question is not answered yet."""
        return self._told != self._asked

    def ask(self, work: Callable[[], object]) -> None:
        """Ask; `work` must read only values that never change."""
        self._asked += 1
        self._worker.submit(self._answer, self._asked, work)

    def forget(self) -> None:
        """Want no answer to what was asked."""
        self._asked += 1
        self._told = self._asked

    def end(self) -> None:
        """Ask no more; what runs comes to its end unheard."""
        self.forget()
        self._worker.shutdown(wait=False, cancel_futures=True)

    def _answer(self, number: int, work: Callable[[], object]) -> None:
        """On the other thread."""
        if number != self._asked:
            return
        try:
            self._came.emit(number, work())
        except YokewrightError as problem:
            self._came.emit(number, problem)

    def _tell(self, number: int, answer: object) -> None:
        if number != self._asked:
            return
        self._told = number
        if isinstance(answer, YokewrightError):
            self.refused.emit(str(answer))
        else:
            self.answered.emit(answer)
