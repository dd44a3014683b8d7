"""A design's file written by another window or program, and names that are pasted or very long."""

import os

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMessageBox

from studio.demo import demo_design
from studio.design.file import load, save
from studio.window import dialogs, save_path
from studio.window.main_window import MainWindow
from studio.window.one_line import one_line
from studio.window.recovery import Recovery


def named(window, name):
    document = window.document
    assert document.change("Name", replace(document.design, name=name))


@pytest.fixture
def asked(monkeypatch):
    """The questions about a file of others, each answered by what stands under "says"."""
    heard = {"names": [], "says": False}

    def ask(_parent, name):
        heard["names"].append(name)
        return heard["says"]

    monkeypatch.setattr(dialogs, "ask_write_over_others", ask)
    return heard


def test_two_windows_on_one_file_take_nothing_from_each_other(window, qtbot, tmp_path, asked):
    path = tmp_path / "mine.yoke"
    save(window.document.design, path)
    other = MainWindow(load(path), path, recovery=Recovery(tmp_path / "other"))
    qtbot.addWidget(other, before_close_func=lambda one: one.document.history.mark_saved())
    assert window.files.open_file(path)
    named(window, "one")
    named(other, "two")
    assert window.files.save()
    assert not other.files.save()
    assert load(path).name == "one"
    assert other.document.history.is_dirty
    asked["says"] = True
    assert other.files.save()
    assert load(path).name == "two"
    named(other, "three")
    assert other.files.save()
    assert asked["names"] == ["mine.yoke"] * 2


def test_a_file_that_is_gone_or_as_it_was_is_not_asked_about(window, tmp_path, asked):
    path = tmp_path / "mine.yoke"
    window.document.save(path)
    named(window, "one")
    os.utime(path, (1.0, 1.0))
    assert window.files.save()
    path.unlink()
    named(window, "two")
    assert window.files.save()
    assert load(path).name == "two"
    assert asked["names"] == []


@pytest.mark.parametrize("later", [False, True])
def test_work_taken_up_again_is_not_written_over_a_later_file(
    window, tmp_path, monkeypatch, asked, later
):
    path = tmp_path / "mine.yoke"
    window.document.save(path)
    named(window, "left behind")
    assert window.files.put_aside()
    aside = next((tmp_path / "aside").iterdir())
    aside.rename(aside.with_name("999999999-1.aside"))
    window.document.undo()
    saved_at = window.files.recovery.left_behind()[0].saved_at
    written = saved_at + (60.0 if later else -60.0)
    os.utime(path, (written, written))
    monkeypatch.setattr(dialogs, "ask_recover", lambda *_: True)
    window.files.offer_recovery()
    assert window.document.design.name == "left behind"
    assert window.files.save() != later
    assert len(asked["names"]) == later


def test_neither_enter_nor_escape_writes_over_what_others_wrote(window, qtbot):
    kept = []

    def press(box):
        kept.append((box.defaultButton().text(), box.escapeButton().text()))
        box.escapeButton().click()

    QTimer.singleShot(0, window, lambda: press(QApplication.activeModalWidget()))
    assert not dialogs.ask_write_over_others(window, "mine.yoke")
    assert kept == [("Leave it", "Leave it")]
    QTimer.singleShot(
        0, window, lambda: pressed(QApplication.activeModalWidget(), "Write over it").click()
    )
    assert dialogs.ask_write_over_others(window, "mine.yoke")


def pressed(box: QMessageBox, words: str):
    return next(one for one in box.buttons() if one.text() == words)


def test_a_maker_who_never_rests_has_work_put_aside(window, qtbot, tmp_path):
    window.files._aside.setInterval(120)
    folder = tmp_path / "aside"
    for number in range(40):
        named(window, f"name {number}")
        qtbot.wait(10)
        if folder.exists() and any(folder.iterdir()):
            return
    raise AssertionError("nothing was put aside while steps were taken")


def test_what_is_pasted_into_a_name_is_one_line(window, names_offered):
    assert (
        one_line(" a\nb\tc\x00d\u2028e \N{BLACK SCISSORS}\u200d\n")
        == "a b c d e \N{BLACK SCISSORS}\u200d"
    )
    window.document.path = None
    named(window, "a\nb\x00c" + "\N{BLACK SCISSORS}" * 200)
    assert save_path.ask_save_path(window, window.document) is None
    # POSIX, limits.h: NAME_MAX is 255 bytes on the usual disks.
    assert len(names_offered[0].encode()) < 255
    assert names_offered[0].startswith("a b c\N{BLACK SCISSORS}")
    assert names_offered[0].endswith("\N{BLACK SCISSORS}.yoke")


def test_a_full_disk_is_told_and_everything_stays(window, tmp_path, monkeypatch):
    path = tmp_path / "mine.yoke"
    window.document.save(path)
    named(window, "one")
    told, before = [], path.read_bytes()
    monkeypatch.setattr(dialogs, "tell", lambda *words: told.append(words[-1]))

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert not window.files.save()
    assert "No space left on device" in told[0]
    assert not window.files.put_aside()
    assert window.document.history.is_dirty
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["mine.yoke"]
    monkeypatch.undo()
    assert window.files.save()
    assert load(path).name == "one" != demo_design().name
