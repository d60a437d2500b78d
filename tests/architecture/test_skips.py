"""A test that cannot run here is never mistaken for one that passed."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.tools.machine import MARKERS
from tests.tools.paths import ROOT
from tests.tools.skips import SWITCH

_TESTS = """
import pytest

@pytest.mark.browser
def test_browser(): ...

@pytest.mark.simulator
def test_simulator(): ...

def test_plain(): ...

def test_skips_itself():
    pytest.skip("for a reason of its own")
"""
_MODULE_SKIPS = 'import pytest\npytest.skip("a whole file", allow_module_level=True)\n'


def _run(folder: Path, *arguments: str, no_skips: bool) -> subprocess.CompletedProcess[str]:
    (folder / "conftest.py").write_text('pytest_plugins = ["tests.tools.skips"]\n', encoding="utf-8")
    markers = "\n    ".join(MARKERS)
    (folder / "pytest.ini").write_text(f"[pytest]\nmarkers =\n    {markers}\n", encoding="utf-8")
    nothing = folder / "empty"
    nothing.mkdir()
    # An empty PATH: a machine on which no program is installed.
    environment = {
        **os.environ,
        "PATH": str(nothing),
        "PYTHONPATH": str(ROOT),
        SWITCH: "1" if no_skips else "",
    }
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", *arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("arguments", [(), ("-n", "2")], ids=["one process", "two workers"])
def test_last_line_says_what_did_not_run(arguments: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "test_it.py").write_text(_TESTS, encoding="utf-8")
    done = _run(tmp_path, *arguments, no_skips=False)
    assert done.returncode == 0, done.stdout
    last = done.stdout.splitlines()[-1]
    assert last.startswith("!!!!!! 2 TESTS DID NOT RUN: ")
    assert "no chromium and no chromedriver" in last
    assert "apt-get install ngspice" in last


@pytest.mark.parametrize("arguments", [(), ("-n", "2")], ids=["one process", "two workers"])
def test_switch_makes_every_skip_a_failure(arguments: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "test_it.py").write_text(_TESTS, encoding="utf-8")
    done = _run(tmp_path, *arguments, no_skips=True)
    assert done.returncode == 1
    assert "1 failed, 1 passed, 2 errors" in done.stdout.splitlines()[-1]
    assert f"{SWITCH} is set, so this is a failure" in done.stdout


@pytest.mark.parametrize(("no_skips", "exit_code"), [(False, 5), (True, 2)])
def test_switch_holds_for_whole_files(no_skips: bool, exit_code: int, tmp_path: Path) -> None:
    (tmp_path / "test_it.py").write_text(_MODULE_SKIPS, encoding="utf-8")
    assert _run(tmp_path, no_skips=no_skips).returncode == exit_code


def test_nothing_is_said_when_all_ran(tmp_path: Path) -> None:
    (tmp_path / "test_it.py").write_text("def test_plain(): ...\n", encoding="utf-8")
    done = _run(tmp_path, no_skips=False)
    assert "1 passed" in done.stdout.splitlines()[-1]
