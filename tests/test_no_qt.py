"""From curves to files the program must work where Qt can not be loaded."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import studio

PACKAGE = Path(studio.__file__).parent
ON_QT = (
    "studio.canvas",
    "studio.window",
    "studio.exchange.sheet_pdf",
    "studio.exchange.lay_paper",
    "studio.exchange.paint",
    "studio.exchange.paper",
    "studio.exchange.picture",
    "studio.exchange.walk_picture",
)

WITHOUT_QT = """
import importlib, sys
sys.modules["PySide6"] = None
sys.modules["shiboken6"] = None
failed = []
for name in sys.argv[1:]:
    try:
        importlib.import_module(name)
    except ImportError as refusal:
        failed.append(f"{name}: {refusal}")
print("\\n".join(failed))
sys.exit(bool(failed))
"""


def module_names() -> list[str]:
    names = []
    for file in sorted(PACKAGE.rglob("*.py")):
        parts = file.relative_to(PACKAGE.parent).with_suffix("").parts
        names.append(".".join(parts[:-1] if parts[-1] == "__init__" else parts))
    return names


def is_on_qt(name: str) -> bool:
    return any(name == room or name.startswith(room + ".") for room in ON_QT)


def import_without_qt(names: list[str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", WITHOUT_QT, *names],
        cwd=PACKAGE.parent,
        capture_output=True,
        text=True,
        check=False,
    )


def test_all_but_screen_and_paper_imports_without_qt() -> None:
    names = [name for name in module_names() if not is_on_qt(name)]
    assert {"studio.pattern", "studio.curves.kernel", "studio.cli"} <= set(names)
    done = import_without_qt(names)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_block_on_qt_is_real() -> None:
    done = import_without_qt(["PySide6.QtCore"])
    assert done.returncode == 1
    assert done.stdout.startswith("PySide6.QtCore: ")
