"""Exit codes, and what is said when the job cannot be done or when we have made a mistake.

It must not know any single command. A fault in a record is a finding and never comes here.
"""

import os
import platform
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import NoReturn

import click

from generator import __version__
from generator.findings.errors import HearthbookError, why_not_written

CLEAN = 0
FOUND = 1
CANNOT_WORK = 2
OUR_BUG = 70
"""EX_SOFTWARE of sysexits.h: an internal software error."""
STOPPED = 130
"""128 and the number of the signal that Ctrl-C sends, as shells have it."""

DEBUG = "HEARTHBOOK_DEBUG"
CACHE = ".hearthbook-cache"
CACHE_PLACE = "hearthbook.cache"
"""Where a command that has read the firm's settings leaves the place of the cache, in what its contexts share."""

_RECORD_NOTE = "record: "


@dataclass(frozen=True, slots=True, kw_only=True)
class Crash:
    """A mistake of ours that came to light, in words that survive the way from one process to another.

    Attributes:
        error: The exception in one line.
        trace: The whole traceback.
        record: Which record was worked on; empty when it was none.
        rule: Which rule was at work; empty when it was none.
    """

    error: str
    trace: str
    record: str = ""
    rule: str = ""


class OurBug(Exception):
    """Mistakes of ours, found while other work went on."""

    def __init__(self, crashes: tuple[Crash, ...]) -> None:
        super().__init__(crashes)
        self.crashes = crashes


@contextmanager
def about(record: str) -> Iterator[None]:
    """Make any exception in the block remember which record it was about."""
    try:
        yield
    except Exception as error:
        error.add_note(f"{_RECORD_NOTE}{record}")
        raise


def crash_of(error: BaseException) -> Crash:
    """What is to be reported of an unforeseen exception."""
    notes = getattr(error, "__notes__", ())
    records = [note.removeprefix(_RECORD_NOTE) for note in notes if note.startswith(_RECORD_NOTE)]
    return Crash(
        error=traceback.format_exception_only(error)[0].strip(),
        trace="".join(traceback.format_exception(error)),
        record=records[0] if records else "",
        rule=str(getattr(error, "rule", "")),
    )


@contextmanager
def guarded() -> Iterator[None]:
    """Turn whatever a command raises into words on stderr and an exit code; nothing ends in a traceback.

    With `HEARTHBOOK_DEBUG=1` in the environment a mistake of ours is let out as it is.
    """
    try:
        yield
    except (click.UsageError, click.Abort, click.exceptions.Exit):
        raise
    except click.ClickException as error:
        # Libraries raise it too; of itself it would end with the code for findings.
        complain(error.format_message())
        raise click.exceptions.Exit(CANNOT_WORK) from error
    except HearthbookError as error:
        if is_our_bug(error):
            _end_with_bug(error)
        complain(error.message)
        raise click.exceptions.Exit(CANNOT_WORK) from error
    except KeyboardInterrupt as error:
        complain("stopped")
        raise click.exceptions.Exit(STOPPED) from error
    except BrokenPipeError as error:
        # Who read our output has gone. Python would complain when it empties stdout at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        raise click.exceptions.Exit(CANNOT_WORK) from error
    except OSError as error:
        place = f" {error.filename}:" if error.filename else ""
        complain(f"the machine refuses:{place} {why_not_written(error)}")
        raise click.exceptions.Exit(CANNOT_WORK) from error
    except OurBug as error:
        _report(error.crashes)
        raise click.exceptions.Exit(OUR_BUG) from error
    except Exception as error:  # noqa: BLE001  # it is told to the user as ours, and ends with a code of its own
        _end_with_bug(error)


def _end_with_bug(error: Exception) -> NoReturn:
    if os.environ.get(DEBUG, "") not in ("", "0"):
        raise error
    _report((crash_of(error),))
    raise click.exceptions.Exit(OUR_BUG) from error


def is_our_bug(error: HearthbookError) -> bool:
    """Whether the tool cannot work because a rule of ours failed."""
    from generator.rules.rules import RuleCrashed

    return isinstance(error, RuleCrashed)


def complain(message: str) -> None:
    """Say on stderr why something cannot be done."""
    click.echo(f"hearthbook: {message}", err=True)


def _report(crashes: tuple[Crash, ...]) -> None:
    for crash in crashes:
        where = f", in the rule `{crash.rule}`" if crash.rule else ""
        on = f" while working on {crash.record}" if crash.record else ""
        complain(f"this is our mistake, not yours{on}{where}: {crash.error}")
    text = _report_text(crashes)
    file = _written(text)
    if file is None:
        click.echo(text, err=True)
        say = "Please report it with all of the above"
    else:
        say = f"Please report it with the file {file}"
    if any(crash.record for crash in crashes):
        click.echo(
            f"{say} and the record; look through both first, for what should not leave the firm.", err=True
        )
        click.echo("Nothing that was said about the record can be relied on.", err=True)
    else:
        click.echo(f"{say}; look through it first, for what should not leave the firm.", err=True)


def _report_text(crashes: tuple[Crash, ...]) -> str:
    head = [
        f"hearthbook {__version__}",
        f"Python {platform.python_version()} on {platform.system()} {platform.machine()}",
        f"command: {' '.join(sys.argv[1:])}",
    ]
    parts = [
        f"record: {crash.record or 'none'}\nrule: {crash.rule or 'none'}\n\n{crash.trace}"
        for crash in crashes
    ]
    return "\n".join([*head, "", *parts])


def _cache() -> Path:
    """The firm's cache folder; where no command has read the settings, as those here or beside the records say."""
    from generator.site.config import FILE_NAME, read_config

    context = click.get_current_context(silent=True)
    if context is not None and CACHE_PLACE in context.meta:
        return Path(context.meta[CACHE_PLACE])
    for file in (Path(FILE_NAME), Path("properties", FILE_NAME)):
        try:
            if file.exists():
                return read_config(file).cache_dir
        except HearthbookError:
            break
    return Path(CACHE)


def _written(text: str) -> Path | None:
    """Keep the report in the cache folder; None where that cannot be written."""
    now = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
    file = _cache() / f"our-mistake-{now}-{os.getpid()}.txt"
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return None
    return file
