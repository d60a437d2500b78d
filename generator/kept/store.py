"""A folder of kept results, one file each, that may be deleted at any time and used by several builds at once.

Knows keys and bytes only. A file that is not whole counts as none.
"""

import fcntl
import os
import shutil
from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from typing import TypeVar, cast

from generator.catalogue.kind import Kind
from generator.kept.packed import NotWhole, pack, unpack

Made = TypeVar("Made")

MARK = ".hearthbook-cache"
"""A file in the folder that says it is ours, so that nothing else is ever removed."""
_VERSIONS_KEPT = 2
_AT_HAND = 48
"""Results held in memory, so that houses built alike that come one after another read theirs once."""


class Kept:
    """Remembers results by what they were made from."""

    def __init__(
        self, folder: Path | None, version: str, *, own_kinds: Mapping[str, Kind] | None = None
    ) -> None:
        """Open.

        Args:
            folder: Where files go, made when first needed; None keeps results in memory only, and few of them.
            version: Of the program; results of another are not used.
            own_kinds: The firm's own kinds by name, which results may refer to.
        """
        self._folder = folder / f"v-{version}" if folder is not None else None
        self._own_kinds = own_kinds or {}
        self._at_hand: OrderedDict[tuple[str, str], object] = OrderedDict()
        self._made_folders: set[Path] = set()
        self.made = 0
        """How many results had to be made."""

    def remembered(self, sort: str, key: str, make: Callable[[], Made]) -> Made:
        """The result of that sort and key, made at most once by all builds that use the folder.

        Args:
            sort: What it is, a slug such as ``overrides``. Sorts of different types never share keys.
            key: A digest of everything that it depends on besides the program itself.
            make: Makes it. It must depend on nothing else and raise where there is no result.
        """
        found = self.at_hand(sort, key)
        if found is not None:
            return cast(Made, found)
        if self._folder is None:
            return self._hold(sort, key, self._make(make))
        file = self._file(self._folder, sort, key)
        stored = self._read(file)
        if stored is None:
            with self._alone(file):
                stored = self._read(file)
                if stored is None:
                    made = self._make(make)
                    self._write(file, pack((made,)))
                    return self._hold(sort, key, made)
        return self._hold(sort, key, cast(Made, stored[0]))

    def at_hand(self, sort: str, key: str) -> object | None:
        """The result if it is in memory."""
        found = self._at_hand.get((sort, key))
        if found is not None:
            self._at_hand.move_to_end((sort, key))
        return found

    def hold(self, sort: str, key: str, value: Made) -> Made:
        """Keep a result in memory for those that come soon."""
        return self._hold(sort, key, value)

    def read(self, name: str) -> object | None:
        """What was last written under a name; None where there is nothing whole."""
        if self._folder is None:
            return None
        stored = self._read(self._folder / name)
        return None if stored is None else stored[0]

    def stamp(self, name: str) -> tuple[int, int, int] | None:
        """What changes whenever something is written under a name, by whomever; None where there is nothing."""
        if self._folder is None:
            return None
        try:
            stat = (self._folder / name).stat()
        except OSError:
            return None
        return stat.st_size, stat.st_mtime_ns, stat.st_ino

    def write(self, name: str, value: object) -> None:
        """Keep a value under a name, in the place of what was there."""
        if self._folder is not None:
            self._write(self._folder / name, pack((value,)))

    def _make(self, make: Callable[[], Made]) -> Made:
        self.made += 1
        return make()

    def _hold(self, sort: str, key: str, value: Made) -> Made:
        self._at_hand[sort, key] = value
        while len(self._at_hand) > _AT_HAND:
            self._at_hand.popitem(last=False)
        return value

    def _file(self, folder: Path, sort: str, key: str) -> Path:
        digest = sha256(f"{sort}\0{key}".encode()).hexdigest()
        return folder / "results" / digest[:2] / f"{digest[2:40]}.{sort}"

    def _read(self, file: Path) -> tuple[object] | None:
        try:
            stored = unpack(file.read_bytes(), self._own_kinds)
        except (OSError, NotWhole):
            return None
        return stored if isinstance(stored, tuple) and len(stored) == 1 else None

    def _write(self, file: Path, data: bytes) -> None:
        """Put the file there whole or not at all; a folder that cannot be written to only costs time."""
        part = file.with_name(f"{file.name}.{os.getpid()}.part")
        try:
            self._make_folder(file.parent)
            part.write_bytes(data)
            part.replace(file)
        except OSError:
            with suppress(OSError):
                part.unlink(missing_ok=True)

    def _make_folder(self, folder: Path) -> None:
        if folder in self._made_folders and folder.is_dir():
            return
        folder.mkdir(parents=True, exist_ok=True)
        self._made_folders.add(folder)
        if self._folder is not None:
            (self._folder.parent / MARK).touch()

    @contextmanager
    def _alone(self, file: Path) -> Iterator[None]:
        """Let one process at a time make a result; the others wait and then find it."""
        place = file.with_name(f"{file.name}.lock")
        try:
            self._make_folder(file.parent)
            lock = os.open(place, os.O_CREAT | os.O_RDWR, 0o600)
        except OSError:
            yield
            return
        try:
            fcntl.flock(lock, fcntl.LOCK_EX)
            yield
        finally:
            place.unlink(missing_ok=True)
            os.close(lock)


def drop_older(folder: Path, version: str) -> None:
    """Remove what earlier states of the program kept, but for the latest of them."""
    if not (folder / MARK).is_file():
        return
    others = [each for each in folder.glob("v-*") if each.is_dir() and each.name != f"v-{version}"]
    others.sort(key=lambda each: each.stat().st_mtime_ns, reverse=True)
    for each in others[_VERSIONS_KEPT - 1 :]:
        shutil.rmtree(each, ignore_errors=True)


def digest_of(*parts: object) -> str:
    """A digest of plain values: texts, numbers, None, and lists and mappings of these, whose order counts."""
    digest = sha256()
    for part in parts:
        _feed(digest.update, part)
    return digest.hexdigest()


def _feed(update: Callable[[bytes], None], value: object) -> None:
    if isinstance(value, Mapping):
        update(b"{%d" % len(value))
        for key, inner in value.items():
            _feed(update, key)
            _feed(update, inner)
    elif isinstance(value, list | tuple) and all(type(inner) is str for inner in value):
        text = repr([*value]).encode()  # many texts in one step
        update(b"[%d:" % len(text))
        update(text)
    elif isinstance(value, list | tuple):
        update(b"[%d" % len(value))
        for inner in value:
            _feed(update, inner)
    else:
        # A number as it was written too: 010 and 10 are two names of a terminal.
        text = f"{type(value).__name__}:{value!r}:{getattr(value, 'text', '')}".encode()
        update(b"(%d:" % len(text))
        update(text)
