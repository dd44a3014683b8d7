"""The alterations as stages, each told by its own kind."""

from __future__ import annotations

from studio.alter import kind_of
from studio.alter.kind import Say
from studio.alter.toile import step_called
from studio.curves import Box
from studio.design.toile import ToileNote
from studio.exchange.along.figures import changed_lines, figure
from studio.exchange.along.letters import Letters
from studio.exchange.along.stage import Stage
from studio.exchange.along.words import plainly
from studio.pattern import StepMade


def step_stage(
    made: StepMade,
    letters: Letters,
    say: Say,
    panels: tuple[str, ...],
    notes: tuple[ToileNote, ...] = (),
) -> Stage | None:
    """The stage of one step; None when it is switched off or could not be done. `notes` are those
    of the toile, which steps may be called after.
    """
    step, before, after = made.step, made.before, made.after
    if not step.active or before is None or after is None:
        return None
    kind = kind_of(step)
    drafting = kind.drafting(before, step, say)
    names = [letters.of(point) for point in drafting.points]
    sentences = (sentence.format(*names) for sentence in drafting.sentences)
    points = tuple(zip(names, drafting.points, strict=True))
    return Stage(
        f"{step_called(step, notes, say) or kind.title}: the {step.panel}",
        tuple(plainly(sentence, step.panel, panels) for sentence in sentences),
        figure(
            changed_lines(before, after),
            points,
            drafting.points,
            Box.round_all((before.outline.box, after.outline.box)),
        ),
    )
