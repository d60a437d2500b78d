"""Heat that nobody asked for, in houses where what gives the heat has a switch of its own. Common practice, no source."""

from datetime import date
from pathlib import Path

import pytest

from generator.overrides.model import Instruction, Move
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import written

ELECTRIC = """\
format: 1
property:
  reference: HN-01
  address: {lines: [1 Any Row], town: Embermere}
  nation: england
  fuel: electricity
  dwelling: {storeys: 1, floor_area_m2: 52}
sure: {how: tested, on: 2026-03-30, by: electrician}
devices:
  spur: {kind: fused-spur, place: hall, reach: tenant}
  boiler-switch: {kind: own-circuit, place: hall, REACH, settings: {breaker_a: 32, feeds: electric boiler, phase: 3}}
  boiler: {kind: electric-boiler, place: hall, settings: {pump_output: true, demand: volt-free}}
  receiver: {kind: wireless-receiver, place: hall, reach: tenant, settings: {satisfied_terminal: false}}
  pump: {kind: pump, place: hall}
wiring:
  direct:
    - {ends: [spur.L, receiver.L], core: BN}
    - {ends: [spur.N, receiver.N], core: BU}
    - {ends: [boiler-switch.L, boiler.L], core: BN}
    - {ends: [boiler-switch.N, boiler.N], core: BU}
    - {ends: [boiler-switch.E, boiler.E], core: GNYE}
    - {ends: [receiver.common, boiler.call-a], core: BK, cable: call}
    - {ends: [receiver.call, boiler.call-b], core: WH, cable: call}
    - {ends: [boiler.pump, pump.L], core: BN, cable: pump}
    - {ends: [boiler.N, pump.N], core: BU, cable: pump}
    - {ends: [boiler.E, pump.E], core: GNYE, cable: pump}
zones:
  flat: {serves: heating, thermostat: receiver}
water:
  circuits: {flat: {feeds: radiators}}
  pump: on the flow
"""
"""An electric boiler on a circuit of its own, called by the contact of a receiver that the spur feeds."""


def _never_stops(text: str, folder: Path) -> Instruction:
    seen = examine(written(text, folder), today=date(2026, 11, 25))
    found = overrides(seen.solution, seen.findings, Policy())
    (instruction,) = (each for each in found.instructions if each.symptom.never_stops)
    return instruction


@pytest.mark.parametrize(
    ("reach", "switched"), [("reach: tenant", ["spur", "boiler-switch"]), ("name: X", ["spur"])]
)
def test_the_switch_of_what_gives_the_heat(reach: str, switched: list[str], tmp_path: Path) -> None:
    """The receiver's stuck contact, and the two cores of the call joined, keep the boiler on with the spur off.

    Its own switch ends that, where a tenant can reach it.
    """
    found = _never_stops(ELECTRIC.replace("REACH", reach), tmp_path)
    steps = [step for attempt in found.attempts for step in attempt.steps]
    assert [(step.move, step.device) for step in steps] == [(Move.SWITCH_OFF, name) for name in switched]
    left = set(found.proof.not_helped)
    assert bool(left) is (len(switched) == 1)
    if len(switched) == 2:
        assert len(found.attempts[1].helps) > 0
        assert not set(found.attempts[0].helps) & set(found.attempts[1].helps)
