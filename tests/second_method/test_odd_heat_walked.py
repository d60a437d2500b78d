"""Houses whose heat comes from a store, a heat network or a heat pump with a buffer, followed by a second program as a tenant would."""

from pathlib import Path

import pytest

from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import (
    flat,
    heat_pump_with_buffer,
    store_house,
    two_stores,
    unit_as_source,
    written,
)
from tests.second_method.test_overrides_walked import POLICIES, TODAY, walked_house
from tests.short_houses import short_house

HOUSES = {
    "heat network": ("HN-01", flat()),
    "heat network, electronic": ("HN-01", flat("tap_control: electronic")),
    "heat network, no taps": ("HN-01", flat("tap_water: false")),
    "two stores": ("EB-0164", two_stores()),
    "heat pump with buffer": ("EB-0167", heat_pump_with_buffer()),
    "heat network as a source": ("HN-01", unit_as_source()),
    "rooms on the boiler that another call fires": (
        "EB-0164",
        store_house("water:\n  circuits:\n    ground: {source: null}\n"),
    ),
    "a heat pump as a source": (
        "EB-0164",
        store_house("water:\n  sources:\n    store: {of: heat pump, device: boiler}\n"),
    ),
    "rooms on the sun": ("EB-0164", store_house("water:\n  sources:\n    store: {of: solar}\n")),
    "rooms by gravity from a store": (
        "EB-0164",
        store_house("water:\n  circuits:\n    ground: {gravity: true}\n"),
    ),
    "a store whose zone names no channel": ("EB-0164", store_house("zones:\n  store: {channel: null}\n")),
    "combination on LPG": ("XX-1", short_house("combination").replace("fuel: gas", "fuel: lpg")),
}


@pytest.mark.parametrize("policy", POLICIES)
@pytest.mark.parametrize("house", HOUSES)
def test_every_instruction_of_an_odd_house_does_what_it_says(house: str, policy: str, tmp_path: Path) -> None:
    name, text = HOUSES[house]
    seen = examine(written(text, tmp_path, name), today=TODAY)
    assert overrides(seen.solution, seen.findings, Policy()).instructions
    total, wrong = walked_house(seen, POLICIES[policy])
    assert total.claims > 0
    assert not wrong, "\n".join(wrong)
