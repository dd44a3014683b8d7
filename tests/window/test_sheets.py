"""The draft-along sheet on the screen."""

from msgspec.structs import replace

from studio.errors import GeometryRefused
from studio.exchange.paint.along import Line
from studio.exchange.work_sheet import work_sheet_of
from studio.window.sheet_window import SheetWindow
from tests.exchange.reading import page_count


def words_of(pages):
    return " ".join(item.text for page in pages for item in page if isinstance(item, Line))


def test_the_sheet_follows_the_design_and_is_saved_as_shown(window, qtbot, tmp_path):
    sheet = window.show_along()
    qtbot.addWidget(sheet)
    assert "Hinge open: the back" in words_of(sheet.pages)
    design = window.document.design
    steps = tuple(replace(step, active=step.panel != "back") for step in design.alterations)
    window.document.change("Switch the back's steps off", replace(design, alterations=steps))
    assert "Hinge open: the back" not in words_of(sheet.pages)
    target = tmp_path / "sheet.pdf"
    assert sheet.save_to(target)
    assert page_count(target) == len(sheet.pages)
    sheet.close()
    window.document.undo()


def test_the_work_sheet_follows_the_order_the_maker_wishes_for(window, qtbot):
    sheet = window.show_work()
    qtbot.addWidget(sheet)
    pane = window.road._order
    before = list(window.document.pattern.order.steps)
    assert before.index("inseam") == before.index("side seam") - 1
    pane.pick("side seam")
    pane.shift(-1)
    after = list(window.document.pattern.order.steps)
    assert after.index("side seam") == before.index("side seam") - 1
    words = words_of(sheet.pages)
    assert words.index("Side seam") < words.index("Inseam")
    for _ in range(12):
        pane.shift(-1)
    steps = window.document.pattern.order.steps
    assert steps.index("yoke seam") < steps.index("side seam")
    assert "stays before" in pane._told.text()
    sheet.close()
    while window.document.history.undo_label:
        window.document.undo()


def test_a_sheet_that_cannot_be_made_says_why_and_comes_back(window, qtbot):
    refuses = True

    def make(pattern, unit):
        if refuses:
            raise GeometryRefused("A stretch is 25.4 mm too short.")
        return work_sheet_of(pattern, unit)

    sheet = SheetWindow(window.document, "inch", make, "Work sheet", "It follows.", None)
    qtbot.addWidget(sheet)
    words = words_of(sheet.pages)
    assert "cannot be made now" in words
    assert "1.000 inch too short" in words
    refuses = False
    design = window.document.design
    window.document.change("Name it", replace(design, name="another"))
    assert "another: work sheet" in words_of(sheet.pages)
