"""Readings on the command line: which states, and what is said around the figures."""

import re

import pytest

from generator.command.page_text import table, width_of_table
from tests.unit.command.conftest import DAY, NO_EARTH, NO_SUCH_DEVICE, Run, Stock, house


def _row(text: str, device: str, terminal: str) -> list[str]:
    """The cells of a terminal's row in the table of a device."""
    part = text.split(f"\n{device}\n", 1)[1].split("\n\n", 1)[0]
    (line,) = (line for line in part.splitlines() if re.match(rf"{re.escape(terminal)}( !)?  ", line))
    return re.split(r" {2,}", line)


@pytest.fixture
def sound(stock: Stock) -> None:
    stock({"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002", NO_SUCH_DEVICE)})


@pytest.mark.usefixtures("sound")
def test_each_state_side_by_side(run: Run) -> None:
    done = run("readings", "EX-0001", "--today", DAY)
    assert done.exit_code == 0, done.output
    states = re.findall(r"^ +(\d)  (.+)$", done.stdout, re.MULTILINE)
    assert [words for _, words in states] == [
        "Nothing calls",
        "Timers on, all satisfied",
        "Hot water calls",
        "Heating calls",
        "Everything calls",
    ]
    cells = _row(done.stdout, "Heating valve", "motor")
    volts = [int(cell) for cell in cells[2:]]
    assert len(volts) == 10
    assert volts[:6] == [0] * 6
    assert min(volts[6:]) > 220


@pytest.mark.usefixtures("sound")
@pytest.mark.parametrize(
    ("options", "words", "live"),
    [
        (["--state", "rest"], "While nothing calls", False),
        (["--state", "all"], "While every zone calls", True),
        (["--calls", "heating"], "While only heating calls", True),
        (["--calls", "hot-water"], "While only hot water calls", False),
        (["--calls", "heating, hot-water"], "While only heating and hot water call", True),
        (
            ["--on", "programmer.2,room-thermostat"],
            "While channel 2 of the programmer is on and the room thermostat is calling for heat",
            True,
        ),
        (["--on", "programmer.channel-2"], "While channel 2 of the programmer is on", False),
        (["--on", "room-thermostat.calling"], "While the room thermostat is calling for heat", False),
        (
            ["--on", "programmer.2,room-thermostat", "--off", "spur.isolator"],
            "isolator of the spur is ",
            False,
        ),
    ],
)
def test_one_state_in_full(options: list[str], words: str, live: bool, run: Run) -> None:
    done = run("readings", "EX-0001", *options, "--today", DAY)
    assert done.exit_code == 0, done.output
    assert words in " ".join(done.stdout.split())
    cells = _row(done.stdout, "Heating valve", "motor")
    assert ("live" in cells) is live
    assert "BN from Terminal D" in cells


@pytest.mark.usefixtures("sound")
def test_lever_is_moved_by_name(run: Run) -> None:
    done = run("readings", "EX-0001", "--on", "heating-valve.lever", "--today", DAY)
    assert done.exit_code == 0, done.output
    assert "manual lever of the heating valve is latched open" in done.stdout


@pytest.mark.usefixtures("sound")
def test_cautions_and_tolerance_come_first(run: Run) -> None:
    text = " ".join(run("readings", "EX-0001", "--meter", "low", "--today", DAY).stdout.split())
    before = text.split("Nothing calls")[0]
    for caution in ("isolate, lock off, prove dead", "competent", "out of date", "Local codes"):
        assert caution in before
    assert "216 to 253 V" in before
    assert "low-impedance tester (3 kilohm)" in before


def test_danger_and_assumed_wiring_are_marked(stock: Stock, run: Run) -> None:
    assumed = "sure: {how: assumed, on: 2026-03-14, by: surveyor}"
    stock(
        {
            "EX-0001.yaml": house(
                "EX-0001",
                NO_EARTH,
                ("{ to: pump.L, core: BN }", f"{{ to: pump.L, core: BN, {assumed} }}"),
            )
        }
    )
    done = run("readings", "EX-0001", "--state", "rest", "--today", DAY)
    assert ": danger: " in done.stdout
    assert _row(done.stdout, "Pump", "L")[0] == "L !"
    assert "nobody looked" in done.stdout


@pytest.mark.usefixtures("sound")
@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--calls", "heatin,loft"], "no zone that calls `heatin` (did you mean `heating`?)"),
        (["--calls", "heatin,loft"], "no zone that calls `loft`"),
        (["--on", "programer.1"], "programmer.channel-1"),
        (["--on", "programmer"], "no control `programmer`"),
        (["--on", "spur.L", "--off", "nothing"], "no control `nothing`"),
        (["--calls", "heating", "--state", "rest"], "Use one of"),
        (["--off", "spur.isolator", "--calls", "heating"], "Use one of"),
        (["--meter", "golden"], "golden"),
    ],
)
def test_names_that_are_none(options: list[str], said: str, run: Run) -> None:
    done = run("readings", "EX-0001", *options, "--today", DAY)
    assert done.exit_code == 2
    assert said in done.stderr
    assert done.stdout == ""


@pytest.mark.usefixtures("sound")
def test_wrong_record_is_told_instead(run: Run) -> None:
    done = run("readings", "EX-0002")
    assert done.exit_code == 1
    assert "(unknown-device)" in done.stdout
    assert "nothing can be worked out" in done.stderr


@pytest.mark.usefixtures("sound")
def test_references_are_found_in_any_capitals(run: Run) -> None:
    assert run("readings", "ex-0001", "--today", DAY).exit_code == 0
    assert run("readings", "properties/EX-0001.yaml", "--today", DAY).exit_code == 0
    done = run("readings", "EX-001")
    assert done.exit_code == 2
    assert "did you mean `EX-0001`?" in done.stderr
    assert run("readings", "EX-0001", "--properties", "no-such").exit_code == 2


def test_table_lays_wide_characters_out() -> None:
    rows = [("漢", "1"), ("ab c", "22")]
    assert table(rows, head=("h", "n"), right=[1]) == ["h      n", "----  --", "漢     1", "ab c  22"]
    assert width_of_table(rows) == 8
    assert table([]) == []
