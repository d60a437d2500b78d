"""Kinds of the firm's own on the command line: checked, explained, and known to the schema."""

import json

from tests.unit.command.conftest import Run, Stock
from tests.unit.command.test_check import CLEAN
from tests.unit.record.test_own_kinds import GOOD

_FILE = "kinds/run-back-timer.yaml"


def test_checked_though_nothing_uses_it(stock: Stock, run: Run) -> None:
    stock({**CLEAN, _FILE: GOOD.replace("[L, out]", "[L, outt]")})
    done = run("check")
    assert done.exit_code == 1
    assert f"properties/{_FILE}:16:39: error: this kind has no terminal or point inside `outt`" in done.stdout
    assert "1 kind of your own" in done.stdout


def test_sound(stock: Stock, run: Run) -> None:
    stock({**CLEAN, _FILE: GOOD})
    assert run("check").exit_code == 0


def test_explained(stock: Stock, run: Run) -> None:
    stock({**CLEAN, _FILE: GOOD})
    said = run("explain", "run-back-timer").stdout
    assert "made while channel 1 is running and the electronics is fed" in " ".join(said.split())
    assert "run-back-timer" in run("explain", "--list").stdout


def test_schemas(stock: Stock, run: Run) -> None:
    stock({**CLEAN, _FILE: GOOD})
    record = json.loads(run("schema").stdout)
    assert "run-back-timer" in record["$defs"]["Device"]["properties"]["kind"]["enum"]
    kind = json.loads(run("schema", "--of", "kind").stdout)
    assert {"kind", "terminals", "facts"} <= set(kind["properties"])
