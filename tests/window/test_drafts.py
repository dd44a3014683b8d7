"""A drag shows drafts; what ends it, and what is written, is whole."""

import msgspec
from PySide6.QtWidgets import QMenu

from studio.demo import demo_design
from studio.design import OnEdge
from studio.pattern import evaluate, forget
from studio.window.document import Document
from studio.window.road_pane import RoadPane


def moved(mm):
    design = demo_design()
    line = design.line("hand-pocket")
    path = msgspec.structs.replace(line.path, end=OnEdge("front.side", "front.waist", mm=mm))
    return design.with_line(msgspec.structs.replace(line, path=path))


def test_a_preview_is_a_draft_and_a_commit_is_whole(qtbot):
    forget()
    document = Document(demo_design())
    design = moved(174.0)
    document.preview(design)
    assert document.pattern.draft
    with qtbot.waitSignal(document.shown):
        document.commit("Drag")
    assert not document.pattern.draft
    assert document.pattern == evaluate(design)


def test_a_hand_that_rests_sees_the_whole(qtbot):
    document = Document(demo_design())
    document.preview(moved(175.0))
    qtbot.waitUntil(lambda: not document.pattern.draft, timeout=2000)
    assert document.pattern == evaluate(moved(175.0))


def test_what_is_written_is_whole_even_in_the_midst_of_a_drag(qtbot):
    document = Document(demo_design())
    document.preview(moved(176.0))
    assert document.whole() == evaluate(moved(176.0))
    assert not document.pattern.draft


def test_a_drag_that_is_given_up_leaves_the_whole(qtbot):
    document = Document(demo_design())
    document.preview(moved(177.0))
    document.rollback()
    assert not document.pattern.draft
    assert document.pattern == evaluate(demo_design())


def test_the_road_is_written_anew_under_the_hand_only_for_what_stands_on_it(qtbot):
    document = Document(demo_design())
    road = RoadPane(document, QMenu(), QMenu())
    qtbot.addWidget(road)
    field = next(one for one, _ in road._fields if one.accessibleName() == "Single allowance")
    seen = []
    document.shown.connect(lambda: seen.append(document.only_lines_moved))

    line = moved(178.0)
    document.preview(line)
    wider = msgspec.structs.replace(line, standard_allowance=17.0)
    document.preview(wider)
    assert field.value() == 17.0
    document.preview(wider.with_line(moved(179.0).line("hand-pocket")))
    assert field.value() == 17.0
    document.rollback()
    assert field.value() == demo_design().standard_allowance
    assert seen == [True, False, True, False]
