"""The small parts of trousers, each added in one action and made of lines, pieces and joins that
follow the panel from then on.
"""

from studio.cut.parts.belt_loops import BeltLoops
from studio.cut.parts.fly import Fly
from studio.cut.parts.hand_pocket import HandPocket
from studio.cut.parts.knee_panel import KneePanel
from studio.cut.parts.part import Number, OtherCloth, Part
from studio.cut.parts.patch_pocket import PatchPocket
from studio.cut.parts.shaped_waistband import ShapedWaistband
from studio.cut.parts.tool_loop import ToolLoop
from studio.cut.parts.waistband import Waistband

PARTS: tuple[type[Part], ...] = (
    Waistband,
    ShapedWaistband,
    HandPocket,
    PatchPocket,
    KneePanel,
    ToolLoop,
    BeltLoops,
    Fly,
)
"""Every kind of part, in the order it is offered."""

__all__ = [
    "PARTS",
    "BeltLoops",
    "Fly",
    "HandPocket",
    "KneePanel",
    "Number",
    "OtherCloth",
    "Part",
    "PatchPocket",
    "ShapedWaistband",
    "ToolLoop",
    "Waistband",
]
