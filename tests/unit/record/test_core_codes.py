"""Colour codes of cores: IEC 60757:2021, "Code for designation of colours" (table of codes; two colours; lower case)."""

import itertools
import re

import pytest

from generator.record.core_codes import COLOUR_WORDS, CoreCode, UnfitCore, core_pattern, read_core

# IEC 60757:2021, table of codes, in its order.
TABLE = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"]


def test_the_table_is_whole_and_in_order() -> None:
    assert list(COLOUR_WORDS) == TABLE


@pytest.mark.parametrize("code", TABLE)
def test_every_code_is_read_in_capitals_and_in_small_letters(code: str) -> None:
    assert read_core(code) == read_core(code.lower()) == CoreCode((code,))


@pytest.mark.parametrize(
    ("text", "colours", "number", "words"),
    [
        ("BNWH", ("BN", "WH"), None, "brown and white"),
        ("rdbu", ("RD", "BU"), None, "red and blue"),
        ("BK2", ("BK",), 2, "black 2"),
        ("BNWH9", ("BN", "WH"), 9, "brown and white 9"),
        ("GNYE", ("GNYE",), None, "green-and-yellow"),
    ],
)
def test_codes_taken_apart(text: str, colours: tuple[str, ...], number: int | None, words: str) -> None:
    core = read_core(text)
    assert (core.colours, core.number, core.words) == (colours, number, words)
    assert str(core) == text.upper()


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("WHBN", "write it BNWH"),
        ("whbn1", "write it BNWH1"),
        ("SRBK", "write it BKSR"),
        ("YEGN", "write GNYE"),
        ("BNBN", "write BN"),
        ("brown", "write BN"),
        ("Purple", "write VT"),
        ("blue2", "write BU2"),
        ("green/yellow", "write GNYE"),
    ],
)
def test_what_was_probably_meant(text: str, fix: str) -> None:
    with pytest.raises(UnfitCore) as refused:
        read_core(text)
    assert refused.value.fix == fix


@pytest.mark.parametrize("text", ["GNBK", "BKYE", "GNYEBK", "BNGNYE", "YEBU"])
def test_green_and_yellow_go_with_no_other_colour(text: str) -> None:
    """IEC 60757:2021, rules for two colours."""
    with pytest.raises(UnfitCore) as refused:
        read_core(text)
    assert "GNYE" in refused.value.fix


@pytest.mark.parametrize(
    "text", ["", "B", "BL", "XX", "BN0", "BN10", "BNWHRD", "BN WH", "BN-WH", "7", "BNW", "ÖG"]
)
def test_no_codes(text: str) -> None:
    with pytest.raises(UnfitCore) as refused:
        read_core(text)
    assert refused.value.message
    assert refused.value.fix


def test_a_colour_that_could_be_two_is_not_guessed() -> None:
    with pytest.raises(UnfitCore) as refused:
        read_core("BL")
    assert refused.value.fix == "write BU for blue or BK for black"


def test_the_pattern_matches_what_is_read_and_nothing_else() -> None:
    pattern = re.compile(core_pattern())
    singles = [code for code in TABLE if code != "GNYE"]
    candidates = [
        *TABLE,
        *("".join(pair) for pair in itertools.product(singles, repeat=2)),
        "GNYEBK",
        "XX",
        "",
    ]
    for candidate in candidates:
        for text in (candidate, candidate.lower(), f"{candidate}3", f"{candidate}0"):
            try:
                read_core(text)
            except UnfitCore:
                assert not pattern.fullmatch(text), text
            else:
                assert pattern.fullmatch(text), text
