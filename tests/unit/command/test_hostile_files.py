"""Files that are no records, and trouble of our own: told in words, never by a traceback."""

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

import generator.command.written
import generator.pipeline
import generator.rules.rules
import generator.states.solve
from generator.command import stock as stock_command
from generator.command.main import program
from generator.kept.store import Kept
from generator.pipeline import Known
from generator.rules.rule import Rule, Seen, Subject
from tests.unit.command.conftest import DAY, NO_EARTH, Run, Stock, house

HOSTILE: dict[str, bytes] = {
    "nothing": b"",
    "only blanks": b"  \n\n",
    "only a comment": b"# EX-0009\n",
    "binary": bytes(range(256)) * 40,
    "zeros": b"\0" * 100_000,
    "not UTF-8": "format: 1\nnotes: Stra\xdfe\n".encode("latin-1"),
    "UTF-16": "format: 1\n".encode("utf-16"),
    "a list": b"- format: 1\n",
    "a word": b"format",
    "not closed": b"format: {a: [b\n",
    "a tab": b"format:\n\t1\n",
    "too long": b"# " + b"x" * 600_000,
    "far too deep": b"a: " + b"[" * 5000,
    "anchors that multiply": b"a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n",
    "escapes of a terminal": b"format: 1\n\x1b[31mred\x1b]0;title\x07: 1\n",
    "a newer format": b"format: 99\n",
    "wrong all through": b"format: 1\nproperty: 1\ndevices: x\nwiring: []\nzones: null\n",
}


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
@pytest.mark.parametrize("form", ["text", "gnu", "json", "github"])
def test_hostile_file_gives_findings_and_stops_nothing(
    form: str, data: bytes, stock: Stock, run: Run
) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001", NO_EARTH)})
    (folder / "EX-0009.yaml").write_bytes(data)
    done = run("check", "--format", form, "--today", DAY)
    assert done.exit_code == 1
    assert "EX-0009.yaml" in done.stdout
    assert "class-one-without-earth" in done.stdout
    assert done.stderr == ""
    assert not set("\x1b\x07\0") & set(done.stdout)


@pytest.mark.parametrize("command", [["readings"], ["expand"]])
@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_hostile_file_given_to_other_commands(
    command: list[str], data: bytes, stock: Stock, run: Run
) -> None:
    folder = stock({})
    (folder / "EX-0009.yaml").write_bytes(data)
    done = run(*command, "EX-0009")
    assert done.exit_code == 1
    assert "EX-0009.yaml" in done.output
    assert "\x1b" not in done.output


def _folder(file: Path) -> None:
    file.mkdir()


def _link_to_nowhere(file: Path) -> None:
    file.symlink_to("no-such-file")


def _link_to_itself(file: Path) -> None:
    file.symlink_to(file.name)


@pytest.mark.parametrize("make", [_folder, _link_to_nowhere, _link_to_itself, os.mkfifo])
def test_what_is_no_file(make: Callable[[Path], None], stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001")})
    make(folder / "EX-0009.yaml")
    done = run("check", "--today", DAY)
    assert "properties/EX-0009.yaml:1:1: error: this file cannot be read: " in done.stdout
    assert done.stdout.endswith("2 properties, 1 with findings: 1 error\n")
    assert done.exit_code == 2
    assert run("expand", "EX-0009").exit_code == 2


def test_file_that_may_not_be_read(stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever runs the tests may be allowed to read everything, so the refusal is made up."""
    stock({"EX-0001.yaml": house("EX-0001"), "EX-0009.yaml": house("EX-0009")})
    _forbid(monkeypatch, "EX-0009.yaml")
    done = run("check", "--today", DAY)
    assert (
        "EX-0009.yaml:1:1: error: this file cannot be read: Permission denied (unreadable-file)"
        in done.stdout
    )
    assert done.exit_code == 2
    for command in ("expand", "readings"):
        alone = run(command, "EX-0009")
        assert alone.exit_code == 2
        assert "Permission denied" in alone.stderr


def _forbid(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    allowed = Path.read_bytes

    def read_bytes(self: Path) -> bytes:
        if self.name == name:
            raise PermissionError(13, "Permission denied", str(self))
        return allowed(self)

    monkeypatch.setattr(Path, "read_bytes", read_bytes)


@pytest.mark.parametrize(
    "data",
    [HOSTILE["binary"], HOSTILE["zeros"], HOSTILE["UTF-16"], b"\x7fELF\x02\x01\x01" + b"\0\x03H\xff" * 500],
    ids=["all bytes", "zeros", "UTF-16", "a program"],
)
def test_what_is_no_text_is_told_once(data: bytes, stock: Stock, run: Run) -> None:
    folder = stock({})
    (folder / "EX-0009.yaml").write_bytes(data)
    (line,) = run("check", "--format", "gnu", "--today", DAY).stdout.splitlines()
    assert line.startswith("properties/EX-0009.yaml:1:1: error: ")
    assert line.endswith("(not-utf8)")


def test_name_of_a_file_that_is_not_utf8(stock: Stock, run: Run) -> None:
    folder = stock({})
    os.close(os.open(os.fsencode(folder) + b"/EX-\xff.yaml", os.O_CREAT | os.O_WRONLY))
    for form in ("text", "gnu", "json", "github"):
        done = run("check", "--format", form)
        assert done.exit_code == 1
        assert "udcff" in done.stdout.lower() or "\N{REPLACEMENT CHARACTER}" in done.stdout


# ---------------------------------------------------------------------- our own mistakes


def _look(subject: Subject) -> Iterator[Seen]:
    raise ZeroDivisionError(subject.record.property.reference)


def test_mistake_of_ours_is_told_and_the_rest_is_still_checked(
    stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock({"EX-0001.yaml": house("EX-0001", NO_EARTH), "EX-0002.yaml": house("EX-0002")})
    whole = generator.pipeline.examine_known

    def examine(file: Path, *, today: date, kept: Kept) -> Known:
        if file.stem == "EX-0002":
            raise ZeroDivisionError("by nothing")
        return whole(file, today=today, kept=kept)

    monkeypatch.setattr(generator.pipeline, "examine_known", examine)
    done = run("check", "--today", DAY)
    assert done.exit_code == 70
    assert "class-one-without-earth" in done.stdout
    assert done.stdout.endswith("1 NOT CHECKED to the end\n")
    assert "our mistake, not yours while working on properties/EX-0002.yaml: ZeroDivisionError" in done.stderr
    (report,) = Path(".hearthbook-cache").iterdir()
    assert str(report) in done.stderr
    text = report.read_text(encoding="utf-8")
    assert "record: properties/EX-0002.yaml" in text
    assert "Traceback" in text
    assert "by nothing" in text


def test_rule_that_failed_is_named(stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    rules = generator.rules.rules.ALL
    broken = Rule(
        **{
            name: getattr(rules[0], name)
            for name in Rule.__dataclass_fields__
            if name not in ("name", "look")
        },
        name="made-to-fail",
        look=_look,
    )
    monkeypatch.setattr(generator.rules.rules, "ALL", (*rules, broken))
    monkeypatch.setattr(stock_command, "_kept", lambda: Kept(None, ""))
    for command in (["check", "--today", DAY], ["readings", "EX-0001"]):
        done = run(*command)
        assert done.exit_code == 70
        assert "in the rule `made-to-fail`" in done.stderr
        assert "EX-0001" in done.stderr


def test_debug_lets_our_mistake_out(stock: Stock, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    monkeypatch.setenv("HEARTHBOOK_DEBUG", "1")
    monkeypatch.setattr(generator.command.written, "written_out", lambda _: 1 / 0)
    result = CliRunner().invoke(program, ["expand", "EX-0001"])
    assert isinstance(result.exception, ZeroDivisionError)


@pytest.mark.parametrize("settings", ["hearthbook.yml", "properties/hearthbook.yml"])
def test_report_is_kept_in_the_cache_that_the_settings_name(
    settings: str, stock: Stock, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path(settings).write_text("outputs: {cache: kept/here}\n", encoding="utf-8")
    monkeypatch.setattr(generator.command.written, "written_out", lambda _: 1 / 0)
    result = CliRunner().invoke(program, ["expand", "EX-0001"])
    assert result.exit_code == 70
    (report,) = (Path(settings).parent / "kept" / "here").iterdir()
    assert report.name in result.stderr
    assert not Path(".hearthbook-cache").exists()


@pytest.mark.parametrize("words", ["hearthbook.yml", "outputs: [", "outputs: {cache: [3]}"])
def test_report_is_kept_here_where_the_settings_cannot_be_read(
    words: str, stock: Stock, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("hearthbook.yml").write_text(words, encoding="utf-8")
    monkeypatch.setattr(generator.command.written, "written_out", lambda _: 1 / 0)
    result = CliRunner().invoke(program, ["expand", "EX-0001"])
    assert result.exit_code == 70
    assert len(list(Path(".hearthbook-cache").iterdir())) == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["build"], "taken is a file; empty it or name another folder"),
        (["build", "--out", "taken/inside", "--tenants-out", "t"], "a file where a folder has to be"),
        (["expand", "EX-0001", "--out", "taken/inside.yaml"], "is a file and no folder"),
        (["export", "EX-0001", "--out", "taken/inside.html"], "file"),
    ],
)
def test_a_file_in_the_way_is_said_with_what_to_do(words: list[str], says: str, stock: Stock) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("taken").write_text("in the way", encoding="utf-8")
    Path("hearthbook.yml").write_text(
        "tenants: {secret: key}\noutputs: {engineers: taken}\n", encoding="utf-8"
    )
    result = CliRunner().invoke(program, words)
    assert result.exit_code == 2, result.output
    assert says in result.stderr
    for bare in ("File exists", "Not a directory", "Traceback"):
        assert bare not in result.stderr
    assert Path("taken").read_text(encoding="utf-8") == "in the way"


def test_report_that_cannot_be_kept_is_printed(stock: Stock, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path(".hearthbook-cache").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(generator.command.written, "written_out", lambda _: 1 / 0)
    result = CliRunner().invoke(program, ["expand", "EX-0001"])
    assert result.exit_code == 70
    assert "record: " in result.stderr
    assert "Please report it with all of the above" in result.stderr


def test_more_states_than_can_be_solved(stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002", NO_EARTH)})
    monkeypatch.setattr(generator.states.solve, "MOST_INPUTS", 1)
    done = run("check", "--today", DAY)
    if done.exit_code != 1:  # a finding would be as good
        assert done.exit_code == 2
        assert "properties/EX-0001.yaml was not checked to the end: " in done.stderr
        assert "2 NOT CHECKED to the end" in done.stdout


def test_no_room_for_what_is_written(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    done = run("expand", "EX-0001", "--out", "/dev/full")
    assert done.exit_code == 2
    assert "cannot write /dev/full" in done.stderr
