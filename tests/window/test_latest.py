"""Questions asked beside the window: the latest is answered, those overtaken are not."""

import subprocess
import sys
import threading

import pytest
from PySide6.QtCore import QObject
from shiboken6 import delete

from studio.errors import BadInput
from studio.window.latest import Latest, working


def test_an_answer_comes_from_another_thread_and_is_told_on_this_one(qtbot):
    asked = Latest()
    heard = []
    asked.answered.connect(lambda answer: heard.append((answer, threading.get_ident())))
    with qtbot.waitSignal(asked.answered, timeout=3000):
        asked.ask(threading.get_ident)
        assert asked.is_busy
    answer, thread = heard[0]
    assert answer != threading.get_ident()
    assert thread == threading.get_ident()
    assert not asked.is_busy


def test_what_was_overtaken_is_not_told(qtbot):
    asked, heard, go = Latest(), [], threading.Event()
    asked.answered.connect(heard.append)
    started = threading.Event()
    asked.ask(lambda: (started.set(), go.wait(3.0)))
    assert started.wait(3.0)
    begun = []
    asked.ask(lambda: begun.append(1))
    asked.ask(lambda: "last")
    go.set()
    qtbot.waitUntil(lambda: bool(heard), timeout=3000)
    assert heard == ["last"]
    assert begun == []


def test_what_is_forgotten_is_not_told(qtbot):
    asked, heard, done = Latest(), [], threading.Event()
    asked.answered.connect(heard.append)
    asked.ask(lambda: done.wait(3.0))
    asked.forget()
    assert not asked.is_busy
    done.set()
    qtbot.wait(100)
    assert heard == []


def test_a_refusal_is_a_sentence(qtbot):
    def refuse():
        raise BadInput("There is no cloth.", where="stash")

    asked = Latest()
    with qtbot.waitSignal(asked.refused, timeout=3000) as told:
        asked.ask(refuse)
    assert told.args == ["There is no cloth (stash)."]


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_fault_of_the_program_does_not_silence_later_questions(qtbot):
    asked, heard = Latest(), []
    asked.answered.connect(heard.append)
    asked.ask(lambda: {}["missing"])
    # Till the thread has ended, or what it tells so loudly is heard in another test.
    qtbot.waitUntil(
        lambda: all(one.name != "beside the window" for one in threading.enumerate()), timeout=3000
    )
    assert not asked.is_busy
    asked.ask(lambda: "after")
    qtbot.waitUntil(lambda: heard == ["after"], timeout=3000)


_ENDS = """
import sys
import threading
import numpy
from PySide6.QtCore import QTimer
from scipy import fft
from studio.window import app
from studio.window.latest import Latest, leave

begun = threading.Event()

def work():
    squares = numpy.ones((500, 500))
    while True:
        fft.irfft2(fft.rfft2(squares))
        begun.set()

running = app.application()
asked = Latest(running)
asked.ask(work)
begun.wait(20.0)
QTimer.singleShot(0, running.quit)
print("ended", flush=False)
sys.exit(leave(running.exec()))
"""


def test_the_program_ends_well_while_something_is_worked_out():
    ended = subprocess.run(
        [sys.executable, "-c", _ENDS], capture_output=True, text=True, timeout=120, check=False
    )
    assert "terminate" not in ended.stderr
    assert (ended.returncode, ended.stdout) == (0, "ended\n")


def test_an_answer_may_come_when_the_window_is_gone(qtbot):
    parent = QObject()
    asked, go, heard = Latest(parent), threading.Event(), []
    asked.answered.connect(heard.append)
    asked.ask(lambda: go.wait(3.0))
    delete(parent)
    go.set()
    qtbot.waitUntil(lambda: not working(), timeout=3000)
    qtbot.wait(10)
    assert heard == []
