"""The demonstration: trousers for an orchard hand, drawn for an invented body.

Wide enough to climb a ladder in, a second layer at the knees for kneeling between the rows, and
hand pockets deep enough that secateurs stay in them. Person and measurements are made up.
"""

from __future__ import annotations

from functools import cache

from msgspec.structs import replace

from studio.curves import Vector
from studio.cut.parts import BeltLoops, Fly, PatchPocket, ToolLoop
from studio.demo_stash import demo_stash
from studio.design import (
    AnchoredPath,
    Body,
    Bound,
    Cloth,
    Design,
    DraftedBlock,
    EdgeRef,
    FairEdge,
    Finish,
    Fit,
    Hinge,
    Join,
    JoinSide,
    LowerWaist,
    Node,
    OnEdge,
    OpenDart,
    PanelPiece,
    PlacedPath,
    ShapePiece,
    StyleLine,
    SwingRise,
    TrueSeam,
    WaistbandPiece,
)
from studio.design.carried import Carried
from studio.design.plain import side
from studio.design.topstitch import Topstitch
from studio.pattern import with_parts

ORCHARD_BODY = Body(
    name="Orchard hand",
    waist_girth=780.0,
    hip_girth=1000.0,
    body_rise=278.0,
    inside_leg=790.0,
    waist_to_hip=205.0,
    thigh_girth=590.0,
    knee_girth=385.0,
    ankle_girth=250.0,
    heel_girth=335.0,
    crotch_length=715.0,
    stature=1720.0,
)


def _up(edge: str, mm: float) -> OnEdge:
    return OnEdge(f"front.{edge}", "front.hem", mm=mm)


_MOUTH = StyleLine(
    "hand-pocket",
    "front",
    "mouth",
    AnchoredPath(
        OnEdge("front.waist", "front.side", mm=58.0),
        OnEdge("front.side", "front.waist", mm=162.0),
        (Node(Vector(0.52, -0.075)),),
    ),
)

_BAG = StyleLine(
    "pocket-bag",
    "front",
    "mark",
    AnchoredPath(
        OnEdge("front.waist", "front.side", mm=128.0),
        OnEdge("front.side", "front.waist", mm=300.0),
        (Node(Vector(0.42, -0.19)), Node(Vector(0.73, -0.275)), Node(Vector(0.945, -0.215))),
    ),
)

_KNEE = StyleLine(
    "knee-panel",
    "front",
    "patch",
    AnchoredPath(
        OnEdge("front.side", "front.hem", mm=575.0),
        OnEdge("front.side", "front.hem", mm=235.0),
        (Node(Vector(-0.035, -0.56), smooth=False), Node(Vector(1.03, -0.53), smooth=False)),
    ),
    ("top", "inner", "bottom"),
)

_YOKE = StyleLine(
    "yoke",
    "back",
    "seam",
    AnchoredPath(
        OnEdge("back.rise", "back.waist", mm=80.0),
        OnEdge("back.side", "back.waist", mm=30.0),
        (Node(Vector(0.5, 0.03)),),
    ),
)

_BACK_POCKET = StyleLine(
    "back-pocket",
    "back",
    "patch",
    PlacedPath(
        OnEdge("back.rise", "back.waist", mm=112.0),
        58.0,
        -4.0,
        (
            Node(Vector(0.0, 0.0), smooth=False),
            Node(Vector(-150.0, 0.0), smooth=False),
            Node(Vector(-144.0, -138.0), smooth=False),
            Node(Vector(-75.0, -166.0), smooth=False),
            Node(Vector(-6.0, -138.0), smooth=False),
        ),
    ),
    ("top", "outer", "lower-outer", "lower-inner", "inner"),
)

_POCKET_SEWN = ("outer", "lower-outer", "lower-inner", "inner")
_WAIST_CHAIN = (
    EdgeRef("yoke", "back.waist"),
    EdgeRef("bearer", "front.waist", before="hand-pocket"),
    EdgeRef("front-leg", "front.waist"),
)
_CROTCH = (("front-leg", "front.rise"), ("back-leg", "back.rise"), ("yoke", "back.rise"))


_PARTS = (
    Fly(zip_length=140.0, wide=42.0),
    PatchPocket(
        name="secateurs-pocket",
        panel="back",
        from_side=True,
        width=84.0,
        height=205.0,
        point=0.0,
        down=330.0,
        inward=60.0,
        lean=0.0,
        pair=1,
    ),
    PatchPocket(
        name="pencil-pocket",
        panel="back",
        from_side=True,
        width=40.0,
        height=110.0,
        point=0.0,
        down=398.0,
        inward=82.0,
        lean=0.0,
        pair=1,
        on="secateurs-pocket",
    ),
    ToolLoop(name="twine-loop", strap=28.0, drop=80.0, up=655.0),
    BeltLoops(count=5),
)


@cache
def demo_design() -> Design:
    """The orchard trousers as a design: the pair, the parts that make them work trousers, and the
    cloth there is for them.
    """
    design = with_parts(_pair(), *_PARTS)
    secateurs = Carried("secateurs-pocket", "secateurs", 180.0, 48.0, 16.0)
    return replace(
        design,
        carried=(secateurs, Carried("twine-loop", "ball of twine", 60.0, 55.0, 55.0)),
        stash=demo_stash(),
    )


def _pair() -> Design:
    """The back side is lowered a millimetre more than the front: it leans less, and so the two
    side seams are true again.
    """
    return Design(
        name="Orchard trousers",
        notes="For a ladder, wet grass and kneeling. Cut a toile before the good cloth.",
        body=ORCHARD_BODY,
        block=DraftedBlock(Fit(waist_ease=0.0, hip_ease=40.0, thigh_ease=50.0, hem_girth=430.0)),
        alterations=(
            SwingRise("front", 30.0, releases_darts=True),
            LowerWaist("front", 50.0, 50.0),
            Hinge(
                "back",
                OnEdge("back.side", "back.waist", mm=190.0),
                OnEdge("back.rise", "back.waist", mm=190.0),
                20.0,
            ),
            FairEdge("back", "back.side", within=3.0),
            LowerWaist("back", 50.0, 50.0),
            TrueSeam("back", "back.side", "front.side"),
            *(
                OpenDart("front", name, _up("side", mm), _up("inseam", mm), 8.0, 42.0, both=True)
                for name, mm in (("knee-low", 378.0), ("knee-high", 482.0))
            ),
        ),
        lines=(_MOUTH, _BAG, _KNEE, _YOKE, _BACK_POCKET),
        pieces=_pieces(),
        joins=_joins(),
        finishes=(
            Finish(EdgeRef("front-leg", "front.hem"), "hem", 40.0),
            Finish(EdgeRef("back-leg", "back.hem"), "hem", 40.0),
            Finish(EdgeRef("back-pocket", "back-pocket.top"), "turned", 25.0),
            *(
                Finish(EdgeRef(piece, edge), "caught", into=seam)
                for piece, edge, seam in (
                    ("knee-panel", "front.side", "side seam"),
                    ("pocket-bag", "front.waist", "waist"),
                    ("pocket-bag", "front.side", "side seam"),
                )
            ),
            *(
                Finish(EdgeRef("waistband", f"waistband.{edge}"), "turned", 12.0, rows=())
                for edge in ("overlap", "end", "top", "start")
            ),
        ),
        topstitching=(
            Topstitch("knee-panel", "knee-panel.top", (22.0, 28.0, 34.0), through=True),
            Topstitch("back-pocket", "back-pocket.top", (40.0, 46.0)),
        ),
        standard_allowance=12.0,
        cloths=(
            Cloth("main", "#5f7d8c", "canvas, 340 g"),
            Cloth("knee", "#a8763e", "waxed canvas for the knees"),
            Cloth("pocketing", "#d9cdb4", "pocketing"),
        ),
    )


def _pieces() -> tuple[PanelPiece | ShapePiece | WaistbandPiece, ...]:
    return (
        PanelPiece("front-leg", "front", (Bound("hand-pocket", "right"),), marks=("knee-panel",)),
        PanelPiece(
            "back-leg", "back", (Bound("yoke", "left"),), rest_at="side", marks=("back-pocket",)
        ),
        PanelPiece("yoke", "back", (Bound("yoke", "right"),), close_darts=True),
        PanelPiece("knee-panel", "front", (Bound("knee-panel", "left"),), cloth="knee"),
        PanelPiece("bearer", "front", (Bound("pocket-bag", "left"),)),
        PanelPiece(
            "pocket-bag",
            "front",
            (Bound("pocket-bag", "left"), Bound("hand-pocket", "right")),
            cloth="pocketing",
        ),
        ShapePiece("back-pocket", "back-pocket"),
        WaistbandPiece("waistband", fits="waist", width=40.0, overlap=45.0),
    )


def _joins() -> tuple[Join, ...]:
    marks = "knee-panel.top", "knee-panel.inner", "knee-panel.bottom"
    return (
        Join(
            "side seam",
            JoinSide(
                (
                    EdgeRef("front-leg", "front.side"),
                    EdgeRef("bearer", "front.side", after="hand-pocket"),
                )
            ),
            side(("back-leg", "back.side"), ("yoke", "back.side")),
        ),
        Join(
            "inseam",
            side(("front-leg", "front.inseam")),
            side(("back-leg", "back.inseam")),
            construction="felled",
            wraps="b",
        ),
        Join(
            "yoke seam",
            side(("yoke", "yoke")),
            side(("back-leg", "yoke")),
            construction="felled",
            wraps="a",
        ),
        Join(
            "crotch seam",
            side(*_CROTCH),
            side(*_CROTCH, mirrored=True),
            construction="felled",
        ),
        Join(
            "pocket mouth",
            side(("front-leg", "hand-pocket")),
            side(("pocket-bag", "hand-pocket"), mirrored=True),
        ),
        Join(
            "pocket bag",
            side(("pocket-bag", "pocket-bag")),
            side(("bearer", "pocket-bag"), mirrored=True),
            construction="bound",
        ),
        Join(
            "knee panel",
            side(*(("knee-panel", mark) for mark in marks)),
            side(*(("front-leg", mark) for mark in marks)),
            construction="lapped",
        ),
        Join(
            "back pocket",
            side(*(("back-pocket", f"back-pocket.{part}") for part in _POCKET_SEWN)),
            side(*(("back-leg", f"back-pocket.{part}") for part in _POCKET_SEWN)),
            construction="lapped",
        ),
        Join("waist", JoinSide(_WAIST_CHAIN), side(("waistband", "waistband.half-1"))),
        Join(
            "waist, other leg",
            JoinSide(tuple(reversed(_WAIST_CHAIN)), mirrored=True),
            side(("waistband", "waistband.half-2")),
        ),
    )
