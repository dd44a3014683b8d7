"""From a body and a fit to a block: handbook start, hip and waist shared out, seams balanced."""

from __future__ import annotations

from typing import NoReturn

import msgspec

from studio import numbers
from studio.block import plausible
from studio.block.balance import Wanted, balanced, crotch_range
from studio.block.drawing import back_panel, drawn, front_panel, level_waist
from studio.block.panel import Block
from studio.block.proportions import (
    HANDBOOK_HIP_EASE,
    HANDBOOK_WAIST_EASE,
    HEM_OVER_HEEL,
    Levels,
    PanelNumbers,
    default_hem,
    handbook_numbers,
    levels_of,
)
from studio.block.suppression import BACK_SHARES, FRONT_SHARES, shared
from studio.design.body import Body, Fit
from studio.errors import BodyRefused, Told

SEAM_MM = 1e-6
"""Joined seams of a draft agree within this."""


def draft(body: Body, fit: Fit) -> Block:
    """A front and a back panel of one leg for this body, mm, without allowances.

    Finished waist, hip and (when given) crotch seam are the body's plus ease, joined seams agree,
    all within 1e-6; thigh and knee are at least the body's plus ease. What could not be given as
    asked stands in the block's remarks.

    Raises:
        BodyRefused: no block can be drawn; `where` names the measure.
    """
    remarks: list[str] = []
    levels, front, back = start_of(body, fit, remarks)
    front, back = _balanced(body, fit, levels, front, back)
    front_shape = drawn(front, levels)
    back_shape = drawn(back, levels, side=front_shape.side_length)
    if abs(back_shape.side_length - front_shape.side_length) > SEAM_MM:
        raise BodyRefused(
            "The back waist can not be drawn so that the side seams agree; check waist, hip "
            "and body rise against each other.",
            where="waist_girth",
        )
    plausible.check_shape(front, front_shape, levels)
    plausible.check_shape(back, back_shape, levels)
    return Block((front_panel(front_shape, levels), back_panel(back_shape, levels)), tuple(remarks))


def handbook_start(body: Body, fit: Fit | None = None) -> Block:
    """The handbook's proportional draft as it stands, before anything is fitted to the body.

    Hip ease 40 and waist ease 10 whatever the fit asks; seams are not made equal.

    Raises:
        BodyRefused: no block can be drawn; `where` names the measure.
    """
    asked = fit or Fit()
    remarks: list[str] = []
    levels = levels_of(body, plausible.checked(body, asked, remarks))
    hem = _hem_girth(body, asked, remarks)
    front, back = handbook_numbers(body, asked, levels, hem)
    return Block(
        (
            front_panel(level_waist(front, levels), levels),
            back_panel(level_waist(back, levels), levels),
        ),
        tuple(remarks),
    )


def start_of(
    body: Body, fit: Fit, remarks: list[str] | None = None
) -> tuple[Levels, PanelNumbers, PanelNumbers]:
    """Levels, front and back with the fit's ease and the hip and waist shared out, before the
    seams are balanced; what was changed of the wishes is added to `remarks`.

    Raises:
        BodyRefused: `where` names the measure.
    """
    said = [] if remarks is None else remarks
    levels = levels_of(body, plausible.checked(body, fit, said))
    start = handbook_numbers(body, fit, levels, _hem_girth(body, fit, said))
    front, back = (
        shared(_asked(panel, fit), ranges)
        for panel, ranges in zip(start, (FRONT_SHARES, BACK_SHARES), strict=True)
    )
    return levels, front, back


def _asked(panel: PanelNumbers, fit: Fit) -> PanelNumbers:
    """The panel with the fit's hip and waist ease in place of the handbook's, a quarter each."""
    return msgspec.structs.replace(
        panel,
        hip_width=panel.hip_width + (fit.hip_ease - HANDBOOK_HIP_EASE) / 4.0,
        waist=panel.waist + (fit.waist_ease - HANDBOOK_WAIST_EASE) / 4.0,
    )


def _hem_girth(body: Body, fit: Fit, remarks: list[str]) -> float:
    """The leg round the hem: as asked or by the hip, and wide enough for the foot."""
    hem = fit.hem_girth if fit.hem_girth is not None else default_hem(body)
    for girth, part in ((body.heel_girth, "heel"), (body.ankle_girth, "ankle")):
        if girth is not None and hem < girth + HEM_OVER_HEEL:
            least = girth + HEM_OVER_HEEL
            remarks.append(
                Told(
                    f"The hem was widened from {numbers.length(hem)} to {numbers.length(least)} "
                    f"round so that the {part} passes.",
                    (hem, least),
                )
            )
            hem = least
    return hem


def _balanced(
    body: Body, fit: Fit, levels: Levels, front: PanelNumbers, back: PanelNumbers
) -> tuple[PanelNumbers, PanelNumbers]:
    crotch = None if body.crotch_length is None else body.crotch_length + fit.crotch_ease
    thigh = None if body.thigh_girth is None else body.thigh_girth + fit.thigh_ease
    found = balanced(front, back, levels, body.hip_girth, Wanted(fit.inseam_stretch, crotch, thigh))
    missing = found.missing
    if missing.get("crotch", 0.0) > SEAM_MM and crotch is not None:
        _refuse_crotch(body, fit, levels, front, back, crotch)
    if missing.get("thigh", 0.0) > SEAM_MM and thigh is not None:
        over = missing["thigh"]
        raise BodyRefused(
            f"A thigh of {_told(thigh)} with its ease is {_told(over)} more than this hip and "
            "rise can be drawn with; measure thigh and hip again.",
            where="thigh_girth",
            exact=(thigh, over),
        )
    if missing["inseam"] > SEAM_MM:
        raise BodyRefused(
            "The inseams of front and back can not be made to agree; the leg is too short for "
            "this hip.",
            where="inside_leg",
        )
    return found.front, found.back


def _refuse_crotch(
    body: Body, fit: Fit, levels: Levels, front: PanelNumbers, back: PanelNumbers, crotch: float
) -> NoReturn:
    """Says whether the crotch length or the thigh that goes with it is out of reach."""
    alone = balanced(front, back, levels, body.hip_girth, Wanted(fit.inseam_stretch, crotch))
    if alone.missing["crotch"] <= SEAM_MM:
        thigh = (body.thigh_girth or 0.0) + fit.thigh_ease
        raise BodyRefused(
            f"A crotch seam of {_told(crotch)} and a thigh of {_told(thigh)} with its ease can not "
            "both be drawn for this hip and rise; measure thigh and crotch length again.",
            where="thigh_girth",
            exact=(crotch, thigh),
        )
    reach = crotch_range(front, back, levels, body.hip_girth)
    least, most = numbers.AtLeast(reach[0]), numbers.AtMost(reach[1])
    raise BodyRefused(
        f"With this rise and hip the crotch seam can be drawn from about {_told(least)} to "
        f"{_told(most)}, not {_told(crotch)}; measure the crotch length and the rise again.",
        where="crotch_length",
        exact=(least, most, crotch),
    )


def _told(mm: float) -> str:
    return numbers.length(mm, decimals=0)
