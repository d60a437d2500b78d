"""How sure we are of a conductor: its own word, else its cable's, else the record's, never more by its device."""

import pytest

from generator.circuit.build import build_circuit
from generator.record.load import load_text

RECORD = """
format: 1
property:
  reference: T-1
  address: {lines: [1 Test Row], town: Testham}
  nation: england
  fuel: gas
  dwelling: {storeys: 2, floor_area_m2: 80}
sure: {how: RECORD, on: 2026-03-14, by: heating engineer}
devices:
  spur: {kind: fused-spur}
  pump: {kind: pump, sure: {how: DEVICE, on: 2026-03-15, by: gas engineer}}
CABLES
wiring:
  direct:
    - {ends: [pump.L, spur.L], core: BN}
"""
CABLE = "cables: {pump: {sure: {how: CABLE, on: 2026-03-16, by: electrician}}}"


@pytest.mark.parametrize(
    ("record", "device", "cable", "conductor"),
    [
        ("assumed", "seen", "", "assumed"),  # the case was looked at, its wiring was not
        ("assumed", "tested", "", "assumed"),
        ("seen", "tested", "", "seen"),
        ("tested", "seen", "", "seen"),
        ("tested", "assumed", "", "assumed"),
        ("tested", "tested", "", "tested"),
        ("assumed", "assumed", "tested", "tested"),
        ("tested", "tested", "assumed", "assumed"),
    ],
)
def test_conductor_is_as_sure_as(record: str, device: str, cable: str, conductor: str) -> None:
    cables = CABLE.replace("CABLE", cable) if cable else ""
    text = RECORD.replace("RECORD", record).replace("DEVICE", device).replace("CABLES", cables)
    loaded = load_text(text.encode(), "T-1.yaml")
    assert loaded.record is not None
    assert not loaded.findings
    circuit = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places).circuit
    assert [str(item.certainty.how) for item in circuit.conductors] == [conductor]
