"""The list of single faults: what is on it, under which names, and that one fault changes one thing."""

from datetime import date
from pathlib import Path

import pytest

from generator.faults.every_fault import every_fault
from generator.faults.fault import Fault, Of
from generator.pipeline import examine

DEMO = Path(__file__).parents[3] / "properties"
DAY = date(2026, 11, 25)


def faults_of(reference: str) -> dict[str, Fault]:
    solution = examine(DEMO / f"{reference}.yaml", today=DAY).solution
    assert solution is not None
    found = every_fault(solution)
    named = {fault.name: fault for fault in found}
    assert len(named) == len(found)
    return named


def test_every_way_to_fail_of_a_two_port_house_is_there() -> None:
    # The list is that of the trade: common practice, no source.
    kinds = {fault.kind for fault in faults_of("EB-0012").values()}
    assert kinds >= {
        "motor-open-circuit",
        "gears-worn",
        "spindle-seized",
        "stuck-driven",
        "stuck-without-switch",
        "contact-never-makes",
        "contact-stuck-made",
        "lever-left-latched",
        "seal-leaking",
        "paddle-lost",
        "stuck-on",
        "stuck-off",
        "set-low",
        "timer-dead",
        "clock-wrong",
        "programme-wrong",
        "locked-out",
        "demand-dead",
        "low-water-pressure",
        "condensate-frozen",
        "no-fuel",
        "pump-seized",
        "fuse-blown",
        "switched-off",
        "tripped",
        "airlock",
        "radiator-valve-stuck",
        "core-off",
        "core-to-earth",
        "core-to-core",
        "cores-exchanged",
        "polarity-reversed",
    }


@pytest.mark.parametrize(
    ("reference", "kind"),
    [
        ("EB-0033", "dead"),  # a relay's coil open
        ("EB-0164", "tripped"),  # cut-outs and safety switches
        ("EB-0153", "motor-open-circuit"),  # thermal actuators
        ("EB-0130", "contact-never-makes"),  # the switches of a mid-position valve
    ],
)
def test_other_arrangements_have_their_own(reference: str, kind: str) -> None:
    assert any(fault.kind == kind for fault in faults_of(reference).values())


def test_a_core_on_earth_blows_the_fuse_only_where_it_is_live_in_some_state() -> None:
    named = faults_of("EB-0012")
    live = next(f for n, f in named.items() if n.startswith("core-to-earth:") and "programmer.on-2" in n)
    assert live.changes
    assert all(change.of is Of.CONTACT for change in live.changes)
    assert {change.name.split(".")[0] for change in live.changes} == {"spur"}, (
        "the other spur's fuse stays whole"
    )
    neutral = next(f for n, f in named.items() if n.startswith("core-to-earth:") and "boiler.N" in n)
    assert neutral.changes == ()


def test_what_comes_only_of_work_is_marked() -> None:
    for fault in faults_of("EB-0012").values():
        assert fault.by_work == (fault.kind in ("cores-exchanged", "polarity-reversed"))


def test_a_seized_valve_stands_where_it_rests_and_a_stuck_one_where_it_is_driven() -> None:
    named = faults_of("EB-0130")
    name = "mid-position-valve"
    seized = {change.name: change.on for change in named[f"spindle-seized:{name}"].changes}
    assert seized[f"{name}.open-water"] is True
    assert seized[f"{name}.open-heating"] is False
    driven = {change.name: change.on for change in named[f"stuck-driven:{name}"].changes}
    assert driven[f"{name}.open-water"] is False
    assert driven[f"{name}.open-heating"] is True
