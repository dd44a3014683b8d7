"""The window's start and its frames. Asked for by name; run offscreen.

Frames are measured in the processor's time: others may share the machine.
"""

from __future__ import annotations

import gc
import os
import statistics
import subprocess
import sys
import time

import msgspec
import pytest
from PySide6.QtGui import QImage

from studio.canvas.selection import Selection
from studio.demo import demo_design
from studio.design import OnEdge
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.sweeping import hold_sweeps
from tests.bench.fuller import fuller_pair

FRAME_MS = 12.0
"""Asked of 95 in 100 painted frames of the demonstration, on a quiet machine."""

COLD = """
import time
start = time.perf_counter()
from studio.demo import demo_design
from studio.window.app import application
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from pathlib import Path
app = application()
window = MainWindow(demo_design(), None, recovery=Recovery(Path('{folder}')))
window.resize(1600, 1000)
window.show()
app.processEvents()
window.grab()
print(time.perf_counter() - start)
"""


def test_the_window_is_shown_within_a_second_and_a_half_of_a_cold_start(tmp_path):
    """With the modules compiled, as they are after the first start or `.ci/setup`."""
    settings = {**os.environ, "PYTHONPYCACHEPREFIX": str(tmp_path / "compiled")}
    settings.pop("PYTHONDONTWRITEBYTECODE", None)
    times = []
    for _ in range(4):
        run = subprocess.run(
            [sys.executable, "-c", COLD.format(folder=tmp_path)],
            capture_output=True,
            text=True,
            check=True,
            env=settings,
        )
        times.append(float(run.stdout.split()[-1]))
    print(f"\nwindow shown after {min(times):.2f} s (imports included)")
    assert min(times) <= 1.5


@pytest.mark.parametrize(("make", "slack"), [(demo_design, 3.0), (fuller_pair, 6.0)])
def test_a_dragged_line_is_evaluated_and_painted_within_a_frame(qtbot, tmp_path, make, slack):
    design = make()
    window = MainWindow(design, None, recovery=Recovery(tmp_path))
    qtbot.addWidget(window)
    window.resize(1600, 1000)
    window.show()
    qtbot.wait(50)
    window.document.select(Selection("line", "hand-pocket"))
    image = QImage(1600, 1000, QImage.Format.Format_RGB32)
    line = design.line("hand-pocket")
    frames = []
    hold_sweeps()
    for k in range(120):
        end = OnEdge("front.side", "front.waist", mm=150.0 + 0.37 * k)
        path = msgspec.structs.replace(line.path, end=end)
        moved = design.with_line(msgspec.structs.replace(line, path=path))
        start = time.process_time()
        window.document.preview(moved)
        window.view.viewport().render(image)
        frames.append((time.process_time() - start) * 1e3)
    gc.unfreeze()
    gc.enable()
    window.document.rollback()
    frames.sort()
    print(
        f"\n{len(design.pieces)} pieces, frame: median {statistics.median(frames):.1f} ms, "
        f"95 % within {frames[int(len(frames) * 0.95)]:.1f} ms"
    )
    assert frames[int(len(frames) * 0.95)] <= FRAME_MS * slack


def test_a_walked_seam_plays_at_sixty_frames_a_second(qtbot, tmp_path):
    window = MainWindow(demo_design(), None, recovery=Recovery(tmp_path))
    qtbot.addWidget(window)
    window.resize(1600, 1000)
    window.show()
    qtbot.wait(50)
    window.document.select(Selection("join", "side seam"))
    window.walk()
    image = QImage(1600, 1000, QImage.Format.Format_RGB32)
    frames = []
    for k in range(200):
        start = time.process_time()
        window.walking.slider.setValue(20 * k)
        window.view.viewport().render(image)
        frames.append((time.process_time() - start) * 1e3)
    window.walking.end()
    frames.sort()
    print(
        f"\nwalked: median {statistics.median(frames):.1f} ms, "
        f"95 % within {frames[int(len(frames) * 0.95)]:.1f} ms"
    )
    assert frames[int(len(frames) * 0.95)] <= 1000.0 / 60.0
