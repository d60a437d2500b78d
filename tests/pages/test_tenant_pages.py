"""The page of every demo property: plain to read, light, whole in one file, and asking for nothing."""

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from generator.pages.tenant_pages import nowhere_html, tenant_page_html
from generator.pipeline import examine_text, today
from generator.record.yaml12 import load
from generator.rules.example_house import HOUSE
from generator.views.tenant import language_of, nowhere_page, tenant_page
from generator.views.tenant_model import Firm
from generator.views.tenant_wording import ENGLISH, english_file, load_wordings, placeholders
from tests.hand_made_overrides import hand_made
from tests.tenant_pages import (
    FIRM,
    REFERENCES,
    examined,
    page_proved,
    page_with_every_step,
    page_without_steps,
)
from tests.tools.plain_words import HARDEST_GRADE, grade, long_sentences, prose

HEAVIEST = 60_000
"""Bytes of a page with all that is in it."""


def pages_of(reference: str) -> tuple[str, str, str]:
    return page_without_steps(reference), page_proved(reference), page_with_every_step(reference)


@pytest.mark.parametrize("reference", REFERENCES)
def test_plain_words_and_short_sentences(reference: str) -> None:
    """Flesch-Kincaid grade 5 or lower and at most 15 words a sentence, by a library that is not ours."""
    for html in pages_of(reference):
        read = prose(html)
        assert grade(read.sentences) <= HARDEST_GRADE
        assert long_sentences(read.sentences) == []


@pytest.mark.parametrize("reference", REFERENCES)
def test_light_and_whole_in_one_file(reference: str) -> None:
    for html in pages_of(reference):
        assert len(html.encode()) < HEAVIEST
        assert "<script" not in html
        assert "://" not in html
        assert "url(" not in html
        assert "@import" not in html
        assert re.findall(r'(?:src|href|srcset|action|data)="(?!tel:|#)', html) == []


@pytest.mark.parametrize("reference", REFERENCES)
def test_asks_not_to_be_found_and_never_says_where_it_is(reference: str) -> None:
    for html in pages_of(reference):
        assert '<meta name="robots" content="noindex, nofollow' in html
        assert '<meta name="referrer" content="no-referrer">' in html


@pytest.mark.parametrize("reference", REFERENCES)
def test_places_on_the_page_are_there_and_names_are_used_once(reference: str) -> None:
    for html in pages_of(reference):
        names = re.findall(r'\bid="([^"]*)"', html)
        assert len(names) == len(set(names))
        wanted = re.findall(r'(?:href="#|aria-labelledby=")([^"]*)"', html)
        assert set(wanted) <= set(names)
        assert html.count("<h1") == 1
        levels = [int(level) for level in re.findall(r"<h(\d)", html)]
        assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("reference", REFERENCES)
def test_every_page_says_whom_to_ring(reference: str) -> None:
    for html in pages_of(reference):
        assert '<a href="tel:01632960123">01632 960123</a>' in html
        assert '<a href="tel:999">999</a>' in html


def test_a_danger_gives_no_step_whatever_was_proved() -> None:
    in_danger = [reference for reference in REFERENCES if examined(reference).in_danger]
    assert in_danger
    for reference in in_danger:
        assert page_with_every_step(reference) == page_proved(reference) == page_without_steps(reference)
        assert "There are no steps for you to do" in page_without_steps(reference)


@pytest.mark.parametrize(
    ("nation", "fuel", "numbers", "not_there"),
    [
        (
            "england",
            "gas",
            [
                "0800 111 999",
                "stay outside. Ring the gas leak number.",
                "smell burning. Go outside. Ring 999.",
            ],
            ["0800 002 001", "tank or bottle", "Then ring."],
        ),
        ("wales", "gas", ["0800 111 999"], ["0800 002 001"]),
        ("scotland", "gas", ["0800 111 999"], ["0800 002 001"]),
        ("northern ireland", "gas", ["0800 002 001"], ["0800 111 999"]),
        ("england", "lpg", ["the number on your gas tank or bottle", "You smell gas"], ["0800 111 999"]),
        (
            "england",
            "oil",
            ["carbon monoxide alarm sounds. Go outside and stay outside. Ring 999."],
            ["0800", "smell gas"],
        ),
        ("england", "solid fuel", ["carbon monoxide"], ["0800", "smell gas"]),
        (
            "england",
            "electricity",
            ["smell burning"],
            ["0800", "smell gas", "carbon monoxide", "the boiler. Never"],
        ),
    ],
)
def test_emergency_numbers_follow_nation_and_fuel(
    nation: str, fuel: str, numbers: list[str], not_there: list[str]
) -> None:
    """Published by the gas networks of Great Britain and of Northern Ireland; they do not cover gas in tanks or bottles."""
    text = HOUSE.replace("nation: england", f"nation: {nation}").replace("fuel: gas", f"fuel: {fuel}")
    examination = examine_text(text, today=today())
    wording = load_wordings()[0][ENGLISH]
    html = tenant_page_html(tenant_page(examination, None, wording=wording, firm=FIRM, revision="b7a1"))
    assert [each for each in numbers if each not in html] == []
    assert [each for each in not_there if each in html] == []


@pytest.mark.parametrize("text", ["", "nonsense", "format: 1\n", HOUSE.replace("devices:", "device:")])
def test_a_record_that_cannot_be_read_has_a_page_that_fits_any_home(text: str) -> None:
    wording = load_wordings()[0][ENGLISH]
    examination = examine_text(text, today=today())
    other = examined("EB-0012").circuit
    assert other is not None
    html = tenant_page_html(
        tenant_page(examination, hand_made(other), wording=wording, firm=FIRM, revision="b7a1")
    )
    for words in (
        "0800 111 999",
        "0800 002 001",
        "in a tank or bottle",
        "carbon monoxide",
        "Never take off a cover",
    ):
        assert words in html
    assert "There are no steps for you to do" in html
    assert grade(prose(html).sentences) <= HARDEST_GRADE


def test_every_thermostat_is_noted_before_it_is_turned() -> None:
    """Each is put back as it was, so how each was is to be known."""
    sheets = page_proved("EB-0019").split('<section class="sheet')
    turned = [
        [step for step in re.findall(r"<li.*?</li>", sheet, re.DOTALL) if "Turn this up to 25" in step]
        for sheet in sheets
    ]
    assert max(map(len, turned)) > 1
    assert all("Note what it was set to." in step for steps in turned for step in steps)


def test_a_firm_without_a_number_is_no_number() -> None:
    wording = load_wordings()[0][ENGLISH]
    html = tenant_page_html(
        tenant_page(examined("EB-0012"), None, wording=wording, firm=replace(FIRM, phone=""), revision="b7a1")
    )
    assert "Ask your landlord for our number." in html
    assert "not set" not in html


def test_names_are_shown_as_they_are_written() -> None:
    html = page_with_every_step("EB-0012")
    assert "Ember &amp; Sons" in html
    assert "<bdi>kitchen, left of the window</bdi>" in html


def test_the_page_of_a_wrong_address_says_nothing_of_any_home() -> None:
    html = nowhere_html(nowhere_page(wording=load_wordings()[0][ENGLISH], firm=FIRM))
    assert "noindex" in html
    assert '<a href="tel:01632960123">' in html
    assert re.findall(r'href="(?!tel:)', html) == []
    assert grade(prose(html).sentences) <= HARDEST_GRADE


def pseudo(text: str) -> str:
    """A sentence of a language that nobody speaks: what stands in braces stays, all else is turned round."""
    return " ".join(word if placeholders(word) else word[::-1].lower() for word in text.split(" "))


def pseudo_language() -> str:
    document, _ = load(english_file().read_bytes(), "en.yaml")
    assert document is not None
    lines = ["direction: rtl"]
    for group, sentences in document.data.items():
        if group == "direction":
            continue
        lines.append(f"{group}:")
        lines += [
            f"  {key}: '{pseudo(text).replace(chr(39), chr(39) * 2)}'" for key, text in sentences.items()
        ]
    return "\n".join(lines) + "\n"


def test_another_language_needs_a_file_and_nothing_else(tmp_path: Path) -> None:
    """A language made up for this test: every word of ours is in it, and English is left only in the record's own names."""
    (tmp_path / "wording").mkdir()
    (tmp_path / "wording" / "qps.yaml").write_text(pseudo_language(), encoding="utf-8")
    wordings, findings = load_wordings(tmp_path)
    assert findings == ()
    examination = examined("EB-0066")
    assert examination.circuit is not None
    page = tenant_page(
        examination,
        hand_made(examination.circuit),
        wording=language_of(examination, "qps", wordings),
        firm=Firm(name="zz", phone=""),
        revision="b7a1",
    )
    html = tenant_page_html(page)
    assert '<html lang="qps" dir="rtl">' in html
    said = {word for each in prose(html).sentences for word in re.findall(r"[a-z]{4,}", each.lower())}
    english = {
        word
        for text in wordings[ENGLISH].sentences.values()
        for word in re.findall(r"[a-z]{4,}", text.lower())
    }
    same_both_ways = {word for word in english if word[::-1] in english}
    assert said & english - same_both_ways - {"here"} == set()


def test_a_property_may_have_a_language_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "wording").mkdir()
    (tmp_path / "wording" / "qps.yaml").write_text(pseudo_language(), encoding="utf-8")
    wordings, _ = load_wordings(tmp_path)
    own = HOUSE.replace("  nation: england", "  nation: england\n  language: qps")
    assert language_of(examine_text(own, today=today()), "en", wordings).language == "qps"
    assert language_of(examine_text(HOUSE, today=today()), "qps", wordings).language == "qps"
    assert language_of(examine_text(HOUSE, today=today()), "en", wordings).language == "en"
    assert language_of(examine_text(own, today=today()), "en", load_wordings()[0]).language == "en"
