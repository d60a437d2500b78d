"""A table about the stock, as plain data: its name, its columns and its lines, whatever it is written to later.

Must not know HTML, nor any file format.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

Cell = str | int | date | None
"""What stands in one cell; None and empty text for nothing."""

Line = tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its key for programs, which never changes, its heading for people, and whether its cells are days."""

    key: str
    words: str
    days: bool = False


@dataclass(frozen=True, slots=True)
class StockTable:
    """A table about the stock.

    Attributes:
        name: A slug, also the name of its files and of its report on the command line.
        title: Plain text, without a full stop.
        about: One sentence: what is in it, and by what it is decided.
        columns: Its columns.
        lines: Its lines, made as they are asked for; they can be gone through once.
    """

    name: str
    title: str
    about: str
    columns: tuple[Column, ...]
    lines: Iterator[Line]
