"""A key that is a value by its identity, for values that would cost more to compare than what is kept saves.

Knows nothing of what it holds.
"""

from typing import Generic, TypeVar

V = TypeVar("V")


class ByIdentity(Generic[V]):
    """Equal to another key of the very same value, and to nothing else; keeps the value alive."""

    __slots__ = ("value",)

    def __init__(self, value: V) -> None:
        self.value = value

    def __hash__(self) -> int:
        return id(self.value)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ByIdentity) and other.value is self.value
