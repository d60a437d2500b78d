"""Every text and every edge of the drawings can be seen in both themes.

Source: WCAG 2.2, success criterion 1.4.3 (text 4.5:1). For edges 3:1, WCAG 2.2, success criterion 1.4.11 (from memory).
"""

import pytest

from generator.drawings.core_colours import CODES, DARK, LIGHT, UNKNOWN, Theme, split_code
from generator.drawings.drawing_css import drawing_css
from tests.unit.drawings.wcag import contrast

TEXT, EDGE = 4.5, 3.0
THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [
        ("000000", 21.00),
        ("767676", 4.54),
        ("777777", 4.48),
        ("949494", 3.03),
        ("ff0000", 4.00),
        ("008000", 5.14),
        ("0000ff", 8.59),
        ("808080", 3.95),
        ("ffa500", 1.97),
        ("8b4513", 7.10),
        ("ffff00", 1.07),
    ],
)
def test_contrast_formula_gives_the_known_ratios_on_white(colour: str, ratio: float) -> None:
    # WCAG 2.2, "contrast ratio" and "relative luminance": worked out from the definitions.
    assert contrast(colour, "ffffff") == pytest.approx(ratio, abs=0.005)


@THEMES
def test_text_can_be_read_on_every_ground_it_stands_on(theme: Theme) -> None:
    for ground in (theme.paper, theme.fill, theme.tint):
        assert contrast(theme.ink, ground) >= TEXT
        assert contrast(theme.soft, ground) >= TEXT


@THEMES
def test_edges_and_outlines_can_be_seen(theme: Theme) -> None:
    for edge in (theme.line, theme.outline, theme.live, theme.soft, theme.flow, theme.back):
        assert contrast(edge, theme.paper) >= EDGE
    for ground in (theme.fill, theme.tint):
        assert contrast(theme.line, ground) >= EDGE
        assert contrast(theme.live, ground) >= EDGE


@THEMES
def test_every_core_or_its_outline_can_be_seen(theme: Theme) -> None:
    for code, colour in theme.cores.items():
        best = max(contrast(colour, theme.paper), contrast(theme.outline, theme.paper))
        assert best >= EDGE, code


@THEMES
def test_live_is_unlike_every_core(theme: Theme) -> None:
    """The colour that means live is no core's colour: common practice, no source for the distance."""
    live = _channels(theme.live)
    for code, colour in theme.cores.items():
        distance = sum((one - other) ** 2 for one, other in zip(live, _channels(colour), strict=True)) ** 0.5
        assert distance > 75, code


def _channels(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[start : start + 2], 16) for start in (0, 2, 4))


def test_both_themes_know_every_code_of_the_standard() -> None:
    assert set(LIGHT.cores) == set(DARK.cores) == {*CODES, UNKNOWN}


def test_style_sheet_holds_both_themes_and_prints_the_light_one() -> None:
    css = drawing_css()
    screen, printed = css.split("@media print")
    assert f"--hb-paper: #{LIGHT.paper}" in screen
    assert f"--hb-paper: #{DARK.paper}" in screen.split('[data-md-color-scheme="slate"]')[1]
    assert f"--hb-paper: #{LIGHT.paper}" in printed
    assert DARK.paper not in printed


def test_style_sheet_loads_nothing_from_elsewhere() -> None:
    css = drawing_css()
    assert "url(" not in css
    assert "@import" not in css
    assert "http" not in css


@pytest.mark.parametrize(
    ("code", "colours"),
    [
        ("BN", ("BN", None)),
        ("bn", ("BN", None)),
        ("GNYE", ("GN", "YE")),
        ("BNWH", ("BN", "WH")),
        ("", (UNKNOWN, None)),
        ("BNBN", (UNKNOWN, None)),
        ("purple", (UNKNOWN, None)),
    ],
)
def test_codes_are_split_into_colours(code: str, colours: tuple[str, str | None]) -> None:
    # IEC 60757: two-letter codes, run together for two colours; lower case has the same meaning.
    assert split_code(code) == colours
