"""What the houses of the demo stock are meant to do, written by hand from what each house is for.

Never computed from a record: a record that says something else is then found out.
"""

from collections.abc import Mapping, Sequence

Formula = Sequence[Sequence[str]]
"""Lines joined by *or*, each of them names joined by *and*. ``not NAME`` is the opposite of a name."""

BOILER_CALLED: Mapping[str, Formula] = {
    "EB-0012": [
        ["programmer.channel-2", "heating-thermostat.calling"],
        ["programmer.channel-1", "cylinder-thermostat.calling"],
    ],
    "EB-0019": [
        ["down-thermostat.calling"],
        ["up-thermostat.calling"],
    ],
    "EB-0027": [
        ["programmer.channel-2", "kitchen-thermostat.calling"],
        ["time-switch.channel-1", "sitting-thermostat.calling"],
        ["time-switch.channel-2", "bedrooms-thermostat.calling"],
        ["programmer.channel-1", "cylinder-thermostat.calling", "not cylinder.cut-out"],
    ],
    "EB-0033": [
        ["time-switch.channel-1", "west-thermostat.calling"],
        ["time-switch.channel-2", "east-thermostat.calling"],
        ["time-switch.channel-3", "cylinder-thermostat.calling"],
        ["first-thermostat.calling"],
        ["attic-thermostat.calling"],
        ["annexe-thermostat.calling"],
    ],
    "EB-0041": [
        ["time-switch.channel-1", "ground-thermostat.calling"],
        ["time-switch.channel-2", "first-thermostat.calling"],
        ["time-switch.channel-3", "cylinder-thermostat.calling"],
    ],
    "EB-0052": [
        ["programmer.channel-2", "heating-thermostat.calling"],
        ["programmer.channel-1", "cylinder-thermostat.calling"],
    ],
    "EB-0058": [
        ["programmer.channel-2", "heating-thermostat.calling"],
        ["programmer.channel-1", "cylinder-thermostat.calling"],
    ],
    "EB-0066": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "ground-thermostat.calling"],
        ["programmer.channel-3", "upper-thermostat.calling"],
    ],
    # The two floors are crossed, but whichever valve opens calls the boiler.
    "EB-0071": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "ground-thermostat.calling"],
        ["programmer.channel-3", "first-thermostat.calling"],
    ],
    "EB-0079": [
        ["programmer.channel-1", "hot-water-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    "EB-0083": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    "EB-0090": [
        ["time-switch.channel-1", "hall-thermostat.calling"],
    ],
    "EB-0101": [
        ["time-switch.channel-1", "hot-water-thermostat.calling", "not cylinder.cut-out"],
        ["time-switch.channel-2", "living-thermostat.calling"],
        ["time-switch.channel-3", "bedrooms-thermostat.calling"],
    ],
    "EB-0108": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    "EB-0115": [
        ["living-thermostat.calling"],
        ["sleeping-thermostat.calling"],
        ["programmer.channel-1", "hot-water-thermostat.calling", "not cylinder.cut-out"],
    ],
    "EB-0120": [
        ["programmer.channel-1", "hot-water-thermostat.calling"],
        ["programmer.channel-2", "down-thermostat.calling"],
        ["programmer.channel-3", "up-thermostat.calling"],
    ],
    # The room thermostat is bridged: the programmer alone calls for heating.
    "EB-0127": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2"],
    ],
    # Mid-position: the cylinder thermostat calls, or the valve once it stands at heating.
    "EB-0130": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    # Grey is on the timed live: it gets line with hot water on, or with it off through the satisfied contact.
    "EB-0134": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling", "programmer.channel-1"],
        ["programmer.channel-2", "heating-thermostat.calling", "not cylinder-thermostat.calling"],
    ],
    # Either call is the boiler's line; which of the two is heated is another matter.
    "EB-0138": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    # Nothing but the clock, and heating brings hot water with it.
    "EB-0142": [
        ["programmer.channel-1"],
        ["programmer.channel-2"],
    ],
    "EB-0145": [
        ["programmer.channel-1", "hot-water-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    "EB-0149": [
        ["down-thermostat.calling"],
        ["up-thermostat.calling"],
    ],
    "EB-0153": [
        ["time-switch.channel-1", "hot-water-thermostat.calling", "not cylinder.cut-out"],
        ["living-thermostat.calling"],
        ["bedrooms-thermostat.calling"],
        ["bathroom-thermostat.calling"],
    ],
    "EB-0156": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "kitchen-thermostat.calling"],
        ["programmer.channel-3", "upper-thermostat.calling"],
    ],
    "EB-0160": [
        ["time-switch.channel-1", "hot-water-thermostat.calling"],
        ["time-switch.channel-2", "ground-thermostat.calling"],
        ["first-thermostat.calling"],
    ],
    # Heating draws from the store; only the store calls.
    "EB-0164": [
        ["programmer.channel-1", "store-thermostat.calling"],
    ],
    "EB-0167": [
        ["time-switch.channel-1", "dual-thermostat.calling", "not dual-thermostat.cut-out"],
        ["time-switch.channel-2", "heating-thermostat.calling"],
    ],
    # Frost calls past the clock, as long as the return is cold.
    "EB-0171": [
        ["programmer.channel-1", "hot-water-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
        ["frost-thermostat.calling", "not pipe-thermostat.hot"],
    ],
    # The stove calls nothing: its pump runs and the oil boiler stays silent.
    "EB-0175": [
        ["programmer.channel-1", "cylinder-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling"],
    ],
    "EB-0179": [
        ["programmer.channel-1", "hot-water-thermostat.calling"],
        ["programmer.channel-2", "heating-thermostat.calling", "heating-thermostat.paired"],
    ],
    "EB-0183": [
        ["down-thermostat.calling"],
        ["up-thermostat.calling"],
    ],
    # The receiver's relay holds only while the radio link works.
    "EB-0190": [
        ["time-switch.channel-1", "down-thermostat.calling"],
        ["time-switch.channel-2", "up-receiver.calling", "up-receiver.paired"],
    ],
    "FW-01": [
        ["programmer.channel-1", "cylinder-thermostat.calling", "not cylinder.cut-out"],
        ["programmer.channel-2", "room-thermostat.calling"],
    ],
    "FW-02": [
        ["programmer.channel-1", "cylinder-thermostat.calling", "not cylinder.cut-out"],
        ["programmer.channel-2", "room-thermostat.calling"],
    ],
    # Its room thermostat has a clock and takes its line past the programmer.
    "FW-03": [
        ["programmer.channel-1", "cylinder-thermostat.calling", "not cylinder.cut-out"],
        ["room-thermostat.calling"],
    ],
    "FW-04": [
        ["programmer.channel-1", "cylinder-thermostat.calling", "not cylinder.cut-out"],
        ["programmer.channel-2", "room-thermostat.calling"],
    ],
}
"""When the boiler is called, with every isolator on and no lever latched."""

BOILER_KEPT: Mapping[str, Formula] = {
    # Once the valve stands at heating its own orange holds it there, through the calling thermostat to grey.
    "EB-0134": [
        ["programmer.channel-2", "heating-thermostat.calling", "cylinder-thermostat.calling"],
    ],
}
"""When the boiler is called besides if it was called before, and is not from rest."""

BOILER: Mapping[str, str] = {"EB-0167": "heat-pump"}
"""The device that makes the heat, where it is not ``boiler``."""

ISOLATORS: Mapping[str, Sequence[str]] = {
    # The boiler is fed in the outhouse, the controls in the house.
    "EB-0108": ["spur.isolator", "boiler-spur.isolator"],
    "EB-0167": ["spur.isolator", "pump-circuit.isolator"],
    "EB-0183": ["spur.isolator", "boiler-circuit.isolator"],
}
"""What must be on besides, where it is not ``spur.isolator`` alone."""

LEVER_CALLS: Mapping[str, Sequence[str]] = {
    "EB-0019": ["down-valve", "up-valve"],
    "EB-0041": ["hot-water-valve"],
    "EB-0066": ["ground-valve"],
    "EB-0115": ["living-valve", "sleeping-valve"],
    "EB-0120": ["up-valve"],
    "EB-0149": ["up-valve"],
}
"""Valves whose latched lever calls the boiler by itself."""

LEVER_MAY_CALL: Mapping[str, Sequence[str]] = {
    "EB-0027": ["kitchen-valve", "sitting-valve", "bedrooms-valve"],
    "EB-0033": ["attic-valve"],
    "EB-0052": ["heating-valve", "hot-water-valve"],
    "EB-0058": ["hot-water-valve"],
    "EB-0071": ["ground-valve", "first-valve"],
    "EB-0079": ["heating-valve", "hot-water-valve"],
    "EB-0083": ["hot-water-valve"],
    "EB-0101": ["bedrooms-valve"],
    "EB-0190": ["up-valve"],
}
"""Valves whose lever nobody has tried: latched, it may call the boiler or not."""

FAULTY: Mapping[str, Sequence[str]] = {
    # Two supplies meet at the relay of the outhouse boiler.
    "EB-0108": ["live-with-isolator-open"],
    "EB-0071": [
        "blue-core-as-line",
        "class-one-without-earth",
        "crossed-zones",
        "fuse-larger-than-core",
        "fuse-not-3-amp",
        "green-yellow-not-earth",
        "isolator-not-double-pole",
        "point-without-protective-conductor",
        "radiator-valve-beside-thermostat",
        "spare-core-bare",
        "stored-water-too-cool",
    ],
    "EB-0127": [
        "boiler-on-without-call",
        "control-changes-nothing",
        "overrun-does-not-run-the-pump",
        "terminal-left-empty",
        "valve-opens-without-its-call",
    ],
    "EB-0134": [
        "call-does-not-reach-boiler",
        "valve-opens-without-its-call",
        "zone-does-not-open-its-valve",
    ],
    "EB-0142": ["stored-water-without-thermostat"],
    # Two supplies of two phases meet at the relay of the electric boiler.
    "EB-0183": ["live-with-isolator-open"],
}
"""Houses that are wrong on purpose, and every rule that finds something of a warning or worse in them."""

UNUSUAL: Mapping[str, Sequence[str]] = {
    "EB-0019": ["radiator-valve-beside-thermostat"],
    "EB-0033": ["blue-core-as-line"],
    "EB-0052": ["blue-core-as-line", "isolator-not-double-pole"],
    "EB-0079": ["assumed-over-a-year"],
    "EB-0083": ["blue-core-as-line"],
    # A cold cylinder keeps the heating away though hot water is off at the timer.
    "EB-0138": ["diverter-goes-by-thermostat-alone"],
    "EB-0149": ["extra-low-voltage-in-mains-box"],
}
"""Houses that work as they should and still give warnings, and the rules that give them."""
