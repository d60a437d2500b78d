"""Rooms that draw from a thermal store, and a flat on a heat network: what is cold with which fault, and what helps."""

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from generator.overrides.model import Instruction, Move, Overrides
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import flat, store_house, two_stores, written
from tests.tools.paths import PROPERTIES

DAY = date(2026, 11, 25)


@cache
def store() -> Overrides:
    seen = examine(PROPERTIES / "EB-0164.yaml", today=DAY)
    return overrides(seen.solution, seen.findings, Policy())


def of(text: str, folder: Path, name: str = "HN-01") -> Overrides:
    seen = examine(written(text, folder, name), today=DAY)
    return overrides(seen.solution, seen.findings, Policy())


def instruction(found: Overrides, slug: str) -> Instruction:
    return next(each for each in found.instructions if each.symptom.slug == slug)


def fails(found: Overrides, fault: str) -> set[str]:
    return {p.service for p in found.plans if p.fault == fault and p.service not in p.still_works}


def test_rooms_that_draw_from_a_store_are_services() -> None:
    assert [each.name for each in store().services] == ["store", "living", "ground"]
    assert {"cold-living", "cold-ground", "rooms-never-stop"} <= {
        each.symptom.slug for each in store().instructions
    }


def test_without_its_boiler_a_store_warms_no_room_and_without_a_rooms_pump_the_others_stay_warm() -> None:
    assert fails(store(), "locked-out:boiler") == {"store", "living", "ground"}
    assert fails(store(), "pump-seized:living-pump") == {"living"}


def test_rooms_get_cold_where_the_clock_never_has_the_store_heated_and_its_channel_helps() -> None:
    one = instruction(store(), "cold-living")
    channel = "programmer.channel-1"
    behind = [p for p in store().plans if p.service == "living" and any(s.input == channel for s in p.steps)]
    assert behind
    assert {p.fault for p in behind} & set(one.proof.faults)
    assert channel in {step.input for attempt in one.attempts for step in attempt.steps}


def test_each_part_of_a_house_with_two_stores_is_a_service(tmp_path: Path) -> None:
    found = of(two_stores(), tmp_path, "EB-0164")
    assert [each.name for each in found.services] == ["store", "living", "ground", "second"]
    # Which circuit heats which store is on no record, so nothing is claimed of either with one of them cold.
    assert fails(found, "pump-seized:second-pump") >= {"second", "living", "ground"}


@pytest.mark.parametrize(("control", "cold"), [("by flow", {"heating"}), ("electronic", {"heating", "taps"})])
def test_taps_of_a_heat_interface_unit_are_a_service(control: str, cold: set[str], tmp_path: Path) -> None:
    found = of(flat(f"tap_control: {control}"), tmp_path)
    assert [each.name for each in found.services] == ["heating", "taps"]
    assert fails(found, "switched-off:spur") == cold
    assert fails(found, "locked-out:unit") == {"heating", "taps"}
    assert fails(found, "tap-water-dead:unit") == {"taps"}
    assert not instruction(found, "water-cold").attempts
    assert Move.CHECK_CREDIT in {s.move for a in instruction(found, "nothing-warm").attempts for s in a.steps}


def test_a_unit_without_tap_water_has_rooms_alone(tmp_path: Path) -> None:
    assert [each.name for each in of(flat("tap_water: false"), tmp_path).services] == ["heating"]


def test_nothing_of_a_flame_fails_in_a_unit_without_one(tmp_path: Path) -> None:
    words = {plan.words for plan in of(flat(), tmp_path).plans}
    assert not [each for each in words if "fire" in each or "gas" in each or "condensate" in each]


@pytest.mark.parametrize(
    ("lines", "services"),
    [
        ("water:\n  sources:\n    store: {of: solar}\n", ["store"]),
        ("water:\n  circuits:\n    ground: {gravity: true}\n", ["store", "living"]),
    ],
)
def test_heat_that_comes_as_it_pleases_is_no_service(lines: str, services: list[str], tmp_path: Path) -> None:
    assert [each.name for each in of(store_house(lines), tmp_path, "EB-0164").services] == services


def test_rooms_that_another_call_heats_fail_with_the_clock_of_that_call(tmp_path: Path) -> None:
    found = of(store_house("water:\n  circuits:\n    ground: {source: null}\n"), tmp_path, "EB-0164")
    assert "ground" in fails(found, "programme-wrong:programmer.channel-1")


def test_no_attempt_is_without_a_step(tmp_path: Path) -> None:
    for text in (store_house("zones:\n  store: {channel: null}\n"), two_stores()):
        for each in of(text, tmp_path, "EB-0164").instructions:
            assert all(attempt.steps for attempt in each.attempts)
