"""The laying table's frames. Asked for by name; run offscreen."""

from __future__ import annotations

import statistics
import time
from itertools import pairwise

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QTimer
from PySide6.QtGui import QImage

from studio.curves import Vector
from studio.design.cloth import Lay, Placement
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from tests.window import stashes
from tests.window.test_lay_window import mouse

LAID = (
    Placement("front-leg", 0, "canvas", (250.0, 600.0)),
    Placement("back-leg", 0, "canvas", (1180.0, 600.0)),
    Placement("bearer", 0, "old leg, left", (160.0, 260.0)),
    Placement("bearer", 1, "old leg, left", (420.0, 260.0)),
)


def opened(qtbot, tmp_path, design):
    window = MainWindow(design, None, recovery=Recovery(tmp_path))
    qtbot.addWidget(window, before_close_func=lambda _: window.document.history.mark_saved())
    laying = window.lay_on_cloth()
    laying.resize(1440, 900)
    laying.view.fit()
    laying.main = window
    qtbot.wait(50)
    return laying


def test_a_dragged_piece_is_shown_at_sixty_frames_a_second(qtbot, tmp_path):
    laying = opened(qtbot, tmp_path, replace(stashes.roomy(), lay=Lay(LAID)))
    start = laying.scene.middle_of(("back-leg", 0))
    image = QImage(laying.view.viewport().size(), QImage.Format.Format_RGB32)
    mouse(laying, QEvent.Type.MouseButtonPress, start)
    began = time.perf_counter()
    mouse(laying, QEvent.Type.MouseMove, start + Vector(-20.0, 0.0))
    lifted = (time.perf_counter() - began) * 1e3
    frames = []
    for k in range(150):
        began = time.perf_counter()
        # As the mouse sends them: the piece is sought, and what changed is painted.
        mouse(laying, QEvent.Type.MouseMove, start + Vector(-20.0 - 4.0 * k, 2.0 * (k % 40)))
        frames.append((time.perf_counter() - began) * 1e3)
    whole = time.perf_counter()
    laying.view.viewport().render(image)
    whole = (time.perf_counter() - whole) * 1e3
    frames.sort()
    print(
        f"\nlifted in {lifted:.0f} ms; a frame: median {statistics.median(frames):.1f} ms, "
        f"95 % within {frames[int(len(frames) * 0.95)]:.1f} ms; all painted in {whole:.1f} ms"
    )
    assert frames[int(len(frames) * 0.95)] <= 1000.0 / 60.0


def ticks(qtbot, seconds):
    """How far apart the ticks of a 16 ms timer are, in ms, in order of size."""
    told = []
    timer = QTimer(interval=16)
    timer.timeout.connect(lambda: told.append(time.perf_counter()))
    timer.start()
    qtbot.wait(round(seconds * 1e3))
    timer.stop()
    return sorted((later - earlier) * 1e3 for earlier, later in pairwise(told))


def test_the_windows_timer_is_kept_while_a_search_runs(qtbot, tmp_path):
    laying = opened(qtbot, tmp_path, stashes.roomy())
    qtbot.wait(500)
    still = ticks(qtbot, 5.0)
    laying.begin_search()
    searching = ticks(qtbot, 10.0)
    assert laying.search.is_running
    began = time.perf_counter()
    laying.search.stop()
    gone = time.perf_counter() - began
    at_99 = [times[int(len(times) * 0.99)] for times in (still, searching)]
    print(
        f"\nticks 99 % within {at_99[0]:.1f} ms without a search, {at_99[1]:.1f} ms with one; "
        f"{len(laying.table.laid)} pieces laid; stopped and gone in {gone * 1e3:.0f} ms"
    )
    # On a machine that others use, what it is without a search is the measure.
    assert at_99[1] <= max(20.0, 2.0 * at_99[0])
    assert gone <= 0.5
