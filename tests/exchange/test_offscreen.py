"""Painting without a screen."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtGui import QImage

import studio
from studio.errors import BadInput
from studio.exchange.paint.offscreen import ensure_gui, painting


def test_there_is_one_application():
    assert ensure_gui() is ensure_gui()


def test_a_painter_lets_go_when_painting_fails():
    ensure_gui()
    image = QImage(10, 10, QImage.Format.Format_RGB32)

    def fail():
        assert image.paintingActive()
        raise BadInput("Something went wrong.")

    with pytest.raises(BadInput), painting(image):
        fail()
    assert not image.paintingActive()


def test_a_window_can_follow_a_picture_where_there_is_no_display():
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "from studio.exchange.paint.offscreen import ensure_gui; ensure_gui();"
            "from studio.window.app import application; made = application();"
            "print(made.platformName(), made.style().objectName())",
        ],
        cwd=Path(studio.__file__).parent.parent,
        env={name: os.environ[name] for name in os.environ if "DISPLAY" not in name},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.split() == ["offscreen", "fusion"], done.stderr
