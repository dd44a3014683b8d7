"""Work left behind by a window that was killed is found again; that of a living one is not."""

import os
import subprocess
import sys
import time

from studio.demo import demo_design
from studio.window.recovery import Recovery


def dead_process():
    code = "import os; print(os.getpid())"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    return int(run.stdout)


def test_a_killed_windows_work_is_found(tmp_path):
    Recovery(tmp_path, token=f"{dead_process()}-1").keep(demo_design(), "/home/x/trousers.yoke")
    found = Recovery(tmp_path).left_behind()
    assert [kept.design for kept in found] == [demo_design()]
    assert found[0].original == "/home/x/trousers.yoke"


def test_a_living_windows_work_is_left_alone(tmp_path):
    Recovery(tmp_path, token=f"{os.getpid()}-{time.time_ns()}").keep(demo_design(), "")
    assert Recovery(tmp_path, token=f"{os.getpid()}-2").left_behind() == []


def test_work_that_was_saved_leaves_nothing(tmp_path):
    recovery = Recovery(tmp_path)
    recovery.keep(demo_design(), "")
    recovery.drop()
    assert list(tmp_path.iterdir()) == []


def test_a_broken_file_aside_is_kept_but_not_offered(tmp_path):
    broken = tmp_path / f"{dead_process()}-1.aside"
    broken.write_bytes(b"{not json")
    assert Recovery(tmp_path).left_behind() == []
    assert broken.exists()


def test_work_is_found_when_another_process_was_given_the_number_since(tmp_path):
    # This very process began long after the time in the name: it cannot have written the file.
    long_ago = time.time_ns() - 7 * 24 * 3600 * 10**9
    Recovery(tmp_path, token=f"{os.getpid()}-{long_ago}").keep(demo_design(), "")
    assert len(Recovery(tmp_path).left_behind()) == 1


def test_work_on_a_file_whose_name_is_no_text_is_kept_all_the_same(tmp_path):
    name = os.fsdecode(b"/home/x/\xff.yoke")
    Recovery(tmp_path, token=f"{dead_process()}-1").keep(demo_design(), name)
    found = Recovery(tmp_path).left_behind()
    assert [(kept.design, kept.original) for kept in found] == [(demo_design(), "")]
