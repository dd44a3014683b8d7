"""Searches in processes of their own: started, looked at now and then, stopped at any time.

No Qt here: a window calls `poll` from a timer, a command in a loop. Processes are started plainly
and not by `multiprocessing`, which would import the main module, and Qt with it, once more in each,
and leave a process of its own behind.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from queue import SimpleQueue
from threading import Thread

from studio.cloth.bed import Bed
from studio.cloth.groups import Group, groups_of
from studio.cloth.items import Item
from studio.cloth.layout import Layout, layout_of, together
from studio.cloth.referee import faults
from studio.cloth.rolls import TooLong, strip_of
from studio.cloth.task import NOTHING
from studio.cloth.worker import Failed, Job, Message
from studio.design.cloth import Lay

CELLS_MM = (3.0, 6.0)
"""Cells of the two searches that run at once. Measured on planted sets: steps of the coarse one are
much shorter, and it finds what the fine one does not, and the other way about.
"""
ROLL_SECONDS = 60.0
_FIRST_SECONDS = 60.0
"""So much longer than asked for a first layout is waited for."""
_GONE_SECONDS = 0.4
"""How long a process that was killed is waited for."""
_LOOK_SECONDS = 0.02
_START = "import sys; sys.path[:] = {path!r}; from studio.cloth.worker import main; main()"


_CUT_OFF = (EOFError, pickle.UnpicklingError, ValueError, IndexError, AttributeError)
"""What reading a message may end with that was cut off."""


class Searching:
    """A search for a layout of a whole stash: cloths that share no pieces are searched apart."""

    def __init__(self) -> None:
        self.best: Layout | None = None
        """The best layout so far, of all groups."""
        self.problem = ""
        """A sentence on what went wrong in a process; what was found before stays."""
        self.too_long: dict[str, float] = {}
        """Rolls that are too short for all that is to come of them: the length needed, mm."""
        self._groups: tuple[Group, ...] = ()
        self._found: dict[int, Layout] = {}
        self._workers: list[_Worker] = []
        self._spare: list[_Worker] = []
        self._waiting: list[Job] = []

    def ready(self) -> None:
        """Start processes ahead, so that the next search need not wait for them (about half a
        second). They do nothing until then; `stop` ends them too.

        Raises:
            OSError: no process could be started.
        """
        while len(self._spare) < len(CELLS_MM):
            self._spare.append(_Worker())

    def start(
        self,
        items: Iterable[Item],
        beds: Sequence[Bed],
        lay: Lay,
        *,
        seed: int = 0,
        roll_seconds: float = ROLL_SECONDS,
    ) -> None:
        """Stop the search that runs and search anew; locked placements of the lay stay where they
        are. Clean rolls are searched for `roll_seconds`.

        Raises:
            OSError: no process could be started.
        """
        self._end_workers()
        self.best, self.problem, self.too_long, self._found = None, "", {}, {}
        self._groups = groups_of(items, beds, lay)
        numbered = list(enumerate(group.task for group in self._groups))
        on_rolls = tuple((number, task) for number, task in numbered if strip_of(task) is not None)
        others = tuple(each for each in numbered if each not in on_rolls)
        self._waiting = [Job(others, seed, CELLS_MM[0], False, 0.0)] if others else []
        if on_rolls:
            self._waiting.append(Job(on_rolls, seed, CELLS_MM[0], True, roll_seconds))
        if others:
            self._waiting.append(Job(others, seed + 1, CELLS_MM[1], False, 0.0))
        self._fill()

    def poll(self) -> Layout | None:
        """A layout better than the last one given, verified by the referee; None when there is none
        yet. The first comes when every group of the stash has one. Never waits.
        """
        news = False
        for worker in tuple(self._workers):
            for message in worker.messages():
                news = self._heard(message) or news
            self.problem = self.problem or worker.problem
        self._workers = [worker for worker in self._workers if not worker.ended]
        self._fill()
        if self.ended and self._groups and not news:
            news = self._give_up()
        if news and len(self._found) == len(self._groups):
            self.best = together([self._found[number] for number in sorted(self._found)])
            return self.best
        return None

    @property
    def ended(self) -> bool:
        """Whether nothing runs any more; all that was found has been given by `poll`."""
        return not self._workers and not self._waiting

    def stop(self) -> None:
        """End every process and wait until it is gone; what was found stays in `best`."""
        self._end_workers()
        for spare in self._spare:
            spare.end()
        self._spare = []

    def _end_workers(self) -> None:
        self._waiting = []
        for worker in self._workers:
            worker.end()
        self._workers = []

    def _fill(self) -> None:
        while self._waiting and len(self._workers) < len(CELLS_MM):
            self._begin(self._waiting.pop(0))

    def _begin(self, job: Job) -> None:
        worker = self._spare.pop() if self._spare else _Worker()
        worker.give(job)
        self._workers.append(worker)

    def _give_up(self) -> bool:
        """Groups of which nothing came are left out whole; whether there are such."""
        silent = [number for number in range(len(self._groups)) if number not in self._found]
        for number in silent:
            self._found[number] = layout_of(self._groups[number], NOTHING)
        return bool(silent)

    def _heard(self, message: Message) -> bool:
        """Whether a message brought a better layout of a group."""
        if isinstance(message, Failed):
            self.problem = f"A search for layouts ended early ({message.reason})."
            return False
        number, found = message
        group = self._groups[number]
        if isinstance(found, TooLong):
            self.too_long[group.beds[0].name] = found.length
            # What does come out of it is wanted now, whatever else still runs.
            self._begin(Job(((number, group.task),), 0, CELLS_MM[0], False, 0.0))
            return False
        known = self._found.get(number)
        if known is not None and found.merit <= known.merit:
            return False
        layout = layout_of(group, found)
        wrong = faults(group.items, group.beds, layout.placements, group.task.gap)
        if any(not fault.locked for fault in wrong):
            self.problem = "A layout that was found did not pass the check and is not shown."
            return False
        self._found[number] = layout
        return True


def lay_out(
    items: Iterable[Item],
    beds: Sequence[Bed],
    lay: Lay,
    *,
    seconds: float,
    seed: int = 0,
    better: Callable[[Layout], None] | None = None,
) -> tuple[Layout | None, str]:
    """The best layout found within so many seconds, each on the way told to `better`, and a
    sentence on what went wrong, if anything did. Waits; leaves no process.

    The first layout is waited for up to a minute longer: on a slow or busy machine few seconds may
    be gone before a process has begun.
    """
    searching = Searching()
    until = time.monotonic() + seconds
    at_last = until + _FIRST_SECONDS
    try:
        searching.start(items, beds, lay, seed=seed, roll_seconds=seconds)
        while not searching.ended and time.monotonic() < (until if searching.best else at_last):
            layout = searching.poll()
            if layout is not None and better is not None:
                better(layout)
            time.sleep(_LOOK_SECONDS)
        searching.poll()
    finally:
        searching.stop()
    return searching.best, searching.problem


class _Worker:
    """A process for one job, and the thread that hears what it tells."""

    def __init__(self) -> None:
        # More threads than one make small transforms slower and the window with them.
        environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        self._complaint = tempfile.TemporaryFile()  # noqa: SIM115
        self._process = subprocess.Popen(
            [sys.executable, "-c", _START.format(path=sys.path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._complaint,
            env=environment,
        )
        self._told: SimpleQueue[Message] = SimpleQueue()
        self._hearing: Thread | None = None
        self.ended = False
        """Whether it is gone and everything it told was taken."""
        self.problem = ""
        """A sentence when it ended without having told why."""

    def give(self, job: Job) -> None:
        """Give it its job."""
        self._hearing = Thread(target=self._hear, args=(pickle.dumps(job),), daemon=True)
        self._hearing.start()

    def messages(self) -> list[Message]:
        """What it told since the last look."""
        gone = self._hearing is not None and not self._hearing.is_alive()
        found: list[Message] = []
        while not self._told.empty():
            found.append(self._told.get())
        if gone and not self.ended:
            self.ended = True
            self.problem = self._reason()
            self._complaint.close()
        return found

    def end(self) -> None:
        """Kill the process if it still runs, and wait until it and its thread are gone."""
        self._process.kill()
        if self._hearing is not None:
            self._hearing.join(_GONE_SECONDS)
        self._process.wait(_GONE_SECONDS)
        self._complaint.close()

    def _hear(self, job: bytes) -> None:
        given, telling = self._process.stdin, self._process.stdout
        assert given is not None
        assert telling is not None
        try:
            given.write(job)
            given.flush()
            while True:
                self._told.put(pickle.load(telling))
        # Its pipes end with it, whether it was done or was killed in the middle of a message.
        except (*_CUT_OFF, OSError):
            pass
        finally:
            self._process.wait()
            telling.close()
            with suppress(OSError):
                given.close()

    def _reason(self) -> str:
        if self._process.returncode == 0:
            return ""
        self._complaint.seek(0)
        lines = self._complaint.read().decode(errors="replace").strip().splitlines()
        reason = lines[-1] if lines else f"code {self._process.returncode}"
        return f"A search for layouts ended early ({reason})."
