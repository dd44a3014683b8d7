"""Girths of the finished garment against the body."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Panel
from studio.check.finding import Finding, GirthRow
from studio.curves import level_meetings
from studio.design.body import Body

THIGH_BELOW_CROTCH = 25.0
"""The thigh is measured this far below the crotch line, mm (practice)."""

HEEL_ROOM = 10.0
"""A hem that does not open is at least this much larger than the heel, mm (practice)."""

_SEEN_MM = 0.05
"""Half of the last digit told: a girth that is smaller by less is told as no smaller."""

WAIST_EASE_MOST = 60.0
"""More ease than this at the top edge and the trousers slide (practice)."""


CROTCH = "crotch seam"
"""Both rises from waist to waist; what a waist was lowered by is added again, since the body is
measured from its own."""


def girth_called(name: str) -> str:
    """A girth as it is called beside the ledger, which has a crotch seam of its own: that is
    shorter by what the waist was lowered and by the fly.
    """
    return "crotch to waist" if name == CROTCH else name


def girth_rows(
    body: Body | None, panels: tuple[Panel, ...], lowered: float = 0.0
) -> tuple[GirthRow, ...]:
    """Rows for top edge, hip, thigh, knee, crotch seam and hem, each both panels, mm; girths of
    the whole body twice.

    The body's girth at a lowered top edge lies between waist and hip in proportion to the height
    (practice). `lowered` is what was taken off both rises at the waist, along them. A girth that a
    drawn panel's levels do not allow to be measured is left out.
    """
    rows = []
    top = _top_edge(panels)
    if top is not None:
        rows.append(_at_top(body, panels, top))
    measures = (
        ("hip", "hip", 0.0, body.hip_girth if body else None),
        ("thigh", "crotch", -THIGH_BELOW_CROTCH, body.thigh_girth if body else None),
        ("knee", "knee", 0.0, body.knee_girth if body else None),
    )
    for name, level, shift, girth in measures:
        width = _across(panels, level, shift)
        if width is not None:
            rows.append(_row(name, girth, 2.0 * width if name == "hip" else width))
    crotch = _sum_of(panels, "rise")
    if crotch is not None and len(panels) == 2:
        rows.append(_row(CROTCH, body.crotch_length if body else None, crotch + lowered))
    hem = _sum_of(panels, "hem")
    if hem is not None:
        rows.append(_row("hem", body.heel_girth if body else None, hem))
    return tuple(rows)


def judge_girths(
    rows: Iterable[GirthRow], stretch: float = 0.0, *, drawn_in: bool = False
) -> list[Finding]:
    """Findings where a girth is smaller than the body, the hem than the heel, the crotch seam than
    the body's, or the top edge far larger.

    A cloth that stretches by `stretch` per cent may be as much smaller (practice), but not at the
    hem, through which the heel passes, nor along the crotch seam. A top edge that is `drawn_in`, by
    elastic or cord, may be as large as it likes.
    """
    found = []
    for row in rows:
        if row.body is None or row.ease is None:
            continue
        least = HEEL_ROOM if row.name == "hem" else 0.0
        if row.name not in ("hem", CROTCH):
            least = -row.body * stretch / 100.0
        if row.ease < least - _SEEN_MM:
            what = "heel" if row.name == "hem" else "body"
            size = "long" if row.name == CROTCH else "round"
            found.append(
                Finding(
                    "girth-small",
                    "grave",
                    row.name,
                    f"The {row.name} is {numbers.length(row.finished)} {size} and the {what} "
                    f"{numbers.length(row.body)}: at least {numbers.length(row.body + least)} is "
                    f"needed. {_remedy(row.name)}",
                    row.ease,
                    least,
                    exact=(row.finished, row.body, row.body + least, *row.exact),
                )
            )
        elif row.name.startswith("top edge") and row.ease > WAIST_EASE_MOST and not drawn_in:
            found.append(
                Finding(
                    "waist-large",
                    "warning",
                    row.name,
                    f"The top edge is {numbers.length(row.ease)} larger than the body there: the "
                    "trousers will slide. Swing in a rise or take in the side.",
                    row.ease,
                    WAIST_EASE_MOST,
                    exact=row.exact,
                )
            )
    return found


def _remedy(name: str) -> str:
    """What helps where a girth is too small: lowering a waist less helps no hem."""
    if name.startswith("top edge"):
        return "Let out the side, swing in a rise less, or take up less in darts."
    if name == CROTCH:
        return "Hinge the back open, or give the block more ease along the crotch."
    if name == "hem":
        return "Let it out at side and inseam, or give the block a wider hem."
    return "Let it out at the side seam, or give the block more ease."


def _row(name: str, body: float | None, finished: float) -> GirthRow:
    return GirthRow(name, body, finished, None if body is None else finished - body)


def _top_edge(panels: tuple[Panel, ...]) -> float | None:
    lengths = [
        panel.sewn_length(f"{panel.name}.waist")
        for panel in panels
        if panel.outline.has(f"{panel.name}.waist")
    ]
    return 2.0 * sum(lengths) if lengths and len(lengths) == len(panels) else None


def _sum_of(panels: tuple[Panel, ...], edge: str) -> float | None:
    names = [(panel, f"{panel.name}.{edge}") for panel in panels]
    if not names or not all(panel.outline.has(name) for panel, name in names):
        return None
    return sum(panel.sewn_length(name) for panel, name in names)


def _at_top(body: Body | None, panels: tuple[Panel, ...], finished: float) -> GirthRow:
    """The top edge against the body's girth at its height at the side."""
    name = "top edge"
    if body is None:
        return _row(name, None, finished)
    panel = panels[0]
    if not panel.outline.has(f"{panel.name}.side"):
        return _row(name, body.waist_girth, finished)
    side = panel.outline.edge(f"{panel.name}.side").chain
    height = max(side.start.y, side.end.y)
    waist, hip = panel.levels.get("waist"), panel.levels.get("hip")
    if waist is None or hip is None or waist <= hip or waist - height < 5.0:
        return _row(name, body.waist_girth, finished)
    down = waist - height
    share = min(1.0, down / (waist - hip))
    girth = body.waist_girth + (body.hip_girth - body.waist_girth) * share
    row = _row(f"top edge, {numbers.length(down, decimals=0)} down", girth, finished)
    return replace(row, down=down)


def _across(panels: tuple[Panel, ...], level: str, shift: float) -> float | None:
    """Width of all panels together along a level line, mm."""
    total = 0.0
    for panel in panels:
        height = panel.levels.get(level)
        if height is None:
            return None
        width = _width_at(panel, height + shift)
        if width is None:
            return None
        total += width
    return total or None


def _width_at(panel: Panel, height: float) -> float | None:
    crossings = [
        meeting.point.x for edge in panel.outline for meeting in level_meetings(edge.chain, height)
    ]
    return max(crossings) - min(crossings) if len(crossings) >= 2 else None
