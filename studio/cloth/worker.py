"""What runs in a process of its own: searches for layouts, told over its standard output.

Kept small in what it imports, for it starts anew with every search. It reads one job from its
standard input and ends when that is closed, so that it never outlives who started it.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Iterator
from threading import Thread
from typing import BinaryIO, TypeAlias

import msgspec

from studio.cloth.rolls import TooLong, roll_search, strip_of
from studio.cloth.search import search
from studio.cloth.task import Found, Task


class Job(msgspec.Struct, frozen=True):
    """Tasks to search by turns, each under the number of its group: on panels and rolls as cells of
    `cell` mm; with `rolls`, on clean rolls for `seconds`.
    """

    tasks: tuple[tuple[int, Task], ...]
    seed: int
    cell: float
    rolls: bool
    seconds: float


class Failed(msgspec.Struct, frozen=True):
    """A search ended with an error: its reason."""

    reason: str


Message: TypeAlias = "tuple[int, Found | TooLong] | Failed"


def messages(job: Job) -> Iterator[Message]:
    """Everything a job finds, told as it is found."""
    running = {group: _started(task, job) for group, task in job.tasks}
    while running:
        for group, searching in list(running.items()):
            try:
                found = next(searching)
            except StopIteration:
                del running[group]
                continue
            if found is not None:
                yield group, found


def main() -> None:
    """Read a job, tell what it finds, end."""
    told = os.fdopen(os.dup(1), "wb")
    # Whatever a library prints must not come between the messages.
    os.dup2(2, 1)
    job: Job = pickle.load(sys.stdin.buffer)
    Thread(target=_end_with, args=(sys.stdin.buffer,), daemon=True).start()
    try:
        for message in messages(job):
            _tell(told, message)
    # The panics of `spyrrow` are no `Exception`.
    except BaseException as failure:
        _tell(told, Failed(f"{type(failure).__name__}: {failure}"))
    told.flush()
    # A thread of the roll's solver may still be at work, and can not be stopped.
    os._exit(0)


def _started(task: Task, job: Job) -> Iterator[Found | TooLong | None]:
    strip = strip_of(task) if job.rolls else None
    if strip is not None:
        return roll_search(task, strip, seed=job.seed, seconds=job.seconds)
    return search(task, seed=job.seed, cell=job.cell)


def _tell(told: BinaryIO, message: Message) -> None:
    try:
        pickle.dump(message, told)
        told.flush()
    except BrokenPipeError:
        os._exit(0)


def _end_with(lifeline: BinaryIO) -> None:
    lifeline.read()
    os._exit(0)
