"""Style lines as stages: ends along the edges, nodes from the chord, curves between."""

from __future__ import annotations

from studio.alter.kind import Say, said_place
from studio.block.panel import Panel
from studio.block.places import place_at, point_at
from studio.curves import Point
from studio.cut import DrawnLine
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.exchange.along.figures import figure, panel_lines
from studio.exchange.along.letters import Letters
from studio.exchange.along.stage import Stage, Stroked
from studio.exchange.along.words import offset_words, plainly, run_words

_TITLES = {
    "seam": "Draw the seam line {}",
    "mouth": "Draw the pocket mouth {}",
    "patch": "Draw the outline of the patch {}",
    "mark": "Draw the line {}",
}


def line_stage(
    line: StyleLine,
    drawn: DrawnLine,
    panel: Panel,
    letters: Letters,
    say: Say,
    panels: tuple[str, ...],
) -> Stage:
    """The stage that draws a style line on its finished panel."""
    joints = [cubic.p0 for cubic in drawn.chain.cubics]
    if isinstance(line.path, AnchoredPath):
        joints.append(drawn.chain.end)
        sentences = _anchored(line.path, drawn, joints, panel, letters, say)
        base: list[Point] = []
    else:
        base, sentences = _placed(line.path.at, line.path.inward, joints, panel, letters, say)
    sentences.append(f"Draw {line.name}: {run_words(drawn.chain, letters, say)}.")
    points = list({letters.of(point): point for point in (*base, *joints)}.items())
    lines = [*panel_lines(panel, "before"), Stroked(drawn.chain, "drawn")]
    return Stage(
        f"{_TITLES[line.kind].format(line.name)}: the {panel.name}",
        tuple(plainly(sentence, panel.name, panels) for sentence in sentences),
        figure(lines, points, (*base, *joints), panel.outline.box),
    )


def _anchored(
    path: AnchoredPath,
    drawn: DrawnLine,
    joints: list[Point],
    panel: Panel,
    letters: Letters,
    say: Say,
) -> list[str]:
    first, last = letters.of(joints[0]), letters.of(joints[-1])
    places = (
        said_place(place_at(panel, OnEdge(place.edge, place.corner, mm=0.0), end.distance), say)
        for place, end in zip((path.start, path.end), drawn.ends, strict=True)
    )
    sentences = [
        f"Mark {name}, {place}." for name, place in zip((first, last), places, strict=True)
    ]
    run = (joints[-1] - joints[0]).unit()
    for joint in joints[1:-1]:
        step = joint - joints[0]
        off = run.cross(step)
        along = run.dot(step)
        way = (
            "along the straight line to" if along >= 0.0 else "back, on the straight line away from"
        )
        sentences.append(
            f"From {first} measure {say(abs(along))} {way} {last}, then {say(abs(off))} square to "
            f"it, to its {'left' if off >= 0.0 else 'right'} seen from {first}: mark "
            f"{letters.of(joint)}."
        )
    if path.beside and path.start.mm is not None and path.start.mm == path.end.mm:
        sentences.append(
            f"{drawn.name} lies {say(path.start.mm)} off {path.beside} all along once the darts in "
            "between are shut; on the panel it is led past them in one curve."
            if drawn.shut is not None and drawn.shut.darts
            else f"{drawn.name} lies {say(path.start.mm)} off {path.beside} all along."
        )
    return sentences


def _placed(
    at: OnEdge,
    inward: float,
    joints: list[Point],
    panel: Panel,
    letters: Letters,
    say: Say,
) -> tuple[list[Point], list[str]]:
    """The point on the edge first, then each joint of the closed line across and along the grain
    from the one before.
    """
    foot = point_at(panel, at)
    edge = panel.outline.edge(at.edge).chain
    origin = foot + edge.tangent(edge.distance_of(foot)).left() * inward
    base = [foot, origin]
    start, name = letters.of(foot), letters.of(origin)
    sentences = [
        f"Mark {start}, {said_place(at, say)}; {say(abs(inward))} square to the edge, "
        f"{'into' if inward >= 0.0 else 'out of'} the panel, mark {name}."
    ]
    before, known = origin, {name}
    for joint in joints:
        joint_name = letters.of(joint)
        if joint_name not in known:
            step = offset_words(joint - before, say)
            sentences.append(
                f"{joint_name}: from {letters.of(before)} go {step}, across and along the grain."
            )
        known.add(joint_name)
        before = joint
    return base, sentences
