"""Tests that need a program of the machine: skipped loudly without it, or failed where skips are forbidden.

A pytest plugin, loaded by `tests/conftest.py`. With `HEARTHBOOK_NO_SKIPS=1` no skip of any kind passes.
"""

import os
from collections.abc import Generator
from typing import Any

import pytest

from tests.tools.machine import MARKERS, missing_for, packages_of

SWITCH = "HEARTHBOOK_NO_SKIPS"
_BECAUSE = "this machine has no "
_unrun: list[str] = []


def skips_forbidden() -> bool:
    return os.environ.get(SWITCH, "") not in ("", "0")


def pytest_runtest_setup(item: pytest.Item) -> None:
    for marker in MARKERS:
        if item.get_closest_marker(marker) is None:
            continue
        missing = missing_for(marker)
        if missing:
            programs = " and no ".join(tool.program for tool in missing)
            packages = " ".join(packages_of(missing))
            pytest.skip(f"{_BECAUSE}{programs} (Debian: apt-get install {packages})")


def _forbid(report: pytest.TestReport | pytest.CollectReport) -> None:
    if report.outcome != "skipped" or hasattr(report, "wasxfail") or not skips_forbidden():
        return
    reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
    report.outcome = "failed"
    report.longrepr = f"{SWITCH} is set, so this is a failure. {reason}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    _forbid(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    _forbid(report)
    return report


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.skipped and isinstance(report.longrepr, tuple) and _BECAUSE in report.longrepr[2]:
        _unrun.append(report.longrepr[2].removeprefix("Skipped: "))


@pytest.hookimpl(trylast=True)
def pytest_unconfigure(config: pytest.Config) -> None:
    """Say on the very last line what was not tested; workers of a parallel run leave that to their master."""
    worker: Any = getattr(config, "workerinput", None)
    if worker is None and _unrun:
        reasons = "; ".join(dict.fromkeys(_unrun))
        print(f"\n!!!!!! {len(_unrun)} TESTS DID NOT RUN: {reasons} !!!!!!", flush=True)
        _unrun.clear()
