"""The lines along which a turn-up is folded: at its height below the hem, and at twice that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio import numbers
from studio.curves import Chain, Outline, meetings
from studio.errors import Told
from studio.sew.sewn import CutEdge

_BEYOND_MM = 200.0
"""So far beyond the ends of a hem its cut line is sought: no seam's allowance is wider."""


def turn_up_folds(
    outline: Outline, cut: Sequence[CutEdge], allowances: Sequence[float], high: Mapping[int, float]
) -> tuple[tuple[Chain, ...], tuple[str, ...]]:
    """The folds that lie outside the sewing line, from cut line to cut line, as the outline runs,
    the nearer to the hem first, and sentences on turn-ups that could not be made. `high` are the
    heights of turn-ups (mm) by the index of their edge; the hem itself is the third fold.
    """
    found: list[Chain] = []
    trouble: list[str] = []
    for index, height in high.items():
        edge, width = outline.edges[index], allowances[index]
        if not edge.chain.is_straight:
            trouble.append(
                f"{edge.name} is not straight: a turn-up cannot be folded along it. Straighten it, "
                "or sew a band on."
            )
            continue
        if width <= 2.0 * height:
            trouble.append(
                Told(
                    f"The turn-up of {edge.name} stands {numbers.length(height)} high and takes "
                    f"twice that and what is turned in: {numbers.length(width)} are too little.",
                    (height, width),
                )
            )
        for below in (height, 2.0 * height):
            line = _across(edge.chain, below, cut) if below < width else None
            if line is not None:
                found.append(line)
    return tuple(found), tuple(trouble)


def _across(hem: Chain, below: float, cut: Sequence[CutEdge]) -> Chain | None:
    """The straight line so far below a hem (mm), between its meetings with the cut line."""
    along = hem.start_tangent
    down = along.right() * below
    line = Chain.straight(
        hem.start + down + along * -_BEYOND_MM, hem.end + down + along * _BEYOND_MM
    )
    met = [meeting.first for stretch in cut for meeting in meetings(line, stretch.chain)]
    if len(met) < 2 or max(met) - min(met) <= 0.0:
        return None
    return line.between(min(met), max(met))
