"""What is written out reads back the same, and gives the same circuit."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.circuit.build import BuiltCircuit, build_circuit
from generator.record.load import LoadedRecord, load_text
from generator.record.source_text import HIDDEN
from generator.record.written_out import write_yaml, written_out
from generator.record.yaml12 import load

_HEAD = """\
format: 1
property:
  reference: 0012
  address: {lines: [1 Test Row], town: Testham}
  nation: england
  fuel: gas
  dwelling: {storeys: 2, floor_area_m2: 80.50, year: null}
sure: {how: tested, on: 2026-03-14, by: heating engineer}
"""

_SHORT = """\
arrangement:
  name: two-port
  zones:
    hall: {serves: heating, where: ground floor}
    hot-water: {serves: hot water}
  cylinder: unvented
  cut_out: wired
"""

_DIFFERS = """\
devices:
  hall-valve:
    place: "airing cupboard, left: of it"
    special: |
      Its lever is bent.
        Use pliers # and say so.

      Not the other one.
  bypass: null
wiring:
  centres:
    centre:
      A:
        - {to: hall-thermostat.common, core: rd, sleeve: BN, sure: {how: assumed, on: 2026-03-14, by: surveyor}}
      B: [{to: pump.N, core: BU}]
  spare: [{cable: hall-thermostat, core: BN, how: cut off}]
  removed: [{cable: pump, core: GNYE}]
water: {bypass: none}
"""

_TYPE = """\
format: 1
house_type: terrace
about: Built of a piece.
arrangement:
  name: two-port
  zones: {hall: {serves: heating}, first: {serves: heating}}
  boiler: overrun
wiring:
  links: [{ends: [spur.L, spur.N]}]
"""

RECORDS = {
    "short way": _HEAD + _SHORT,
    "short way and what differs": _HEAD + _SHORT + _DIFFERS,
    "house type": _HEAD + "house_type: terrace\n",
    "house type and what differs": _HEAD
    + "house_type: terrace\nwiring:\n  removed: [{link: [spur.L, spur.N]}, {cable: pump, core: GNYE}]\n",
    "nothing but the head": _HEAD,
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "house-types").mkdir()
    (tmp_path / "house-types" / "terrace.yaml").write_text(_TYPE, encoding="utf-8")
    return tmp_path


def _circuit(loaded: LoadedRecord) -> BuiltCircuit:
    assert loaded.record is not None
    return build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places)


@pytest.mark.parametrize("text", RECORDS.values(), ids=RECORDS.keys())
def test_written_out_record_gives_the_same_circuit(text: str, folder: Path) -> None:
    before = load_text(text.encode(), "before.yaml", folder=folder)
    assert before.findings == ()
    written = written_out(before)
    after = load_text(written.encode(), "after.yaml")
    assert after.findings == ()
    assert _circuit(after).circuit == _circuit(before).circuit
    assert after.record is not None
    assert before.record is not None
    left_out = {"arrangement", "house_type", "wiring"}
    assert after.record.model_dump(exclude=left_out) == before.record.model_dump(exclude=left_out)


@pytest.mark.parametrize("text", RECORDS.values(), ids=RECORDS.keys())
def test_writing_twice_changes_nothing(text: str, folder: Path) -> None:
    once = written_out(load_text(text.encode(), "before.yaml", folder=folder))
    assert written_out(load_text(once.encode(), "once.yaml")) == once


def test_nothing_is_inherited_any_more(folder: Path) -> None:
    text = RECORDS["short way and what differs"]
    lines = written_out(load_text(text.encode(), "x.yaml", folder=folder)).splitlines()
    assert lines[:2] == ["format: 1", "property:"]
    assert not any(line.startswith(("arrangement", "house_type", "  removed")) for line in lines)
    assert "        - {to: hall-thermostat.call, core: BK}" in lines
    assert "  reference: 0012" in lines


@pytest.mark.parametrize("line", ["notes: |-\n  a\n  b\n", "notes: |-\n  a\n\n   b\n"])
def test_text_of_several_lines_stays_a_block(line: str) -> None:
    assert write_yaml({"notes": load(line.encode(), "x")[0].data["notes"]}) == line  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "written", ["no", "1", "~", "null", "0012", "1e5", "12:30", "-", "a: b", "", " a", "#"]
)
def test_text_that_looks_like_something_else_stays_text(written: str) -> None:
    document, findings = load(write_yaml({"key": written, "list": [written]}).encode(), "x")
    assert findings == []
    assert document is not None
    assert document.data == {"key": written, "list": [written]}


def test_dates_stay_plain() -> None:
    assert write_yaml({"on": "2026-03-14"}) == "on: 2026-03-14\n"


def test_unreadable_file_is_refused() -> None:
    with pytest.raises(ValueError, match="could not be read"):
        written_out(load_text(b"- a list\n", "x.yaml"))


_TEXT = st.text(max_size=30).filter(lambda text: not HIDDEN.search(text) and not set("\t\r") & set(text))
_SCALARS = st.one_of(
    _TEXT,
    st.booleans(),
    st.integers(min_value=-(10**18), max_value=10**18),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from(
        ["no", "~", "010", "0x1F", "2026-03-14", "| a", "> b", "- c", "a\nb", "a\n b\n", "a\n\n", "é: ŵ"]
    ),
)
_DATA = st.dictionaries(
    _TEXT.filter(bool),
    st.recursive(
        _SCALARS,
        lambda inner: st.one_of(
            st.lists(inner, max_size=4), st.dictionaries(_TEXT.filter(bool), inner, max_size=4)
        ),
        max_leaves=12,
    ),
    min_size=1,
    max_size=5,
)


@given(_DATA)
def test_any_data_reads_back_the_same(data: dict[str, Any]) -> None:
    document, findings = load(write_yaml(data).encode(), "x")
    assert findings == []
    assert document is not None
    assert document.data == data
