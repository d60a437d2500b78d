"""Says in words when something in a device is so: when a contact is made, when a part moves.

Knows expressions and the parts they name; no particular kind.
"""

from generator.catalogue import logic
from generator.catalogue.logic import Back, Expr, Fed, Is, Joined, Leaf, Live, Not, Unsure
from generator.catalogue.parts import DeviceParts


class ConditionWords:
    """Says in words when something in a device is so."""

    def __init__(self, parts: DeviceParts) -> None:
        self._moved = {
            **{item.name: (item.words, item.on_words, item.off_words) for item in parts.inputs},
            **{item.name: (item.words, item.on_words, item.off_words) for item in parts.driven},
        }
        self._loads = {item.name: item for item in parts.loads}

    def of(self, expr: Expr, *, inside: bool = False) -> str:
        match expr:
            case Not(Is(name)):
                return self._state(name, on=False)
            case Not(inner):
                return f"not {self.of(inner, inside=True)}"
            case logic.All(()):
                return "always"
            case logic.Any(()):
                return "never"
            case logic.All(parts) if any(isinstance(part, Unsure) for part in parts):
                known = logic.All(tuple(part for part in parts if not isinstance(part, Unsure)))
                return f"perhaps while {self.of(known, inside=True)}"
            case logic.All(parts):
                return self._joined(parts, "and", inside=inside)
            case logic.Any(parts):
                return self._joined(parts, "or", inside=inside)
            case leaf:
                return self._leaf(leaf)

    def _leaf(self, leaf: Leaf) -> str:
        match leaf:
            case Is(name):
                return self._state(name, on=True)
            case Fed(load):
                return f"{_the(self._loads[load].words)} is fed"
            case Live(point):
                return f"`{point}` is live"
            case Back(point):
                return f"`{point}` is joined to neutral or earth"
            case Joined(first, second):
                return f"`{first}` is joined to `{second}`"
            case Unsure():
                return "perhaps"

    def _joined(self, parts: tuple[Expr, ...], word: str, *, inside: bool) -> str:
        if len(parts) == 1:
            return self.of(parts[0], inside=inside)
        text = f" {word} ".join(self.of(part, inside=True) for part in parts)
        return f"({text})" if inside else text

    def _state(self, name: str, *, on: bool) -> str:
        words, on_words, off_words = self._moved[name]
        return f"{_the(words)} is {on_words if on else off_words}"


def _the(words: str) -> str:
    """``the end switch``, but ``channel 1``."""
    return words if words[-1:].isdigit() else f"the {words}"
