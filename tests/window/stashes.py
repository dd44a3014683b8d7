"""A small stash for the laying table: two opened legs with flaws, a roll, a remnant. Invented."""

from __future__ import annotations

from msgspec.structs import replace

from studio.demo import demo_design
from studio.design import Design
from studio.design.cloth import Flaw, Lay, Roll, SalvagedPanel

LEG = (
    (40.0, 0.0),
    (520.0, 0.0),
    (560.0, 420.0),
    (610.0, 780.0),
    (470.0, 900.0),
    (430.0, 1120.0),
    (60.0, 1120.0),
    (0.0, 700.0),
)
GRAIN = ((270.0, 60.0), (290.0, 1000.0))
HOLE = Flaw("hole", ((330.0, 480.0), (372.0, 470.0), (390.0, 520.0), (350.0, 545.0)))
STAIN = Flaw("stain", ((90.0, 180.0), (190.0, 170.0), (205.0, 260.0), (120.0, 290.0)))
WORN = Flaw("worn", ((240.0, 560.0), (360.0, 560.0), (370.0, 640.0), (230.0, 650.0)), avoided=False)
SEAM = Flaw("seam", ((40.0, 1040.0), (440.0, 1040.0)), wide=24.0)

OLD_LEFT = SalvagedPanel("old leg, left", "main", LEG, GRAIN, (HOLE, SEAM))
OLD_RIGHT = SalvagedPanel("old leg, right", "main", LEG, GRAIN, (STAIN, WORN))
ROLL = Roll("canvas", "main", 1500.0, 1250.0)
KNEE = Roll("waxed end", "knee", 620.0, 480.0, selvedge=0.0)
POCKETS = Roll("pocketing", "pocketing", 900.0, 420.0)


NARROW = SalvagedPanel(
    "strip",
    "knee",
    ((0.0, 0.0), (120.0, 0.0), (120.0, 900.0), (0.0, 900.0)),
    ((60.0, 10.0), (60.0, 800.0)),
)


def with_stash(*stash: Roll | SalvagedPanel, gap: float = 2.0) -> Design:
    """The demonstration with a stash and nothing laid."""
    return replace(demo_design(), stash=stash, lay=Lay(gap=gap), cutting=())


def roomy() -> Design:
    """There is cloth for everything."""
    return with_stash(OLD_LEFT, OLD_RIGHT, ROLL, KNEE, POCKETS)


def lean() -> Design:
    """What a search is through with soon: knee panels and pocket bags, one cloth with a flaw."""
    end = SalvagedPanel(
        "waxed end",
        "knee",
        ((0.0, 0.0), (640.0, 0.0), (620.0, 500.0), (10.0, 480.0)),
        ((300.0, 20.0), (300.0, 400.0)),
        (Flaw("hole", ((20.0, 430.0), (60.0, 430.0), (60.0, 460.0), (20.0, 460.0))),),
    )
    return with_stash(OLD_LEFT, end, POCKETS)


def scant() -> Design:
    """Two old legs alone: not everything can lie."""
    return with_stash(OLD_LEFT, OLD_RIGHT, KNEE)
