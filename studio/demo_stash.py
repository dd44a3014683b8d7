"""The demonstration's stash: overalls opened at their seams, a waxed coat, and the end of a roll.

The overalls are two sizes too large for the orchard hand and worn through at both knees; the coat
is torn. Garments and measures are made up.
"""

from __future__ import annotations

from studio.design.cloth import Flaw, Place, Roll, SalvagedPanel, Stock

_FRONT: tuple[Place, ...] = (
    (70.0, 0.0),
    (330.0, 0.0),
    (342.0, 290.0),
    (352.0, 560.0),
    (380.0, 800.0),
    (390.0, 905.0),
    (372.0, 985.0),
    (338.0, 1085.0),
    (215.0, 1102.0),
    (84.0, 1112.0),
    (70.0, 1000.0),
    (52.0, 918.0),
    (0.0, 885.0),
    (28.0, 705.0),
    (52.0, 480.0),
)
_BACK: tuple[Place, ...] = (
    (81.0, 0.0),
    (382.0, 0.0),
    (386.0, 290.0),
    (400.0, 520.0),
    (428.0, 690.0),
    (429.0, 735.0),
    (429.0, 884.0),
    (384.0, 898.0),
    (348.0, 925.0),
    (334.0, 965.0),
    (326.0, 1096.0),
    (154.0, 1088.0),
    (0.0, 1098.0),
    (0.0, 960.0),
    (7.0, 830.0),
    (56.0, 580.0),
    (73.0, 440.0),
)
_FRONT_WIDE, _BACK_WIDE = 390.0, 429.0

_KNEE: tuple[Place, ...] = (
    (168.0, 428.0),
    (205.0, 412.0),
    (246.0, 430.0),
    (252.0, 486.0),
    (214.0, 512.0),
    (170.0, 498.0),
)
_OIL: tuple[Place, ...] = ((313.0, 0.0), (382.0, 0.0), (382.2, 16.0), (349.0, 32.0), (319.0, 20.0))

_COAT: tuple[Place, ...] = (
    (0.0, 0.0),
    (560.0, 0.0),
    (535.0, 470.0),
    (452.0, 610.0),
    (120.0, 610.0),
    (28.0, 470.0),
)
_TEAR: tuple[Place, ...] = ((228.0, 250.0), (262.0, 262.0), (318.0, 334.0), (270.0, 318.0))
_COAT_FLAWS = (
    Flaw("hole", _TEAR, note="torn"),
    Flaw("seam", ((0.0, 30.0), (560.0, 30.0)), wide=24.0, note="old hem"),
)
_LINING: tuple[Place, ...] = ((0.0, 0.0), (470.0, 0.0), (450.0, 420.0), (20.0, 430.0))


def demo_stash() -> tuple[Stock, ...]:
    """Six panels and the end of a roll."""
    return (
        _panel("overalls back left", _BACK, (Flaw("stain", _OIL, note="chain oil"),)),
        _panel("overalls back right", _mirrored(_BACK, _BACK_WIDE)),
        _panel("overalls front left", _FRONT, (Flaw("hole", _KNEE, note="worn through"),)),
        _panel(
            "overalls front right",
            _mirrored(_FRONT, _FRONT_WIDE),
            (Flaw("hole", _mirrored(_KNEE, _FRONT_WIDE), note="worn through"),),
        ),
        Roll("end of the roll", "main", 1420.0, 690.0, selvedge=12.0, note="bought as a remnant"),
        SalvagedPanel("coat back", "knee", _COAT, ((280.0, 40.0), (280.0, 560.0)), _COAT_FLAWS),
        SalvagedPanel("coat lining", "pocketing", _LINING, ((235.0, 20.0), (235.0, 400.0))),
    )


def _panel(name: str, outline: tuple[Place, ...], flaws: tuple[Flaw, ...] = ()) -> SalvagedPanel:
    middle = sum(x for x, _ in outline) / len(outline)
    return SalvagedPanel(name, "main", outline, ((middle, 100.0), (middle, 900.0)), flaws)


def _mirrored(places: tuple[Place, ...], wide: float) -> tuple[Place, ...]:
    return tuple((wide - x, y) for x, y in reversed(places))
