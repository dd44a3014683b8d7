"""The tip of a row of the ledger says so where its difference is one off in the last digit."""

from decimal import Decimal

from PySide6.QtCore import Qt

from studio.exchange.adding_up import DIFFERENCES_ROUNDED


def rows(model):
    """What stands in each row of a table, and its tip."""
    for k in range(model.rowCount()):
        cells = [str(model.data(model.index(k, column))) for column in range(4)]
        yield cells, model.data(model.index(k, 0), Qt.ItemDataRole.ToolTipRole)


def test_a_row_that_does_not_add_up_says_so_and_no_other_does(window):
    seen = set()
    for unit in ("mm", "cm", "inch"):
        window.ledger.set_unit(unit)
        for model in (window.ledger.seams, window.ledger.girths):
            for cells, tip in rows(model):
                try:
                    a, b, over = (Decimal(one.replace("\N{MINUS SIGN}", "-")) for one in cells[1:])
                except ArithmeticError:
                    is_off = False
                else:
                    is_off = b - a != over
                assert (DIFFERENCES_ROUNDED in tip) == is_off
                seen.add(is_off)
    # The thigh of the example in inches is the one that does not.
    assert seen == {True, False}


def test_no_tip_says_so_of_fractions_which_tell_themselves_that_they_are_not_exact(window):
    window.ledger.set_unit("inch 1/16")
    tips = [tip for _, tip in (*rows(window.ledger.seams), *rows(window.ledger.girths))]
    assert len(tips) > 10
    assert not [tip for tip in tips if DIFFERENCES_ROUNDED in tip]
