"""A solar controller that holds off the boiler's hot water call while the sun heats. Common practice, no source."""

from pathlib import Path

import pytest

from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, TODAY, change
from generator.views.proofs import proofs
from tests.rules.examples import rules_of

DEVICE = (
    "  bypass: { kind: automatic-bypass }\n",
    "  bypass: { kind: automatic-bypass }\n  solar: { kind: solar-station, settings: { holds_boiler: true } }\n",
)
FED = (
    (
        "        - { to: spur.E, core: GNYE }\n",
        "        - { to: spur.E, core: GNYE }\n        - { to: solar.E, core: GNYE }\n",
    ),
    (
        "        - { to: spur.N, core: BU }\n",
        "        - { to: spur.N, core: BU }\n        - { to: solar.N, core: BU }\n",
    ),
    (
        "        - { to: spur.L, core: BN }\n",
        "        - { to: spur.L, core: BN }\n        - { to: solar.L, core: BN }\n",
    ),
)
WATER = (
    "    heating: { valve: heating-valve, feeds: radiators }\n",
    (
        "    heating: { valve: heating-valve, feeds: radiators }\n    sun: { source: sun, feeds: cylinder coil }\n"
        "  sources: { sun: { of: solar, device: solar } }\n"
    ),
)
WATER_CALL = "        - { to: water-thermostat.call, core: BK }\n"
ROOM_CALL = "        - { to: room-thermostat.call, core: BK }\n"


def through_the_hold(call: str) -> str:
    """The house with the hold in a thermostat's call: the terminal's conductor goes to the controller, and comes back."""
    end = call.removeprefix("        - { to: ").partition(",")[0]
    direct = f"  direct:\n    - {{ ends: [{end}, solar.hold-a], core: BK, cable: {end.partition('.')[0]} }}\n\nzones:\n"
    return change(
        HOUSE,
        DEVICE,
        *FED,
        WATER,
        (call, "        - { to: solar.hold-b, core: BK }\n"),
        ("\nzones:\n", direct),
    )


def test_held_off_is_by_design(tmp_path: Path) -> None:
    assert rules_of(through_the_hold(WATER_CALL), tmp_path) == set()


def test_held_off_behind_the_valve(tmp_path: Path) -> None:
    """The end switch goes to the boiler through the hold: the valve opens, and the boiler keeps silent."""
    text = change(
        HOUSE,
        DEVICE,
        *FED,
        WATER,
        ("        - { to: water-valve.switch-b, core: OG }\n", "        - { to: solar.hold-b, core: BK }\n"),
        (
            "\nzones:\n",
            "  direct:\n    - { ends: [water-valve.switch-b, solar.hold-a], core: OG }\n\nzones:\n",
        ),
    )
    assert "call-does-not-reach-boiler" not in rules_of(text, tmp_path)


def test_the_hold_in_the_call_of_the_rooms(tmp_path: Path) -> None:
    assert rules_of(through_the_hold(ROOM_CALL), tmp_path) == {"zone-does-not-open-its-valve"}


def test_a_fault_that_the_sun_does_not_explain(tmp_path: Path) -> None:
    text = change(
        through_the_hold(WATER_CALL),
        ("        - { to: water-valve.motor, core: BN }\n", ""),
        ("cables:\n", "cables:\n  spare-lead: { cores: [BK] }\n"),
    )
    assert "zone-does-not-open-its-valve" in rules_of(text, tmp_path)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (through_the_hold(WATER_CALL), ", unless a solar controller holds it off."),
        (HOUSE, "."),
    ],
    ids=["held", "no sun"],
)
def test_the_exception_is_told_with_the_proof(text: str, words: str) -> None:
    found = proofs(examine_text(text, today=TODAY))
    assert found is not None
    by_claim = {claim.claim: claim.proved for claim in found.claims}
    assert by_claim[f"Whenever hot water calls, the water valve opens{words}"]
    assert by_claim[f"Whenever hot water calls, a boiler is called{words}"]
    assert by_claim["Whenever heating calls, a boiler is called."]
