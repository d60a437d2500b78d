"""The water side as a record states it: what opens each circuit, and names that do not exist."""

from generator.pipeline import examine_text
from generator.record.water_model import Water
from generator.rules.example_house import HOUSE, TODAY, change
from tests.circuits import house


def test_what_opens_a_circuit() -> None:
    """A valve before a pump, a three-port valve by what the circuit feeds."""
    circuit = house(
        devices={
            "two": "two-port-valve",
            "three": "three-port-mid-position-valve",
            "own": "pump",
        },
        zones={"floor": {"serves": "heating", "pump": "own"}},
        water={
            "circuits": {
                "a": {"valve": "two", "pump": "own", "feeds": "radiators"},
                "b": {"valve": "three", "feeds": "radiators"},
                "c": {"valve": "three", "feeds": "cylinder coil"},
                "d": {"pump": "own", "feeds": "underfloor", "blending": True},
                "e": {"feeds": "towel rail"},
            }
        },
    )
    assert [item.opens for item in circuit.water.circuits] == [
        "two.open",
        "three.open-heating",
        "three.open-water",
        "own.running",
        "",
    ]
    assert circuit.zones[0].opens == "own.running"


def test_a_record_from_before_reads_as_it_did() -> None:
    water = Water.model_validate({"circuits": {"a": {"feeds": "radiators"}}, "pump": "on the flow"})
    assert water.header == "none"
    assert water.sources == {}
    assert not water.circuits["a"].gravity
    assert water.circuits["a"].check_valve is None


def test_a_source_that_does_not_exist_is_told_where_it_stands() -> None:
    text = change(HOUSE, ("feeds: cylinder coil }", "feeds: cylinder coil, source: stov }"))
    found = [f for f in examine_text(text, today=TODAY).findings if f.rule == "unknown-heat-source"]
    assert len(found) == 1
    assert "`stov`" in found[0].message
    line = text.splitlines()[found[0].span.line - 1]
    assert "source: stov" in line
