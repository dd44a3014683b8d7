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


def _shields_sewn(tree: dict[str, Any]) -> dict[str, Any]:
    """The shield of a fly used to be told as caught in the edge that is faced; it is sewn to the
    front of the other leg. What is told otherwise, or cannot be read, stays as it is.
    """
    try:
        for join in tuple(tree["design"]["joins"]):
            if join.get("construction") == "faced" and not join["a"].get("mirrored"):
                _shield_sewn(tree["design"], join)
    except (AttributeError, KeyError, TypeError):
        return tree  # A broken file is told with its place when it is converted.
    return tree


def _shield_sewn(design: dict[str, Any], faced: dict[str, Any]) -> None:
    """The strip that is caught in a faced edge with both long edges, sewn to the other leg."""
    caught = {
        one["edge"]["edge"]: one
        for one in design["finishes"]
        if one["how"] == "caught" and one.get("into") == faced["name"]
    }
    name = f"{faced['name'].removesuffix(' edge')} shield"
    if any(join["name"] == name for join in design["joins"]):
        return
    for edge, finish in caught.items():
        strip, _, end = edge.rpartition(".")
        other = caught.get(f"{strip}.two")
        if end != "one" or other is None:
            continue
        ref = {"piece": strip, "edge": edge}
        side = {"edges": faced["a"]["edges"], "mirrored": True}
        design["joins"].append({"name": name, "a": side, "b": {"edges": [ref]}})
        design["finishes"].remove(finish)
        other["into"] = name
        return


_STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {1: _kept, 2: _kept}
"""For each file version the step to the next one."""


def upgraded(tree: dict[str, Any]) -> dict[str, Any]:
    """A file's content brought to `CURRENT_VERSION`; flies too of files that are of it already."""
    for version in range(tree["version"], CURRENT_VERSION):
        tree = _STEPS[version](tree) | {"version": version + 1}
    return _shields_sewn(tree)
