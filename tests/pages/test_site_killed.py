"""A build that is killed at any moment leaves the old site or the new one, whole."""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from generator.site.swap import MARK, patched, recover, replaced, state_of
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


class _KilledAt(BaseException):
    """Stands for the end of the process: whatever the program tries after it fails too."""


def _killed_at(step: int, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Let a number of steps on the file system through and none after them; returns the steps as they are taken."""
    taken: list[str] = []

    def wrapped(name: str, real: Callable[..., object]) -> Callable[..., object]:
        def one(*given: object, **named: object) -> object:
            if len(taken) >= step:
                raise _KilledAt
            taken.append(name)
            return real(*given, **named)

        return one

    for name in ("rename", "replace", "unlink", "mkdir", "write_text", "write_bytes"):
        monkeypatch.setattr(Path, name, wrapped(name, getattr(Path, name)))
    monkeypatch.setattr(shutil, "rmtree", wrapped("rmtree", shutil.rmtree))
    return taken


_OLD = {
    "kept/page": "kept",
    "p/A/index": "old",
    "p/B/index": "old",
    "turned": "a file",
    "pictures/one": "old",
}
_NEW = {"kept/page": "kept", "p/A/index": "new", "p/C/index": "new", "turned/page": "a folder"}


def _filled(folder: Path, pages: dict[str, str]) -> None:
    for path, text in pages.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")


def _pages(site: Path) -> dict[str, str]:
    found = {
        file.relative_to(site).as_posix(): file.read_text(encoding="utf-8")
        for file in site.rglob("*")
        if file.is_file()
    }
    found.pop(MARK)
    return found


def _patch(out: Path) -> None:
    with patched(out, audience="engineers") as patch:
        _filled(patch.folder, {path: text for path, text in _NEW.items() if _OLD.get(path) != text})
        patch.gone += ["p/B", "pictures", "turned"]
        patch.state = "new"


def test_a_patch_killed_at_any_step_is_finished_or_forgotten(tmp_path: Path) -> None:
    """Killed at each step that it takes on the file system, and once more while that is put right."""
    ended: list[str] = []
    for step in range(200):
        out = tmp_path / str(step) / "site"
        with replaced(out, audience="engineers") as new:
            _filled(new, _OLD)
        with pytest.MonkeyPatch.context() as monkeypatch:
            taken = _killed_at(step, monkeypatch)
            try:
                _patch(out)
            except _KilledAt:
                pass
            else:
                assert step > len(_NEW)
                assert _pages(out) == _NEW
                break
            finally:
                reached = len(taken)
        assert reached == step
        with pytest.MonkeyPatch.context() as monkeypatch:
            _killed_at(2, monkeypatch)
            with suppress(_KilledAt):
                recover(out)
        recover(out)
        ended.append(state_of(out))
        assert _pages(out) == (_NEW if ended[-1] == "new" else _OLD), f"killed after {step} steps"
        assert [each.name for each in out.parent.iterdir()] == ["site"]
    # From one moment on it is finished, before that forgotten.
    assert sorted(ended, key=["", "new"].index) == ended
    assert set(ended) == {"", "new"}
