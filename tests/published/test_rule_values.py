"""Limits that rules hold records against, at the published value and just beside it."""

from pathlib import Path

import pytest

from generator.rules.dwellings import COMBINATION
from generator.rules.example_house import HOUSE, IMMERSION, UNVENTED, change, moved
from tests.rules.examples import rules_of


def named(text: str, rule: str, folder: Path) -> bool:
    return rule in rules_of(text, folder)


@pytest.mark.parametrize(
    ("area", "status", "wanted"),
    [
        ("150", "new", True),
        ("149.9", "new", False),
        ("150", "existing", False),
    ],
)
def test_large_new_dwelling(area: str, status: str, wanted: bool, tmp_path: Path) -> None:
    """Approved Document L, volume 1 (2021), 5.14: new dwellings of 150 m2 or greater, two heating circuits."""
    text = change(HOUSE, ("floor_area_m2: 82 }", f"floor_area_m2: {area}, status: {status} }}"))
    assert named(text, "one-circuit-in-large-new-dwelling", tmp_path) is wanted


@pytest.mark.parametrize(
    ("size_mm2", "fuse_a", "wanted"),
    [
        (0.5, 3, False),
        (0.5, 5, True),
        (0.75, 5, False),
        (0.75, 7, True),
        (1.0, 10, False),
        (1.0, 13, True),
        (1.25, 13, False),
    ],
)
def test_cords_and_fuses(size_mm2: float, fuse_a: int, wanted: bool, tmp_path: Path) -> None:
    """BS 7671, Table 4F3A: 0.5 mm2 3 A, 0.75 mm2 6 A, 1.0 mm2 10 A, 1.25 mm2 13 A."""
    text = change(
        HOUSE,
        ("spur: { kind: fused-spur }", f"spur: {{ kind: fused-spur, settings: {{ fuse_a: {fuse_a} }} }}"),
        ("GY, OG], size_mm2: 0.75, length_m: 1.5 }", f"GY, OG], size_mm2: {size_mm2}, length_m: 1.5 }}"),
        (
            "water-thermostat: { cores: [BK, BN], size_mm2: 0.75,",
            "water-thermostat: { cores: [BK, BN], size_mm2: 2.5,",
        ),
    )
    assert named(text, "fuse-larger-than-core", tmp_path) is wanted


@pytest.mark.parametrize(
    ("set_c", "cool", "hot"),
    [(59.5, True, False), (60, False, False), (65, False, False), (65.5, False, True)],
)
def test_stored_water(set_c: float, cool: bool, hot: bool, tmp_path: Path) -> None:
    """HSG274 Part 2: stored at 60 C or more. Above 65 C: common practice, no source."""
    text = change(
        HOUSE,
        ("{ kind: cylinder-thermostat }", f"{{ kind: cylinder-thermostat, settings: {{ set_c: {set_c} }} }}"),
    )
    assert named(text, "stored-water-too-cool", tmp_path) is cool
    assert named(text, "stored-water-too-hot", tmp_path) is hot


@pytest.mark.parametrize(("length_m", "wanted"), [(27.5, False), (27.6, True)])
def test_volt_drop(length_m: float, wanted: bool, tmp_path: Path) -> None:
    """BS 7671, Table 4F3B: 1.5 mm2 32 mV/A/m; Appendix 4, Table 4Ab: 5 % of 230 V, 11.5 V.

    3000 W at 230 V is 13.04 A, so that 11.5 V are lost in 27.55 m.
    """
    text = change(
        IMMERSION, ("\nwiring:\n", f"  immersion: {{ size_mm2: 1.5, length_m: {length_m} }}\n\nwiring:\n")
    )
    assert named(text, "volt-drop-over-limit", tmp_path) is wanted


def test_cut_out_acts_through_the_valve(tmp_path: Path) -> None:
    """Approved Document G, 3.30: the cut-out may be wired to a motorised valve on the primary flow."""
    assert rules_of(UNVENTED, tmp_path) == set()


def test_cut_out_that_only_stops_the_boiler(tmp_path: Path) -> None:
    """Approved Document G, 3.28: what counts is that the energy is disconnected; here the boiler is."""
    text = change(
        UNVENTED,
        (
            "        - { to: cylinder.cut-out-in, core: BN }\n",
            "        - { to: water-valve.motor, core: BN }\n",
        ),
        (
            "        - { to: water-valve.motor, core: BN }\n",
            "        - { to: cylinder.cut-out-in, core: BN }\n",
        ),
    )
    text = moved(
        text, "- { to: water-valve.switch-b, core: OG }", after="- { to: cylinder.cut-out-in, core: BN }"
    )
    text = change(
        text,
        (
            "      B2: # hot water calls, through the cut-out\n        - { to: cylinder.cut-out-out, core: BK }\n",
            "      B2: # orange of the hot water valve\n",
        ),
        (
            "      E: # boiler called\n",
            "      E: # boiler called\n        - { to: cylinder.cut-out-out, core: BK }\n",
        ),
    )
    assert "unvented-cut-out-does-nothing" in rules_of(text, tmp_path), (
        "heating's call fires the boiler, and the valve is open"
    )


def test_interlock(tmp_path: Path) -> None:
    """Approved Document L, volume 1 (2021), 5.15: with no demand the boiler and the pump are off."""
    boiler = moved(HOUSE, "- { to: boiler.call, core: BK }", after="- { to: spur.L, core: BN }")
    pump = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: spur.L, core: BN }")
    assert named(boiler, "boiler-on-without-call", tmp_path)
    assert named(pump, "pump-on-without-call", tmp_path)


@pytest.mark.parametrize(
    ("fitted", "measure", "status", "wanted"),
    [
        ("2018-04-06", "none", "existing", True),
        ("2018-04-05", "none", "existing", False),
        ("2024-05-13", "none", "new", False),
        ("2024-05-13", "weather compensation", "existing", False),
        ("2024-05-13", "not known", "existing", False),
    ],
)
def test_combination_boiler_measures(
    fitted: str, measure: str, status: str, wanted: bool, tmp_path: Path
) -> None:
    """Approved Document L, volume 1 (2021), 6.2: one of four measures, in existing dwellings; from 6 April 2018."""
    text = change(
        COMBINATION,
        ("fitted: 2024-05-13", f"fitted: {fitted}"),
        ("combination_measure: load compensation", f"combination_measure: {measure}"),
        ("floor_area_m2: 82 }", f"floor_area_m2: 82, status: {status} }}"),
    )
    assert named(text, "combination-boiler-without-measure", tmp_path) is wanted
