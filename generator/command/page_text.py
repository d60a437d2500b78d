"""Lays out paragraphs and tables of plain text for a terminal.

It must not know what they say.
"""

import textwrap
from collections.abc import Iterable, Sequence

from rich.cells import cell_len

from generator.command.terminal import harmless, padded

GAP = "  "


def paragraph(text: str, width: int, *, indent: str = "", first: str | None = None) -> list[str]:
    """Text in lines of at most a number of columns; line ends in it begin a new line.

    Args:
        text: What to say.
        width: Columns.
        indent: Before each line.
        first: Before the first line instead.
    """
    lines: list[str] = []
    for part in text.split("\n"):
        opening = indent if lines or first is None else first
        wrapped = textwrap.wrap(
            harmless(part), width, initial_indent=opening, subsequent_indent=indent, break_on_hyphens=False
        )
        lines += wrapped or [opening.rstrip()]
    return lines


def named(name: str, text: str, width: int) -> list[str]:
    """A word and what there is to say of it, set off from it; nothing where there is nothing to say."""
    return paragraph(text, width, indent=" " * 12, first=f"{name + ':':<12}") if text else []


def table(rows: Iterable[Sequence[str]], *, head: Sequence[str] = (), right: Iterable[int] = ()) -> list[str]:
    """Rows in columns, each as wide as its widest cell.

    Args:
        rows: Cells, the same number in each row.
        head: What stands over the columns; empty for nothing.
        right: The columns (counted from 0) that end at one edge, for numbers.
    """
    lines = [[harmless(cell) for cell in row] for row in ([head] if head else [])]
    lines += [[harmless(cell) for cell in row] for row in rows]
    if not lines:
        return []
    at_right = set(right)
    widths = [max(cell_len(cells[column]) for cells in lines) for column in range(len(lines[0]))]
    laid = []
    for cells in lines:
        parts = [
            " " * (widths[column] - cell_len(cell)) + cell
            if column in at_right
            else padded(cell, widths[column])
            for column, cell in enumerate(cells)
        ]
        laid.append(GAP.join(parts).rstrip())
    if head:
        laid.insert(1, GAP.join("-" * width for width in widths))
    return laid


def width_of_table(rows: Iterable[Sequence[str]]) -> int:
    """How many columns a table of these rows takes."""
    columns = list(zip(*rows, strict=True))
    return sum(max(cell_len(harmless(cell)) for cell in column) for column in columns) + len(GAP) * max(
        0, len(columns) - 1
    )
