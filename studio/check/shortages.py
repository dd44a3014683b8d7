"""Allowances that are short on the cloth: what is left, and whether it can still be sewn so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Panel
from studio.check.accept import acceptance, speaks_of
from studio.check.finding import Finding
from studio.cut.copies import Leg, copy_name, drawn_legs
from studio.design.cloth import Shortage
from studio.design.design import Design
from studio.errors import GeometryRefused
from studio.sew.allowance import AllowanceRules, allowance_rules, finish_allowance
from studio.sew.constructions import CONSTRUCTIONS, finished
from studio.sew.sewn import SewnPiece
from studio.sew.short import faults, is_corner, straight_words, whole_width
from studio.sew.stretch_words import stretch_words

RULE = "allowance-short"

LINE_RULE = "short-line"

_SAME_MM = 0.05
"""Less is not seen on the shears' side of a ruler, mm."""


def judge_shortages(
    shortages: Iterable[Shortage],
    pieces: Iterable[SewnPiece],
    rules: AllowanceRules,
    legs: Mapping[str, Leg],
) -> list[Finding]:
    """A finding for each allowance the maker does without: a warning, that says when what is left
    is too little for how the edge is sewn; grave where the sewing line is reached. `legs` tells
    what each panel is drawn as (`drawn_legs`): even copies of a pair are as drawn. A warning of its
    own where the line that is left to cut along cannot be followed.
    """
    by_name = {sewn.piece.name: sewn for sewn in pieces}
    found = []
    for one in shortages:
        sewn = by_name.get(one.piece)
        finding = short_finding(one, sewn, rules, legs)
        found.append(finding)
        if sewn is not None and finding.measured is not None:
            found += _line_findings(one, sewn, finding)
    return found


def short_finding(
    short: Shortage, sewn: SewnPiece | None, rules: AllowanceRules, legs: Mapping[str, Leg]
) -> Finding:
    """The finding of one shortage; `sewn` is its piece, None when there is none."""
    names = [edge.name for edge in sewn.piece.outline] if sewn is not None else []
    if sewn is None or short.edge not in names or not 0 <= short.copy < sewn.piece.quantity:
        return Finding(
            RULE,
            "warning",
            short.piece,
            f"A shortage speaks of {short.piece}:{short.edge}, copy {short.copy + 1}, which is not "
            "there: forget it.",
        )
    name = copy_name(sewn.piece, short.copy, legs)
    width = whole_width(sewn, short)
    where = stretch_words(sewn.piece.outline, short.edge, short.start, short.end)
    left, at = width - short.missing, (short.piece, short.edge)
    crossed = left <= _SAME_MM
    # Never all three of what is missing, what is left and the whole: each is rounded by itself, and
    # they need not add up.
    told = numbers.length(short.missing if crossed else left), numbers.length(width)
    much = (
        f"up to {told[0]} of {told[1]} are missing."
        if crossed
        else f"at its narrowest {told[0]} of {told[1]} are left."
    )
    said = f"The allowance of {name} is short at {where}: {much}"
    straight = () if crossed else straight_words(sewn, short)
    return Finding(
        RULE,
        "grave" if crossed else "warning",
        f"{name}: {where}",
        " ".join((said, _what_to_do(short, left, rules), *straight)),
        short.missing,
        width,
        exact=(
            *where.exact,
            short.missing if crossed else left,
            width,
            least_allowance(*at, rules)[0],
        ),
    )


def _line_findings(short: Shortage, sewn: SewnPiece, told: Finding) -> Iterable[Finding]:
    """Of a shortage that is told, what keeps its line from being followed."""
    if told.gravity == "grave":
        return
    for fault in faults(sewn, short):
        name = told.where.partition(":")[0]
        words = f"{name}: {fault.words}"
        yield Finding(LINE_RULE, "warning", told.where, words, fault.wanting, 0.0, exact=told.exact)


def shortage_taken(
    design: Design,
    short: Shortage,
    reason: str,
    pieces: Iterable[SewnPiece],
    panels: Iterable[Panel],
) -> Design:
    """The design that does without an allowance, the finding of it let stand with the maker's
    reason; one taken before for the same stretch is replaced. `pieces` and `panels` are those of
    its pattern.

    Raises:
        GeometryRefused: nothing is left of the allowance, or the piece has no such edge.
    """
    by_name = {sewn.piece.name: sewn for sewn in pieces}
    rules = allowance_rules(design.joins, design.finishes, design.standard_allowance)
    finding = short_finding(short, by_name.get(short.piece), rules, drawn_legs(panels))
    if finding.measured is None or finding.gravity == "grave":
        raise GeometryRefused(finding.message, where=finding.where, exact=finding.exact)
    accepted = acceptance(finding, reason)
    return replace(
        design,
        shortages=(*(one for one in design.shortages if not _same(one, short)), short),
        accepted=(
            *(one for one in design.accepted if not speaks_of(finding, one)),
            accepted,
        ),
    )


def least_allowance(piece: str, edge: str, rules: AllowanceRules) -> tuple[float, str]:
    """The least allowance, mm, an edge can be sewn with as it is joined or finished, and the words
    for what asks it; 0 and "" where nothing is said of the edge. Of a centre seam, on whose two
    sides the edge lies, the side that takes less.
    """
    found = [(0.0, "")]
    for join in rules.joins:
        kind = CONSTRUCTIONS[join.construction]
        least = [
            needs
            for side, needs in zip(
                (join.a, join.b), kind.least(rules.standard, join.wraps), strict=True
            )
            if any((ref.piece, ref.edge) == (piece, edge) for ref in side.edges)
        ]
        if least:
            found.append((min(least), f"{join.name}, {kind.title.lower()},"))
    for finish in rules.finishes:
        if (finish.edge.piece, finish.edge.edge) == (piece, edge):
            how = finished(finish)
            needs = how.least(finish_allowance(finish, rules.standard))
            found.append((needs, f"{how.title.lower()}"))
    return max(found, key=lambda one: one[0])


def _what_to_do(short: Shortage, left: float, rules: AllowanceRules) -> str:
    if left <= _SAME_MM:
        return (
            "The sewing line itself is reached: lay the piece elsewhere, join it of scraps, or "
            "change it."
        )
    if is_corner(short):
        return "Trim the corner so, and let it stand."
    needs, what = least_allowance(short.piece, short.edge, rules)
    if left < needs - _SAME_MM:
        return (
            f"{what[:1].upper()}{what[1:]} needs {numbers.length(needs)}: sew it another way, "
            "lay the piece elsewhere, or join it of scraps."
        )
    single = rules.narrower.get((short.piece, short.edge))
    if single is not None and left >= single - _SAME_MM:
        return "Make this the leg with the single allowance, and nothing is lost."
    return "That can be sewn: let it stand, and mark the sewing line on the cloth."


def _same(one: Shortage, other: Shortage) -> bool:
    """Whether two speak of the same stretch or overlap. A corner is not the stretch it ends."""
    if (one.piece, one.copy, one.edge) != (other.piece, other.copy, other.edge):
        return False
    if (one.start, one.end) == (other.start, other.end):
        return True
    return max(one.start, other.start) < min(one.end, other.end)
