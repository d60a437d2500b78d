"""A record in which something that every installation has is missing says so. Common practice, no source."""

from pathlib import Path

from generator.rules.example_house import HOUSE
from tests.rules.examples import examined


def told(text: str, folder: Path) -> list[str]:
    return [item.message for item in examined(text, folder).findings if item.rule == "nothing-recorded"]


def test_an_empty_record_lists_all_that_is_missing(tmp_path: Path) -> None:
    (message,) = told(HOUSE[: HOUSE.index("\ndevices:\n")], tmp_path)
    assert message.startswith(
        "the record has no zone, no supply, nothing that gives heat and no wiring: what depends on that"
    )


def test_devices_without_wiring(tmp_path: Path) -> None:
    text = HOUSE[: HOUSE.index("\nwiring:\n")] + HOUSE[HOUSE.index("\nzones:\n") :]
    (message,) = told(text, tmp_path)
    assert message.startswith("the record has no wiring:")


def test_a_whole_house_says_nothing(tmp_path: Path) -> None:
    assert told(HOUSE, tmp_path) == []
