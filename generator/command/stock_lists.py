"""The command `stock`: what people ask about the whole stock, as text, CSV or a workbook.

It must not know what is in a list.
"""

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from generator.command.firm import config_option, firm_settings
from generator.command.options import jobs_option, properties_option, today_option
from generator.command.page_text import paragraph, table, width_of_table
from generator.command.progress import progress
from generator.command.terminal import width_of
from generator.findings.errors import CannotReadFile, CannotWriteFile, why_not_written
from generator.views.stock_counts import StockCounts, stock_counts
from generator.views.stock_model import StockRow
from generator.views.stock_table import Cell, StockTable
from generator.views.stock_tables import REPORTS, report_named

FORMATS = ("text", "csv", "xlsx")
_SUMMARY = "summary"
_WIDEST_CELL = 40
_LEAST_CELL = 16
_WIDEST = 100


@click.command(short_help="Print what people ask about the whole stock, or write it for a spreadsheet.")
@click.argument("report", default=_SUMMARY, type=click.Choice((_SUMMARY, *(each.name for each in REPORTS))))
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    help="text: for people. csv: a table for a spreadsheet. xlsx: a workbook, with --out.  "
    "[default: by the ending of --out, or text]",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write to this file instead of to the terminal.",
)
@properties_option
@config_option
@today_option
@jobs_option
def stock(
    report: str,
    form: str | None,
    out: Path | None,
    folder: Path,
    config: Path | None,
    today: date,
    jobs: int,
) -> None:
    """Print what people ask about the whole stock, or write it for a spreadsheet.

    Without REPORT it counts the stock and says which reports there are. What a build has left behind is used where the
    records have not changed since.

    \b
    Examples:
      hearthbook stock
      hearthbook stock unvented
      hearthbook stock findings --format csv
      hearthbook stock parts --out parts.xlsx
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    chosen = report_named(report)
    kind = form or _by_ending(out)
    if chosen is None and kind != "text":
        raise click.UsageError(f"the summary is text only; name a report, such as `stock {REPORTS[0].name}`")
    if kind == "xlsx" and out is None:
        raise click.UsageError("a workbook is not for a terminal; name a file with --out")
    rows = _rows(folder, config, today, jobs)
    if chosen is None:
        _write("\n".join(_summary(stock_counts(rows, day=today), rows, today)) + "\n", out)
    elif kind == "xlsx" and out is not None:
        from generator.site.stock_files import xlsx_bytes

        _write(xlsx_bytes(chosen.table(rows, day=today)), out)
    elif kind == "csv":
        from generator.site.stock_files import csv_text

        _write(csv_text(chosen, chosen.csv_body(rows, day=today)), out)
    else:
        _write("\n".join(_text(chosen.table(rows, day=today))) + "\n", out)


def _by_ending(out: Path | None) -> str:
    ending = out.suffix.lower().removeprefix(".") if out is not None else ""
    return ending if ending in FORMATS else "text"


def _rows(folder: Path, config: Path | None, today: date, jobs: int) -> tuple[StockRow, ...]:
    from generator.site.ledger import any_records, record_gates
    from generator.site.stock_build import StockBuild
    from generator.site.stock_rows import rows_now

    if not folder.is_dir():
        raise CannotReadFile(str(folder), "there is no such folder")
    any_records(folder)
    _, firm = firm_settings(config, folder)
    with progress("reading", len(record_gates(folder)), "records") as step:
        return rows_now(StockBuild(folder, firm, today=today), jobs=jobs, step=step)


def _summary(counts: StockCounts, rows: tuple[StockRow, ...], day: date) -> Iterator[str]:
    width = min(width_of(sys.stdout), _WIDEST)
    yield f"{counts.properties:,} properties, {counts.with_findings:,} with findings"
    yield ""
    yield from table(
        [
            (str(severity), f"{properties:,}", f"{counts.findings[severity]:,}")
            for severity, properties in counts.with_severity.items()
        ],
        head=("severity", "properties", "findings"),
        right=(1, 2),
    )
    yield ""
    yield from table(
        [(each.name, f"{sum(1 for _ in each.table(rows, day=day).lines):,}", each.title) for each in REPORTS],
        head=("report", "lines", "what it is"),
        right=(1,),
    )
    yield ""
    yield from paragraph("`hearthbook stock REPORT` prints one of them.", width)


def _text(shown: StockTable) -> Iterator[str]:
    """A table for a terminal: texts cut where a line would be too wide for it, and never the first column.

    The address ends with the postcode, which therefore has no column.
    """
    width = min(width_of(sys.stdout), 240)
    at = [place for place, column in enumerate(shown.columns) if column.key != "postcode"]
    head = [shown.columns[place].words for place in at]
    lines = [[_plain(line[place]) for place in at] for line in shown.lines]
    yield from paragraph(shown.about, min(width, _WIDEST))
    yield ""
    if not lines:
        yield "There is none."
        return
    widest = next(
        (
            each
            for each in range(_WIDEST_CELL, _LEAST_CELL, -2)
            if width_of_table([head, *_cut(lines, each)]) <= width
        ),
        _WIDEST_CELL,
    )
    yield from table(_cut(lines, widest), head=head)


def _cut(lines: list[list[str]], widest: int) -> list[list[str]]:
    return [
        [
            cell if at == 0 or len(cell) <= widest else f"{cell[: widest - 1].rstrip()}…"
            for at, cell in enumerate(line)
        ]
        for line in lines
    ]


def _plain(cell: Cell) -> str:
    if cell is None or cell == "":
        return "-"
    return cell.isoformat() if isinstance(cell, date) else str(cell)


def _write(content: str | bytes, out: Path | None) -> None:
    if out is None:
        click.echo(content.replace("\r\n", "\n") if isinstance(content, str) else content, nl=False)
        return
    try:
        out.write_bytes(content if isinstance(content, bytes) else content.encode())
    except OSError as error:
        raise CannotWriteFile(str(out), why_not_written(error)) from error
