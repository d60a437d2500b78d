"""Where cores land in the wiring centres of a small house, which of them are out of place, and where they belong: by hand."""

from dataclasses import replace

import pytest

from generator.rules.landings import Landing, Landings
from tests.unit.rules.two_boxes import two_boxes

RISER = ("down.A", "up.1", "BK", "riser")
CALLS = "flat calls"


def at(landings: Landings, here: str, far: str) -> Landing:
    (found,) = (each for each in landings.landings if (each.here, each.far) == (here, far))
    return found


def astray(landings: Landings) -> set[tuple[str, str]]:
    return {(each.here, each.far) for each in landings.landings if landings.is_astray(each)}


def test_a_landing_is_an_end_at_a_wiring_centre() -> None:
    """Each of the 15 cores of devices has one; each of the three of the riser has two."""
    landings = Landings(two_boxes(links=(("down.C", "down.B"),)))
    assert landings.centres == {"down", "up"}
    assert [(item.a, item.b) for item in landings.risers] == [
        ("down.L", "up.3"),
        ("down.N", "up.4"),
        ("down.A", "up.1"),
    ]
    assert len(landings.landings) == 15 + 2 * 3
    assert at(landings, "down.A", "valve.motor").end == "b"
    assert at(landings, "down.A", "up.1").end == "a"
    assert at(landings, "up.1", "down.A").end == "b"


def test_a_core_within_one_centre_is_no_riser() -> None:
    landings = Landings(two_boxes((RISER, ("down.A", "down.C", "BK", "riser"))))
    assert [item.core for item in landings.risers] == ["BN", "BU"]


def test_the_sort_of_a_terminal_is_that_of_most_cores_there() -> None:
    landings = Landings(two_boxes())
    assert landings.boxes == {
        "down.A": CALLS,
        "down.B": "boiler",
        "down.E": "earth",
        "down.L": "line",
        "down.N": "neutral",
        "up.1": CALLS,
        "up.3": "line",
        "up.4": "neutral",
    }
    wrong = Landings(two_boxes((("valve.E", "down.E", "GNYE"), ("valve.E", "down.N", "GNYE"))))
    assert wrong.boxes["down.N"] == "neutral"


def test_the_sort_of_a_riser_is_that_of_its_other_box() -> None:
    landings = Landings(two_boxes())
    assert landings.tag(at(landings, "up.1", "down.A")) == CALLS
    assert landings.tag(at(landings, "down.N", "up.4")) == "neutral"
    assert landings.tag(at(landings, "down.B", "boiler.call")) == "boiler"
    to_an_empty_one = Landings(two_boxes((RISER, ("down.A", "up.2", "BK", "riser"))))
    assert to_an_empty_one.tag(at(to_an_empty_one, "down.A", "up.2")) == ""


def test_nothing_is_out_of_place_in_a_sound_house() -> None:
    assert astray(Landings(two_boxes())) == set()


def test_a_core_among_others_of_another_sort() -> None:
    """The motor's core at the boiler's terminal: it is out of place, and so is what it leaves alone at the other end."""
    landings = Landings(two_boxes((("valve.motor", "down.A", "BN"), ("valve.motor", "down.B", "BN"))))
    moved = at(landings, "down.B", "valve.motor")
    assert ("down.B", "valve.motor") in astray(landings)
    assert not {("down.B", "boiler.call"), ("down.B", "valve.switch-b")} & astray(landings)
    assert landings.homes(moved)[0] == "down.A"


def test_a_riser_is_held_against_what_is_beside_it_in_the_same_box() -> None:
    """At an empty terminal upstairs it is alone there, whatever it is joined to downstairs."""
    landings = Landings(two_boxes((RISER, ("down.A", "up.2", "BK", "riser"))))
    assert ("up.2", "down.A") in astray(landings)
    assert ("up.1", "stat.call") in astray(landings)


def test_as_many_of_another_sort_are_not_more() -> None:
    """Two neutrals and two lines in one net, and no more of either elsewhere: nobody can say which are wrong."""
    wires = ("valve.N", "down.N", "BU"), ("valve.N", "down.C", "BU")
    others = ("boiler.N", "down.N", "BU"), ("boiler.N", "down.C", "BU")
    lines = ("valve.switch-a", "down.L", "GY"), ("valve.switch-a", "down.C", "GY")
    more = ("boiler.L", "down.L", "BN"), ("boiler.L", "down.C", "BN")
    landings = Landings(two_boxes(wires, others, lines, more))
    assert {each for each in astray(landings) if each[0] == "down.C"} == {
        # Three lines and a riser of the line, and three neutrals with theirs, are together elsewhere.
        ("down.C", "valve.N"),
        ("down.C", "boiler.N"),
        ("down.C", "valve.switch-a"),
        ("down.C", "boiler.L"),
    }


def test_where_a_core_belongs() -> None:
    """With others of its sort, or where nothing says what a net is for; not among those of another."""
    landings = Landings(
        two_boxes((RISER, ("down.C", "up.2", "BK", "riser")), (("stat.N", "up.4", "BU"), None))
    )
    group = landings.group
    motor = at(landings, "down.A", "valve.motor")
    assert landings.belongs(motor, group["up.1"])
    assert landings.belongs(motor, group["up.2"])
    assert not landings.belongs(motor, group["down.B"])
    assert not landings.belongs(motor, group["down.N"])
    unknown = at(landings, "down.C", "up.2")
    assert landings.belongs(unknown, group["down.B"])


def test_homes_are_those_of_its_own_box_first_and_then_where_most_are() -> None:
    landings = Landings(two_boxes())
    assert landings.homes_of("line", "up") == ["up.3", "down.L"]
    assert landings.homes_of("line", "down") == ["down.L", "up.3"]
    assert landings.homes_of("", "down") == []
    assert landings.homes_of("water off", "down") == []


def test_a_home_of_most_comes_before_one_of_fewer() -> None:
    """Two earths are in terminal `C`, apart from the two others."""
    landings = Landings(
        two_boxes(
            (("spur.E", "down.E", "GNYE"), ("spur.E", "down.C", "GNYE")),
            (("valve.E", "down.E", "GNYE"), None),
            (("valve.motor", "down.A", "BN"), ("valve.E", "down.C", "BN")),
        )
    )
    homes = landings.homes_of("earth", "down")
    assert homes[:2] == ["down.C", "down.E"]


def test_the_emptiest_terminal_of_a_net_is_taken() -> None:
    """Terminals `E` and `C` are linked; `C` has one core."""
    landings = Landings(
        two_boxes((("spur.E", "down.E", "GNYE"), ("spur.E", "down.C", "GNYE")), links=(("down.E", "down.C"),))
    )
    assert landings.homes_of("earth", "down") == ["down.C"]


def test_terminals_where_a_core_is_alone_come_last() -> None:
    landings = Landings(two_boxes((("boiler.call", "down.B", "BK"), ("boiler.call", "down.C", "BK"))))
    call = at(landings, "down.C", "boiler.call")
    assert landings.homes(call) == ["down.B"]
    assert landings.homes_of("earth", "down") == ["down.E", "down.B", "down.C"]


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        (("down.A", "valve.motor"), ("down.B", "boiler.call"), True),
        (("down.L", "boiler.L"), ("down.L", "spur.L"), False),
        (("down.B", "boiler.call"), ("up.3", "stat.common"), False),
        (("down.A", "valve.motor"), ("up.1", "stat.call"), False),
    ],
    ids=["two nets of one box", "one net", "two boxes", "one net over two boxes"],
)
def test_what_can_be_exchanged(one: tuple[str, str], other: tuple[str, str], wanted: bool) -> None:
    landings = Landings(two_boxes())
    assert landings.exchangeable(at(landings, *one), at(landings, *other)) is wanted


def test_what_a_riser_carries() -> None:
    landings = Landings(two_boxes((("down.N", "up.4", "BU", "riser"), None)))
    assert landings.has_riser("down.L", "up.3")
    assert landings.has_riser("down.A", "up.1")
    assert not landings.has_riser("down.N", "up.4")
    beside = Landings(two_boxes((("stat.N", "up.4", "BU"), ("stat.N", "up.5", "BU"))))
    assert not beside.has_riser("down.N", "up.5")


def test_links_that_come_first_hide_nothing() -> None:
    circuit = two_boxes(links=(("down.C", "down.B"),))
    turned = replace(circuit, conductors=circuit.conductors[::-1])
    assert turned.conductors[0].is_link
    assert len(Landings(turned).landings) == 15 + 2 * 3
