"""The handbook's proportional draft as numbers: where the block starts from.

Source unless said otherwise: W. Aldrich, Metric Pattern Cutting for Women's Wear, the basic
trouser block, as restated in textbooks. "Practice" is common practice without a source.

Both panels are described in one frame with the rise on the left; the back is mirrored when drawn.
"""

from __future__ import annotations

import msgspec

from studio.design.body import Body, Fit

HANDBOOK_HIP_EASE = 40.0
HANDBOOK_WAIST_EASE = 10.0
FRONT_HIP_EXTRA = 5.0
BACK_HIP_EXTRA = 15.0
FRONT_WAIST_EXTRA = 22.5
BACK_WAIST_EXTRA = 42.5
DART_INTAKE = 20.0
FRONT_TOP_IN = 10.0
BACK_TOP_IN = 20.0
BACK_TOP_UP = 20.0
BACK_DROP = 5.0
BACK_RISE_LINE_SHARE = 0.75
BACK_FORK_FACTOR = 1.5
FRONT_HEM_LESS = 5.0
BACK_HEM_MORE = 5.0
FRONT_KNEE_MORE = 13.0
BACK_KNEE_OVER_FRONT = 10.0

FRONT_DART_LENGTH = 100.0
BACK_DART_LENGTHS = (120.0, 100.0)
"""From memory of the same draft; the longer one lies nearer the rise."""

GROWN_HIP = 800.0
"""The handbook sizes grown women; on hips smaller than this the back's fixed rise and drop shrink
in proportion, else a child's back waist runs uphill (practice)."""

DART_LONGEST_SHARE = 0.72
"""Of the way from waist to hip: a dart ends above the fullest part (practice)."""

FRONT_FULLNESS = 0.76
BACK_FULLNESS = 0.8
"""How far the handles of the crotch curve reach towards the corner of their two directions.
At a hip of 960 the curves pass 30 (front) and 45 (back) from the corner of rise line and crotch
line (measured). The handbook says 30 and 42.5; the back keeps 3 more because its curve falls to the
crotch point, where both panels run on without a peak. A share keeps that look at every size."""

HEM_BASE = 200.0
HEM_HIP_SHARE = 0.25
"""Leg round the hem: 440 at hip 960 and 10 more for each 40 of hip (memory: size tables)."""

HEM_OVER_HEEL = 10.0
"""The hem passes heel and instep with this to spare (practice)."""

HIP_LINE_SHARE = 2.0 / 3.0
"""Of body rise below the waist (practice)."""

KNEE_UP = 50.0
KNEE_UP_SHARE = 1.0 / 14.0
"""The knee line lies 50 above half way (practice), and less for a leg shorter than 700."""

CURVE_LEAST_SHARE, CURVE_MOST_SHARE = 0.28, 0.42
"""The crotch curve starts at the hip line, but within these shares of the rise (practice)."""


class Levels(msgspec.Struct, frozen=True):
    """Heights in mm above the hem; `curve` is where the crotch curve leaves the rise line."""

    waist: float
    hip: float
    crotch: float
    knee: float
    curve: float
    hem: float = 0.0


class DartShare(msgspec.Struct, frozen=True):
    """A dart to come: how far along the sewn waist from the rise (0 to 1), intake, length."""

    place: float
    intake: float
    length: float


class PanelNumbers(msgspec.Struct, frozen=True, kw_only=True):
    """One panel in numbers, mm, rise on the left and crease at x = 0.

    `rise_line` and `fork` are distances to the left; `side_in` is how far the side of the waist
    is meant to lie inside the hip (a plan; the drawn waist decides); `waist` is its sewn length.
    """

    rise_line: float
    fork: float
    drop: float
    hip_width: float
    top_in: float
    top_up: float
    waist: float
    side_in: float
    darts: tuple[DartShare, ...]
    knee_half: float
    hem_half: float
    fullness: float

    @property
    def tip(self) -> float:
        """Distance of the crotch point from the crease, mm."""
        return self.rise_line + self.fork


def levels_of(body: Body, rise: float) -> Levels:
    """The level lines for a body of that rise."""
    leg = body.inside_leg
    to_hip = body.waist_to_hip if body.waist_to_hip is not None else HIP_LINE_SHARE * rise
    curve = min(max(rise - to_hip, CURVE_LEAST_SHARE * rise), CURVE_MOST_SHARE * rise)
    return Levels(
        waist=leg + rise,
        hip=leg + rise - to_hip,
        crotch=leg,
        knee=leg / 2.0 + min(KNEE_UP, leg * KNEE_UP_SHARE),
        curve=leg + curve,
    )


def default_hem(body: Body) -> float:
    """Round the hem in mm when the maker asked for nothing."""
    return HEM_BASE + HEM_HIP_SHARE * body.hip_girth


def handbook_numbers(
    body: Body, fit: Fit, levels: Levels, hem_girth: float
) -> tuple[PanelNumbers, PanelNumbers]:
    """Front and back exactly as the handbook proportions them, whatever the fit asks for,
    except that a wide hem pulls the knee in to a straight leg and a knee girth pushes it out.
    """
    hip, waist = body.hip_girth, body.waist_girth
    rise_line = hip / 12.0 + 15.0
    fork = hip / 16.0 + 5.0
    back_line = BACK_RISE_LINE_SHARE * rise_line
    front_hem = hem_girth / 4.0 - FRONT_HEM_LESS
    back_hem = hem_girth / 4.0 + BACK_HEM_MORE
    front_hip, back_hip = hip / 4.0 + FRONT_HIP_EXTRA, hip / 4.0 + BACK_HIP_EXTRA
    front_waist = waist / 4.0 + FRONT_WAIST_EXTRA - DART_INTAKE
    back_waist = waist / 4.0 + BACK_WAIST_EXTRA - 2.0 * DART_INTAKE
    knee = _knee_half(body, fit, levels, front_hem, (front_hip + fork) / 2.0)
    longest = DART_LONGEST_SHARE * (levels.waist - levels.hip)
    small = min(1.0, hip / GROWN_HIP)
    front_place = (rise_line - FRONT_TOP_IN - DART_INTAKE / 2.0) / front_waist
    front = PanelNumbers(
        rise_line=rise_line,
        fork=fork,
        drop=0.0,
        hip_width=front_hip,
        top_in=FRONT_TOP_IN,
        top_up=0.0,
        waist=front_waist,
        side_in=front_hip - front_waist - DART_INTAKE - FRONT_TOP_IN,
        darts=(
            DartShare(
                min(max(front_place, 0.35), 0.65), DART_INTAKE, min(FRONT_DART_LENGTH, longest)
            ),
        ),
        knee_half=knee,
        hem_half=front_hem,
        fullness=FRONT_FULLNESS,
    )
    back = PanelNumbers(
        rise_line=back_line,
        fork=rise_line + BACK_FORK_FACTOR * fork - back_line,
        drop=BACK_DROP * small,
        hip_width=back_hip,
        top_in=BACK_TOP_IN,
        top_up=BACK_TOP_UP * small,
        waist=back_waist,
        side_in=back_hip - back_waist - 2.0 * DART_INTAKE - BACK_TOP_IN,
        darts=(
            DartShare(1.0 / 3.0, DART_INTAKE, min(BACK_DART_LENGTHS[0], longest)),
            DartShare(2.0 / 3.0, DART_INTAKE, min(BACK_DART_LENGTHS[1], longest)),
        ),
        knee_half=knee + BACK_KNEE_OVER_FRONT,
        hem_half=back_hem,
        fullness=BACK_FULLNESS,
    )
    return front, back


def _knee_half(body: Body, fit: Fit, levels: Levels, front_hem: float, front_thigh: float) -> float:
    """Front knee, each side of the crease: hem + 13, at most a straight leg, at least the girth."""
    straight = front_hem + (front_thigh - front_hem) * levels.knee / levels.crotch
    half = min(front_hem + FRONT_KNEE_MORE, straight)
    if body.knee_girth is None:
        return half
    return max(half, (body.knee_girth + fit.knee_ease) / 4.0 - BACK_KNEE_OVER_FRONT / 2.0)
