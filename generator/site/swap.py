"""A folder replaced whole: what is built beside it takes its place in one step, or not at all.

It must not know what is in the folder beyond the mark that says the folder is ours.

The new site is built in a hidden folder beside the old one. Two renames swap them: old aside, new in. A process killed
before the first leaves the old site in its place, after the second the new one. Between the two the place is empty
and the old site waits beside it; whoever comes next puts it back (`recover`). Nothing here guards against a power cut.
"""

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.findings.errors import CannotWriteFile
from generator.site.errors import AnotherBuildRuns, NotOurFolder

MARK = ".hearthbook-site"
"""A file in each site that we made; it says for whom. Without it, a folder that holds anything is left alone."""


def recover(out: Path) -> None:
    """Put right what a killed build left; harmless at any other time.

    Args:
        out: The site's folder.

    Raises:
        AnotherBuildRuns: a build is at work there and may be between two steps.
    """
    out = out.resolve()
    if out.parent.is_dir():
        with _locked(out):
            _recover(out)


@contextmanager
def replaced(out: Path, *, audience: str) -> Iterator[Path]:
    """Give a folder to build in, and put it in the place of `out` when the block ends well.

    Args:
        out: The site's folder. Its parents are made as needed.
        audience: For whom the site is. A site for others is never replaced, so that two outputs cannot be mixed up.

    Yields:
        An empty folder on the same file system.

    Raises:
        AnotherBuildRuns: another process builds the same site.
        NotOurFolder: `out` is not a folder that may be replaced.
        CannotWriteFile: the machine refuses.
    """
    out = out.resolve()
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWriteFile(str(out), error.strerror or str(error)) from error
    with _locked(out):
        _recover(out)
        check_ours(out, audience=audience)
        new = _beside(out, "new")
        new.mkdir()
        try:
            yield new
            write_mark(new, audience=audience)
        except BaseException:
            shutil.rmtree(new, ignore_errors=True)
            raise
        _swap(new, out)


def check_ours(out: Path, *, audience: str) -> None:
    """Refuse a folder that we did not make, or made for someone else.

    Raises:
        NotOurFolder: it is none of: absent, empty, marked as a site for `audience`.
    """
    if not out.exists():
        return
    if not out.is_dir():
        raise NotOurFolder(out, "is a file")
    mark = out / MARK
    if mark.is_file():
        if mark.read_text(encoding="utf-8").strip() != audience:
            raise NotOurFolder(out, f"is not the site for {audience}")
    elif any(out.iterdir()):
        raise NotOurFolder(out, "holds files that were not made here")


def write_mark(site: Path, *, audience: str) -> None:
    (site / MARK).write_text(f"{audience}\n", encoding="utf-8")


def _beside(out: Path, what: str) -> Path:
    return out.with_name(f".{out.name}.{what}")


@contextmanager
def _locked(out: Path) -> Iterator[None]:
    """Hold the lock of one site: a file beside it, which goes when the lock does."""
    place = _beside(out, "lock")
    try:
        lock = os.open(place, os.O_CREAT | os.O_RDWR, 0o644)
    except OSError as error:
        raise CannotWriteFile(str(out), error.strerror or str(error)) from error
    try:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise AnotherBuildRuns(out) from None
        if not _is_still(place, lock):
            # Its last holder took it away between our opening and our locking it, so others may hold a new one.
            raise AnotherBuildRuns(out)
        try:
            yield
        finally:
            place.unlink(missing_ok=True)
    finally:
        os.close(lock)


def _is_still(place: Path, descriptor: int) -> bool:
    try:
        return place.stat().st_ino == os.fstat(descriptor).st_ino
    except FileNotFoundError:
        return False


def _recover(out: Path) -> None:
    old, new = _beside(out, "old"), _beside(out, "new")
    if old.is_dir() and not out.exists():
        old.rename(out)
    for leftover in (old, new, _beside(out, "gone")):
        if leftover.exists():
            shutil.rmtree(leftover)


def _swap(new: Path, out: Path) -> None:
    old, gone = _beside(out, "old"), _beside(out, "gone")
    try:
        if out.exists():
            out.rename(old)
        new.rename(out)
    except OSError as error:
        _recover(out)
        raise CannotWriteFile(str(out), error.strerror or str(error)) from error
    if old.exists():
        # Under another name first: what waits as `old` is always whole, however far its removal got.
        old.rename(gone)
        shutil.rmtree(gone, ignore_errors=True)
