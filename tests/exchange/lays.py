"""A small lay for the tests of its files: two invented cloths, some pieces of the demonstration."""

from msgspec.structs import replace

from studio.demo import demo_design
from studio.design.cloth import Flaw, Lay, Placement, Roll, SalvagedPanel

CANVAS = Roll(
    "canvas",
    "main",
    1480.0,
    1300.0,
    flaws=(
        Flaw("stain", ((1100.0, 900.0), (1220.0, 880.0), (1240.0, 1000.0), (1130.0, 1020.0))),
        Flaw("seam", ((0.0, 1250.0), (1480.0, 1250.0)), wide=30.0),
    ),
)
OLD_LEG = SalvagedPanel(
    "old leg",
    "knee",
    ((0.0, 0.0), (300.0, 20.0), (420.0, 700.0), (180.0, 1000.0), (-40.0, 980.0)),
    ((100.0, 100.0), (120.0, 800.0)),
    flaws=(
        Flaw("hole", ((200.0, 300.0), (260.0, 310.0), (230.0, 380.0))),
        Flaw("worn", ((0.0, 500.0), (100.0, 500.0), (100.0, 620.0), (0.0, 620.0))),
    ),
)
PLACEMENTS = (
    Placement("back-leg", 0, "canvas", (240.0, 600.0)),
    Placement("back-leg", 1, "canvas", (670.0, 600.0), 180.0),
    Placement("yoke", 0, "canvas", (1300.0, 1100.0)),
    Placement("knee-panel", 0, "old leg", (100.0, 230.0)),
    Placement("knee-panel", 1, "old leg", (210.0, 760.0), 2.5),
)


def laid_design():
    """The demonstration with the two cloths and the lay."""
    return replace(demo_design(), stash=(CANVAS, OLD_LEG), lay=Lay(PLACEMENTS))
