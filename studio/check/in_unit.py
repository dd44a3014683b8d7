"""A finding as a maker reads it who has chosen another unit than mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from studio import numbers
from studio.check.finding import Finding
from studio.design import Design
from studio.design.block import ImportedBlock
from studio.numbers import LengthUnit


def all_in_unit(
    findings: Iterable[Finding], design: Design, unit: LengthUnit
) -> tuple[Finding, ...]:
    """Findings on a design with their lengths in a unit. What the maker called things stays as it
    is; what they were made of, and what was measured on the body, is exact.
    """
    names = tuple(names_in(design))
    measured = () if design.body is None else design.body.lengths
    return tuple(in_unit(finding, unit, names, measured) for finding in findings)


def in_unit(
    finding: Finding,
    unit: LengthUnit,
    names: Iterable[str] = (),
    measured: Iterable[float] = (),
) -> Finding:
    """The finding with the lengths of its place and sentence in a unit, those it was made of exact.
    `names` are what the maker called things (`names_in`), `measured` other lengths in mm that it
    may speak of. For reading only: rules, what is let stand and files go by the finding in mm.
    """
    if unit == "mm":
        return finding
    exact = [] if finding.unit != "mm" else [finding.measured, finding.limit]
    known = [*finding.exact, *(one for one in exact if one is not None), *measured]
    called = tuple(names)
    return replace(
        finding,
        where=numbers.retold(finding.where, unit, exact=known, names=called),
        message=numbers.retold(finding.message, unit, exact=known, names=called),
    )


def sentence_in_unit(
    sentence: str, design: Design, unit: LengthUnit, exact: Iterable[float] = ()
) -> str:
    """A sentence on a design with its lengths in a unit; what the maker called things stays as it
    is. `exact` are lengths that it may speak of, mm, unrounded.
    """
    return numbers.retold(sentence, unit, exact=exact, names=names_in(design))


def names_in(design: Design) -> Iterator[str]:
    """What the maker has called pieces, lines, joins, panels, edges, cloths and things."""
    for kind in (design.pieces, design.lines, design.joins, design.stash):
        yield from (one.name for one in kind)
    yield from (stock.cloth for stock in design.stash)
    yield from (one.thing for one in design.carried)
    if isinstance(design.block, ImportedBlock):
        for panel in design.block.panels:
            yield panel.name
            yield from (edge.name for edge in panel.edges)
