"""The list of findings: every sentence whole, whatever the width."""

from msgspec.structs import replace

from studio.canvas.theme import LIGHT
from studio.demo import demo_design
from studio.design import OnEdge
from studio.window.document import Document
from studio.window.findings_list import FindingsList


def test_no_finding_lies_on_the_next_when_the_list_is_made_narrower(qtbot):
    demo = demo_design()
    line = demo.line("yoke")
    low = replace(line.path, end=OnEdge("back.side", "back.waist", mm=400.0))
    findings = FindingsList(Document(demo.with_line(replace(line, path=low))), LIGHT)
    qtbot.addWidget(findings)
    view = findings.view
    assert findings.model.rowCount() > 1
    findings.resize(600, 200)
    with qtbot.waitExposed(findings):
        findings.show()
    first, second = (findings.model.index(row) for row in range(2))
    wide = view.visualRect(second).top()
    findings.resize(260, 200)
    qtbot.waitUntil(lambda: view.visualRect(second).top() > wide)
    assert view.visualRect(second).top() == view.visualRect(first).top() + (
        view.sizeHintForIndex(first).height()
    )
