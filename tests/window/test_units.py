"""What is told in the window is told in the unit chosen."""

import re

from msgspec.structs import replace
from PySide6.QtWidgets import QInputDialog, QLabel

from studio.design.carried import Carried
from studio.window.findings_list import heading, sentence
from studio.window.pocket_window import PocketWindow


def trouble(window):
    design = window.document.history.design
    joins = tuple(replace(j, ease=6.0) if j.name == "inseam" else j for j in design.joins)
    thing = Carried(design.carried[0].pocket, "ruler", 400.0, 300.0, 20.0)
    window.document.change("Ease", replace(design, joins=joins, carried=(*design.carried, thing)))
    return window.ledger.findings


def told(findings):
    return " ".join(f"{heading(row)} {sentence(row)}" for row in findings.model.rows)


def test_findings_follow_the_unit_and_change_at_once(window):
    findings = trouble(window)
    assert "differ by 6.0 mm more" in told(findings)
    window.set_unit("inch")
    assert "differ by 0.236 inch more" in told(findings)
    assert "15.75 by 11.81 by 0.79 inch" in told(findings)
    assert not re.search(r"\bmm\b", told(findings))
    assert "0.236 inch" in findings.model.data(findings.model.index(0))
    window.set_unit("mm")
    assert "differ by 6.0 mm more" in told(findings)


def test_a_finding_let_stand_in_inches_stands_in_mm_and_is_taken_back(window, monkeypatch):
    findings = trouble(window)
    window.set_unit("inch")
    monkeypatch.setattr(QInputDialog, "getText", lambda *_: ("meant so, 5 mm", True))
    findings.view.setCurrentIndex(findings.model.index(0))
    findings.stand.click()
    kept = window.document.history.design.accepted[0]
    assert kept.measured is not None
    for unit in ("mm", "cm", "inch"):
        window.set_unit(unit)
        # The reason is the maker's own and stays as typed.
        assert "Let stand: meant so, 5 mm." in sentence(findings.model.rows[0])
    findings.take_back(0)
    assert window.document.history.design.accepted == ()


def test_what_is_told_under_the_sheet_is_in_the_unit(window):
    window.set_unit("cm")
    window.document.told.emit("About 125.0 mm so far.")
    window.document.refused.emit("The waist is 40.0 mm long.")
    assert window._hint.text() == "Not done: The waist is 4.00 cm long."


def test_pockets_and_a_walked_seam_speak_no_mm_in_inches(window):
    trouble(window)
    window.set_unit("inch")
    pockets = PocketWindow(window.document, "inch", window)
    window.walking.begin("inseam")
    for shown in (pockets, window.walking):
        words = " ".join(label.text() for label in shown.findChildren(QLabel))
        assert " inch" in words
        assert not re.search(r"\bmm\b", words)


def test_a_girth_below_the_waist_is_named_in_the_unit_of_its_table(window):
    def first():
        return window.ledger.girths.data(window.ledger.girths.index(0, 0))

    assert first().startswith("top edge, 44 down")
    window.set_unit("cm")
    assert first().startswith("top edge, 4.4 down")
