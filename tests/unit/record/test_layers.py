"""A record over its house type: what is kept, replaced, added to and taken away, and where each value came from."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from generator.findings.finding import Finding, Severity
from generator.record.layers import merge
from generator.record.places import Document, Path
from generator.record.yaml12 import load

HOUSE_TYPE = """\
devices:
  spur: {kind: fused-spur}
  hall-valve:
    kind: two-port-valve
    place: loft
  pump: {kind: pump}
wiring:
  centres:
    centre:
      A: [{to: pump.L, core: BN}]
      B: [{to: pump.N, core: BU}]
  links:
    - {ends: [centre.A, centre.B]}
visits: [first, second]
"""


def _read(source: str, file: str = "over.yaml") -> Document:
    document, _ = load(source.encode(), file)
    assert document is not None
    return document


def _merged(over: str, base: str = HOUSE_TYPE) -> tuple[Document, list[Finding]]:
    return merge(_read(base, "base.yaml"), _read(over))


def _place(document: Document, *path: str | int) -> str:
    return str(document.places.value(path))


def test_mappings_merge_key_by_key_in_the_order_of_the_base() -> None:
    document, findings = _merged(
        "zones: {}\ndevices:\n  boiler: {kind: boiler}\n  hall-valve: {place: cupboard}\n"
    )
    assert findings == []
    assert list(document.data) == ["devices", "wiring", "visits", "zones"]
    assert list(document.data["devices"]) == ["spur", "hall-valve", "pump", "boiler"]
    assert document.data["devices"]["hall-valve"] == {"kind": "two-port-valve", "place": "cupboard"}


def test_every_span_keeps_its_file() -> None:
    document, _ = _merged("devices:\n  hall-valve: {place: cupboard}\n")
    assert _place(document, "devices", "hall-valve", "kind") == "base.yaml:4:11"
    assert _place(document, "devices", "hall-valve", "place") == "over.yaml:2:23"
    assert str(document.places.key(("devices", "hall-valve", "place"))) == "over.yaml:2:16"
    assert str(document.places.key(("devices", "hall-valve"))) == "over.yaml:2:3"
    assert str(document.places.key(("devices", "pump"))) == "base.yaml:6:3"
    # A key that is missing in a mapping of both layers is looked for in the record.
    assert str(document.places.key(("devices", "hall-valve", "reach"))) == "over.yaml:2:3"


def test_an_empty_value_takes_away_what_is_inherited() -> None:
    document, findings = _merged("devices:\n  pump:\nwiring: {links: null}\n")
    assert findings == []
    assert list(document.data["devices"]) == ["spur", "hall-valve"]
    assert list(document.data["wiring"]) == ["centres"]
    assert not document.places.is_written(("devices", "pump"))
    assert not document.places.is_written(("devices", "pump", "kind"))


def test_nothing_to_remove_is_told_where_it_is_written() -> None:
    document, (finding,) = _merged("devices:\n  pmup:\n")
    assert "pmup" not in document.data["devices"]
    assert (finding.rule, finding.severity) == ("nothing-to-remove", Severity.WARNING)
    assert str(finding.span) == "over.yaml:2:3"
    assert "`pmup`" in finding.message
    assert "in `devices`" in finding.message


def test_empty_values_in_a_part_that_is_all_new_stay() -> None:
    document, findings = _merged("devices:\n  boiler: {kind: boiler, fitted: null}\n")
    assert findings == []
    assert document.data["devices"]["boiler"] == {"kind": "boiler", "fitted": None}


def test_lists_are_replaced() -> None:
    document, _ = _merged("visits: [third]\n")
    assert document.data["visits"] == ["third"]
    assert _place(document, "visits", 0) == "over.yaml:1:10"
    assert not document.places.is_written(("visits", 1))


def test_lists_of_the_wiring_are_added_to() -> None:
    over = "wiring:\n  centres:\n    centre:\n      A: [{to: boiler.L, core: BN}]\n      C: []\n  links: [{ends: [a.b, c.d]}]\n"
    document, findings = _merged(over)
    assert findings == []
    wiring = document.data["wiring"]
    assert [landing["to"] for landing in wiring["centres"]["centre"]["A"]] == ["pump.L", "boiler.L"]
    assert list(wiring["centres"]["centre"]) == ["A", "B", "C"]
    assert len(wiring["links"]) == 2
    at: Path = ("wiring", "centres", "centre", "A")
    assert _place(document, *at, 0, "to") == "base.yaml:10:16"
    assert _place(document, *at, 1, "to") == "over.yaml:4:16"
    assert _place(document, *at, 1) == "over.yaml:4:11"
    assert _place(document, "wiring", "links", 1, "ends", 0) == "over.yaml:6:19"


def test_items_added_keep_the_number_they_have_in_their_file() -> None:
    document, _ = _merged("wiring: {links: [1, 2]}\n")
    again, _ = merge(_read("wiring: {links: [x, y, z]}\n", "first.yaml"), document)
    for merged, first in ((document, 1), (again, 4)):
        written = merged.places.as_written
        assert written(("wiring", "links", 0)) == ("wiring", "links", 0)
        assert written(("wiring", "links", first)) == ("wiring", "links", 0)
        assert written(("wiring", "links", first + 1, "ends")) == ("wiring", "links", 1, "ends")
    assert again.places.as_written(("wiring", "links", 3)) == ("wiring", "links", 0)


def test_only_the_lists_named_are_added_to() -> None:
    base = "wiring: {direct: [1], spare: [1], removed: [1], other: [1], centres: {c: [1], d: {A: {x: [1]}}}}\nlinks: [1]\n"
    document, _ = _merged(base.replace("1", "2"), base)
    assert document.data == {
        "wiring": {
            "direct": [1, 2],
            "spare": [1, 2],
            "removed": [1, 2],
            "other": [2],
            "centres": {"c": [2], "d": {"A": {"x": [2]}}},
        },
        "links": [2],
    }


def test_another_sort_of_value_replaces() -> None:
    document, _ = _merged("devices: none\nwiring: {links: {a: 1}}\nvisits: {a: 1}\n")
    assert document.data["devices"] == "none"
    assert document.data["wiring"]["links"] == {"a": 1}
    assert document.data["visits"] == {"a": 1}
    assert not document.places.is_written(("devices", "pump"))


def test_what_was_refused_on_reading_takes_nothing_away() -> None:
    document, findings = _merged("devices: {pump: *x, other: *y}\n")
    assert findings == []
    assert document.data["devices"]["pump"] is None
    assert document.places.is_unread(("devices", "pump"))
    assert document.places.is_unread(("devices", "other"))


def test_three_layers() -> None:
    first, _ = _merged("devices: {pump: {place: loft}}\n")
    document, _ = merge(first, _read("devices: {pump: {place: hall}}\n", "top.yaml"))
    assert document.data["devices"]["pump"] == {"kind": "pump", "place": "hall"}
    assert _place(document, "devices", "pump", "place") == "top.yaml:1:25"
    assert _place(document, "devices", "pump", "kind") == "base.yaml:6:16"


# ---------------------------------------------------------------------- laws

_KEYS = st.sampled_from(["wiring", "links", "centres", "a", "b"])
_LEAVES = st.integers(0, 3) | st.none() | st.lists(st.integers(0, 3), max_size=2)
_DATA = st.dictionaries(
    _KEYS,
    st.recursive(_LEAVES, lambda inner: st.dictionaries(_KEYS, inner, max_size=3), max_leaves=8),
    max_size=4,
)


def _document(data: Any, file: str) -> Document:
    return _read(repr(data).replace("None", "null"), file)


def _paths(value: Any, path: Path = ()) -> set[Path]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return {path}.union(*(_paths(item, (*path, step)) for step, item in inner))


@given(_DATA, _DATA)
def test_places_are_those_of_the_data(base: dict[str, Any], over: dict[str, Any]) -> None:
    document, _ = merge(_document(base, "base.yaml"), _document(over, "over.yaml"))
    assert set(document.places.paths()) == _paths(document.data)


@given(_DATA)
def test_nothing_over_a_document_leaves_it_as_it_is(data: dict[str, Any]) -> None:
    base = _document(data, "base.yaml")
    document, findings = merge(base, _document({}, "over.yaml"))
    assert findings == []
    assert document.data == base.data
    for path in base.places.paths():
        if path:
            assert document.places.value(path) == base.places.value(path)


@given(_DATA, _DATA)
def test_merging_changes_neither_layer(base: dict[str, Any], over: dict[str, Any]) -> None:
    below, above = _document(base, "base.yaml"), _document(over, "over.yaml")
    merged, _ = merge(below, above)
    if isinstance(merged.data.get("a"), dict):
        merged.data["a"]["new"] = 1
    assert below.data == _document(base, "base.yaml").data
    assert above.data == _document(over, "over.yaml").data
