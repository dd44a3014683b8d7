"""Constraints on points and curves: a sketch of nodes and runs, what a maker asks of it (one kind
a file in `kinds`), and a solver that meets all of it with the least movement.

`solved` is for typed values and new bodies, `Drag` for the hand, `diagnosis` and `reach` for what
a maker is told. No trade words and no screen.
"""

from studio.constrain.diagnose import Clash, Diagnosis, Reached, diagnosis, measured, reach
from studio.constrain.drag import Drag
from studio.constrain.sketch import Asked, PointRef, Run, Sketch, SketchNode, with_slides
from studio.constrain.solve import Solution, solved

__all__ = [
    "Asked",
    "Clash",
    "Diagnosis",
    "Drag",
    "PointRef",
    "Reached",
    "Run",
    "Sketch",
    "SketchNode",
    "Solution",
    "diagnosis",
    "measured",
    "reach",
    "solved",
    "with_slides",
]
