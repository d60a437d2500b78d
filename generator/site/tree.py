"""The files of a site being written: each whole or not at all, untouched where nothing changed, gone where not wanted.

It must not know what the files hold.
"""

import os
from hashlib import blake2b
from pathlib import Path

from generator.findings.errors import CannotWriteFile, why_not_written
from generator.site.errors import BadPage

_PART = ".hearthbook-part"


class Tree:
    """A folder into which one build writes."""

    def __init__(self, root: Path, *, older: Path | None = None) -> None:
        """Open a folder for writing.

        Args:
            root: The folder; made when the first file is written.
            older: A finished site whose unchanged files are linked into this one instead of being written again.
                Safe because a file here is never changed in place, only replaced.
        """
        self.root = root
        self.written: set[str] = set()
        self.changed = 0
        self.older = older
        self._made: set[Path] = set()

    def put(self, path: str, data: bytes) -> None:
        """Make the file `path` hold `data`.

        Args:
            path: Below the root, with forward slashes.
            data: All of it.

        Raises:
            BadPage: this build has already written that file.
            CannotWriteFile: the machine refuses.
        """
        if path in self.written:
            raise BadPage(path, "two pages or files want this place")
        self.written.add(path)
        target = self.root / path
        try:
            if _holds(target, data):
                return
            self._make_folder(target.parent)
            if self._link_older(path, data, target):
                return
            self.changed += 1
            part = target.with_name(f"{target.name}.{os.getpid()}{_PART}")
            part.write_bytes(data)
            part.replace(target)
        except OSError as error:
            raise CannotWriteFile(str(target), why_not_written(error)) from error

    def prune(self, folder: str) -> int:
        """Remove what this build has not written.

        Args:
            folder: A folder below the root; one that does not exist is fine.

        Returns:
            How many files went.
        """
        gone = 0
        for place, _, files in os.walk(self.root / folder, topdown=False):
            here = Path(place)
            inside = here.relative_to(self.root).as_posix()
            unwanted = [name for name in files if f"{inside}/{name}" not in self.written]
            for name in unwanted:
                (here / name).unlink()
            gone += len(unwanted)
            if len(unwanted) == len(files) and not any(here.iterdir()):
                here.rmdir()
                self._made.discard(here)
        return gone

    def _make_folder(self, folder: Path) -> None:
        if folder not in self._made:
            folder.mkdir(parents=True, exist_ok=True)
            self._made.add(folder)

    def _link_older(self, path: str, data: bytes, target: Path) -> bool:
        if self.older is None or not _holds(self.older / path, data):
            return False
        try:
            target.hardlink_to(self.older / path)
        except OSError:
            # File systems without links, or at their limit of them: write the file instead.
            return False
        return True


def digest_of_file(data: bytes) -> str:
    """A digest by which it is told whether a file changed."""
    return blake2b(data, digest_size=16).hexdigest()


def _holds(file: Path, data: bytes) -> bool:
    try:
        return file.stat().st_size == len(data) and file.read_bytes() == data
    except (FileNotFoundError, NotADirectoryError):
        return False
