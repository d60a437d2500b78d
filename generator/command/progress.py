"""Says on stderr how far a long job has come: a bar on a terminal, a plain line now and then elsewhere.

It must not know what the job is. A short job says nothing.
"""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from generator.command.terminal import is_terminal

EVERY_S = 5.0
"""Between two plain lines, and before the first."""


@contextmanager
def progress(doing: str, total: int, of: str) -> Iterator[Callable[[], None]]:
    """Give a function to be called after each step.

    Args:
        doing: What is done, ``checking``.
        total: How many steps there are.
        of: What the steps are, ``files``.
    """
    if total > 1 and is_terminal(sys.stderr):
        with _bar(doing, total, of) as step:
            yield step
    else:
        yield _lines(doing, total, of)


@contextmanager
def _bar(doing: str, total: int, of: str) -> Iterator[Callable[[], None]]:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TextColumn(of),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(doing, total=total)
        yield lambda: bar.advance(task)


def _lines(doing: str, total: int, of: str) -> Callable[[], None]:
    done = 0
    said_at = time.monotonic()

    def step() -> None:
        nonlocal done, said_at
        done += 1
        now = time.monotonic()
        if now - said_at >= EVERY_S and done < total:
            said_at = now
            click.echo(f"{doing}: {done} of {total} {of}", err=True)

    return step
