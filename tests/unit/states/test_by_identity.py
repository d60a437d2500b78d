"""Keys by identity: the very value, and not one that is equal to it."""

from generator.states.by_identity import ByIdentity


def test_only_the_very_same_value_is_the_same_key() -> None:
    value, equal = ["a"], ["a"]
    assert value == equal
    assert ByIdentity(value) == ByIdentity(value)
    assert ByIdentity(value) != ByIdentity(equal)
    assert ByIdentity(value) != value
    assert hash(ByIdentity(value)) == hash(ByIdentity(value))
    kept = {ByIdentity(value): "kept"}
    assert kept[ByIdentity(value)] == "kept"
    assert ByIdentity(equal) not in kept
