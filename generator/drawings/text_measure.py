"""How wide a piece of text is when drawn, and how to wrap or cut it to a given width.

It knows characters and sizes only: not what is written, nor where.

The widths are those of a wide sans-serif (the advance widths of DejaVu Sans and DejaVu Sans Bold, in thousandths
of the font size, rounded up to the next 5). The fonts that browsers choose for `system-ui` and `sans-serif` are as
wide or narrower, so text measured here stays inside its box on the machines we do not know.
"""

import unicodedata
from functools import lru_cache

_REGULAR: dict[int, str] = {
    230: "′",
    275: "'",
    280: "ijlı",
    285: "ł",
    295: "IJ",
    320: " ,.‘’·",
    340: "/:;\\|",
    355: "f",
    365: "-‐‑",
    375: "″",
    395: "()[]t",
    405: "!¹²³¡",
    415: "r",
    460: '"',
    500: "*_`–°§",
    520: "“”",
    525: "sz",
    535: "?¿",
    550: "c",
    560: "L",
    565: "Ł",
    580: "Fk",
    590: "•",
    595: "vxy",
    605: "PÞ",
    615: "TYaoøð«»",
    620: "eϑ",
    630: "ß",
    635: "ESbdghnpquđþ",
    640: "$0123456789{}µ£€",
    660: "K",
    685: "AV",
    690: "BXZ",
    695: "R",
    700: "C",
    735: "U",
    750: "N",
    755: "H",
    765: "Ω",
    775: "DGĐÐ",
    780: "&",
    790: "OQØ",
    820: "w",
    840: "#+<=>^~←↑→↓↔−≈≤≥±×÷",
    865: "M",
    955: "%",
    970: "¼½¾",
    975: "mÆ",
    985: "æ",
    990: "W",
    1000: "@—…©®",
    1025: "œ",
    1070: "Œ",
}
_BOLD: dict[int, str] = {
    265: "′",
    310: "'",
    345: "ijlı",
    350: " ",
    370: "/\\|",
    375: "IJł",
    380: ",.‘’·",
    400: ":;",
    420: "-‐‑",
    440: "f¹²³",
    450: "″",
    460: "!()[]¡",
    480: "t",
    495: "r",
    500: "_`–°§",
    525: '"*',
    585: "?z¿",
    595: "c",
    600: "s",
    640: "L•",
    645: "Ł",
    650: "x«»",
    655: "vy",
    660: "“”",
    665: "ϑ",
    670: "k",
    675: "a",
    680: "e",
    685: "EFT",
    690: "oøð",
    700: "$0123456789£€",
    715: "hnu{}",
    720: "bdgpqßđþ",
    725: "SY",
    730: "Z",
    735: "CP",
    740: "µÞ",
    765: "B",
    775: "AKRVX",
    815: "U",
    825: "G",
    835: "D",
    840: "#+<=>HN^~←↑→↓↔−≈≤≥ĐÐ±×÷",
    855: "OQΩØ",
    875: "&",
    925: "w",
    1000: "@M—…©®",
    1005: "%",
    1040: "¼½¾",
    1045: "m",
    1050: "æ",
    1085: "Æ",
    1095: "œ",
    1105: "W",
    1170: "Œ",
}


def _spread(table: dict[int, str]) -> dict[str, int]:
    return {character: width for width, characters in table.items() for character in characters}


_WIDTHS = {False: _spread(_REGULAR), True: _spread(_BOLD)}

# A character that the tables lack is taken to be as wide as the widest symbols are.
_UNKNOWN = 1250

_ELLIPSIS = "…"

# A word is broken only so that this many letters stand on either side.
_LEAST_LETTERS = 3


@lru_cache(maxsize=4096)
def measure(text: str, size_px: float, *, bold: bool = False) -> float:
    """Return the width of `text` in px at a font size in px.

    Accents add nothing: a letter is as wide as the letter it is made from.
    """
    widths = _WIDTHS[bold]
    total = 0
    for character in unicodedata.normalize("NFD", text):
        if not unicodedata.combining(character):
            total += widths.get(character, _UNKNOWN)
    return total * size_px / 1000


def shorten(text: str, width_px: float, size_px: float, *, bold: bool = False) -> str:
    """Return `text`, or as much of its beginning as fits in `width_px` with an ellipsis after it."""
    if measure(text, size_px, bold=bold) <= width_px:
        return text
    for length in range(len(text) - 1, 0, -1):
        short = text[:length].rstrip() + _ELLIPSIS
        if measure(short, size_px, bold=bold) <= width_px:
            return short
    return _ELLIPSIS


def wrap(text: str, width_px: float, size_px: float, *, lines: int, bold: bool = False) -> tuple[str, ...]:
    """Break `text` at its spaces into at most `lines` lines of `width_px`; what does not fit is cut.

    A single word that is wider than a line is broken with a hyphen, where there are lines enough.

    Returns:
        One line or more; a single empty line for a text without any letters.
    """
    words = text.split()
    found: list[str] = []
    while words and len(found) < lines - 1:
        line = words.pop(0)
        while words and measure(f"{line} {words[0]}", size_px, bold=bold) <= width_px:
            line = f"{line} {words.pop(0)}"
        head, tail = _break_word(line, width_px, size_px, bold=bold)
        if tail:
            words.insert(0, tail)
        found.append(shorten(head, width_px, size_px, bold=bold))
    if words or not found:
        found.append(shorten(" ".join(words), width_px, size_px, bold=bold))
    return tuple(found)


def is_cut(lines: tuple[str, ...], text: str) -> bool:
    """Tell whether wrapping has left something of `text` out."""
    return any(line.endswith(_ELLIPSIS) for line in lines) and _ELLIPSIS not in text


def _break_word(word: str, width_px: float, size_px: float, *, bold: bool) -> tuple[str, str]:
    """Break a word that is too wide for a line, with letters enough on both sides; else leave it whole."""
    if measure(word, size_px, bold=bold) <= width_px:
        return word, ""
    for length in range(len(word) - _LEAST_LETTERS, _LEAST_LETTERS - 1, -1):
        head, tail = word[:length], word[length:]
        whole = head[-_LEAST_LETTERS:].isalpha() and tail[:_LEAST_LETTERS].isalpha()
        if whole and measure(f"{head}-", size_px, bold=bold) <= width_px:
            return f"{head}-", tail
    return word, ""
