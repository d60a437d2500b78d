"""Hostile text in every field that takes text changes nothing on either site but the words that are shown."""

from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest

from generator.site.config import FirmConfig
from generator.site.publish import EngineersContent
from tests.pages.bulk_site import all_pages, write_tenants

HOSTILE = (
    "<script>alert(1)</script>",
    "\\\" onmouseover='alert(1)' x=\\\"",
    "'><img src=x onerror=alert(1)>",
    "{{ 7*7 }} {% raw %} ${7*7}",
    "[a](javascript:alert(1)) **b** `c` # d",
    "&lt;b&gt; &#60;i&#62; <!-- x --> ]]>",
)
PLAIN = "just some words"

RECORD = """
format: 1
property:
  reference: HT-1
  address: {{lines: ["{text}", "{text}"], town: "{text}", postcode: "{text}"}}
  nation: england
  fuel: gas
  dwelling: {{storeys: 2, floor_area_m2: 80}}
sure: {{how: tested, on: 2026-03-14, by: heating engineer}}
arrangement:
  name: two-port
  cylinder: vented
  boiler: overrun
  zones:
    hall: {{serves: heating, name: "{short}", where: "{text}"}}
    hot-water: {{serves: hot water}}
devices:
  spur: {{name: "{short}", place: "{text}", part: "{text}", special: "{text}"}}
  centre: {{name: "{short}", place: "{text}", special: "{text}"}}
  hall-valve: {{name: "{short}", place: "{text}", special: "{text}"}}
  boiler: {{name: "{short}", place: "{text}"}}
visits:
  - {{on: 2026-03-14, by: heating engineer, found: "{text}", changed: "{text}"}}
photos:
  - {{file: photos/box.svg, caption: "{text}", shows: centre}}
accepted:
  - {{rule: fuse-not-3-amp, at: "{text}", reason: "because {text}", on: 2026-03-14, by: record keeper}}
notes: "{text}"
"""
DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>'


class Shape(HTMLParser):
    """The tags of a page with the names of their attributes, and every attribute that could run or load."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, tuple[str, ...]]] = []
        self.active: list[tuple[str, str, str]] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # words that do not fit a line of a drawing go on another: how many there are depends on their length
        if tag not in ("text", "tspan", "rect"):
            self.tags.append((tag, tuple(name for name, _ in attrs)))
        for name, value in attrs:
            if name.startswith("on") or (name in ("href", "src") and "script:" in (value or "")):
                self.active.append((tag, name, value or ""))


def stock(folder: Path, text: str) -> Path:
    """A folder with one record that has the text in every field that takes text."""
    (folder / "photos").mkdir(parents=True)
    (folder / "photos" / "box.svg").write_text(DRAWING, encoding="utf-8")
    record = RECORD.format(text=text, short=text[:50].rstrip("\\ "))
    (folder / "HT-1.yaml").write_text(record, encoding="utf-8")
    return folder


def engineers(folder: Path, text: str) -> dict[str, str]:
    """Every page of the property and the list of properties, by address."""
    content = EngineersContent()(stock(folder, text), FirmConfig(base=folder))
    pages = all_pages(content, folder / "written")
    return {url: page for url, page in pages.items() if url == "./" or url.startswith("p/")}


@pytest.mark.parametrize("text", HOSTILE)
def test_engineers_pages_keep_their_shape(tmp_path: Path, text: str) -> None:
    plain = engineers(tmp_path / "plain", PLAIN)
    hostile = engineers(tmp_path / "hostile", text)
    assert plain.keys() == hostile.keys()
    assert any("just some words" in page for page in plain.values())
    for url, page in hostile.items():
        shape = Shape(page)
        assert shape.active == [], url
        expected = Shape(plain[url])
        assert set(_kinds(shape)) <= set(_kinds(expected)), url
        assert _counted(shape) == _counted(expected), url


def _kinds(shape: Shape) -> list[tuple[str, tuple[str, ...]]]:
    """The sorts of tag on a page.

    Backticks in a message become code, whoever wrote them, and a name too long for a drawing gets a title: that is
    all that text can do.
    """
    return [tag for tag in shape.tags if tag[0] not in ("code", "title")]


def _counted(shape: Shape) -> Counter[str]:
    """How many there are of the tags that load, lead or act."""
    names = (
        "a",
        "img",
        "script",
        "style",
        "form",
        "input",
        "button",
        "iframe",
        "object",
        "link",
        "svg",
        "td",
        "li",
    )
    return Counter(tag for tag, _ in shape.tags if tag in names)


def test_templates_in_text_are_not_run(tmp_path: Path) -> None:
    pages = engineers(tmp_path / "templates", "{{ 7*7 }}")
    assert "{{ 7*7 }}" in pages["p/HT-1/"]
    assert ">49<" not in pages["p/HT-1/"]


@pytest.mark.parametrize("text", HOSTILE)
def test_tenants_sheets_keep_their_shape(tmp_path: Path, text: str) -> None:
    shapes = []
    for name, words in (("plain", PLAIN), ("hostile", text)):
        folder = stock(tmp_path / name / "properties", words)
        out = tmp_path / name / "out"
        (sheet,) = write_tenants(folder, FirmConfig(base=tmp_path), out, b"0" * 32).values()
        shape = Shape(sheet)
        assert shape.active == []
        shapes.append(shape.tags)
    assert shapes[0] == shapes[1]


@pytest.mark.parametrize("mark", ["\u202e", "\u2066", "\u200f"])
def test_marks_that_turn_the_reading_direction_are_refused(tmp_path: Path, mark: str) -> None:
    pages = engineers(tmp_path / "turned", f"ab{mark}cd")
    assert "hidden-character" in pages["p/HT-1/"]
    listed = pages["./"]
    assert mark not in listed


@pytest.mark.parametrize("reference", ["../x", "..", "a/b", "a b", "%2e%2e", ".hidden", "", "<b>"])
def test_a_reference_that_could_leave_the_folder_is_refused(tmp_path: Path, reference: str) -> None:
    folder = stock(tmp_path / "properties", PLAIN)
    file = folder / "HT-1.yaml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("reference: HT-1", f'reference: "{reference}"'),
        encoding="utf-8",
    )
    content = EngineersContent()(folder, FirmConfig(base=tmp_path))
    pages = all_pages(content, tmp_path / "written")
    assert all(".." not in url for url in pages)
    assert "line 4" in pages["p/HT-1/"]


KIND = """
format: 1
kind: odd-one
words: "{text}"
about: "{text}"
duty: other
protection: 1
terminals:
  L: {{words: "{text}", role: switched live}}
  N: {{words: "{text}", role: neutral}}
loads:
  fan: {{words: "{text}", between: [L, N], watts: 35, power_factor: 0.9, kind: motor}}
driven:
  blowing: {{words: "{text}", on: "{text}", off: still, while: {{fed: fan}}}}
facts:
  - {{words: "{text}", value: "{text}", source: "{text}"}}
"""


@pytest.mark.parametrize("text", HOSTILE)
def test_a_kind_of_ones_own_shows_its_words_and_no_more(tmp_path: Path, text: str) -> None:
    shapes = {}
    for name, words in (("plain", PLAIN), ("hostile", text)):
        folder = stock(tmp_path / name, PLAIN)
        (folder / "kinds").mkdir()
        (folder / "kinds" / "odd-one.yaml").write_text(KIND.format(text=words), encoding="utf-8")
        content = EngineersContent()(folder, FirmConfig(base=tmp_path / name))
        pages = all_pages(content, tmp_path / f"{name}-written")
        shapes[name] = {url: Shape(page) for url, page in pages.items() if url.startswith("kinds/")}
    assert "kinds/odd-one/" in shapes["hostile"]
    for url, shape in shapes["hostile"].items():
        assert shape.active == []
        assert shape.tags == shapes["plain"][url].tags, url
