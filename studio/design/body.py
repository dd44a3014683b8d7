"""One person's measurements and the room asked for round them, all in mm.

Names follow ISO 8559-1:2017 where it has them; heel_girth is common practice.
"""

from __future__ import annotations

from studio.design.kept import Kept


class Body(Kept, frozen=True, kw_only=True):
    """A body; only waist, hip, inside leg and a rise (or the height of the waist) are required."""

    name: str = ""
    waist_girth: float
    hip_girth: float
    inside_leg: float
    body_rise: float | None = None
    waist_height: float | None = None
    waist_to_hip: float | None = None
    thigh_girth: float | None = None
    knee_girth: float | None = None
    ankle_girth: float | None = None
    heel_girth: float | None = None
    crotch_length: float | None = None
    stature: float | None = None
    hand_girth: float | None = None

    @property
    def lengths(self) -> tuple[float, ...]:
        """All that was measured, mm, and the rise that follows from the height of the waist."""
        heights = () if self.waist_height is None else (self.waist_height - self.inside_leg,)
        every = (getattr(self, name) for name in self.__struct_fields__ if name != "name")
        return (*(length for length in every if length is not None), *heights)

    @property
    def rise(self) -> float | None:
        """Body rise, mm; when not measured seated, waist height less inside leg (practice)."""
        if self.body_rise is not None:
            return self.body_rise
        return None if self.waist_height is None else self.waist_height - self.inside_leg


class Fit(Kept, frozen=True, kw_only=True):
    """Ease of the finished garment over the body, and the leg's width, in mm.

    Waist, hip and crotch ease are met exactly; thigh and knee ease are the least accepted.
    `hem_girth` is the finished leg at the hem; left out, it follows the hip and passes the heel.
    `inseam_stretch` is how much shorter the back inseam is, to be stretched in (practice 0 to 6).
    """

    waist_ease: float = 10.0
    hip_ease: float = 40.0
    thigh_ease: float = 40.0
    knee_ease: float = 50.0
    crotch_ease: float = 0.0
    hem_girth: float | None = None
    inseam_stretch: float = 0.0
