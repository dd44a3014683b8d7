"""Tells how fast machine and Python are, so that figures can be held against one another."""

import platform
import time


def pytest_report_header():
    """Builds of the same Python differ by a quarter here, and machines by more."""
    best = min(_summed() for _ in range(5))
    return f"timings: Python {platform.python_version()}, a million sums in {best:.0f} ms"


def _summed():
    start = time.process_time()
    whole = 0.0
    for k in range(1_000_000):
        whole += 0.5 * k
    return (time.process_time() - start) * 1e3
