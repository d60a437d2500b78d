"""Relays that chatter: which of several is to blame, on small circuits judged by hand."""

from generator.catalogue.logic import Is, Joined, Not
from generator.catalogue.parts import Contact, DeviceParts, Driven, Role, Terminal
from tests.circuits import Wire, house
from tests.unit.rules.looking import seen, subjects

CHATTER: tuple[Wire, ...] = (
    ("spur.L", "up-stat.common", "BN"),
    ("up-stat.call", "relay.11", "BK"),
    ("relay.12", "relay.A1", "RD"),
    ("spur.N", "relay.A2", "BU"),
)


def test_a_relay_fed_through_its_own_contact() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "up-stat": "room-thermostat", "relay": "relay"}, conductors=CHATTER
    )
    (only,) = seen("hunting", circuit)
    assert only.subject == "relay"
    assert only.holds == "whenever the up stat is calling for heat"
    assert only.message.endswith(
        "is fed through a contact that it breaks itself: `spur.L` > `up-stat.common` > `up-stat.call` > `relay.11` > "
        "`relay.12` > `relay.A1`"
    )
    assert only.example.startswith("with only the up stat calling for heat: it moves, loses what moved it")


def test_the_part_that_is_to_blame_is_not_the_first() -> None:
    """A valve and a sound relay come before it."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "valve": "two-port-valve",
            "first-relay": "relay",
            "up-stat": "room-thermostat",
            "relay": "relay",
        },
        conductors=[
            *CHATTER,
            ("up-stat.call", "valve.motor", "BN", "valve"),
            ("spur.N", "valve.N", "BU", "valve"),
            ("up-stat.call", "first-relay.A1", "BN", "first-relay"),
            ("spur.N", "first-relay.A2", "BU", "first-relay"),
        ],
    )
    assert subjects("hunting", circuit) == ["relay"]


def test_of_two_that_hunt_each_by_itself_none_is_named() -> None:
    """With one of them held the other goes on."""
    circuit = house(
        devices={"spur": "fused-spur", "up-stat": "room-thermostat", "relay": "relay", "other": "relay"},
        conductors=[
            *CHATTER,
            ("up-stat.call", "other.11", "BK", "other"),
            ("other.12", "other.A1", "RD"),
            ("spur.N", "other.A2", "BU", "other"),
        ],
    )
    (only,) = seen("hunting", circuit)
    assert (only.subject, only.path, only.key) == ("", ("wiring",), True)
    assert (
        only.message
        == "the controls never come to rest: a part that moves undoes what moved it, over and over"
    )


def test_a_relay_that_feeds_the_one_that_hunts_is_not_to_blame() -> None:
    """Held at rest it takes the supply from the other, and held moved it does not stop it."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "up-stat": "room-thermostat",
            "first-relay": "relay",
            "relay": "relay",
        },
        conductors=[
            ("spur.L", "up-stat.common", "BN"),
            ("up-stat.call", "first-relay.A1", "BK"),
            ("spur.N", "first-relay.A2", "BU"),
            ("spur.L", "first-relay.11", "BN2"),
            ("first-relay.14", "relay.11", "BK"),
            ("relay.12", "relay.A1", "RD"),
            ("spur.N", "relay.A2", "BU2"),
        ],
    )
    assert subjects("hunting", circuit) == ["relay"]


def test_a_part_that_no_load_moves_is_told_at_its_device() -> None:
    """It pulls in while its two terminals are joined, and its own contact joins them at rest: there is no path of supply."""
    parts = DeviceParts(
        terminals=(
            Terminal(name="a", words="one", role=Role.EXTRA_LOW),
            Terminal(name="b", words="other", role=Role.EXTRA_LOW),
        ),
        contacts=(Contact(name="rest", words="contact", a="a", b="b", when=Not(Is("pulled-in"))),),
        driven=(
            Driven(
                name="pulled-in",
                words="part",
                on_words="pulled in",
                off_words="at rest",
                when=Joined("a", "b"),
                on_s=0.1,
                off_s=0.1,
            ),
        ),
    )
    circuit = house(devices={"spur": "fused-spur", "odd": parts})
    (only,) = seen("hunting", circuit)
    assert (only.subject, only.path, only.key) == ("odd", circuit.device("odd").path, True)
    assert only.message == (
        "the controls never come to rest: the odd is fed through a contact that it breaks itself"
    )
    assert only.related == ()
