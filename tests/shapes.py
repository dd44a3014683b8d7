"""A hand-drawn pair of panels with round numbers, for tests that need no draft; and what several
tests open in panels or lay on them.
"""

from studio.block.panel import Dart, Panel
from studio.curves import Chain, Cubic, Edge, Outline, Point
from studio.cut.parts import PatchPocket
from studio.design import OnEdge, OpenDart

LEVELS = {"waist": 1060.0, "hip": 860.0, "crotch": 790.0, "knee": 445.0, "hem": 0.0}


def front_panel() -> Panel:
    """Hem 200 wide, hip 250, waist 210 with one dart of 20, side seam smooth, crotch curved."""
    side = Chain(
        (
            Cubic(Point(100, 0), Point(103, 150), Point(110, 300), Point(115, 445)),
            Cubic(Point(115, 445), Point(120, 590), Point(140, 720), Point(140, 860)),
            Cubic(Point(140, 860), Point(140, 930), Point(125, 1000), Point(120, 1060)),
        )
    )
    rise = Chain(
        (
            Cubic.straight(Point(-90, 1060), Point(-110, 860)),
            Cubic(Point(-110, 860), Point(-113, 830), Point(-125, 790), Point(-165, 790)),
        )
    )
    inseam = Chain(
        (
            Cubic(Point(-165, 790), Point(-150, 680), Point(-120, 560), Point(-115, 445)),
            Cubic(Point(-115, 445), Point(-110, 330), Point(-103, 150), Point(-100, 0)),
        )
    )
    waist = Chain.straight(Point(120, 1060), Point(20, 1060), Point(0, 1060), Point(-90, 1060))
    outline = Outline.of(
        (
            Edge.whole("front.hem", Chain.straight(Point(-100, 0), Point(100, 0))),
            Edge.whole("front.side", side),
            Edge.whole("front.waist", waist),
            Edge.whole("front.rise", rise),
            Edge.whole("front.inseam", inseam),
        )
    )
    dart = Dart("front-dart", "front.waist", Point(20, 1060), Point(0, 1060), Point(10, 960))
    return Panel("front", outline, (dart,), LEVELS)


def back_panel() -> Panel:
    """Like the front mirrored, 20 wider at hem and knee, its rise slanted, with two darts."""
    side = Chain(
        (
            Cubic(Point(-120, 1060), Point(-125, 1000), Point(-140, 930), Point(-140, 860)),
            Cubic(Point(-140, 860), Point(-140, 720), Point(-130, 590), Point(-125, 445)),
            Cubic(Point(-125, 445), Point(-120, 300), Point(-113, 150), Point(-110, 0)),
        )
    )
    inseam = Chain(
        (
            Cubic(Point(110, 0), Point(113, 150), Point(120, 330), Point(125, 445)),
            Cubic(Point(125, 445), Point(130, 560), Point(180, 680), Point(215, 786)),
        )
    )
    rise = Chain(
        (
            Cubic(Point(215, 786), Point(165, 790), Point(130, 820), Point(115, 860)),
            Cubic.straight(Point(115, 860), Point(75, 1080)),
        )
    )
    waist = Chain.straight(
        Point(75, 1080),
        Point(27, 1075),
        Point(7, 1073),
        Point(-40, 1068),
        Point(-60, 1066),
        Point(-120, 1060),
    )
    outline = Outline.of(
        (
            Edge.whole("back.hem", Chain.straight(Point(-110, 0), Point(110, 0))),
            Edge.whole("back.inseam", inseam),
            Edge.whole("back.rise", rise),
            Edge.whole("back.waist", waist),
            Edge.whole("back.side", side),
        )
    )
    darts = (
        Dart(
            "back-dart-1", "back.waist", Point(27, 1075), Point(7, 1073), _apex(27, 1075, 7, 1073)
        ),
        Dart(
            "back-dart-2",
            "back.waist",
            Point(-40, 1068),
            Point(-60, 1066),
            _apex(-40, 1068, -60, 1066),
        ),
    )
    return Panel("back", outline, darts, LEVELS)


def _apex(x0: float, y0: float, x1: float, y1: float, depth: float = 120.0) -> Point:
    """Below the middle of a mouth, so that the legs are equal."""
    one, two = Point(x0, y0), Point(x1, y1)
    return one.toward(two, 0.5) + (two - one).unit().left() * depth


def deep_dart(along: float = 60.0, length: float = 300.0) -> OpenDart:
    """A dart 40 wide opened at the front's waist, so far `along` it from the rise and so long, mm:
    deep enough for a pleat.
    """
    return OpenDart(
        "front",
        "deep",
        OnEdge("front.waist", "front.rise", mm=along),
        OnEdge("front.hem", "front.side", share=0.5),
        40.0,
        length,
    )


COIN_POCKET = PatchPocket(
    name="coin",
    panel="front",
    on="hand-pocket-bearer",
    from_side=True,
    width=60.0,
    height=70.0,
    point=0.0,
    down=20.0,
    inward=20.0,
    lean=0.0,
    pair=1,
)
"""A pocket for coins on the bearer of a hand pocket."""
