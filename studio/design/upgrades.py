"""Old project files brought up to date, one step a version."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

CURRENT_VERSION = 3

PROGRAM_FOR_VERSION = {1: "0.1.0", 2: "0.2.0", 3: "0.3.0"}
"""The least program version that reads each file version."""


def _kept(tree: dict[str, Any]) -> dict[str, Any]:
    """Versions 2 and 3 only know more than those before them: 2 more kinds of steps and rules, 3
    the stash, cutting rules and the lay.
    """
    return tree


_STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {1: _kept, 2: _kept}
"""For each file version the step to the next one."""


def upgraded(tree: dict[str, Any]) -> dict[str, Any]:
    """A file's content brought to `CURRENT_VERSION`."""
    for version in range(tree["version"], CURRENT_VERSION):
        tree = _STEPS[version](tree) | {"version": version + 1}
    return tree
