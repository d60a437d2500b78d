"""A folder replaced whole: what is built beside it takes its place in one step, or not at all.

It must not know what is in the folder beyond the mark that says the folder is ours.

The new site is built in a hidden folder beside the old one. Two renames swap them: old aside, new in. A process killed
before the first leaves the old site in its place, after the second the new one. Between the two the place is empty
and the old site waits beside it; whoever comes next puts it back (`recover`). Nothing here guards against a power cut.

A site in which little changes is not built again whole: `patched` collects the files that change beside it, and puts them
into place one by one once they are all there. A process killed on the way leaves them there, and whoever comes next
finishes the work.
"""

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.findings.errors import CannotWriteFile, why_not_written
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
        raise CannotWriteFile(str(out), why_not_written(error)) from error
    with _locked(out):
        _recover(out)
        check_ours(out, audience=audience)
        new = _beside(out, "new")
        new.mkdir()
        try:
            yield new
            write_mark(new, audience=audience, state=state_of(new))
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
        if mark.read_text(encoding="utf-8").split("\n", 1)[0].strip() != audience:
            raise NotOurFolder(out, f"is not the site for {audience}")
    elif any(out.iterdir()):
        raise NotOurFolder(out, "holds files that were not made here")


def write_mark(site: Path, *, audience: str, state: str = "") -> None:
    """Mark a site as ours.

    Args:
        site: Its folder.
        audience: For whom it is.
        state: A digest by which it can be told what is in it; empty for none.
    """
    (site / MARK).write_text(f"{audience}\n{f'{state}{chr(10)}' if state else ''}", encoding="utf-8")


def state_of(site: Path) -> str:
    """The digest that a site was marked with; empty where there is none."""
    try:
        return (site / MARK).read_text(encoding="utf-8").partition("\n")[2].strip()
    except OSError:
        return ""


class Patch:
    """What is to change in a site: new files in a folder, and what is to go."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.gone: list[str] = []
        """Files and folders below the site that are to go."""
        self.state = ""
        """What the site is marked with then."""


@contextmanager
def patched(out: Path, *, audience: str) -> Iterator[Patch]:
    """Collect changes of a site that is there, and put them into it when the block ends well.

    Args:
        out: The site's folder.
        audience: For whom the site is.

    Raises:
        AnotherBuildRuns: another process builds the same site.
        NotOurFolder: `out` is not a folder that may be changed.
        CannotWriteFile: the machine refuses.
    """
    out = out.resolve()
    with _locked(out):
        _recover(out)
        check_ours(out, audience=audience)
        new = _beside(out, "new")
        new.mkdir()
        patch = Patch(new)
        try:
            yield patch
            write_mark(new, audience=audience, state=patch.state)
            (new / _GONE).write_text("".join(f"{path}\n" for path in patch.gone), encoding="utf-8")
        except BaseException:
            shutil.rmtree(new, ignore_errors=True)
            raise
        try:
            new.rename(_beside(out, "patch"))
            _put_in(out)
        except OSError as error:
            raise CannotWriteFile(str(out), why_not_written(error)) from error


_GONE = ".hearthbook-gone"


def _put_in(out: Path) -> None:
    """Put the files of a finished patch into the site; may be begun again at any point."""
    patch = _beside(out, "patch")
    if (patch / MARK).is_file():
        if (patch / _GONE).is_file():
            for path in (patch / _GONE).read_text(encoding="utf-8").splitlines():
                _remove(out / path)
                _remove_empty((out / path).parent, out)
            # Only once: what is put in below may lie where something had to go.
            (patch / _GONE).unlink()
        for folder, _, files in os.walk(patch):
            here = out / Path(folder).relative_to(patch)
            here.mkdir(exist_ok=True)
            for name in files:
                if name != MARK:
                    (Path(folder) / name).replace(here / name)
        # The mark last: until it is there, nobody takes the site for what it will be.
        (patch / MARK).replace(out / MARK)
    shutil.rmtree(patch)


def _remove(path: Path) -> None:
    if path.is_dir():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)


def _remove_empty(folder: Path, out: Path) -> None:
    """Remove a folder of the site, and those that it is in, as far as nothing is in them any more."""
    while folder != out and folder.is_dir() and not any(folder.iterdir()):
        folder.rmdir()
        folder = folder.parent


def _beside(out: Path, what: str) -> Path:
    return out.with_name(f".{out.name}.{what}")


@contextmanager
def _locked(out: Path) -> Iterator[None]:
    """Hold the lock of one site: a file beside it, which goes when the lock does."""
    place = _beside(out, "lock")
    try:
        lock = os.open(place, os.O_CREAT | os.O_RDWR, 0o644)
    except OSError as error:
        raise CannotWriteFile(str(out), why_not_written(error)) from error
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
    if _beside(out, "patch").is_dir() and out.is_dir():
        _put_in(out)
    for leftover in (old, new, _beside(out, "gone"), _beside(out, "patch")):
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
        raise CannotWriteFile(str(out), why_not_written(error)) from error
    if old.exists():
        # Under another name first: what waits as `old` is always whole, however far its removal got.
        old.rename(gone)
        shutil.rmtree(gone, ignore_errors=True)
