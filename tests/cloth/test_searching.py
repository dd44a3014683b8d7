"""Searches in processes: a whole mixed stash in one call, errors told, nothing left running."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from msgspec.structs import replace

import studio
from studio.cloth import searching as module
from studio.cloth.bed import bed_of
from studio.cloth.referee import faults
from studio.cloth.searching import Searching, lay_out
from studio.cloth.worker import Failed, Job, messages
from studio.design.cloth import Lay, Placement, Roll, SalvagedPanel
from tests.cloth.planted import planted
from tests.cloth.shapes import item, rectangle

LONG = 60.0
"""Seconds after which a wait is given up as an error; nothing here takes long."""

ROLL = bed_of(Roll("roll", "main", 420.0, 1000.0))
SHORT = bed_of(Roll("short", "lining", 420.0, 250.0))
PANEL = bed_of(SalvagedPanel("panel", "knee", rectangle(300.0, 300.0), ((0.0, 0.0), (0.0, 100.0))))
ITEMS = (
    *(item("strip", rectangle(180.0, 100.0), ("roll",), copy=copy) for copy in range(4)),
    *(item("patch", rectangle(140.0, 140.0), ("panel",), copy=copy) for copy in range(2)),
    *(item("bag", rectangle(300.0, 100.0), ("short",), copy=copy) for copy in range(3)),
)


@pytest.fixture
def searching():
    running = Searching()
    yield running
    running.stop()


def wait(until):
    last = time.monotonic() + LONG
    while not until():
        assert time.monotonic() < last
        time.sleep(0.02)


def is_there(number):
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{number}/stat")
    return not state.exists() or state.read_text().rsplit(")", 1)[1].split()[0] != "Z"


def processes(running):
    return [worker._process.pid for worker in (*running._workers, *running._spare)]


def test_rolls_and_panels_of_several_cloths_are_searched_in_one_call(searching):
    beds = (ROLL, SHORT, PANEL)
    searching.start(ITEMS, beds, Lay(), roll_seconds=1)
    found = []

    def is_done():
        found.extend(layout for layout in [searching.poll()] if layout is not None)
        return "short" in searching.too_long and found and len(found[-1].left_out) == 1

    wait(is_done)
    layout = found[-1]
    assert searching.problem == ""
    assert layout is searching.best
    assert faults(ITEMS, beds, layout.placements, 2.0) == ()
    # Three strips of 100 with 2 between do not come out of 250: two do.
    assert [piece for piece, _ in layout.left_out] == ["bag"]
    assert searching.too_long["short"] == pytest.approx(304.0, abs=1.0)
    assert set(layout.lengths) == {"roll", "short"}


def test_a_search_that_is_stopped_leaves_no_process_and_keeps_the_best(searching):
    task = planted(2, pieces=13, panels=5)
    searching.ready()
    searching.start(task.items, task.beds, task.lay)
    wait(lambda: searching.poll() is not None)
    running = processes(searching)
    assert len(running) == 2
    searching.stop()
    assert not any(is_there(number) for number in running)
    assert searching.ended
    assert searching.best is not None
    assert faults(task.items, task.beds, searching.best.placements, task.lay.gap) == ()


def test_processes_started_ahead_are_used_and_end_with_the_rest(searching):
    searching.ready()
    ahead = processes(searching)
    searching.start(ITEMS[:4], (ROLL,), Lay())
    assert sorted(processes(searching)) == sorted(ahead)
    searching.stop()
    assert not any(is_there(number) for number in ahead)


ORPHANS = """
import sys, time
from studio.cloth.searching import Searching
from tests.cloth.planted import planted
task = planted(2, pieces=13, panels=5)
searching = Searching()
searching.start(task.items, task.beds, task.lay)
while searching.poll() is None:
    time.sleep(0.02)
print(*(worker._process.pid for worker in searching._workers), flush=True)
time.sleep(600)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="Sends a signal.")
def test_processes_end_when_who_started_them_is_killed():
    root = Path(studio.__file__).parent.parent
    # Another package named tests may be installed.
    found = (
        "import sys, types; sys.modules['tests'] = types.ModuleType('tests'); "
        f"sys.modules['tests'].__path__ = [{str(root / 'tests')!r}]"
    )
    parent = subprocess.Popen(
        [sys.executable, "-c", found + ORPHANS],
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(root)},
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        running = [int(number) for number in parent.stdout.readline().split()]
        assert running
        assert all(is_there(number) for number in running)
    finally:
        os.kill(parent.pid, signal.SIGKILL)
        parent.wait()
        parent.stdout.close()
    wait(lambda: not any(is_there(number) for number in running))


def test_a_process_that_dies_is_told_with_its_reason(searching, monkeypatch):
    monkeypatch.setattr(module, "_START", "{path!r}; raise SystemExit('no memory left')")
    searching.start(ITEMS[4:6], (PANEL,), Lay())
    wait(lambda: searching.poll() is None and searching.ended)
    assert searching.problem == "A search for layouts ended early (no memory left)."


def test_a_search_that_fails_inside_is_told_with_its_reason(searching, monkeypatch):
    broken = "import sys; sys.path[:] = {path!r}; import studio.cloth.worker as w; "
    monkeypatch.setattr(module, "_START", broken + "w.messages = lambda job: 1 / 0; w.main()")
    searching.start(ITEMS[4:6], (PANEL,), Lay())
    wait(lambda: searching.poll() is None and searching.ended)
    assert "division by zero" in searching.problem


def test_what_has_no_stock_is_left_out_and_told_never_to_fit(searching):
    lonely = item("flap", rectangle(50.0, 50.0), ())
    searching.start((*ITEMS[4:6], lonely), (PANEL,), Lay())
    wait(lambda: searching.poll() is not None)
    layout = searching.best
    assert searching.problem == ""
    assert layout.left_out == (("flap", 0),)
    assert layout.never == (("flap", 0),)


def test_laying_out_ends_by_itself_when_nothing_better_is_found():
    seen = []
    fixed = Placement("patch", 1, "panel", (80.0, 80.0), locked=True)
    layout, problem = lay_out(ITEMS[4:6], (PANEL,), Lay((fixed,)), seconds=LONG, better=seen.append)
    assert problem == ""
    assert fixed in layout.placements
    assert seen[-1] == layout


def test_the_first_layout_is_waited_for_however_few_seconds_there_are():
    layout, problem = lay_out(ITEMS, (ROLL, SHORT, PANEL), Lay(), seconds=0.0)
    assert problem == ""
    assert {one.piece for one in layout.placements} == {"strip", "patch", "bag"}


def test_a_search_of_which_nothing_comes_is_not_waited_for_for_ever(monkeypatch):
    monkeypatch.setattr(module, "_FIRST_SECONDS", 0.0)
    assert lay_out(ITEMS, (ROLL, SHORT, PANEL), Lay(), seconds=0.0) == (None, "")


def test_a_job_tells_of_each_of_its_groups():
    from studio.cloth.groups import groups_of

    groups = groups_of(ITEMS, (ROLL, SHORT, PANEL), Lay())
    tasks = tuple((number, group.task) for number, group in enumerate(groups))
    told = {}
    for message in messages(Job(tasks, 0, 6.0, False, 0.0)):
        assert not isinstance(message, Failed)
        told[message[0]] = message[1]
        if len(told) == len(groups):
            break
    assert set(told) == {0, 1, 2}
    assert [replace(one, at=(0.0, 0.0)).field for one in told[1].laid]
