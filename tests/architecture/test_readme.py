"""The README: the job first, then two commands, of which the second is what the project's own checks run."""

import re
import subprocess
import tomllib

import click
import pytest

from generator.command.main import program
from tests.tools.paths import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
CI = ROOT / ".ci" / "run"
_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
COMMANDS = [body for language, body in _FENCE.findall(README) if language == "sh"]


def test_there_are_exactly_two_commands() -> None:
    assert len(COMMANDS) == 2
    assert len(_FENCE.findall(README)) == 2, "nothing else may look like a command to be run"


@pytest.mark.parametrize("command", COMMANDS, ids=["build", "test"])
def test_each_is_one_line_that_sets_up_everything(command: str) -> None:
    assert command.count("\n") == 1
    steps = command.strip().split(" && ")
    assert steps[0] == "sh .ci/venv"
    assert steps[1].startswith(".venv/bin/pip install ")
    assert all(step.startswith(".venv/bin/") for step in steps[1:])


def test_first_checks_and_builds() -> None:
    """`build` checks the records itself, says what it found, and builds all the same."""
    assert COMMANDS[0].strip().endswith(" && .venv/bin/hearthbook build")


def test_every_command_is_in_the_table_and_no_other() -> None:
    table = set(re.findall(r"^\| `hearthbook (\w+)` \|", README, re.MULTILINE))
    assert table == set(program.list_commands(click.Context(program)))


def test_pictures_are_there_and_small() -> None:
    pictures = [ROOT / name for name in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)]
    assert len(pictures) == 2
    assert all(picture.stat().st_size < 200_000 for picture in pictures)


def test_second_runs_the_whole_suite() -> None:
    assert "'.[test]'" in COMMANDS[1]
    assert COMMANDS[1].strip().endswith(" && .venv/bin/python -m tests")


def test_ci_runs_the_second_command_as_it_stands_here() -> None:
    script = CI.read_text(encoding="utf-8")
    program = re.search(r"awk '(.*)' README.md", script)
    assert program is not None
    done = subprocess.run(
        ["awk", program[1], "README.md"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout == COMMANDS[1]
    assert CI.stat().st_mode & 0o111, "it must be executable"


def test_job_comes_before_everything_else() -> None:
    title, paragraph, heading, *_ = README.split("\n\n")
    assert title == "# Hearthbook"
    assert {"firm", "engineer", "tenant"} <= set(re.findall(r"[a-z]+", paragraph))
    assert heading.startswith("## ")


def test_python_version_is_the_one_asked_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = project["requires-python"].removeprefix(">=")
    assert f"Python {asked} or later" in README


@pytest.mark.parametrize(
    "caution",
    [
        "isolate, lock off, prove dead",
        "competent persons",
        "registered gas engineers",
        "out of date",
        "local codes",
    ],
)
def test_cautions_are_there(caution: str) -> None:
    assert caution in README.lower()


def test_links_lead_somewhere() -> None:
    targets = re.findall(r"\]\(([^)#]+)\)", README)
    assert targets
    assert [target for target in targets if not (ROOT / target).exists()] == []
