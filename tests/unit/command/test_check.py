"""What `check` reads, what it finds, and what it ends with."""

import json
from pathlib import Path

import pytest

from tests.unit.command.conftest import (
    DAY,
    NO_EARTH,
    NO_SUCH_DEVICE,
    NOTHING_TO_ACCEPT,
    Run,
    Stock,
    house,
)

CLEAN = {"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002")}


def test_clean_stock(stock: Stock, run: Run) -> None:
    stock(CLEAN)
    done = run("check", "--today", DAY)
    assert done.exit_code == 0, done.output
    assert done.stdout == "2 properties, nothing found\n"


@pytest.mark.parametrize(
    ("text", "severity", "code", "strict_code"),
    [
        (house("EX-0001", NO_EARTH), "danger", 1, 1),
        (house("EX-0001", NO_SUCH_DEVICE), "error", 1, 1),
        (house("EX-0001") + NOTHING_TO_ACCEPT, "warning", 0, 1),
    ],
    ids=["danger", "error", "warning"],
)
def test_exit_code_follows_the_worst(
    text: str, severity: str, code: int, strict_code: int, stock: Stock, run: Run
) -> None:
    stock({"EX-0001.yaml": text})
    done = run("check", "--today", DAY)
    assert f": {severity}: " in done.stdout
    assert done.stdout.endswith(f"1 property, 1 with findings: 1 {severity}\n")
    assert done.exit_code == code
    assert run("check", "--today", DAY, "--strict").exit_code == strict_code


def test_everything_comes_at_once_in_the_order_of_the_files(stock: Stock, run: Run) -> None:
    stock(
        {
            "EX-0002.yaml": house("EX-0002", NO_SUCH_DEVICE, ("fuel: gas", "fuel: gaz")),
            "EX-0001.yaml": house("EX-0001", NO_EARTH),
            "EX-0003.yaml": "format: 1\nformat: 1\n",
        }
    )
    done = run("check", "--format", "gnu", "--today", DAY)
    places = [line.split(":")[:2] for line in done.stdout.splitlines()]
    assert [file for file, _ in places] == sorted(file for file, _ in places)
    assert {file for file, _ in places} == {f"properties/EX-000{n}.yaml" for n in (1, 2, 3)}
    assert "(not-allowed-value)" in done.stdout
    assert "(duplicate-key)" in done.stdout
    assert done.exit_code == 1


def test_findings_that_are_not_shown_still_count(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001", NO_SUCH_DEVICE)})
    done = run("check", "--min-severity", "danger")
    assert done.stdout == "1 property, 1 with findings: 1 error (1 not shown)\n"
    assert done.exit_code == 1


def test_single_files_and_files_given_twice(stock: Stock, run: Run) -> None:
    folder = stock(CLEAN)
    file = folder / "EX-0001.yaml"
    assert run("check", file, "--today", DAY).stdout.startswith("1 property,")
    assert run("check", file, "properties/EX-0001.yaml", "properties", "--today", DAY).stdout.startswith("2 ")


def test_all_missing_paths_are_named(stock: Stock, run: Run) -> None:
    stock(CLEAN)
    done = run("check", "properties", "no-such", "nor-this.yaml")
    assert done.exit_code == 2
    assert done.stdout == ""
    assert "`no-such`, `nor-this.yaml`" in done.stderr


@pytest.mark.usefixtures("stock")
def test_no_folder_of_records_here(run: Run, tmp_path: Path) -> None:
    done = run("check")
    assert done.exit_code == 2
    assert "`properties`" in done.stderr
    assert not (tmp_path / ".hearthbook-cache").exists()


def test_folder_without_records_did_not_pass(stock: Stock, run: Run) -> None:
    stock({})
    done = run("check")
    assert done.exit_code == 2
    assert "there is no record in `properties`" in done.stderr


def test_one_reference_in_two_records(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001"), "ex-0001.yaml": house("ex-0001")})
    done = run("check", "--today", DAY)
    assert (
        "properties/ex-0001.yaml:3:14: error: another record has the reference `ex-0001` already"
        in done.stdout
    )
    assert "see properties/EX-0001.yaml:3:14" in done.stdout
    assert done.exit_code == 1


def test_one_uprn_in_two_records_one_of_them_otherwise_wrong(stock: Stock, run: Run) -> None:
    stock(
        {
            "EX-0001.yaml": house("EX-0001", ("fuel: gas", "uprn: 012345\n  fuel: gas")),
            "EX-0002.yaml": house("EX-0002", ("fuel: gas", 'uprn: "12345"\n  fuel: gaz')),
            "EX-0003.yaml": house("EX-0003", ("fuel: gas", "uprn: 12346\n  fuel: gas")),
        }
    )
    lines = run("check", "--format", "gnu", "--today", DAY).stdout.splitlines()
    (line,) = (line for line in lines if "uprn-twice" in line)
    assert line.startswith("properties/EX-0002.yaml:6:9: error: another record has the unique property ref")


def test_house_types_are_checked_used_or_not(stock: Stock, run: Run) -> None:
    stock({**CLEAN, "house-types/terrace.yaml": "format: 1\nhouse_type: terrce\nabout: A row.\n"})
    done = run("check", "--today", DAY)
    assert "properties/house-types/terrace.yaml:2:13: error: " in done.stdout
    assert done.stdout.endswith("2 properties and 1 house type, 1 with findings: 1 error\n")
    alone = run("check", "properties/house-types")
    assert alone.stdout.endswith("1 house type, 1 with findings: 1 error\n")
    assert run("check", "properties/house-types/terrace.yaml").stdout == alone.stdout


def test_fault_of_a_house_type_is_told_once(stock: Stock, run: Run) -> None:
    head = house("EX-0001").split("\ndevices:")[0]
    stock(
        {
            "EX-0001.yaml": head + "\nhouse_type: terrace\n",
            "EX-0002.yaml": head.replace("EX-0001", "EX-0002") + "\nhouse_type: terrace\n",
            "house-types/terrace.yaml": "format: 1\nhouse_type: terrace\nabout: A row.\nno-such-key: 1\n",
        }
    )
    done = run("check", "--format", "gnu", "--today", DAY)
    assert done.stdout.count("house-types/terrace.yaml:4:1") == 1


def _terrace(stock: Stock) -> None:
    """Two houses of one type, whose fault is in the type's file; a third house stands by itself."""
    body = house("EX-0001", NO_EARTH)
    head = body.split("\ndevices:")[0]
    rest = body.split("\ndevices:")[1]
    stock(
        {
            "EX-0001.yaml": head + "\nhouse_type: terrace\n",
            "EX-0002.yaml": head.replace("EX-0001", "EX-0002") + "\nhouse_type: terrace\n",
            "EX-0003.yaml": house("EX-0003"),
            "house-types/terrace.yaml": f"format: 1\nhouse_type: terrace\nabout: A row.\ndevices:{rest}",
        }
    )


def test_fault_of_a_house_type_names_the_properties(stock: Stock, run: Run) -> None:
    _terrace(stock)
    done = run("check", "--today", DAY)
    assert done.stdout.count("class-one-without-earth") == 1
    assert "\n         in: EX-0001, EX-0002\n" in done.stdout
    (finding,) = json.loads(run("check", "--format", "json", "--today", DAY).stdout)["findings"]
    assert finding["file"] == "properties/house-types/terrace.yaml"
    assert finding["properties"] == ["EX-0001", "EX-0002"]
    rows = run("check", "--format", "csv", "--today", DAY).stdout.splitlines()[1:]
    assert [row.split(",")[1] for row in rows] == ["EX-0001", "EX-0002"]
    assert "(in EX-0001, EX-0002)" in run("check", "--format", "github", "--today", DAY).stdout


def test_fault_of_a_record_names_no_other(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001", NO_EARTH)})
    (finding,) = json.loads(run("check", "--format", "json", "--today", DAY).stdout)["findings"]
    assert finding["properties"] == []
    assert "   in: " not in run("check", "--today", DAY).stdout


def test_records_in_a_folder_inside_are_not_passed_over_in_silence(stock: Stock, run: Run) -> None:
    stock({**CLEAN, "north/EX-0009.yaml": house("EX-0009")})
    done = run("check", "--today", DAY)
    assert "properties/north:1:1: warning: this folder holds files named like records" in done.stdout
    assert done.stdout.endswith("2 properties, 1 with findings: 1 warning\n")
    assert done.exit_code == 0


@pytest.mark.parametrize("name", ["EX-0009.yml", "EX-0009.YAML", "house-types/terrace.yml"])
def test_nearly_a_record_is_not_passed_over_in_silence(name: str, stock: Stock, run: Run) -> None:
    stock({**CLEAN, name: "format: 1\n"})
    done = run("check", "--today", DAY)
    assert f"properties/{name}:1:1: error: this file is not read" in done.stdout
    assert done.exit_code == 1


@pytest.mark.parametrize("name", [".EX-0001.yaml", "hearthbook.yml", "notes.txt", "photos/EX-0001.yaml"])
def test_other_files_are_passed_over(name: str, stock: Stock, run: Run) -> None:
    stock({**CLEAN, name: "- no record"})
    assert run("check", "--today", DAY).stdout == "2 properties, nothing found\n"


@pytest.mark.parametrize("given", ["tomorrow", "2026-02-30", "20260320"])
def test_a_day_that_is_none(given: str, stock: Stock, run: Run) -> None:
    stock(CLEAN)
    done = run("check", "--today", given)
    assert done.exit_code == 2
    assert "2026-03-14" in done.stderr


def test_records_are_judged_on_the_day_given(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    assert run("check", "--today", "2026-03-13").stdout != run("check", "--today", DAY).stdout


def test_many_files_in_several_processes(stock: Stock, run: Run) -> None:
    stock({f"EX-{n:04}.yaml": house(f"EX-{n:04}", *([NO_EARTH] if n % 9 == 0 else [])) for n in range(1, 71)})
    alone = run("check", "--today", DAY, "--jobs", "1")
    shared = run("check", "--today", DAY, "--jobs", "2")
    assert shared.stdout == alone.stdout
    assert shared.stdout.endswith("70 properties, 7 with findings: 7 dangers\n")
