"""Letter codes for the colours of cores, and how a written code is read.

The codes, their order and the rules for two colours are those of IEC 60757:2021, "Code for designation of colours".
Must not know what any colour is used for, nor how it is drawn.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

COLOUR_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "BK": "black",
        "BN": "brown",
        "RD": "red",
        "OG": "orange",
        "YE": "yellow",
        "GN": "green",
        "BU": "blue",
        "VT": "violet",
        "GY": "grey",
        "WH": "white",
        "PK": "pink",
        "GD": "gold",
        "TQ": "turquoise",
        "SR": "silver",
        "GNYE": "green-and-yellow",
    }
)
"""Word for each code, in the order of the standard's table."""

EARTH = "GNYE"
_SINGLE = tuple(code for code in COLOUR_WORDS if code != EARTH)
_ONLY_TOGETHER = frozenset({"YE", "GN"})
_MIXING = tuple(code for code in _SINGLE if code not in _ONLY_TOGETHER)

# What people write where a code belongs (common practice, no source).
_SLIPS: Mapping[str, str] = {
    **{word.upper(): code for code, word in COLOUR_WORDS.items()},
    "BR": "BN",
    "BRN": "BN",
    "BRW": "BN",
    "BL": "BU for blue or BK for black",
    "BLU": "BU",
    "BLK": "BK",
    "B": "BU for blue, BK for black or BN for brown",
    "RE": "RD",
    "R": "RD",
    "OR": "OG",
    "ORG": "OG",
    "Y": "YE",
    "YL": "YE",
    "GR": "GN for green, GY for grey, or GNYE for green-and-yellow",
    "GRY": "GY",
    "GRN": "GN",
    "G": "GN for green, GY for grey, or GNYE for green-and-yellow",
    "GRAY": "GY",
    "SLATE": "GY",
    "PURPLE": "VT",
    "VI": "VT",
    "W": "WH",
    "WT": "WH",
    "YEGN": "GNYE",
    "GN/YE": "GNYE",
    "G/Y": "GNYE",
    "GREEN/YELLOW": "GNYE",
    "GREEN-YELLOW": "GNYE",
    "YELLOW/GREEN": "GNYE",
    "EARTH": "GNYE",
}


class UnfitCore(ValueError):
    """What is written is no code of a core."""

    def __init__(self, message: str, fix: str = "") -> None:
        super().__init__(message, fix)
        self.message = message
        self.fix = fix


@dataclass(frozen=True, slots=True)
class CoreCode:
    """A code taken apart.

    Attributes:
        colours: One or two codes of the table, in its order. Green-and-yellow counts as one.
        number: 1 to 9 where the core carries a number that tells it from others of its colour, else None.
    """

    colours: tuple[str, ...]
    number: int | None = None

    def __str__(self) -> str:
        return "".join(self.colours) + ("" if self.number is None else str(self.number))

    @property
    def words(self) -> str:
        """``brown``, ``brown and white``, ``black 2``."""
        words = " and ".join(COLOUR_WORDS[code] for code in self.colours)
        return words if self.number is None else f"{words} {self.number}"


def read_core(text: str) -> CoreCode:
    """Take a code apart.

    Args:
        text: As written, lower case allowed.

    Raises:
        UnfitCore: When it is no code; with what was probably meant, where that can be told.
    """
    written = text.upper()
    letters, number = written, None
    if written and written[-1] in "123456789":
        letters, number = written[:-1], int(written[-1])
    suffix = "" if number is None else str(number)
    if letters in COLOUR_WORDS:
        return CoreCode((letters,), number)
    if letters in _SLIPS:
        meant = _SLIPS[letters]
        raise UnfitCore(f"`{text}` is no colour code", f"write {meant}{suffix if ' ' not in meant else ''}")
    parts = tuple(letters[start : start + 2] for start in range(0, len(letters), 2))
    if len(parts) < 2 or any(part not in COLOUR_WORDS for part in parts):
        raise UnfitCore(f"`{text}` is no colour code", _list_codes())
    return CoreCode(_two_colours(text, parts, suffix), number)


def _two_colours(text: str, parts: tuple[str, ...], suffix: str) -> tuple[str, ...]:
    if _ONLY_TOGETHER.intersection(parts):
        raise UnfitCore(
            f"`{text}` mixes green or yellow with another colour",
            "write GNYE for green-and-yellow; neither goes with any other colour",
        )
    if len(parts) > 2:
        raise UnfitCore(f"`{text}` has more than two colours", "write one colour, or two")
    if parts[0] == parts[1]:
        raise UnfitCore(f"`{text}` gives one colour twice", f"write {parts[0]}{suffix}")
    ordered = tuple(sorted(parts, key=_SINGLE.index))
    if ordered != parts:
        raise UnfitCore(
            f"`{text}` has its colours in the wrong order", f"write it {''.join(ordered)}{suffix}"
        )
    return parts


def _list_codes() -> str:
    return "write one of " + ", ".join(f"{code} ({word})" for code, word in COLOUR_WORDS.items())


def core_pattern() -> str:
    """A regular expression that matches what ``read_core`` takes, for JSON Schema."""
    pairs = [
        f"{_either_case(first)}(?:{'|'.join(_either_case(second) for second in _MIXING[place + 1 :])})?"
        for place, first in enumerate(_MIXING[:-1])
    ]
    alone = [_either_case(code) for code in (EARTH, "YE", "GN", _MIXING[-1])]
    return f"^(?:{'|'.join([*alone, *pairs])})[1-9]?$"


def _either_case(code: str) -> str:
    return "".join(f"[{letter}{letter.lower()}]" for letter in code)
