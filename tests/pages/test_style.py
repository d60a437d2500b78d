"""The style sheets: colours that agree with the drawings and can be read, and no other accent than live."""

import re
from itertools import product

import pytest

from generator.drawings.core_colours import CODES, DARK, LIGHT, Theme
from tests.tools.paths import SITE_TEMPLATES

_ASSETS = SITE_TEMPLATES / "assets"
_COLOUR = re.compile(r"--hb-([\w-]+): #([0-9a-f]{6});")


def _colours(scheme: str) -> dict[str, str]:
    text = (_ASSETS / "hearthbook.css").read_text(encoding="utf-8")
    start = text.index({"light": ":root {", "dark": '[data-md-color-scheme="slate"] {'}[scheme])
    return dict(_COLOUR.findall(text[start : text.index("}", start)]))


def _luminance(colour: str) -> float:
    """WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(("scheme", "theme"), [("light", LIGHT), ("dark", DARK)])
def test_tables_show_cores_in_the_colours_of_the_drawings(scheme: str, theme: Theme) -> None:
    ours = _colours(scheme)
    assert {code: ours[f"core-{code.lower()}"] for code in CODES} == {
        code: theme.cores[code] for code in CODES
    }
    assert (ours["live"], ours["tint"], ours["ink"], ours["plate"]) == (
        theme.live,
        theme.tint,
        theme.ink,
        theme.paper,
    )


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_can_be_read(scheme: str) -> None:
    """WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1."""
    colour = _colours(scheme)
    pairs = [
        *product(("ink", "soft"), ("paper", "plate", "fill")),
        ("live", "paper"),
        ("live", "plate"),
        ("ink", "tint"),
    ]
    poor = {pair: ratio for pair in pairs if (ratio := _contrast(colour[pair[0]], colour[pair[1]])) < 4.5}
    assert poor == {}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_edges_can_be_seen(scheme: str) -> None:
    """WCAG 2.2, success criterion 1.4.11: at least 3 to 1."""
    colour = _colours(scheme)
    poor = {
        (edge, ground): ratio
        for edge, ground in product(("line", "outline"), ("paper", "plate"))
        if (ratio := _contrast(colour[edge], colour[ground])) < 3
    }
    assert poor == {}


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("000000", "ffffff", 21.0), ("ffffff", "ffffff", 1.0), ("767676", "ffffff", 4.54)],
)
def test_contrast_formula(one: str, other: str, ratio: float) -> None:
    """The ends of the scale are in WCAG 2.2's definition; 767676 is worked out from it by hand."""
    assert _contrast(one, other) == pytest.approx(ratio, abs=0.005)


def test_colours_are_named_in_one_place() -> None:
    """So that the accent cannot come to mean anything else: elsewhere only tones of grey stand as numbers."""
    for sheet in sorted(_ASSETS.glob("*.css")):
        if sheet.name == "hearthbook.css":
            continue
        for colour in re.findall(r"#([0-9a-f]{6}|[0-9a-f]{3})\b", sheet.read_text(encoding="utf-8")):
            assert len(set(re.findall("..", colour))) == 1, f"{sheet.name}: #{colour}"


def test_live_colours_only_what_is_live() -> None:
    for sheet in sorted(_ASSETS.glob("*.css")):
        for selector, rules in re.findall(r"([^{}]+)\{([^{}]*)\}", sheet.read_text(encoding="utf-8")):
            if "var(--hb-live)" in rules or "var(--hb-tint)" in rules:
                assert "live" in selector, f"{sheet.name}: {selector.strip()}"
