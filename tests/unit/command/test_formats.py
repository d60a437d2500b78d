"""How findings are printed: for people, as GNU lines, as JSON, as annotations."""

import io
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from rich.cells import cell_len

from generator.command.findings_data import annotations, findings_schema
from generator.command.findings_text import Sources, finding_text, gnu_line, print_findings
from generator.command.terminal import colour_wanted, harmless
from generator.findings.finding import Finding, Severity, Span
from tests.unit.command.conftest import (
    DAY,
    NO_EARTH,
    NO_SUCH_DEVICE,
    NOTHING_TO_ACCEPT,
    Run,
    Stock,
    house,
)

_GNU = re.compile(r"[^:]+:\d+:\d+: (danger|error|warning|note): .+ \([a-z0-9-]+\)")
"""GNU coding standards, "Formatting Error Messages": `sourcefile:lineno:column: message`."""

STOCK = {
    "EX-0001.yaml": house("EX-0001", NO_EARTH) + NOTHING_TO_ACCEPT,
    "EX-0002.yaml": house("EX-0002", NO_SUCH_DEVICE),
    "ex-0002.yaml": house("ex-0002"),
    "house-types/terrace.yaml": "format: 1\nhouse_type: terrace\nabout: A row.\n",
}


def _finding(**changes: Any) -> Finding:
    given = {
        "rule": "made-up",
        "severity": Severity.ERROR,
        "message": "something is wrong",
        "span": Span("record.yaml", 1, 1),
    }
    return Finding(**{**given, **changes})


# ---------------------------------------------------------------------- gnu


def test_gnu_prints_only_lines_of_that_form(stock: Stock, run: Run) -> None:
    stock(STOCK)
    lines = run("check", "--format", "gnu", "--today", DAY).stdout.splitlines()
    assert len(lines) == 4
    assert [line for line in lines if not _GNU.fullmatch(line)] == []


def test_gnu_line_stays_one_harmless_line() -> None:
    line = gnu_line(_finding(message="a\nb\x1b[31m\u202ec", span=Span("a\nb.yaml", 1, 2)))
    assert line == "a b.yaml:1:2: error: a b\N{REPLACEMENT CHARACTER}[31m\N{REPLACEMENT CHARACTER}c (made-up)"


# ---------------------------------------------------------------------- text


def _shown(tmp_path: Path, text: str, column: int, *, width: int = 80, colour: bool = False) -> list[str]:
    file = tmp_path / "record.yaml"
    file.write_text(text, encoding="utf-8")
    finding = _finding(span=Span(str(file), 1, column))
    return list(finding_text(finding, Sources(), width=width, colour=colour))


@pytest.mark.parametrize(
    ("line", "column", "marked"),
    [
        ("abc: def", 6, "d"),
        ("\tabc: def", 7, "d"),
        ("Tŷ Gwyn: ﹅漢字: x", 15, "x"),
        ("é" * 10 + "x", 11, "x"),
        ("\ufeffabc", 2, "b"),
    ],
)
def test_mark_stands_below_the_column(line: str, column: int, marked: str, tmp_path: Path) -> None:
    _, shown, mark = _shown(tmp_path, line + "\n", column)
    place = len(mark) - 1
    assert mark[place] == "^"
    before = ""
    while cell_len(before) < place:
        before += shown[len(before)]
    assert shown[len(before)] == marked


@pytest.mark.parametrize("column", [1, 30, 150, 299, 300])
def test_long_line_is_cut_around_the_column(column: int, tmp_path: Path) -> None:
    text = "".join(chr(ord("a") + n % 26) for n in range(300))
    _, shown, mark = _shown(tmp_path, text, column, width=60)
    assert cell_len(shown) <= 60
    assert shown[len(mark) - 1] == text[column - 1]


def test_place_behind_the_end_of_its_line(tmp_path: Path) -> None:
    _, shown, mark = _shown(tmp_path, "a: b", 99)
    assert len(mark) == len(shown) + 1


def test_file_that_has_gone_or_is_shorter_now(tmp_path: Path) -> None:
    gone = _finding(span=Span(str(tmp_path / "gone.yaml"), 5, 1))
    assert list(finding_text(gone, Sources(), width=80, colour=False)) == [gnu_line(gone)]
    assert len(_shown(tmp_path, "\n", 1)) == 1


def test_states_fix_and_other_places_follow() -> None:
    finding = _finding(
        holds="whenever heating calls", fix="Put it right.", related=((Span("x.yaml", 3, 4), "the other"),)
    )
    after = [line.strip() for line in finding_text(finding, Sources(), width=80, colour=False)][1:]
    assert after == ["when: whenever heating calls", "fix: Put it right.", "see x.yaml:3:4: the other"]


def test_a_change_that_puts_several_right_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    first, other, elsewhere = (
        _finding(cure="Move it.", span=Span(file, line, 1))
        for file, line in (("x.yaml", 3), ("x.yaml", 7), ("y.yaml", 2))
    )
    print_findings([first, other, elsewhere], width=80, colour=False)
    cures = [line.strip() for line in capsys.readouterr().out.splitlines() if "cure:" in line]
    assert cures == [
        "cure: Move it.",
        "cure: the change told at x.yaml:3:1 puts this right too",
        "cure: Move it.",
    ]


def test_colour_is_for_terminals_only(stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    stock(STOCK)
    assert "\x1b" not in run("check", "--today", DAY).output
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    assert colour_wanted(Terminal())
    assert not colour_wanted(io.StringIO())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not colour_wanted(Terminal())
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not colour_wanted(Terminal())


def test_severity_and_mark_are_coloured(tmp_path: Path) -> None:
    first, shown, mark = _shown(tmp_path, "a: b", 4, colour=True)
    assert "\x1b[" in first
    assert "\x1b[" not in shown
    assert re.sub(r"\x1b\[\d+m", "", mark).endswith("|    ^")


def test_harmless_keeps_columns() -> None:
    assert (
        harmless("a\tb\x07c\N{NO-BREAK SPACE}d") == "a b\N{REPLACEMENT CHARACTER}c\N{REPLACEMENT CHARACTER}d"
    )


# ---------------------------------------------------------------------- json


def _document(run: Run, *more: str) -> Any:
    done = run("check", "--format", "json", "--today", DAY, *more)
    document = json.loads(done.stdout)
    jsonschema.validate(document, findings_schema(), format_checker=jsonschema.FormatChecker())
    assert document["exit_code"] == done.exit_code
    return document


def test_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(findings_schema())


def test_json_says_what_the_lines_say(stock: Stock, run: Run) -> None:
    stock(STOCK)
    document = _document(run)
    lines = [
        f"{one['file']}:{one['line']}:{one['column']}: {one['severity']}: {one['message']} ({one['rule']})"
        for one in document["findings"]
    ]
    assert lines == run("check", "--format", "gnu", "--today", DAY).stdout.splitlines()
    assert document["today"] == DAY
    assert document["summary"] == {
        "properties": 3,
        "house_types": 1,
        "kinds": 0,
        "with_findings": 3,
        "not_checked": 0,
        "danger": 1,
        "error": 2,
        "warning": 1,
        "note": 0,
    }
    assert [(one["sort"], one["reference"], one["worst"]) for one in document["files"]] == [
        ("record", "EX-0001", "danger"),
        ("record", "EX-0002", "error"),
        ("record", "ex-0002", "error"),
        ("house type", None, None),
    ]


def test_json_counts_what_it_leaves_out(stock: Stock, run: Run) -> None:
    stock(STOCK)
    document = _document(run, "--min-severity", "danger")
    assert [one["severity"] for one in document["findings"]] == ["danger"]
    assert document["summary"]["error"] == 2


def test_json_of_a_clean_stock(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    document = _document(run, "--strict")
    assert document["findings"] == []
    assert document["exit_code"] == 0


def test_schema_refuses_another_severity(stock: Stock, run: Run) -> None:
    stock(STOCK)
    document = _document(run)
    document["findings"][0]["severity"] = "fatal"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(document, findings_schema())


# ---------------------------------------------------------------------- annotations


def test_annotations_then_the_summary(stock: Stock, run: Run) -> None:
    stock(STOCK)
    *lines, last = run("check", "--format", "github", "--today", DAY).stdout.splitlines()
    assert last.startswith("3 properties and 1 house type, ")
    assert [line.split(" ")[0] for line in lines] == ["::error", "::warning", "::error", "::error"]
    assert lines[0].startswith("::error file=properties/EX-0001.yaml,line=19,col=3,title=danger%3A class-one")


def test_annotations_escape_what_means_something() -> None:
    finding = _finding(
        severity=Severity.NOTE,
        message="50 %, a: b\nc",
        fix="Do.",
        span=Span("a,b:c%.yaml", 2, 3),
        holds="always",
    )
    assert list(annotations([finding])) == [
        "::notice file=a%2Cb%3Ac%25.yaml,line=2,col=3,title=note%3A made-up::50 %25, a: b%0Ac (when: always)%0ADo."
    ]
