"""A build that is killed at any moment leaves the old site or the new one, whole."""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from generator.site.swap import recover, replaced
from tests.pages.site_tools import build, content_of, make_stock
from tests.tools.paths import ROOT

_CHILD = """
import sys
from pathlib import Path
from tests.pages.site_tools import build
print("begun", flush=True)
build(Path(sys.argv[1]), Path(sys.argv[2]))
"""


def _start(out: Path, stock: Path) -> subprocess.Popen[bytes]:
    child = subprocess.Popen(
        [sys.executable, "-c", _CHILD, str(out), str(stock)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    assert child.stdout is not None
    child.stdout.readline()
    child.stdout.close()
    return child


@pytest.mark.slow
def test_killed_at_random_moments(tmp_path: Path) -> None:
    stock, out = make_stock(tmp_path / "properties", "HB-0001"), tmp_path / "site"
    build(out, stock)
    whole = [content_of(out)]
    make_stock(stock, *(f"HB-{number:04}" for number in range(2, 60)))
    build(tmp_path / "wanted", stock)
    whole.append(content_of(tmp_path / "wanted"))
    begun = time.monotonic()
    assert _start(tmp_path / "timed", stock).wait() == 0
    usual_s = time.monotonic() - begun
    dice = random.Random(20260512)  # noqa: S311  # moments to kill at, no secret
    for _ in range(20):
        child = _start(out, stock)
        time.sleep(dice.uniform(0, usual_s))
        child.send_signal(signal.SIGKILL)
        child.wait()
        if out.exists():
            assert content_of(out) in whole
        recover(out)
        assert content_of(out) in whole
        assert not [p for p in tmp_path.iterdir() if p.name.startswith(".site.") and p.is_dir()]
    build(out, stock)
    assert content_of(out) == whole[1]


@pytest.mark.parametrize("renames", [0, 1, 2, 3])
def test_killed_between_any_two_renames(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, renames: int
) -> None:
    """The same, exactly at each step of the swap."""
    out = tmp_path / "site"
    with replaced(out, audience="engineers") as new:
        (new / "page").write_text("old", encoding="utf-8")
    done = 0
    rename = Path.rename

    class _Killed(BaseException):
        pass

    def killed_after(self: Path, target: Path) -> Path:
        nonlocal done
        if done == renames:
            raise _Killed
        done += 1
        return rename(self, target)

    def never_again(*_: object, **__: object) -> None:
        raise _Killed

    monkeypatch.setattr(Path, "rename", killed_after)
    monkeypatch.setattr(shutil, "rmtree", never_again)
    with pytest.raises(_Killed), replaced(out, audience="engineers") as new:
        (new / "page").write_text("new", encoding="utf-8")
    monkeypatch.undo()
    if out.exists():
        assert (out / "page").read_text(encoding="utf-8") == ("old" if renames == 0 else "new")
    recover(out)
    assert (out / "page").read_text(encoding="utf-8") == ("old" if renames < 2 else "new")
    assert [p.name for p in sorted(tmp_path.iterdir())] == ["site"]
