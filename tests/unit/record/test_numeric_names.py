"""Names that are numbers, as firms give them: read as they were written, with their zeros, and looked up like any other."""

from pathlib import Path

from generator.pipeline import Examination, examine, today

HEAD = """\
format: 1
house_type: 1950
property:
  reference: 0012
  address: {lines: [1 Any Row], town: Embermere}
  nation: england
  fuel: gas
  dwelling: {storeys: 2, floor_area_m2: 74}
sure: {how: tested, on: 2026-03-17, by: heating engineer}
"""
TYPE = """\
format: 1
house_type: 1950
about: A row.
devices:
  1: {kind: fused-spur, place: kitchen, reach: tenant}
  2: {kind: wiring-centre, place: kitchen, settings: {count: 12}}
  3: {kind: time-switch, place: kitchen, settings: {channels: 1}}
  4: {kind: room-thermostat, place: hall}
  5: {kind: two-port-valve, place: loft}
  6: {kind: boiler, place: kitchen}
  7: {kind: pump, place: kitchen}
wiring:
  centres:
    2:
      1: [{to: 1.L, core: BN}, {to: 3.L, core: BN}, {to: 6.L, core: BN}, {to: 5.switch-a, core: GY}]
      2: [{to: 1.N, core: BU}, {to: 3.N, core: BU}, {to: 6.N, core: BU}, {to: 5.N, core: BU}, {to: 7.N, core: BU}]
      3: [{to: 1.E, core: GNYE}, {to: 6.E, core: GNYE}, {to: 5.E, core: GNYE}, {to: 7.E, core: GNYE}]
      4: [{to: 3.on-1, core: BK}, {to: 4.common, core: BN}]
      5: [{to: 4.call, core: BK}, {to: 5.motor, core: BN}]
      6: [{to: 5.switch-b, core: OG}, {to: 6.call, core: BK, cable: 66}, {to: 7.L, core: BN}]
  links: [{ends: [2.10, 2.11]}, {ends: [2.11, 2.12]}]
zones:
  8: {serves: heating, channel: 3.1, thermostat: 4, valve: 5}
water: {circuits: {8: {valve: 5, feeds: radiators}}, pump: on the flow, bypass: fixed}
"""
STATED = """\
wiring:
  removed: [{link: [2.11, 2.10]}]
  centres:
    2:
      6: [{to: 6.call, core: BK, cable: 66, sleeve: BN}]
"""


def _examined(folder: Path, record: str, name: str = "0012", house_type: str = TYPE) -> Examination:
    types = folder / "house-types"
    types.mkdir()
    (types / "1950.yaml").write_text(house_type, encoding="utf-8")
    file = folder / f"{name}.yaml"
    file.write_text(record, encoding="utf-8")
    return examine(file, today=today())


def test_a_house_of_numbers(tmp_path: Path) -> None:
    """The house type is laid under it, a core is moved by its cable's number, a link is taken away whatever its order."""
    examination = _examined(tmp_path, HEAD + STATED)
    assert examination.findings == ()
    record = examination.record
    assert record is not None
    # A build goes by this when a house type changes.
    assert examination.loaded.document is not None
    assert examination.loaded.document.data["house_type"] == "1950"
    assert [link.ends for link in record.wiring.links] == [["2.11", "2.12"]]
    assert [item.sleeve for item in record.wiring.centres["2"]["6"] if item.cable == "66"] == ["BN"]


def test_another_name_than_the_file_has(tmp_path: Path) -> None:
    told = _examined(tmp_path, HEAD, "12", TYPE.replace("house_type: 1950", "house_type: 01950")).findings
    assert [(item.rule, item.span.line) for item in told] == [
        ("not-the-file-name", 4),
        ("not-the-file-name", 2),
    ]


def test_a_number_that_is_no_kind(tmp_path: Path) -> None:
    told = _examined(tmp_path, HEAD, house_type=TYPE.replace("kind: pump", "kind: 2020")).findings
    assert [item.message for item in told] == ["no kind of device is called `2020`"]
