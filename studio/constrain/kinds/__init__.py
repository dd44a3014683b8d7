"""What a maker can ask of a sketch: one kind a file, with the derivation of its rows."""

from studio.constrain.kinds.angle import Angle
from studio.constrain.kinds.corner_sum import Corner, CornerSum
from studio.constrain.kinds.distance import Distance
from studio.constrain.kinds.fixed import Fixed
from studio.constrain.kinds.from_end import FromEnd
from studio.constrain.kinds.level import Level
from studio.constrain.kinds.mirror import Mirror
from studio.constrain.kinds.on_line import OnLine
from studio.constrain.kinds.on_run import OnRun
from studio.constrain.kinds.parallel import Parallel
from studio.constrain.kinds.run_length import RunLength
from studio.constrain.kinds.same_length import SameLength
from studio.constrain.kinds.smooth import Smooth
from studio.constrain.kinds.square import Square
from studio.constrain.kinds.upright import Upright

__all__ = [
    "Angle",
    "Corner",
    "CornerSum",
    "Distance",
    "Fixed",
    "FromEnd",
    "Level",
    "Mirror",
    "OnLine",
    "OnRun",
    "Parallel",
    "RunLength",
    "SameLength",
    "Smooth",
    "Square",
    "Upright",
]
