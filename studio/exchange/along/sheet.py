"""A pattern as a draft-along sheet."""

from __future__ import annotations

from functools import partial

from studio import numbers
from studio.alter.kind import Say
from studio.block.panel import Panel
from studio.check import LedgerRow, all_in_unit
from studio.exchange.adding_up import EACH_ROUNDED, adds_up
from studio.exchange.along.from_block import block_stage
from studio.exchange.along.from_lines import line_stage
from studio.exchange.along.from_pieces import piece_stage
from studio.exchange.along.from_steps import step_stage
from studio.exchange.along.letters import Letters
from studio.exchange.along.stage import Sheet, Stage
from studio.numbers import LengthUnit
from studio.pattern import Pattern


def sheet_of(pattern: Pattern, unit: LengthUnit = "mm") -> Sheet:
    """The sheet: blocks, steps, style lines, pieces, and the seams to walk at the end.

    Lengths are written in `unit`. What the pattern could not make is left out and said so in
    front.
    """
    say = partial(numbers.length, unit=unit, decimals=numbers.DECIMALS[unit])
    names = tuple(panel.name for panel in pattern.panels)
    letters = {name: Letters() for name in names}
    stages = [block_stage(panel, letters[panel.name], say, names) for panel in _blocks(pattern)]
    for made in pattern.steps:
        if made.step.panel in letters:
            stage = step_stage(made, letters[made.step.panel], say, names, pattern.design.toile)
            if stage is not None:
                stages.append(stage)
    panels = {panel.name: panel for panel in pattern.panels}
    asked = {line.name: line for line in pattern.design.lines}
    stages += [
        line_stage(asked[drawn.name], drawn, panels[drawn.panel], letters[drawn.panel], say, names)
        for drawn in pattern.lines
    ]
    recipes = {recipe.name: recipe for recipe in pattern.design.pieces}
    finishes = pattern.design.finishes
    stages += [
        piece_stage(recipes[sewn.piece.name], sewn, say, names, unit, finishes)
        for sewn in pattern.pieces
    ]
    if pattern.ledger:
        stages.append(_walk(pattern.ledger, say))
    return Sheet(pattern.design.name, _before(pattern, unit), tuple(stages))


def _blocks(pattern: Pattern) -> list[Panel]:
    """Each panel as it was before its first step."""
    first: dict[str, Panel] = {}
    for made in pattern.steps:
        if made.before is not None:
            first.setdefault(made.step.panel, made.before)
    return [first.get(panel.name, panel) for panel in pattern.panels]


def _before(pattern: Pattern, unit: LengthUnit) -> tuple[str, ...]:
    body = pattern.design.body
    wearer = f" It is drawn for {body.name or 'one body'} and fits no other." if body else ""
    said = [
        f"A sheet to draw this pattern with ruler, set square, tape and pencil.{wearer} Panels are "
        "one leg, without allowances until the pieces are taken off. Letters go by panel: A of the "
        "front is not A of the back.",
        "A curve is given by how far it lies off the straight line between its ends: so much to "
        "the left or right, seen going along, at so much from the first end. Draw it through those "
        "places in one sweep.",
        "Measure twice, walk the seams at the end, and sew a toile, a trial garment in cheap "
        "cloth, before the good cloth is cut.",
    ]
    unmade = [finding for finding in pattern.findings if finding.rule in _MADE]
    missing = [finding.message for finding in all_in_unit(unmade, pattern.design, unit)]
    if missing:
        said.append("Left out, because it could not be made: " + " ".join(missing))
    # What the maker wrote in lines of its own is read in lines of its own.
    said += [line.strip() for line in pattern.design.notes.splitlines() if line.strip()]
    return tuple(said)


_MADE = ("alteration", "line", "hold", "piece")
"""Rules that tell of something that could not be made."""


def _walk(ledger: tuple[LedgerRow, ...], say: Say) -> Stage:
    """What each seam should measure on paper."""
    sentences = []
    for row in ledger:
        if row.verdict == "broken":
            continue
        a, b = say(row.length_a), say(row.length_b)
        both = f"{a} on both sides" if a == b else f"{a} against {b}"
        # What is eased is what is there, not what was meant: both lengths stand beside it.
        fitted = 0.0
        if row.ease:
            fitted = row.difference if row.verdict == "match" else row.ease
        is_there = fitted == row.difference
        by_itself = EACH_ROUNDED if is_there and not adds_up(a, b, say(fitted)) else ""
        eased = f", {say(fitted)} of it eased in{by_itself}" if fitted > 0.0 else ""
        if fitted < 0.0:
            eased = f", the second {say(-fitted)} shorter{by_itself} and stretched to fit"
        sentences.append(f"{row.name}: {both}{eased}.")
    return Stage(
        "Walk the seams", tuple(sentence[:1].upper() + sentence[1:] for sentence in sentences)
    )
