"""What all commands have in common, tried on the program as it is installed and called."""

import os
import re
import subprocess
import sys
import time
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

import generator.command.check
from generator import __version__
from generator.command.main import program
from generator.command.progress import progress
from tests.tools.paths import ROOT
from tests.unit.command.conftest import DAY, NO_EARTH, Run, Stock, house

_PROGRAM = [sys.executable, "-c", "from generator.command.main import main; main()"]


def _called(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*_PROGRAM, *arguments],
        env={**os.environ, "PYTHONPATH": _path(), **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


def _path() -> str:
    return os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])


def test_version(run: Run) -> None:
    assert run("--version").stdout == f"hearthbook, version {__version__}\n"


@pytest.mark.parametrize("name", program.list_commands(click.Context(program)))
def test_every_command_has_help_with_an_example(name: str, run: Run) -> None:
    done = run(name, "--help")
    assert done.exit_code == 0
    assert re.search(rf"Examples?:\n +hearthbook {name}", done.stdout)
    command = program.get_command(click.Context(program), name)
    assert command is not None
    assert command.short_help
    options = [each for each in command.params if isinstance(each, click.Option)]
    assert [each.name for each in options if not each.help] == []


def test_no_command_and_unknown_ones(run: Run) -> None:
    assert "Commands:" in run().output
    assert run("chekc").exit_code == 2
    assert run("check", "--no-such-option").exit_code == 2


def test_as_a_program(stock: Stock) -> None:
    stock({"EX-0001.yaml": house("EX-0001", NO_EARTH)})
    done = _called("check", "--today", DAY)
    assert done.returncode == 1
    assert done.stderr == ""
    assert ": danger: " in done.stdout
    assert "\x1b" not in done.stdout


def test_terminal_that_knows_ascii_only(stock: Stock) -> None:
    stock({"EX-0001.yaml": house("EX-0001", ("lines: [1 Example Row]", "lines: [Tŷ Gwyn]"), NO_EARTH)})
    for command in (["check"], ["readings", "EX-0001"], ["expand", "EX-0001"], ["explain", "--list"]):
        done = _called(*command, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
        assert done.returncode in (0, 1)
        assert done.stderr == ""


def test_reader_that_goes_away(stock: Stock) -> None:
    stock({f"EX-{n:04}.yaml": house(f"EX-{n:04}", NO_EARTH) for n in range(40)})
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "w") as out:
        done = subprocess.run(
            [*_PROGRAM, "check", "--today", DAY],
            env={**os.environ, "PYTHONPATH": _path()},
            stdout=out,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            timeout=120,
        )
    assert done.stderr == ""
    assert done.returncode == 2


def test_ctrl_c(stock: Stock, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})

    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(generator.command.check, "check_stock", stop)
    result = CliRunner().invoke(program, ["check"])
    assert result.exit_code == 130
    assert result.stderr == "hearthbook: stopped\n"


def test_refusal_of_the_machine(stock: Stock, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", "properties")

    monkeypatch.setattr(generator.command.check, "list_files", refuse)
    result = CliRunner().invoke(program, ["check"])
    assert result.exit_code == 2
    assert result.stderr == "hearthbook: the machine refuses: properties: Permission denied\n"
    assert not Path(".hearthbook-cache").exists()


def test_long_job_says_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    clock = iter(range(0, 100, 3))
    monkeypatch.setattr(time, "monotonic", lambda: next(clock))
    with progress("checking", 6, "files") as step:
        for _ in range(6):
            step()
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "checking: 2 of 6 files\nchecking: 4 of 6 files\n"


def test_short_job_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    with progress("checking", 2, "files") as step:
        step()
        step()
    assert capsys.readouterr().err == ""
