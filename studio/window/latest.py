"""Work beside the window: only the answer to the latest question is told."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable
from threading import Lock, Thread

from PySide6.QtCore import QObject, Signal

from studio.errors import YokewrightError

_NAME = "beside the window"


class _Answers(QObject):
    """Carries answers from the other thread. It has no parent: whoever holds it may emit, also at
    the very moment at which the window is taken down.
    """

    came = Signal(int, object)


class Latest(QObject):
    """Answers questions on a thread of its own, one at a time. A question that was overtaken is
    not begun, or its answer is dropped. `answered` carries the answer, `refused` a sentence when
    there is none.
    """

    answered = Signal(object)
    refused = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked = 0
        self._told = 0
        self._lock = Lock()
        self._waiting: tuple[int, Callable[[], object]] | None = None
        self._working = False
        self._answers = _Answers()
        self._answers.came.connect(self._tell)

    @property
    def is_busy(self) -> bool:
        """Whether the latest question is not answered yet."""
        return self._told != self._asked

    def ask(self, work: Callable[[], object]) -> None:
        """Ask; `work` must read only values that never change."""
        with self._lock:
            self._asked += 1
            self._waiting = (self._asked, work)
            if self._working:
                return
            self._working = True
        # The program may end without waiting for an answer that nobody will hear.
        Thread(target=self._work, name=_NAME, daemon=True).start()

    def forget(self) -> None:
        """Want no answer to what was asked; what runs comes to its end unheard."""
        with self._lock:
            self._asked += 1
            self._told = self._asked
            self._waiting = None

    def _work(self) -> None:
        """On the other thread: the latest question, until there is none."""
        while True:
            with self._lock:
                waiting, self._waiting = self._waiting, None
                if waiting is None:
                    self._working = False
                    return
            number, work = waiting
            try:
                answer = work()
            except YokewrightError as problem:
                answer = problem
            except BaseException:
                # A fault of the program ends this thread loudly; the next question gets another.
                with self._lock:
                    self._working = False
                    self._told = max(self._told, number)  # No answer will come.
                raise
            self._answers.came.emit(number, answer)

    def _tell(self, number: int, answer: object) -> None:
        if number != self._asked:
            return
        self._told = number
        if isinstance(answer, YokewrightError):
            self.refused.emit(answer.sentence)
        else:
            self.answered.emit(answer)


def working() -> list[Thread]:
    """What is being worked out beside any window now."""
    return [one for one in threading.enumerate() if one.name == _NAME]


def leave(code: int) -> int:
    """The code that the program ends with. While something is being worked out it ends here and
    now: Python ends a thread as it comes back from a library, and libraries in C++ that find
    themselves ended so abort the whole program, as if it had failed.
    """
    if working():
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:
                stream.flush()
        os._exit(code)
    return code
