"""What the short way gives reads back the same when written out, and what does not fit is said in words."""

from itertools import product

import pytest

from generator.circuit.build import BuiltCircuit, build_circuit
from generator.record.load import LoadedRecord, load_text
from generator.record.short_draft import letters
from generator.record.written_out import written_out
from tests.short_houses import ARRANGEMENTS, HEAD, arrangement_text, short_house

H, W = "{serves: heating}", "{serves: hot water}"


def _loaded(text: str) -> LoadedRecord:
    loaded = load_text(text.encode(), "XX-1.yaml")
    assert loaded.findings == ()
    return loaded


def _built(loaded: LoadedRecord) -> BuiltCircuit:
    assert loaded.record is not None
    built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places)
    assert built.findings == ()
    return built


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_written_out_it_is_the_same_house(name: str) -> None:
    before = _loaded(short_house(name))
    after = _loaded(written_out(before))
    assert _built(after).circuit == _built(before).circuit
    assert after.record is not None
    assert before.record is not None
    left_out = {"arrangement", "wiring"}
    assert after.record.model_dump(exclude=left_out) == before.record.model_dump(exclude=left_out)


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_terminals_are_lettered_and_the_supply_is_last(name: str) -> None:
    record = _loaded(short_house(name)).record
    assert record is not None
    centre = record.wiring.centres["centre"]
    assert list(centre) == [label for label, _ in zip(letters(), centre, strict=False)]
    supply = [next(landed.to for landed in terminal) for terminal in list(centre.values())[-3:]]
    assert supply == ["spur.E", "spur.N", "spur.L"]


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_every_device_of_a_zone_is_marked_where_the_zone_is_written(name: str) -> None:
    loaded = _loaded(short_house(name))
    assert loaded.record is not None
    line = short_house(name).splitlines().index("arrangement:") + 1
    for device in loaded.record.devices:
        span = loaded.places.key(("devices", device))
        if any(device.startswith(f"{zone}-") for zone in loaded.record.zones):
            assert (span.line, span.column > 1) == (line + 2, True), device


def test_any_conductor_and_device_can_be_overridden() -> None:
    text = short_house("mid-position") + (
        "devices:\n  bypass: null\n  mid-position-valve: {place: left}\n"
        "wiring:\n  centres:\n    centre:\n      E: [{to: mid-position-valve.water-off, core: GY}]\n"
        "water: {bypass: none}\n"
    )
    record = _loaded(text).record
    assert record is not None
    assert "bypass" not in record.devices
    landed = {
        label: [item.to for item in terminal if item.to == "mid-position-valve.water-off"]
        for label, terminal in record.wiring.centres["centre"].items()
    }
    assert [label for label, found in landed.items() if found] == ["E"]


MISFITS = {
    "option of another arrangement": (
        ("name: mid-position", f"zones: {{h: {H}, w: {W}}}", "fed_core: OG"),
        "`fed_core` is no option of `mid-position`: leave it out",
    ),
    "two heating zones on one valve": (
        ("name: diverter", f"zones: {{h: {H}, g: {H}, w: {W}}}"),
        "`diverter` takes 1 zone with `serves: heating`, and there are 2",
    ),
    "hot water of a combination boiler": (
        ("name: combination", f"zones: {{h: {H}, w: {W}}}"),
        "`combination` takes 0 zones with `serves: hot water`, and there are 1: a combination boiler heats it itself",
    ),
    "overrun by gravity": (
        ("name: gravity-hot-water", f"zones: {{h: {H}, w: {W}}}", "boiler: overrun"),
        "`boiler: overrun` does not fit `gravity-hot-water`: write `switched live only` or `permanent and switched live`",
    ),
    "unvented by gravity": (
        ("name: gravity-hot-water-with-valve", f"zones: {{h: {H}, w: {W}}}", "cylinder: unvented"),
        "an unvented cylinder does not fit `gravity-hot-water-with-valve`: nothing there shuts off its heat by itself",
    ),
    "unvented, and nothing said of its cut-out": (
        ("name: two-port", f"zones: {{h: {H}, w: {W}}}", "cylinder: unvented"),
        (
            "`cylinder: unvented` needs `cut_out`: write `wired` where somebody has seen its energy cut-out in the line of the "
            "cylinder's valve, and else `none`"
        ),
    ),
    "cut-out of a vented cylinder": (
        ("name: two-port", f"zones: {{h: {H}, w: {W}}}", "cylinder: vented", "cut_out: wired"),
        "`cut_out` is that of an unvented cylinder, and there is none",
    ),
    "cut-out of a combination boiler": (
        ("name: combination", f"zones: {{h: {H}}}", "cut_out: wired"),
        "`cut_out` is no option of `combination`: leave it out",
    ),
    "thermostat by gravity": (
        ("name: gravity-hot-water", f"zones: {{h: {H}, w: {W[:-1]}, thermostat: cylinder-thermostat}}}}"),
        "zone `w`: nothing shuts the cylinder in `gravity-hot-water`, so it has no thermostat",
    ),
    "no change-over thermostat": (
        ("name: mid-position", f"zones: {{h: {H}, w: {W[:-1]}, thermostat: room-thermostat}}}}"),
        "zone `w`: `mid-position` needs a change-over thermostat on the cylinder: leave `thermostat` out",
    ),
    "room with a cylinder thermostat": (
        ("name: two-port", f"zones: {{h: {H[:-1]}, thermostat: cylinder-thermostat}}}}"),
        "zone `h`: a cylinder thermostat does not feel a room",
    ),
    "floor in a two-port system": (
        ("name: two-port", f"zones: {{h: {H[:-1]}, emitter: underfloor}}}}"),
        "zone `h`: `emitter` is for a heating zone of an arrangement with underfloor heating",
    ),
    "radiators in underfloor": (
        ("name: underfloor", f"zones: {{h: {H[:-1]}, emitter: radiators}}}}"),
        "zone `h`: radiators besides the floor are `underfloor-and-radiators`",
    ),
    "loops of radiators": (
        ("name: two-port", f"zones: {{h: {H[:-1]}, loops: 2}}}}"),
        "zone `h`: `loops` is for underfloor heating",
    ),
    "no floor in a mixed house": (
        ("name: underfloor-and-radiators", f"zones: {{h: {H}, g: {H}}}"),
        "`underfloor-and-radiators` needs a zone with `emitter: underfloor` and a heating zone without",
    ),
    "volt-free without a permanent live": (
        ("name: underfloor", f"zones: {{h: {H}}}", "call: volt-free", "boiler: switched live only"),
        "`call: volt-free` needs a boiler with a permanent live: nothing else feeds it",
    ),
    "cylinder without hot water": (
        ("name: two-port", f"zones: {{h: {H}}}", "cylinder: vented"),
        "`cylinder` is for a hot water zone, and there is none",
    ),
}


@pytest.mark.parametrize("name", MISFITS)
def test_what_does_not_fit_is_said(name: str) -> None:
    lines, message = MISFITS[name]
    findings = load_text((HEAD + arrangement_text(lines)).encode(), "XX-1.yaml").findings
    assert [finding.message.partition("`: ")[2] for finding in findings] == [message]


def test_all_that_does_not_fit_is_said_at_its_place() -> None:
    lines = (
        "name: diverter",
        "cylinder: unvented",
        "call: volt-free",
        f"zones: {{h: {H[:-1]}, loops: 3, thermostat: cylinder-thermostat}}, g: {H[:-1]}, emitter: underfloor}}}}",
    )
    text = HEAD + arrangement_text(lines)
    findings = load_text(text.encode(), "XX-1.yaml").findings
    written = [text.splitlines()[item.span.line - 1][item.span.column - 1 :] for item in findings]
    assert [rest.split(",")[0].split("}")[0] for rest in written] == [
        "unvented",
        "unvented",
        "volt-free",
        "{h: {serves: heating",
        "{h: {serves: heating",
        "3",
        "cylinder-thermostat",
        "underfloor",
    ]
    said = [item.message.partition("`: ")[2] for item in findings]
    assert "`diverter` takes 1 zone with `serves: heating`, and there are 2" in said
    assert "`diverter` takes 1 zone with `serves: hot water`, and there are 0" in said
    assert "`call` is no option of `diverter`: leave it out" in said


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_a_switched_live_calls_every_boiler_that_is_called_no_other_way(name: str) -> None:
    """What is so if it is left out may be written."""
    lines = ARRANGEMENTS[name]
    if not any(line.startswith("call: ") for line in lines):
        assert _loaded(HEAD + arrangement_text((*lines, "call: switched live"))).record is not None


def test_a_cut_out_that_nobody_has_seen_is_not_written() -> None:
    """Nothing is made up that keeps water from boiling: without it the rule on unvented cylinders speaks."""
    lines = ("name: two-port", f"zones: {{h: {H}, w: {W}}}", "cylinder: unvented", "cut_out: none")
    loaded = load_text((HEAD + arrangement_text(lines)).encode(), "XX-1.yaml")
    assert loaded.findings == ()
    assert loaded.record is not None
    assert loaded.record.devices["cylinder"].settings == {"system": "unvented", "cut_out": "none"}
    landed = [one.to for each in loaded.record.wiring.centres["centre"].values() for one in each]
    assert [end for end in landed if end.startswith("cylinder.")] == []


def test_every_combination_of_options_is_expanded_or_refused() -> None:
    """Nothing but a finding comes of options that do not fit, and a house of those that do."""
    names = {lines[0] for lines in ARRANGEMENTS.values()}
    zones = ["zones: {h: {serves: heating}, w: {serves: hot water}}", "zones: {h: {serves: heating}}"]
    boilers = ["boiler: switched live only", "boiler: overrun", "timer: time-switch"]
    cylinders = [
        "cylinder: vented",
        "cylinder: unvented",
        "cylinder: unvented\n  cut_out: wired",
        "fed_core: OG",
    ]
    calls = ["call: volt-free", "call: switched live", "bypass: false"]
    for lines in product(sorted(names), zones, boilers, cylinders, calls):
        loaded = load_text((HEAD + arrangement_text(lines)).encode(), "XX-1.yaml")
        if not loaded.findings:
            assert loaded.record is not None
            _built(loaded)
        else:
            assert {finding.rule for finding in loaded.findings} == {"wrong-value"}
