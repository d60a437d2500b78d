"""Measured text: known widths, and wrapping that never passes the width it was given."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.drawings.text_measure import measure, shorten, wrap


@pytest.mark.parametrize(
    ("text", "bold", "em"),
    # The advance widths of DejaVu Sans and DejaVu Sans Bold (units per em 2048), rounded up to 5 thousandths.
    [("i", False, 0.28), ("W", False, 0.99), ("0", True, 0.70), ("ŵ", False, 0.82), ("", False, 0.0)],
)
def test_known_widths(text: str, bold: bool, em: float) -> None:
    assert measure(text, 10, bold=bold) == pytest.approx(em * 10)


@given(st.text(max_size=60), st.floats(20, 200), st.integers(1, 3))
def test_wrapped_text_fits(text: str, width_px: float, lines: int) -> None:
    found = wrap(text, width_px, 11, lines=lines)
    assert 1 <= len(found) <= lines
    assert all(measure(line, 11) <= width_px for line in found)
    assert all(
        measure(line, 11, bold=True) <= width_px for line in wrap(text, width_px, 11, lines=1, bold=True)
    )


@given(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=40), st.floats(15, 100))
def test_what_is_cut_shows_that_it_is(text: str, width_px: float) -> None:
    short = shorten(text, width_px, 11)
    assert short == text or short.endswith("…")


def test_words_are_kept_whole_where_they_fit() -> None:
    assert wrap("Garden room thermostat", 80, 12, lines=2) == ("Garden room", "thermostat")
