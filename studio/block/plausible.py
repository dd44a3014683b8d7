"""Tells a body that trousers can be drawn for from a slip of the tape, the unit or the pen."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NoReturn

import msgspec

from studio import numbers
from studio.block import seams
from studio.block.drawing import Drawn
from studio.block.proportions import Levels, PanelNumbers
from studio.design.body import Body, Fit
from studio.errors import BodyRefused, Told


class Range(msgspec.Struct, frozen=True):
    """A measure as a share of another, with the least and most that are believed (practice)."""

    measure: str
    other: str
    least: float
    most: float


SIZES = {
    "waist_girth": (200.0, 2400.0),
    "hip_girth": (350.0, 2400.0),
    "inside_leg": (150.0, 1250.0),
    "rise": (100.0, 600.0),
    "waist_height": (300.0, 1600.0),
    "stature": (500.0, 2500.0),
}
"""From a small child to the largest grown bodies, mm (practice); seen before the shares."""

SHARES = (
    Range("waist_girth", "hip_girth", 0.45, 1.6),
    Range("rise", "hip_girth", 0.15, 0.5),
    Range("rise", "inside_leg", 0.2, 0.9),
    Range("rise", "stature", 0.1, 0.27),
    Range("inside_leg", "stature", 0.3, 0.58),
    Range("hip_girth", "stature", 0.3, 1.4),
    Range("waist_height", "stature", 0.45, 0.75),
    Range("waist_to_hip", "rise", 0.3, 0.95),
    Range("thigh_girth", "hip_girth", 0.35, 0.95),
    Range("knee_girth", "hip_girth", 0.2, 0.75),
    Range("ankle_girth", "hip_girth", 0.1, 0.6),
    Range("heel_girth", "hip_girth", 0.15, 0.75),
    Range("crotch_length", "rise", 1.6, 4.5),
)

WORDS = {
    "waist_girth": "waist girth",
    "hip_girth": "hip girth",
    "inside_leg": "inside leg",
    "rise": "body rise",
    "body_rise": "body rise",
    "waist_height": "waist height",
    "waist_to_hip": "waist to hip",
    "thigh_girth": "thigh girth",
    "knee_girth": "knee girth",
    "ankle_girth": "ankle girth",
    "heel_girth": "heel girth",
    "crotch_length": "crotch length",
    "stature": "stature",
    "hand_girth": "hand girth",
    "waist_ease": "waist ease",
    "hip_ease": "hip ease",
    "thigh_ease": "thigh ease",
    "knee_ease": "knee ease",
    "crotch_ease": "crotch ease",
    "hem_girth": "hem girth",
    "inseam_stretch": "inseam stretch",
}

INCHES_HIP, INCHES_LEG = 80.0, 45.0
CENTIMETRES_HIP, CENTIMETRES_LEG = 240.0, 130.0
"""Under both, the body was written in another unit: no child is that small in mm."""

RISE_AGREES_WITHIN = 40.0
"""Seated body rise and waist height less inside leg differ by less than this (practice)."""

EASE_SHARES = {
    "waist_ease": ("waist_girth", -0.3, 0.5),
    "hip_ease": ("hip_girth", -0.25, 0.5),
    "thigh_ease": ("hip_girth", -0.2, 0.5),
    "knee_ease": ("hip_girth", -0.15, 0.5),
    "crotch_ease": ("hip_girth", -0.2, 0.3),
}
"""Ease from stretch cloth to very wide, as a share of a girth (practice)."""

HEM_SHARE = (0.2, 2.0)
"""Round the hem, as a share of the hip (practice)."""

STRETCH_RANGE = (-10.0, 20.0)
"""Inseam stretch, mm; practice is 0 to 6."""

LEAST_WIDTH = 20.0
"""No panel is narrower than this at any level, mm."""


def checked(body: Body, fit: Fit, remarks: list[str]) -> float:
    """The body rise to draw with, mm, once every measure is believed.

    Adds a remark where two measures disagree but one can be used.

    Raises:
        BodyRefused: `where` names the measure.
    """
    _check_numbers(body, fit)
    _check_unit(body)
    rise = _rise(body, remarks)
    rise_measure = "body_rise" if body.body_rise is not None else "waist_height"
    known = {name: getattr(body, name, None) for name in WORDS if hasattr(body, name)}
    known["rise"] = rise
    for measure, (least, most) in SIZES.items():
        value = known.get(measure)
        if value is not None and not least <= value <= most:
            _refuse(rise_measure if measure == "rise" else measure, measure, value, least, most)
    for share in SHARES:
        value, other = known.get(share.measure), known.get(share.other)
        if value is None or other is None:
            continue
        if not share.least * other <= value <= share.most * other:
            _refuse(
                rise_measure if share.measure == "rise" else share.measure,
                share.measure,
                value,
                share.least * other,
                share.most * other,
                (share.other, other),
            )
    _check_order(body)
    _check_fit(body, fit)
    return rise


def check_shape(panel: PanelNumbers, shape: Drawn, levels: Levels) -> None:
    """A last look at a drawn panel: every level is wide enough and nothing is folded over.

    Raises:
        BodyRefused: `where` names the likeliest measure.
    """
    top_x, top_y = shape.rise.top
    side_x, side_y = shape.upper.waist.side
    curve = shape.rise.curve
    checks = (
        (side_x - top_x, "waist_girth", "waist"),
        (panel.hip_width, "hip_girth", "hip line"),
        (seams.thigh_width(shape.lower_side[1], shape.inseam[0], levels), "thigh_girth", "thigh"),
        (2.0 * panel.knee_half, "knee_girth", "knee"),
        (2.0 * panel.hem_half, "hem_girth", "hem"),
        (top_y - curve[1], "body_rise", "rise"),
        (curve[1] - curve[7], "body_rise", "crotch curve"),
        (side_y - levels.hip, "waist_to_hip", "side above the hip line"),
    )
    for width, measure, place in checks:
        if not width >= LEAST_WIDTH:
            narrow = numbers.AtMost(width)
            raise BodyRefused(
                f"The panel would be only {_told(narrow)} at the {place}; "
                f"at least {_told(LEAST_WIDTH)} is needed.",
                where=measure,
                exact=(narrow, LEAST_WIDTH),
            )


def _refuse(
    where: str,
    measure: str,
    value: float,
    least: float,
    most: float,
    against: tuple[str, float] | None = None,
) -> NoReturn:
    reason = ""
    if against is not None:
        other = WORDS[against[0]]
        reason = f" with {_article(other)} {other} of {_told(against[1])}"
    article = _article(WORDS[measure]).capitalize()
    # Bounds are told inwards, so that what is told can be drawn.
    low, high = numbers.AtLeast(least), numbers.AtMost(most)
    raise BodyRefused(
        f"{article} {WORDS[measure]} of {_told(value)} can not be drawn{reason}; "
        f"it has to lie between {numbers.length(low, decimals=0)} and "
        f"{numbers.length(high, decimals=0)}.",
        where=where,
        exact=(value, *(() if against is None else against[1:]), low, high),
    )


def _told(mm: float) -> str:
    """A measure: one that is no whole number has its tenths, so that it is known again."""
    return numbers.length(mm, decimals=0 if float(mm).is_integer() else 1)


def _article(words: str) -> str:
    return "an" if words[0] in "aeiou" else "a"


def _check_numbers(body: Body, fit: Fit) -> None:
    for measure in msgspec.structs.fields(Body):
        value = getattr(body, measure.name)
        if measure.name != "name" and value is not None:
            _check_finite(measure.name, value)
            if value <= 0.0:
                raise BodyRefused(
                    f"The {WORDS[measure.name]} is {_told(value)}; a measure is more than nothing.",
                    where=measure.name,
                    exact=(value,),
                )
    for wish in msgspec.structs.fields(Fit):
        value = getattr(fit, wish.name)
        if value is not None:
            _check_finite(wish.name, value)


def _check_finite(name: str, value: float) -> None:
    if not math.isfinite(value):
        raise BodyRefused(f"The {WORDS[name]} is not a number.", where=name)


def _check_unit(body: Body) -> None:
    hip, leg = body.hip_girth, body.inside_leg
    if body.waist_girth < CENTIMETRES_HIP and hip < CENTIMETRES_HIP and leg < CENTIMETRES_LEG:
        unit = "inches or centimetres" if hip < INCHES_HIP and leg < INCHES_LEG else "centimetres"
        raise BodyRefused(
            f"All measures look like {unit}: a hip girth of {numbers.short(hip)} and an "
            f"inside leg of {numbers.short(leg)}. "
            "They have to be given in millimetres.",
            where="hip_girth",
        )


def _rise(body: Body, remarks: list[str]) -> float:
    rise = body.rise
    if rise is None:
        raise BodyRefused(
            "The body rise is missing: give the body rise, or the waist height.",
            where="body_rise",
        )
    if rise <= 0.0:
        high = body.waist_height or 0.0
        raise BodyRefused(
            f"The waist height of {_told(high)} is not above the inside leg of "
            f"{_told(body.inside_leg)}.",
            where="waist_height",
            exact=(high, body.inside_leg),
        )
    if body.body_rise is not None and body.waist_height is not None:
        other = body.waist_height - body.inside_leg
        if abs(other - rise) > RISE_AGREES_WITHIN:
            remarks.append(
                Told(
                    f"The body rise of {numbers.length(rise)} was used, though waist height less "
                    f"inside leg gives {numbers.length(other)}; measure both again.",
                    (rise, other),
                )
            )
    return rise


def _check_order(body: Body) -> None:
    """Going down the leg, each girth is smaller than the one above it."""
    order = ("hip_girth", "thigh_girth", "knee_girth", "ankle_girth")
    given = [(name, getattr(body, name)) for name in order if getattr(body, name) is not None]
    for (upper, above), (lower, below) in pairwise(given):
        if below >= above:
            raise BodyRefused(
                f"The {WORDS[lower]} of {_told(below)} has to be smaller than the "
                f"{WORDS[upper]} of {_told(above)}.",
                where=lower,
                exact=(below, above),
            )


def _check_fit(body: Body, fit: Fit) -> None:
    for name, (girth, least, most) in EASE_SHARES.items():
        base = getattr(body, girth)
        if not least * base <= getattr(fit, name) <= most * base:
            _refuse(
                name,
                name,
                getattr(fit, name),
                least * base,
                most * base,
                (girth, base),
            )
    least, most = (share * body.hip_girth for share in HEM_SHARE)
    if fit.hem_girth is not None and not least <= fit.hem_girth <= most:
        _refuse(
            "hem_girth",
            "hem_girth",
            fit.hem_girth,
            least,
            most,
            ("hip_girth", body.hip_girth),
        )
    if not STRETCH_RANGE[0] <= fit.inseam_stretch <= STRETCH_RANGE[1]:
        _refuse("inseam_stretch", "inseam_stretch", fit.inseam_stretch, *STRETCH_RANGE)
