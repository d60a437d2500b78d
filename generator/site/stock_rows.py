"""The rows of a stock as its records are now: those that the last build left and that still hold, and the others made anew.

Writes nothing but what may be kept. It must not know what becomes of the rows.
"""

import signal
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from datetime import date
from multiprocessing import get_context
from pathlib import Path

from generator.kept.store import Kept
from generator.pipeline import examine_known
from generator.record.own_kinds import kinds_of_own
from generator.site.bulk import WriterDied
from generator.site.ledger import record_gates
from generator.site.stock_build import StockBuild
from generator.views.stock_model import StockRow
from generator.views.stock_row import stock_row
from generator.views.stock_shared import with_shared
from generator.views.worked_out import known_worked_out

MANY = 24
"""More records than this are shared out among processes; fewer are done sooner without."""
_AT_A_TIME = 8


def rows_now(
    stock: StockBuild, *, jobs: int = 1, step: Callable[[], None] = lambda: None
) -> tuple[StockRow, ...]:
    """The row of every property, in order of reference.

    Args:
        stock: The properties, and where results are kept.
        jobs: How many processes may work at once.
        step: Called after each property.

    Raises:
        WriterDied: a process ended without a word.
    """
    gates = record_gates(stock.properties)
    rows = {stem: entry.row for stem, entry in stock.holding().items()}
    for _ in rows:
        step()
    missing = [stem for stem in gates if stem not in rows]
    for stem, row in zip(missing, _made(stock, missing, jobs), strict=True):
        rows[stem] = row
        step()
    return with_shared(rows[stem] for stem in gates)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Order:
    """What is the same for all records of one order."""

    properties: Path
    today: date
    cache: Path | None
    version: str


def _made(stock: StockBuild, stems: list[str], jobs: int) -> Iterator[StockRow]:
    order = _Order(properties=stock.properties, today=stock.today, cache=stock.cache, version=stock.version)
    if jobs < 2 or len(stems) <= MANY:
        kept = _kept(order)
        yield from (_row(order, kept, stem) for stem in stems)
        return
    pool = ProcessPoolExecutor(
        max_workers=jobs, mp_context=get_context("spawn"), initializer=_begin, initargs=(order,)
    )
    try:
        yield from pool.map(_row_here, stems, chunksize=_AT_A_TIME)
    except BrokenProcessPool as error:
        raise WriterDied from error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


_HERE: dict[str, tuple[_Order, Kept]] = {}
"""In a process of the pool: what it works on."""


def _begin(order: _Order) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _HERE["order"] = order, _kept(order)


def _row_here(stem: str) -> StockRow:
    order, kept = _HERE["order"]
    return _row(order, kept, stem)


def _kept(order: _Order) -> Kept:
    own = {kind.name: kind for kind in kinds_of_own(order.properties)}
    return Kept(order.cache, order.version, own_kinds=own)


def _row(order: _Order, kept: Kept, stem: str) -> StockRow:
    file = order.properties / f"{stem}.yaml"
    try:
        known = examine_known(file, today=order.today, kept=kept)
        return stock_row(known.unsolved, known_worked_out(known, kept), stem=stem)
    except Exception as error:
        error.add_note(f"record: {file}")
        raise
