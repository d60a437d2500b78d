"""The letter codes of core colours, and the colours that both themes show them in.

It knows codes and colours only, not what a core of that colour is for.
"""

from dataclasses import dataclass, field

# IEC 60757, table 1, in its order: the order in which the codes of a two-colour core are run together.
CODES = ("BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR")

# A core whose colour nobody wrote down, or a code that is not of the standard: a neutral line that claims nothing.
UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """The colours of one theme, each as `rrggbb`.

    `soft` is for text of lesser weight, `line` for the edges of boxes, `outline` for the thin line on both sides of
    every core, `live` for what is live and nothing else, `tint` for the ground of a live terminal. `flow` and `back`
    are for pipes of flow and return water.
    """

    paper: str
    fill: str
    ink: str
    soft: str
    line: str
    outline: str
    live: str
    tint: str
    flow: str
    back: str
    cores: dict[str, str] = field(default_factory=dict)


LIGHT = Theme(
    paper="ffffff",
    fill="f4f6f8",
    ink="1a222c",
    soft="4d5967",
    line="5b6875",
    outline="46505c",
    live="c6007e",
    tint="fbdcec",
    flow="c22e28",
    back="1f63bd",
    cores={
        "BK": "1b1b1b",
        "BN": "7d4b25",
        "RD": "cc2229",
        "OG": "ee8a1d",
        "YE": "f2d024",
        "GN": "2a8c3c",
        "BU": "1f68c6",
        "VT": "7a3db0",
        "GY": "8c959e",
        "WH": "ffffff",
        "PK": "f3a6c0",
        "GD": "c69c1e",
        "TQ": "25b3ad",
        "SR": "c9cfd5",
        UNKNOWN: "dde2e7",
    },
)

DARK = Theme(
    paper="15191f",
    fill="222931",
    ink="eceff3",
    soft="b3bdc8",
    line="8b97a4",
    outline="8d98a5",
    live="ff4fa3",
    tint="571a3b",
    flow="f0685f",
    back="62a3f2",
    cores={
        "BK": "050505",
        "BN": "a5683a",
        "RD": "e5484d",
        "OG": "f59a36",
        "YE": "f5d742",
        "GN": "3aa64f",
        "BU": "4a90e8",
        "VT": "a872dc",
        "GY": "98a1ab",
        "WH": "ffffff",
        "PK": "f6b4cb",
        "GD": "d3ad3b",
        "TQ": "35c4be",
        "SR": "cfd5db",
        UNKNOWN: "3b444e",
    },
)


def split_code(code: str) -> tuple[str, str | None]:
    """Return the first colour of a core and, for a two-colour core, the second.

    A code that is empty or not of IEC 60757 gives `UNKNOWN`: it is drawn, and its letters are still shown.
    """
    upper = code.upper()
    if upper in CODES:
        return upper, None
    first, second = upper[:2], upper[2:]
    if first in CODES and second in CODES and first != second:
        return first, second
    return UNKNOWN, None
