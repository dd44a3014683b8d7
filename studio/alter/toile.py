"""From what a toile showed to steps with numbers, spread over the seams that should take them.

Girths are shared alike among the edges of all seams at a place, so that joined edges stay as long
as each other; how much each seam can take before the next helps is practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import msgspec

from studio import numbers
from studio.alter import altered, kind_of
from studio.alter.closing import level_of
from studio.alter.hinge import HingeKind
from studio.alter.kind import Say
from studio.block.panel import Panel
from studio.design.alterations import Alteration, Hinge, Lengthen, LowerWaist, SwingRise, TakeIn
from studio.design.toile import Misfit, ToileNote, ToilePlace
from studio.errors import GeometryRefused, Told

SIDES_ALONE_MM = 24.0
"""A waist too large by more than this is not taken off the side seams alone (practice)."""

MISFITS: dict[ToilePlace, tuple[Misfit, ...]] = {
    "waist": ("large", "tight"),
    "back waist": ("large",),
    "hip": ("large", "tight"),
    "thigh": ("large", "tight"),
    "knee": ("large", "tight"),
    "hem": ("large", "tight"),
    "leg": ("long", "short"),
    "back rise": ("short", "long"),
    "front rise": ("short", "long"),
}
"""What can be wrong where."""

_SHIN_MM = 150.0
"""A leg changes its length this far below the knee line, where its edges run nearly straight; one
that is cropped shorter half-way from the knee to its hem."""


class Proposal(msgspec.Struct, frozen=True):
    """Steps that answer a note, and why they are these."""

    note: ToileNote
    steps: tuple[Alteration, ...]
    reason: str


def proposed(note: ToileNote, panels: Sequence[Panel]) -> Proposal:
    """The steps for a note, for the panels as they are after all steps so far.

    Raises:
        GeometryRefused: there is no front or back, the amount is not above zero, the misfit is not
            one of the place's, or a step cannot be done on its panel, as where a pleat lies in its
            way: the sentence says why.
    """
    by_name = {panel.name: panel for panel in panels}
    if not {"front", "back"} <= by_name.keys():
        raise GeometryRefused("A toile's notes need a front and a back panel.", where="toile")
    if note.amount <= 0.0 or note.misfit not in MISFITS[note.place]:
        raise GeometryRefused(
            f"{note.place} {note.misfit} by {numbers.length(note.amount)} cannot be answered.",
            where="toile",
            exact=(note.amount,),
        )
    answer = _ANSWERS[note.place](note, by_name)
    for step in answer.steps:
        by_name[step.panel] = _tried(by_name[step.panel], step)
    return answer


def _tried(panel: Panel, step: Alteration) -> Panel:
    """The panel after a step; one that cannot be done is told by its title."""
    try:
        return altered(panel, (step,))
    except GeometryRefused as problem:
        raise GeometryRefused(
            f"{kind_of(step).title}: {problem.message}", where=problem.where, exact=problem.exact
        ) from problem


def said(note: ToileNote, say: Say = numbers.length) -> str:
    """A note in a few words: "waist 38.0 mm too large"; `say` writes its length."""
    return f"{note.place} {say(note.amount)} too {note.misfit}"


def step_called(step: Alteration, notes: Iterable[ToileNote], say: Say) -> str:
    """What a step is called by its maker, "" for nothing: one that was taken for a note of the
    toile bears its words, whose length `say` writes; any other name is the maker's own.
    """
    known = {said(note): said(note, say) for note in notes}
    return known.get(step.name, step.name)


def _signed(note: ToileNote) -> float:
    """What has to go; negative when room has to come."""
    return note.amount if note.misfit == "large" else -note.amount


def _waist(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    amount = _signed(note)
    if amount <= SIDES_ALONE_MM:
        quarter = amount / 4.0
        return Proposal(
            note,
            tuple(_side(panel, quarter, "waist", "", "hip") for panel in ("front", "back")),
            "The two side seams share it: a quarter at each of their four edges.",
        )
    eighth = amount / 8.0
    return Proposal(
        note,
        (
            *(_side(panel, eighth, "waist", "", "hip") for panel in ("front", "back")),
            SwingRise("back", amount / 4.0),
        ),
        Told(
            f"More than {numbers.length(SIDES_ALONE_MM)} would make the side seams too round: they "
            "take half, and the centre back seam the other half.",
            (SIDES_ALONE_MM,),
        ),
    )


def _back_waist(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    return Proposal(
        note,
        (SwingRise("back", note.amount / 2.0),),
        "It gapes at the back: the centre back seam takes it, half on each side.",
    )


def _hip(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    quarter = _signed(note) / 4.0
    return Proposal(
        note,
        tuple(_side(panel, quarter, "hip", "waist", "knee") for panel in ("front", "back")),
        "The two side seams share it, from nothing at the waist to nothing at the knee.",
    )


def _thigh(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    quarter = _signed(note) / 4.0
    steps: list[Alteration] = []
    for panel in ("front", "back"):
        steps.append(_side(panel, quarter, "crotch", "hip", "knee"))
        steps.append(TakeIn(panel, f"{panel}.inseam", quarter, "crotch", "hip", "knee"))
    return Proposal(
        note,
        tuple(steps),
        "Side seam and inseam share it, front and back alike, so that the seams still match; the "
        "crotch seam changes with the inseam.",
    )


def _knee(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    quarter = _signed(note) / 4.0
    steps = tuple(
        TakeIn(panel, f"{panel}.{edge}", quarter, "knee", upper="crotch", lower="hem")
        for panel in ("front", "back")
        for edge in ("side", "inseam")
    )
    return Proposal(note, steps, "Both seams of the leg share it, on each side of the crease.")


def _hem(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    del panels
    quarter = _signed(note) / 4.0
    steps = tuple(
        TakeIn(panel, f"{panel}.{edge}", quarter, "hem", upper="knee")
        for panel in ("front", "back")
        for edge in ("side", "inseam")
    )
    return Proposal(note, steps, "Both seams share it, from nothing at the knee.")


def _leg(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    amount = -note.amount if note.misfit == "long" else note.amount
    return Proposal(
        note,
        tuple(
            Lengthen(panel, "knee", amount, -_down_the_shin(panels[panel]))
            for panel in ("front", "back")
        ),
        "Front and back change alike below the knee, where it keeps the hem's width.",
    )


def _down_the_shin(panel: Panel) -> float:
    """How far below the knee line a panel changes its length, mm."""
    return min(_SHIN_MM, (level_of(panel, "knee") - level_of(panel, "hem")) / 2.0)


def _back_rise(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    amount = note.amount if note.misfit == "short" else -note.amount
    return Proposal(
        note,
        (_hinged(panels["back"], amount),),
        "The back is hinged about the side seam, so that only its rise changes.",
    )


def _front_rise(note: ToileNote, panels: dict[str, Panel]) -> Proposal:
    if note.misfit == "long":
        return Proposal(
            note,
            (LowerWaist("front", note.amount, 0.0),),
            "The waist is lowered at the centre front only, to nothing at the side seam.",
        )
    return Proposal(
        note,
        (_hinged(panels["front"], note.amount),),
        "The front is hinged about the side seam, so that only its rise changes.",
    )


def _side(panel: str, amount: float, at: str, upper: str, lower: str) -> TakeIn:
    return TakeIn(panel, f"{panel}.side", amount, at, upper=upper, lower=lower)


def _hinged(panel: Panel, amount: float) -> Hinge:
    return msgspec.structs.replace(HingeKind().fresh(panel), amount=amount)


_ANSWERS: dict[ToilePlace, Callable[[ToileNote, dict[str, Panel]], Proposal]] = {
    "waist": _waist,
    "back waist": _back_waist,
    "hip": _hip,
    "thigh": _thigh,
    "knee": _knee,
    "hem": _hem,
    "leg": _leg,
    "back rise": _back_rise,
    "front rise": _front_rise,
}
