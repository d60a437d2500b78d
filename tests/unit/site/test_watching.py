"""Changed files are noticed once each, whether the system tells of them or not."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event

import pytest
from watchdog.events import FileModifiedEvent, FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver

from generator.site import watching
from generator.site.watching import Watcher

_EVERY_S = 0.1
_QUIET_S = 8 * _EVERY_S
"""In this time files have been looked at several times, on a machine that has other work too."""
_MOST_S = 20.0


class _Heard(FileSystemEventHandler):
    def __init__(self) -> None:
        self.files: list[str] = []
        self.any = Event()

    def on_any_event(self, event: FileSystemEvent) -> None:
        self.files.append(Path(str(event.dest_path or event.src_path)).name)
        self.any.set()


@contextmanager
def _watched(folder: Path) -> Iterator[_Heard]:
    heard, watcher = _Heard(), Watcher(every_s=_EVERY_S)
    watcher.schedule(heard, str(folder), recursive=True)
    watcher.start()
    time.sleep(2 * _EVERY_S)
    try:
        yield heard
    finally:
        watcher.stop()
        watcher.join()


def _no_room(self: BaseObserver) -> None:
    raise OSError(28, "inotify watch limit reached")


@pytest.fixture(params=["told", "looked at"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "looked at":
        monkeypatch.setattr(type(Observer()), "start", _no_room)
    return str(request.param)


@pytest.mark.usefixtures("way")
def test_a_changed_file_is_noticed(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("1", encoding="utf-8")
    with _watched(tmp_path) as heard:
        file.write_text("22", encoding="utf-8")
        assert heard.any.wait(_MOST_S)
        assert set(heard.files) == {"a.yaml"}


@pytest.mark.usefixtures("way")
def test_new_moved_and_removed_files_are_noticed(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    file, moved = tmp_path / "in/a.yaml", tmp_path / "in/b.yaml"
    with _watched(tmp_path) as heard:
        for change in (
            lambda: file.write_text("1", encoding="utf-8"),
            lambda: file.rename(moved),
            moved.unlink,
        ):
            time.sleep(_QUIET_S)
            heard.any.clear()
            change()
            assert heard.any.wait(_MOST_S)


@pytest.mark.usefixtures("way")
def test_reading_is_no_change(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("1", encoding="utf-8")
    with _watched(tmp_path) as heard:
        file.read_bytes()
        time.sleep(_QUIET_S)
        assert heard.files == []


def test_what_was_told_is_not_told_again_when_files_are_looked_at(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("1", encoding="utf-8")
    with _watched(tmp_path) as heard:
        file.write_text("22", encoding="utf-8")
        assert heard.any.wait(_MOST_S)
        time.sleep(_QUIET_S)
        at_once = len(heard.files)
        time.sleep(_QUIET_S)
        assert len(heard.files) == at_once


def test_a_change_of_which_nothing_was_told_is_news(tmp_path: Path) -> None:
    """As of a file on a network that somebody else changes after it was changed here."""
    file, told = tmp_path / "a.yaml", watching._Told()
    event = FileModifiedEvent(str(file))
    file.write_text("1", encoding="utf-8")
    assert told.is_news(event)
    told.note(event)
    assert not told.is_news(event)
    file.write_text("22", encoding="utf-8")
    assert told.is_news(event)
    told.note(event)
    file.unlink()
    assert told.is_news(event)


def test_what_is_watched_no_longer_is_not_told(tmp_path: Path) -> None:
    heard, watcher = _Heard(), Watcher(every_s=_EVERY_S)
    watches = watcher.schedule(heard, str(tmp_path))
    watcher.start()
    watcher.unschedule(watches)
    (tmp_path / "a.yaml").write_text("1", encoding="utf-8")
    time.sleep(_QUIET_S)
    watcher.stop()
    watcher.join()
    assert heard.files == []
