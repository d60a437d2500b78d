"""Notices changed files: at once where the system tells of them, and by looking at them now and then where it does not.

A folder on a network, or one mounted into a container, often tells nothing. It must not know what the files are for.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from watchdog.events import (
    FileCreatedEvent,
    FileDeletedEvent,
    FileModifiedEvent,
    FileMovedEvent,
    FileSystemEvent,
    FileSystemEventHandler,
)
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver, ObservedWatch
from watchdog.observers.polling import PollingObserver

from generator.site.ledger import Gate, gate_of

LOOKED_AT_S = 2.0
"""How often files are looked at. It takes a part of a core while nothing happens, the more the more files there are."""

_CHANGES: list[type[FileSystemEvent]] = [
    FileCreatedEvent,
    FileDeletedEvent,
    FileModifiedEvent,
    FileMovedEvent,
]
"""Of being opened and read some systems tell too; that is no change."""

Watches = tuple[ObservedWatch | None, ObservedWatch]
"""One file or folder, watched in both ways; None where the system cannot."""


class Watcher:
    """Stands for one observer of the watching library: it has the methods of these that a server calls."""

    def __init__(self, *, every_s: float = LOOKED_AT_S) -> None:
        """Watch nothing yet.

        Args:
            every_s: How often files are looked at, in seconds.
        """
        self._told = _Told()
        self._telling: BaseObserver | None = Observer()
        self._looking: BaseObserver = PollingObserver(timeout=every_s)

    def schedule(self, handler: FileSystemEventHandler, path: str, *, recursive: bool = False) -> Watches:
        """Watch a file or a folder.

        Args:
            handler: Is told of each change once, by threads of ours.
            path: The file or folder.
            recursive: Whether what lies in folders of the folder is watched too.
        """
        telling = None
        if self._telling is not None:
            note = _Handler(handler, self._told.note)
            with suppress(OSError):
                telling = self._telling.schedule(note, path, recursive=recursive, event_filter=_CHANGES)
        fresh = _Handler(handler, self._told.is_news)
        looking = self._looking.schedule(fresh, path, recursive=recursive, event_filter=_CHANGES)
        return telling, looking

    def unschedule(self, watches: Watches) -> None:
        """Watch something no longer.

        Args:
            watches: What `schedule` returned for it.
        """
        telling, looking = watches
        if self._telling is not None and telling is not None:
            self._telling.unschedule(telling)
        self._looking.unschedule(looking)

    def start(self) -> None:
        """Begin; where the system has no room for more watches, files are only looked at."""
        if self._telling is not None:
            try:
                self._telling.start()
            except OSError:
                self._telling.unschedule_all()
                self._telling = None
        self._looking.start()

    def stop(self) -> None:
        """End soon."""
        for observer in self._running():
            observer.stop()

    def join(self) -> None:
        """Wait for the end."""
        for observer in self._running():
            observer.join()

    def _running(self) -> list[BaseObserver]:
        both = (self._telling, self._looking)
        return [observer for observer in both if observer is not None and observer.is_alive()]


class _Handler(FileSystemEventHandler):
    """Hands on what is news of the changes of files."""

    def __init__(self, handler: FileSystemEventHandler, is_news: Callable[[FileSystemEvent], bool]) -> None:
        self._handler = handler
        self._is_news = is_news

    def on_any_event(self, event: FileSystemEvent) -> None:
        if self._is_news(event):
            self._handler.dispatch(event)


class _Told:
    """As what files were known when the system last told of them."""

    def __init__(self) -> None:
        self._known: dict[str, Gate] = {}

    def note(self, event: FileSystemEvent) -> bool:
        """Note a change of which the system told; it is always news."""
        self._known |= {path: gate_of(Path(path)) for path in _paths(event)}
        return True

    def is_news(self, event: FileSystemEvent) -> bool:
        """Whether a change that was seen is another than the system told of."""
        return any(self._known.get(path) != gate_of(Path(path)) for path in _paths(event))


def _paths(event: FileSystemEvent) -> Iterator[str]:
    yield from filter(None, (os.fsdecode(event.src_path), os.fsdecode(event.dest_path)))
