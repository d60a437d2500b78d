"""The command `stock`: every report, as text, CSV and workbook, with and without what a build left behind."""

import csv
import io
from pathlib import Path

import pytest
from openpyxl import load_workbook

from generator.site.config import FirmConfig
from generator.site.stock_build import StockBuild
from generator.site.stock_rows import rows_now
from generator.views.stock_tables import REPORTS
from tests.unit.command.conftest import DAY, NO_EARTH, NO_SUCH_DEVICE, Run, Stock, house

THREE = {
    "EX-0001.yaml": house("EX-0001"),
    "EX-0002.yaml": house("EX-0002", NO_EARTH),
    "EX-0003.yaml": house("EX-0003", NO_SUCH_DEVICE),
}


def test_summary_counts_and_names_every_report(stock: Stock, run: Run) -> None:
    stock(THREE)
    done = run("stock", "--today", DAY)
    assert done.exit_code == 0
    assert done.stdout.startswith("3 properties, 2 with findings\n")
    assert all(f"\n{report.name} " in done.stdout for report in REPORTS)


@pytest.mark.parametrize("report", REPORTS, ids=lambda report: report.name)
def test_every_report_as_text_and_as_csv(report: object, stock: Stock, run: Run) -> None:
    name = getattr(report, "name", "")
    stock(THREE)
    text = run("stock", name, "--today", DAY)
    table = run("stock", name, "--today", DAY, "--format", "csv")
    assert (text.exit_code, table.exit_code) == (0, 0)
    assert text.stdout.count("\n") >= 3
    (head, *lines) = list(csv.reader(io.StringIO(table.stdout)))
    assert all(len(line) == len(head) for line in lines)


def test_findings_are_those_of_check(stock: Stock, run: Run) -> None:
    stock(THREE)
    ours = list(csv.reader(io.StringIO(run("stock", "findings", "--today", DAY, "--format", "csv").stdout)))
    theirs = list(csv.reader(io.StringIO(run("check", "--today", DAY, "--format", "csv").stdout)))
    assert ours[0] == theirs[0]
    assert sorted(ours) == sorted(theirs)


def test_a_workbook_by_the_ending_of_its_name(stock: Stock, run: Run) -> None:
    stock(THREE)
    done = run("stock", "all", "--today", DAY, "--out", "all.xlsx")
    assert (done.exit_code, done.stdout) == (0, "")
    sheet = load_workbook("all.xlsx").worksheets[0]
    assert [row[0].value for row in sheet.iter_rows()] == ["Reference", "EX-0001", "EX-0002", "EX-0003"]
    assert run("stock", "all", "--today", DAY, "--out", "all.csv").exit_code == 0
    assert Path("all.csv").read_bytes().startswith(b"reference,address,")


def test_what_cannot_be_done_is_said(stock: Stock, run: Run) -> None:
    stock(THREE)
    assert run("stock", "nonsense").exit_code == 2
    assert "name a file" in run("stock", "all", "--format", "xlsx").output
    assert "name a report" in run("stock", "--format", "csv").output
    assert run("stock", "all", "--properties", "nowhere").exit_code == 2
    refused = run("stock", "all", "--today", DAY, "--out", "nowhere/all.csv")
    assert (refused.exit_code, "cannot write" in refused.stderr) == (2, True)


def test_rows_are_the_same_by_several_processes(stock: Stock, monkeypatch: pytest.MonkeyPatch) -> None:
    from datetime import date

    from generator.site import stock_rows

    folder = stock(
        {f"EX-{n:04}.yaml": house(f"EX-{n:04}", *([NO_EARTH] if n % 2 else [])) for n in range(1, 5)}
    )
    firm = FirmConfig(base=folder.parent)

    def made(jobs: int) -> object:
        return rows_now(StockBuild(folder, firm, today=date(2026, 3, 20), kept=False), jobs=jobs)

    alone = made(1)
    monkeypatch.setattr(stock_rows, "MANY", 2)
    assert made(2) == alone
