"""Tells what the figures were measured with."""

import platform
import sysconfig


def pytest_report_header():
    """A Python built without profiles of its own runs is a fifth to a quarter slower here."""
    built = sysconfig.get_config_var("CONFIG_ARGS") or ""
    how = "with" if "--enable-optimizations" in built else "without"
    return f"timings: Python {platform.python_version()}, built {how} profile-guided optimisation"
