"""Relays that chatter: which of several is to blame, on small circuits judged by hand."""

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
