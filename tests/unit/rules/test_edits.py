"""What could be done with one conductor to put a mistake right: every proposal for a small house, in its order, by hand."""

from generator.circuit.model import Circuit
from generator.pipeline import examine_text
from generator.rules.edits import Edit, edits, every_edit
from generator.rules.example_house import RELAY, TODAY, without
from tests.circuits import Wire, house
from tests.unit.rules.two_boxes import two_boxes

MOTOR: Wire = ("valve.motor", "down.A", "BN")
CALL: Wire = ("boiler.call", "down.B", "BK")
BLUE_RISER: Wire = ("down.N", "up.4", "BU", "riser")
BROWN = "the brown core (BN) of cable `valve`"


def words(*changes: tuple[Wire, Wire | None], links: tuple[tuple[str, str], ...] = ()) -> list[str]:
    return [edit.words for edit in edits(two_boxes(*changes, links=links))]


def ends_in(circuit: Circuit) -> set[tuple[str, str, str]]:
    """Each conductor by its ends and its core."""
    return {(min(item.a, item.b), max(item.a, item.b), item.core) for item in circuit.conductors}


def ends(edit: Edit) -> set[tuple[str, str, str]]:
    return ends_in(edit.circuit)


def sound_ends() -> set[tuple[str, str, str]]:
    return ends_in(two_boxes())


def test_nothing_is_proposed_in_a_sound_house() -> None:
    assert words() == []


def test_a_core_in_the_wrong_terminal() -> None:
    """At `B` the motor's core is among the boiler's, and the riser at `A` is left alone: either of them could move."""
    found = list(edits(two_boxes((MOTOR, ("valve.motor", "down.B", "BN")))))
    assert [edit.words for edit in found] == [
        "move the black core (BK) of cable `riser` from terminal `A` of the down to `B`",
        f"move {BROWN} from terminal `B` of the down to `A`",
        f"exchange the black core (BK) of cable `riser` and {BROWN} in the terminals `A` and `B`",
    ]
    back = found[1]
    assert ends(back) == sound_ends()
    assert back.elsewhere == f"move {BROWN} from terminal `B` of the down to another terminal of the down"
    assert [item.cable for item in back.conductors] == ["valve"]
    assert back.refs == ("valve.motor",)
    assert not any(edit.returns for edit in found)


def test_two_cores_exchanged() -> None:
    found = list(
        edits(
            two_boxes((MOTOR, ("valve.motor", "down.B", "BN")), (CALL, ("boiler.call", "down.A", "BK"))),
        )
    )
    wanted = f"exchange {BROWN} and the black core (BK) of cable `boiler` in the terminals `B` and `A`"
    (edit,) = [each for each in found if each.words == wanted]
    assert ends(edit) == sound_ends()
    assert edit.refs == ("valve.motor", "boiler.call")
    assert [item.cable for item in edit.conductors] == ["valve", "boiler"]


def test_a_core_that_is_missing() -> None:
    """Another of the valve's cores may be in the place of the motor's; or there is none, and it belongs with the calls."""
    found = list(edits(two_boxes((MOTOR, None))))
    land = "land a core from terminal `motor` of the valve, where none is, in terminal"
    assert [edit.words for edit in found] == [
        "move the blue core (BU) of cable `valve` from terminal `N` of the valve to `motor`",
        "move the green-and-yellow core (GNYE) of cable `valve` from terminal `E` of the valve to `motor`",
        "move the grey core (GY) of cable `valve` from terminal `switch-a` of the valve to `motor`",
        "move the orange core (OG) of cable `valve` from terminal `switch-b` of the valve to `motor`",
        f"{land} `A` of the down",
        f"{land} `1` of the up",
    ]
    assert ends(found[4]) == sound_ends()
    assert found[4].conductors == ()
    assert found[4].refs == ("valve.motor",)
    assert all(edit.elsewhere == "" for edit in found[4:])


def test_the_core_that_lies_loose_is_landed() -> None:
    """The cable has a white core in place of a brown one, and it lands nowhere."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "box": ("wiring-centre", {"terminals": ["A", "L"]}),
            "stat": "room-thermostat",
            "valve": "two-port-valve",
        },
        conductors=[
            ("spur.L", "box.L", "BN"),
            ("stat.common", "box.L", "BN"),
            ("stat.call", "box.A", "BK"),
            ("valve.switch-a", "box.L", "GY"),
        ],
        zones={"flat": {"serves": "heating", "thermostat": "stat", "valve": "valve"}},
        cables={"valve": {"cores": ["GY", "WH", "OG"]}},
        spare=[{"cable": "valve", "core": "OG", "how": "in a connector"}],
    )
    (edit,) = [
        each for each in edits(circuit) if each.words.startswith("land a core from terminal `motor` of")
    ]
    added = edit.circuit.conductors[-1]
    assert (added.a, added.b, added.core, added.cable, added.sleeve) == (
        "valve.motor",
        "box.A",
        "WH",
        "valve",
        "",
    )


def test_a_core_between_the_boxes_that_is_missing() -> None:
    """It is sleeved as a neutral where the riser's blue one is not there."""
    (edit,) = edits(two_boxes((BLUE_RISER, None)))
    assert (
        edit.words == "land a core of cable `riser` from terminal `N` of the down in terminal `4` of the up"
    )
    added = edit.circuit.conductors[-1]
    assert (added.a, added.b, added.core, added.sleeve) == ("down.N", "up.4", "GY", "BU")
    assert len({item.index for item in edit.circuit.conductors}) == len(edit.circuit.conductors)
    assert (edit.conductors, edit.refs) == ((), ("down.N", "up.4"))


def test_a_line_between_the_boxes_is_sleeved_as_one() -> None:
    found = list(edits(two_boxes((("down.L", "up.3", "BN", "riser"), None))))
    (edit,) = [each for each in found if each.words.startswith("land a core of cable `riser`")]
    assert (
        edit.words == "land a core of cable `riser` from terminal `L` of the down in terminal `3` of the up"
    )
    assert (edit.circuit.conductors[-1].core, edit.circuit.conductors[-1].sleeve) == ("GY", "BN")


def test_a_link_that_could_be_taken_out() -> None:
    found = list(edits(two_boxes(links=(("down.C", "down.A"),))))
    assert [edit.words for edit in found] == ["take out the link from `down.C` to `down.A`"]
    assert ends(found[0]) == sound_ends()
    assert [item.is_link for item in found[0].conductors] == [True]


def test_a_core_that_left_the_way_of_its_cable_comes_back_to_any_net_of_the_box() -> None:
    """First to the terminal where its sort is: the call comes by the riser to `A`."""
    found = list(edits(two_boxes((MOTOR, ("valve.motor", "up.1", "BN")))))
    assert [edit.words for edit in found] == [
        f"move {BROWN} from terminal `1` of the up to terminal `{name}` of the down" for name in "ABCELN"
    ]
    assert all(edit.returns for edit in found)
    assert ends(found[0]) == sound_ends()


def test_a_core_that_ends_at_a_wrong_device_comes_back_to_what_is_empty_there_or_loops_on() -> None:
    found = [
        each for each in edits(two_boxes((MOTOR, ("stat.call", "down.A", "BN", "valve")))) if each.returns
    ]
    assert found[0].words == f"move {BROWN} from terminal `call` of the stat to terminal `motor` of the valve"
    assert {edit.refs for edit in found} == {("down.A",)}
    landed = [
        next(item for item in edit.circuit.conductors if item.core == "BN" and item.cable == "valve")
        for edit in found
    ]
    assert {item.a for item in landed} == {"valve.motor", "valve.N", "valve.E", "valve.switch-a"}


def test_two_cores_that_went_for_each_other_s_device() -> None:
    """The core of each cable is at the device of the other."""
    found = list(
        edits(
            two_boxes(
                (MOTOR, ("boiler.call", "down.A", "BN", "valve")),
                (CALL, ("valve.motor", "down.B", "BK", "boiler")),
            )
        )
    )
    assert found[0].words == (
        f"exchange {BROWN} and the black core (BK) of cable `boiler` in terminal `call` of the boiler and "
        "terminal `motor` of the valve"
    )
    assert found[0].returns
    assert ends(found[0]) == sound_ends()


def test_a_core_of_a_device_without_a_box_moves_along_its_terminals() -> None:
    """A pump wired at the boiler: its neutral belongs where the neutral is looped on."""
    circuit = house(
        devices={"spur": "fused-spur", "boiler": ("boiler", {"pump_output": True}), "pump": "pump"},
        conductors=[
            ("spur.L", "boiler.L", "BN"),
            ("spur.N", "boiler.N", "BU"),
            ("spur.E", "boiler.E", "GNYE"),
            ("pump.L", "boiler.pump", "BN"),
            ("pump.N", "boiler.L", "BU"),
            ("pump.E", "boiler.E", "GNYE"),
        ],
    )
    found = [edit.words for edit in edits(circuit)]
    assert "move the blue core (BU) of cable `pump` from terminal `L` of the boiler to `N`" in found
    assert "move the brown core (BN) of cable `pump` from terminal `pump` of the boiler to `call`" in found
    assert not any("to `pump`" in each for each in found)
    empty_first = [each.endswith("to `call`") for each in found]
    assert empty_first == sorted(empty_first, reverse=True)
    # Of the cores that could go there first those that share a terminal with another: the boiler's line and its earth.
    shared = [f"terminal `{name}` of the boiler" for name in ("L", "E")]
    from_shared = [
        any(name in each for name in shared) for each in found if each.endswith("of the boiler to `call`")
    ]
    assert from_shared[:4] == [True] * 4
    assert not any(from_shared[4:])


def test_a_neutral_looped_on_that_comes_from_nowhere() -> None:
    """The boiler's neutral serves the pump, and nothing brings it to the boiler."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "box": ("wiring-centre", {"terminals": ["L", "N"]}),
            "boiler": ("boiler", {"pump_output": True}),
            "pump": "pump",
            "clock": ("time-switch", {"channels": 1}),
        },
        conductors=[
            ("spur.L", "box.L", "BN"),
            ("spur.N", "box.N", "BU"),
            ("clock.N", "box.N", "BU"),
            ("boiler.L", "box.L", "BN"),
            ("pump.N", "boiler.N", "BU"),
            ("pump.L", "boiler.pump", "BN"),
        ],
    )
    found = [edit.words for edit in edits(circuit)]
    assert "land another core from terminal `N` of the boiler in terminal `N` of the box" in found
    assert "land another core from terminal `N` of the pump in terminal `N` of the box" in found
    assert not any("another core" in each and "clock" in each for each in found)


def test_every_exchange_between_nets_of_one_box() -> None:
    """Downstairs 2 cores at `A`, 4 at `L`, 2 at `B`: 20 pairs; upstairs 2 at `1`, 2 at `3`: 4. Those of the valve first.

    Nothing is moved: each net has its sort, and no core is of two.
    """
    found = [edit.words for edit in every_edit(two_boxes(), frozenset({"valve"}))]
    assert len(found) == len(set(found)) == 20 + 4
    assert all(each.startswith("exchange ") for each in found)
    with_valve = ["cable `valve`" in each for each in found]
    assert with_valve == sorted(with_valve, reverse=True)
    assert not any("blue" in each or "green" in each for each in found)


def test_every_move_of_a_core_of_no_known_sort() -> None:
    """A fourth riser from `C` to `2`, which lead nowhere: it may go to each net but neutral and earth, and each core there."""
    wire = ("spur.E", "down.E", "GNYE")
    circuit = two_boxes((wire, ("down.C", "up.2", "GY", "riser")))
    moves = [edit.words for edit in every_edit(circuit, frozenset()) if edit.words.startswith("move ")]
    grey = [each for each in moves if "the grey core (GY) of cable `riser`" in each]
    assert sorted(grey) == sorted(
        [
            *(
                f"move the grey core (GY) of cable `riser` from terminal `C` of the down to `{name}`"
                for name in "ABL"
            ),
            *(
                f"move the grey core (GY) of cable `riser` from terminal `2` of the up to `{name}`"
                for name in "13"
            ),
        ]
    )
    assert sum(each.endswith("to `C`") for each in moves) == 8
    assert sum(each.endswith("to `2`") for each in moves) == 4
    assert len(moves) == 5 + 8 + 4


def test_a_terminal_of_no_known_sort_is_tried_on_every_net() -> None:
    """A relay's coil that nothing feeds, and two contacts that nobody uses: each to the seven nets but neutral and earth."""
    circuit = examine_text(without(RELAY, "- { to: relay.A1, core: RD }"), today=TODAY).circuit
    assert circuit is not None
    found = [edit.words for edit in every_edit(circuit, frozenset({"relay"}))]
    landed = {each for each in found if each.startswith("land ")}
    assert landed == {
        f"land a core from terminal `{terminal}, where none is, in terminal `{there}` of the centre"
        for terminal in ("A1` of the relay", "12` of the relay", "satisfied` of the water thermostat")
        for there in ("A", "B", "C", "D", "E", "E2", "H")
    }
    assert all(each.startswith("land ") for each in found[: len(landed)])


def test_cores_out_of_place_that_do_not_belong_with_each_other_are_not_exchanged() -> None:
    """The motor's core is among the boiler's, and an earth among the lines: neither would be at home where the other is."""
    earth: Wire = ("boiler.E", "down.E", "GNYE")
    found = words((MOTOR, ("valve.motor", "down.B", "BN")), (earth, ("boiler.E", "down.L", "GNYE")))
    assert f"move {BROWN} from terminal `B` of the down to `A`" in found
    green = "the green-and-yellow core (GNYE) of cable `boiler`"
    assert f"move {green} from terminal `L` of the down to `E`" in found
    assert not any(BROWN in each and green in each for each in found)
