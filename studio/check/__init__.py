"""Checks: rules into findings; the seam ledger; girths. Nothing here repairs."""

from studio.check.accept import acceptance, is_accepted, with_acceptance
from studio.check.allowances import judge_allowances
from studio.check.cut_lines import judge_cut_line
from studio.check.darts import judge_darts
from studio.check.edges import judge_edges
from studio.check.finding import Finding, GirthRow, LedgerRow
from studio.check.folds import judge_folds
from studio.check.girths import girth_rows, judge_girths
from studio.check.in_unit import all_in_unit, in_unit, names_in, sentence_in_unit
from studio.check.kinks import judge_kinks
from studio.check.laid import judge_laid, judge_unlaid, lines_on
from studio.check.ledger import broken_row, judge_row, ledger_row
from studio.check.loops import judge_loops
from studio.check.notches import judge_marks
from studio.check.outlines import judge_outline
from studio.check.partners import judge_partners
from studio.check.pockets import Pocket, Use, judge_pockets, pocket_of, use_of
from studio.check.pockets_in import pockets_in
from studio.check.pulled_on import is_drawn_in, judge_pulled_on
from studio.check.run_on import judge_run_on
from studio.check.shortages import judge_shortages, shortage_taken

__all__ = [
    "Finding",
    "GirthRow",
    "LedgerRow",
    "Pocket",
    "Use",
    "acceptance",
    "all_in_unit",
    "broken_row",
    "girth_rows",
    "in_unit",
    "is_accepted",
    "is_drawn_in",
    "judge_allowances",
    "judge_cut_line",
    "judge_darts",
    "judge_edges",
    "judge_folds",
    "judge_girths",
    "judge_kinks",
    "judge_laid",
    "judge_loops",
    "judge_marks",
    "judge_outline",
    "judge_partners",
    "judge_pockets",
    "judge_pulled_on",
    "judge_row",
    "judge_run_on",
    "judge_shortages",
    "judge_unlaid",
    "ledger_row",
    "lines_on",
    "names_in",
    "pocket_of",
    "pockets_in",
    "sentence_in_unit",
    "shortage_taken",
    "use_of",
    "with_acceptance",
]
