"""What the check found, for people (text) and for programs (JSON)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from studio import numbers
from studio.check import Finding, GirthRow, LedgerRow, all_in_unit
from studio.check.girths import girth_called
from studio.exchange.adding_up import DIFFERENCES_ROUNDED, adds_up
from studio.numbers import LengthUnit
from studio.pattern import Pattern

_SIGNS = {"match": "=", "long": ">", "short": "<", "broken": "?"}
_WORDS = {
    "match": "match",
    "long": "second side too long",
    "short": "second side too short",
    "broken": "cannot be measured",
}


_TOGETHER = "  A side of several edges is measured along all of them together, and rounded once."


def report_tree(pattern: Pattern) -> dict[str, Any]:
    """Joins, girths, pieces and findings as plain data; lengths in mm rounded to 0.001."""
    return {
        "joins": [_join_tree(row) for row in pattern.ledger],
        "girths": [
            {
                "name": row.name,
                "body_mm": _rounded(row.body),
                "finished_mm": _rounded(row.finished),
                "ease_mm": _rounded(row.ease),
            }
            for row in pattern.girths
        ],
        "pieces": [
            {
                "name": sewn.piece.name,
                "quantity": sewn.piece.quantity,
                "perimeter_mm": _rounded(sewn.piece.outline.perimeter),
                "area_mm2": _rounded(sewn.piece.outline.area_mm2),
            }
            for sewn in pattern.pieces
        ],
        "findings": [
            {
                "rule": finding.rule,
                "gravity": finding.gravity,
                "where": finding.where,
                "message": finding.message,
                "accepted": finding.accepted,
            }
            for finding in pattern.findings
        ],
    }


def report_text(pattern: Pattern, unit: LengthUnit = "mm") -> str:
    """The ledger, girths, pieces and findings as a table for a terminal, lengths in `unit`."""
    findings = all_in_unit(pattern.findings, pattern.design, unit)
    lines = [pattern.design.name, "", "Seams"]
    seams = [_join_cells(row, unit) for row in pattern.ledger]
    lines += _table([("join", "first side", "second side", "difference", "meant", ""), *seams])
    if any(len(edges) > 1 for row in pattern.ledger for edges in (row.edges_a, row.edges_b)):
        lines.append(_TOGETHER)
    lines += _said_of_differences(seams)
    girths = [_girth_cells(row, unit) for row in pattern.girths]
    lines += ["", "Girths"]
    lines += _table([("girth", "body", "finished", "ease"), *girths])
    lines += _said_of_differences(girths)
    lines += ["", "Pieces"]
    lines += _table(
        [("piece", "cut", "perimeter", "area")]
        + [
            (
                sewn.piece.name,
                str(sewn.piece.quantity),
                _length(sewn.piece.outline.perimeter, unit),
                numbers.area(sewn.piece.outline.area_mm2, numbers.squares(unit)),
            )
            for sewn in pattern.pieces
        ]
    )
    lines += ["", "Findings"]
    lines += [_finding_line(finding) for finding in findings] or ["  none"]
    return "\n".join(lines) + "\n"


def has_grave(pattern: Pattern) -> bool:
    """True when a finding is grave and not accepted."""
    return any(finding.gravity == "grave" and not finding.accepted for finding in pattern.findings)


def _finding_line(finding: Finding) -> str:
    accepted = f" (accepted: {finding.accepted})" if finding.accepted else ""
    return f"  {finding.gravity}: {finding.where}: {finding.message}{accepted}"


def _join_tree(row: LedgerRow) -> dict[str, Any]:
    return {
        "name": row.name,
        "sides": [
            {"edges": list(row.edges_a), "length_mm": _rounded(row.length_a)},
            {"edges": list(row.edges_b), "length_mm": _rounded(row.length_b)},
        ],
        "difference_mm": _rounded(row.difference),
        "ease_mm": _rounded(row.ease),
        "allowed_mm": _rounded(row.allowed),
        "verdict": row.verdict,
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3) + 0.0


def _join_cells(row: LedgerRow, unit: LengthUnit) -> tuple[str, ...]:
    if row.verdict == "broken":
        return (row.name, "", "", "", "", f"{_SIGNS[row.verdict]} {_WORDS[row.verdict]}")
    return (
        row.name,
        _length(row.length_a, unit),
        _length(row.length_b, unit),
        _length(row.difference, unit, signed=True),
        _length(row.ease, unit),
        f"{_SIGNS[row.verdict]} {_WORDS[row.verdict]}",
    )


def _girth_cells(row: GirthRow, unit: LengthUnit) -> tuple[str, ...]:
    return (
        numbers.retold(girth_called(row.name), unit, exact=row.exact),
        "not measured" if row.body is None else _length(row.body, unit),
        _length(row.finished, unit),
        "" if row.ease is None else _length(row.ease, unit, signed=True),
    )


def _said_of_differences(rows: Sequence[tuple[str, ...]]) -> list[str]:
    """What is said below rows (name, first, second, difference) of which one does not add up."""
    is_plain = all(adds_up(*row[1:4]) for row in rows)
    return [] if is_plain else [f"  {DIFFERENCES_ROUNDED}"]


def _length(mm: float, unit: LengthUnit, *, signed: bool = False) -> str:
    return numbers.length(mm, unit, numbers.DECIMALS[unit], signed=signed)


def _table(rows: Sequence[tuple[str, ...]]) -> list[str]:
    """Columns lined up: the first to the left, the others to the right, a last verdict left."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [row[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:5], widths[1:5], strict=True)]
        cells += list(row[5:])
        lines.append(("  " + "  ".join(cells)).rstrip())
    return lines
