"""Checks many files, on several processor cores where there are many, and what no file shows by itself.

Whatever happens to one file, the others are still checked. It must not know how findings are printed.
"""

import os
import re
import signal
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path

from generator.command.exits import Crash, about, crash_of, is_our_bug
from generator.command.files import ENDING, Listed, Sort
from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.kept.store import Kept
from generator.record.file_names import shown_path
from generator.record.load import LoadedRecord, load_house_type
from generator.record.own_kinds import load_own_kind
from generator.record.source_text import MAX_BYTES
from generator.record.wording import as_text, quote

MANY = 64
"""More files than this are shared out among processes; fewer are done sooner without."""
_AT_A_TIME = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """Something that no two records may share.

    Attributes:
        rule: Slug of the finding when they do.
        what: What it is, in words.
        value: What is compared.
        written: As it is written.
        span: Where.
    """

    rule: str
    what: str
    value: str
    written: str
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What came of one file.

    Attributes:
        file: Its path as it is shown.
        sort: What it was read as.
        reference: Of a record, as written; None where it could not be read.
        uprn: Of a record; None where it has none or it could not be read.
        findings: Of the file, those in its house type included.
        unread: Whether the file could not even be read.
        cannot: Why it could not be checked to the end, though that is not its fault; empty where it was.
        crash: A mistake of ours; None where there was none.
    """

    file: str
    sort: Sort
    reference: Identity | None = None
    uprn: Identity | None = None
    findings: tuple[Finding, ...] = ()
    unread: bool = False
    cannot: str = ""
    crash: Crash | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCheck:
    """What came of all files; `findings` has each one once, by file and line."""

    checked: tuple[Checked, ...]
    findings: tuple[Finding, ...]
    today: date

    @property
    def crashes(self) -> tuple[Crash, ...]:
        """Mistakes of ours."""
        return tuple(each.crash for each in self.checked if each.crash is not None)

    @property
    def not_checked(self) -> tuple[Checked, ...]:
        """The files that could not be checked to the end."""
        return tuple(each for each in self.checked if each.cannot or each.crash is not None)


class WorkerDied(HearthbookError):
    """A process that checked files ended without a word."""

    @property
    def message(self) -> str:
        return (
            "a part of the check was ended by the machine, often for want of memory; nothing was checked. "
            "Try again with `--jobs 1`"
        )


def processors() -> int:
    """How many processes can work at once here."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not every system has it
        return os.cpu_count() or 1


def check_stock(
    files: tuple[Listed, ...], *, today: date, jobs: int, step: Callable[[], None] = lambda: None
) -> StockCheck:
    """Check every file, then what records must not have in common.

    Args:
        files: Which, in the order in which they are told of.
        today: The day on which records are judged.
        jobs: How many processes may work at once.
        step: Called after each file.

    Raises:
        WorkerDied: the machine ended one of the processes.
    """
    checked = []
    for each in _each(files, today, jobs):
        checked.append(each)
        step()
    return check_together(checked, today=today)


def check_together(checked: Iterable[Checked], *, today: date) -> StockCheck:
    """Join what came of all files, and add what records must not have in common."""
    whole = _with_shared(checked)
    return StockCheck(checked=tuple(whole), findings=_each_once(whole), today=today)


def _each_once(checked: Iterable[Checked]) -> tuple[Finding, ...]:
    """All findings by file and line; a fault of a house type or a kind once, though every record that uses it has it too.

    What to do about it is then told for the house type, not for a record, and the properties that have it are named.
    """
    once: dict[tuple[object, ...], Finding] = {}
    shared: dict[tuple[object, ...], list[str]] = {}
    for each in sorted(checked, key=lambda each: each.sort is Sort.RECORD):
        for finding in each.findings:
            key = (finding.span, finding.rule, finding.message, finding.subject, finding.holds)
            once.setdefault(key, finding)
            if each.reference is not None and finding.span.file != each.file:
                shared.setdefault(key, []).append(each.reference.written)
    return in_order(
        replace(finding, properties=tuple(shared[key])) if key in shared else finding
        for key, finding in once.items()
    )


def _each(files: tuple[Listed, ...], today: date, jobs: int) -> Iterator[Checked]:
    if len(files) <= MANY or jobs < 2:
        for file in files:
            yield check_file(file, today)
        return
    # A fresh process each, not a copy of this one: a copy made while a thread draws the bar may hang.
    pool = ProcessPoolExecutor(
        max_workers=jobs,
        mp_context=get_context("spawn"),
        # Ctrl-C reaches every process of the terminal; only this one is to speak of it.
        initializer=signal.signal,
        initargs=(signal.SIGINT, signal.SIG_IGN),
    )
    try:
        yield from pool.map(check_file, files, [today] * len(files), chunksize=_AT_A_TIME)
    except BrokenProcessPool as error:
        raise WorkerDied from error
    finally:
        pool.shutdown(cancel_futures=True)


def check_file(file: Listed, today: date) -> Checked:
    """Check one file; never raises for anything that is about this file alone."""
    shown = _shown(file.path)
    try:
        with about(shown):
            refused = _refused(file, shown)
            if refused is not None:
                return Checked(
                    file=shown, sort=file.sort, findings=(refused,), unread=refused.rule == "unreadable-file"
                )
            if file.sort is Sort.HOUSE_TYPE:
                return Checked(file=shown, sort=file.sort, findings=_of_house_type(file.path))
            if file.sort is Sort.KIND:
                return Checked(file=shown, sort=file.sort, findings=load_own_kind(file.path).findings)
            return _check_record(file, shown, today)
    except OSError as error:
        refused = _unreadable(shown, error.strerror or str(error))
        return Checked(file=shown, sort=file.sort, findings=(refused,), unread=True)
    except HearthbookError as error:
        if is_our_bug(error):
            return Checked(file=shown, sort=file.sort, crash=crash_of(error))
        return Checked(file=shown, sort=file.sort, cannot=error.message)
    except Exception as error:  # noqa: BLE001  # it is told to the user as ours, and ends the command with its own code
        return Checked(file=shown, sort=file.sort, crash=crash_of(error))


def _of_house_type(path: Path) -> tuple[Finding, ...]:
    """What is wrong in a house type by itself. One that a record uses is gone through with that record."""
    from generator.pipeline import examine_house_type

    if path.stem.encode() in _named(path.parent.parent):
        return load_house_type(path)[1]
    return examine_house_type(path)


@lru_cache(maxsize=1)
def _named(folder: Path) -> frozenset[bytes]:
    """The house types that the records of a folder seem to name; these need not be sound for that."""
    return frozenset(
        found[1] for record in sorted(folder.glob(f"*{ENDING}")) for found in _NAMES.finditer(_text(record))
    )


def _text(record: Path) -> bytes:
    try:
        return record.read_bytes() if record.is_file() and record.stat().st_size <= MAX_BYTES else b""
    except OSError:
        return b""


_NAMES = re.compile(rb"^house_type:[ \t]*[\"']?([^\"'#\s]+)[\"']?[ \t\r]*(?:#.*)?$", re.MULTILINE)


def _shown(path: Path) -> str:
    """The file's path as its findings show it; of what is no file the path as given, for its links may lead nowhere."""
    try:
        if path.is_file():
            return shown_path(path)
    except OSError:
        pass
    absolute = Path(os.path.abspath(path))  # noqa: PTH100  # links are not to be followed
    here = Path.cwd()
    return (absolute.relative_to(here) if absolute.is_relative_to(here) else absolute).as_posix()


def _check_record(file: Listed, shown: str, today: date) -> Checked:
    from generator.pipeline import examine_known

    examination = examine_known(file.path, today=today, kept=_kept())
    loaded = examination.loaded
    return Checked(
        file=shown,
        sort=file.sort,
        reference=_reference(loaded),
        uprn=_uprn(loaded),
        findings=examination.findings,
    )


@lru_cache(maxsize=1)
def _kept() -> Kept:
    """What this process holds of the records that it checked last, for those that are alike."""
    return Kept(None, "")


def _reference(loaded: LoadedRecord) -> Identity | None:
    """The reference. On many machines a file, and a page, has the same name in capitals or not."""
    written, span = _of_property(loaded, "reference")
    if not written:
        return None
    return Identity(
        rule="reference-twice", what="reference", value=written.lower(), written=written, span=span
    )


def _uprn(loaded: LoadedRecord) -> Identity | None:
    """The unique property reference number, which may be written with zeros before it."""
    written, span = _of_property(loaded, "uprn")
    value = written.strip().lstrip("0")
    if not value:
        return None
    what = "unique property reference number"
    return Identity(rule="uprn-twice", what=what, value=value, written=written, span=span)


def _of_property(loaded: LoadedRecord, key: str) -> tuple[str, Span]:
    """A value below `property` as it is written, read even where the rest of the record is wrong; or nothing."""
    data = loaded.document.data if loaded.document is not None else None
    section = data.get("property") if isinstance(data, dict) else None
    written = as_text(section.get(key)) if isinstance(section, dict) else None
    return written or "", loaded.places.value(("property", key))


def _refused(file: Listed, shown: str) -> Finding | None:
    """Why a file is not even opened; None where it may be."""
    path = file.path
    if file.sort is Sort.FOLDER:
        return Finding(
            rule="folder-not-read",
            severity=Severity.WARNING,
            message="this folder holds files named like records, and folders inside the folder of records are not read",
            fix="Put the records beside the others; or name the folder itself: `hearthbook check FOLDER`.",
            span=Span(shown, 1, 1),
        )
    if path.suffix != ENDING:
        return Finding(
            rule="wrong-ending",
            severity=Severity.ERROR,
            message=f"this file is not read, since the name of a {file.sort} ends in `{ENDING}`",
            fix=f"Call it `{path.stem}{ENDING}`.",
            span=Span(shown, 1, 1),
        )
    if not path.is_file():
        return _unreadable(shown, "it is not a file")
    size = path.stat().st_size
    if size > MAX_BYTES:
        return Finding(
            rule="file-too-long",
            severity=Severity.ERROR,
            message=f"the file has {size // 1024} KiB; a record may have {MAX_BYTES // 1024} KiB",
            span=Span(shown, 1, 1),
        )
    return None


def _unreadable(shown: str, reason: str) -> Finding:
    return Finding(
        rule="unreadable-file",
        severity=Severity.ERROR,
        message=f"this file cannot be read: {reason}",
        fix="Put it right, or take it out of the folder.",
        span=Span(shown, 1, 1),
    )


def _with_shared(checked: Iterable[Checked]) -> list[Checked]:
    """Add findings for what two records have in common, to the later of them."""
    first_with: dict[tuple[str, str], Identity] = {}
    result = []
    for each in checked:
        more = []
        for identity in (each.reference, each.uprn):
            if identity is None:
                continue
            first = first_with.setdefault((identity.rule, identity.value), identity)
            if first is not identity:
                more.append(_twice(first, identity))
        result.append(replace(each, findings=(*each.findings, *more)) if more else each)
    return result


def _twice(first: Identity, again: Identity) -> Finding:
    return Finding(
        rule=again.rule,
        severity=Severity.ERROR,
        message=f"another record has the {again.what} {quote(again.written)} already",
        fix="Correct one of them; of one property there is one record.",
        span=again.span,
        related=((first.span, f"the other record, with {quote(first.written)}"),),
    )
