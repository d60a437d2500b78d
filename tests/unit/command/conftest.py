"""Small stocks of records on disk, and the program run on them."""

import os
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.command.main import program
from generator.rules.example_house import HOUSE

Run = Callable[..., Result]
Stock = Callable[[Mapping[str, str]], Path]

DAY = "2026-03-20"


def house(reference: str, *changes: tuple[str, str]) -> str:
    """The sound example house under another reference, with some lines changed; each must be there to be changed."""
    text = HOUSE.replace("EX-0001", reference)
    for before, after in changes:
        assert text.count(before) >= 1, before
        text = text.replace(before, after, 1)
    return text


NO_EARTH = ("        - { to: pump.E, core: GNYE }\n", "")
"""A danger."""
NO_SUCH_DEVICE = ("to: pump.L,", "to: pmp.L,")
"""An error."""
NOTHING_TO_ACCEPT = """
accepted:
  - { rule: fuse-not-3-amp, reason: Looked at on site, on: 2026-03-14, by: heating engineer }
"""
"""A warning."""


@pytest.fixture
def stock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Stock:
    """Makes files below the folder `properties` of an empty working folder, and gives that folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))

    def make(files: Mapping[str, str]) -> Path:
        folder = tmp_path / "properties"
        folder.mkdir(exist_ok=True)
        for name, text in files.items():
            file = folder / name
            file.parent.mkdir(exist_ok=True)
            file.write_text(text, encoding="utf-8")
        return folder

    return make


@pytest.fixture
def run() -> Run:
    """The program run in this process, as a terminal-less caller sees it."""

    def call(*arguments: str | os.PathLike[str]) -> Result:
        result = CliRunner().invoke(program, [os.fspath(each) for each in arguments])
        assert "Traceback" not in result.output
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return call
