"""What every test starts from: a screen that needs no display, and settings for hypothesis."""

from __future__ import annotations

import os
import sys

import pytest
from hypothesis import HealthCheck, settings

# Set before Qt is loaded. A maker's own display is used when it is asked for by name.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Small dense solves are six times slower on two BLAS threads; set before numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

settings.register_profile(
    "ci",
    derandomize=True,
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("search", max_examples=1000, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))


@pytest.fixture
def looked_at(monkeypatch):
    """Counts the states of sketches that are looked at."""
    from studio.constrain.system import System  # Numpy is not to be loaded before.

    count = []
    looks = System.sheet
    monkeypatch.setattr(System, "sheet", lambda *read: count.append(1) or looks(*read))
    return count


@pytest.fixture
def take_letters(qapp):
    """Gives the desktop letters of so many points, till the test ends."""
    from PySide6.QtGui import QFont

    from studio.canvas.sheet_item import forget_letters

    before = QFont(qapp.font())

    def take(points):
        font = QFont(before)
        font.setPointSizeF(points)
        qapp.setFont(font)
        forget_letters()

    yield take
    qapp.setFont(before)
    forget_letters()


def pytest_sessionfinish():
    """Nothing is still being worked out when Python ends."""
    latest = sys.modules.get("studio.window.latest")
    for one in latest.working() if latest is not None else ():
        one.join(120.0)
