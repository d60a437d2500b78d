"""The pack of a property as one file: what is in it, what it never loads, and what is said where it cannot be made."""

import re
import stat
from html.parser import HTMLParser
from pathlib import Path

import pytest

from generator.command.to_pdf import CannotPrint, NoBrowser, find_browser, print_to_pdf
from generator.pages.tabs import PACKED
from tests.unit.command.conftest import DAY, NO_EARTH, NO_SUCH_DEVICE, Run, Stock, house


class _Addresses(HTMLParser):
    """Gathers whatever in a page could make a browser ask for something, and every id."""

    def __init__(self) -> None:
        super().__init__()
        self.loaded: list[str] = []
        self.links: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name in ("src", "srcset", "data", "poster", "xlink:href") or (
                name == "href" and tag == "link"
            ):
                self.loaded.append(value or "")
            elif name == "href":
                self.links.append(value or "")
            elif name == "id":
                self.ids.append(value or "")


def _read(file: Path) -> tuple[str, _Addresses]:
    text = file.read_text(encoding="utf-8")
    seen = _Addresses()
    seen.feed(text)
    return text, seen


@pytest.fixture
def sound(stock: Stock) -> None:
    stock({"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002", NO_SUCH_DEVICE)})


@pytest.mark.usefixtures("sound")
def test_one_file_that_loads_nothing(run: Run) -> None:
    done = run("export", "EX-0001", "--today", DAY)
    assert done.exit_code == 0, done.output
    text, seen = _read(Path("EX-0001.html"))
    assert seen.loaded == []
    assert [link for link in seen.links if not link.startswith("#")] == []
    assert {link.removeprefix("#") for link in seen.links} <= set(seen.ids)
    assert len(seen.ids) == len(set(seen.ids))
    assert "default-src 'none'" in text
    assert re.findall(r"@import|url\((?!#)", text) == []


@pytest.mark.usefixtures("sound")
def test_it_has_every_part_and_says_of_which_record(run: Run) -> None:
    done = run("export", "ex-0001", "--out", "jobs/17.html", "--today", DAY)
    assert done.exit_code == 0, done.output
    text, seen = _read(Path("jobs/17.html"))
    parts = [each for each in seen.ids if each.startswith("part-")]
    assert parts == [f"part-{tab.folder.rstrip('/') or 'glance'}" for tab, _, _ in PACKED]
    revision = re.search(r"record revision ([0-9a-f]{8})", done.stdout)
    assert revision is not None
    assert re.search(rf'@bottom-left{{content:"EX-0001, record revision {revision[1]}, last visit ', text)
    assert text.count("<h1>") == 1


@pytest.mark.usefixtures("sound")
def test_what_is_wrong_is_told_with_its_source(run: Run, stock: Stock) -> None:
    stock({"EX-0003.yaml": house("EX-0003", NO_EARTH)})
    assert run("export", "EX-0003", "--today", DAY).exit_code == 0
    text, _ = _read(Path("EX-0003.html"))
    assert "class-one-without-earth" in text
    assert "Source: " in text


@pytest.mark.usefixtures("sound")
def test_a_record_with_errors_has_a_file_that_says_so(run: Run) -> None:
    done = run("export", "EX-0002", "--today", DAY)
    assert done.exit_code == 1
    assert "nothing could be worked out" in done.stderr
    text, _ = _read(Path("EX-0002.html"))
    assert "pmp" in text


@pytest.mark.usefixtures("sound")
def test_the_same_bytes_each_time(run: Run) -> None:
    for name in ("one.html", "two.html"):
        run("export", "EX-0001", "--out", name, "--today", DAY)
    assert Path("one.html").read_bytes() == Path("two.html").read_bytes()


@pytest.mark.usefixtures("sound")
def test_no_browser_no_file(run: Run) -> None:
    """It is looked for first: whoever asked for a PDF is told before anything is written."""
    done = run("export", "EX-0001", "--pdf", "--browser", "no-such-browser")
    assert done.exit_code == 2
    assert "no-such-browser" in done.stderr
    assert not Path("EX-0001.html").exists()
    with pytest.raises(NoBrowser):
        find_browser("no-such-browser")


@pytest.mark.usefixtures("sound")
def test_no_such_record(run: Run) -> None:
    assert run("export", "EX-0009").exit_code == 2


def _script(folder: Path, text: str) -> str:
    file = folder / "browser"
    file.write_text(f"#!/bin/sh\n{text}\n", encoding="utf-8")
    file.chmod(file.stat().st_mode | stat.S_IXUSR)
    return str(file)


@pytest.mark.parametrize(
    ("does", "reason"),
    [
        ("echo it is broken >&2; exit 3", "it is broken"),
        ("exit 0", "ended with 0"),
        ("sleep 20", "after 0.5 s"),
    ],
)
def test_a_browser_that_fails_is_told_and_leaves_nothing(tmp_path: Path, does: str, reason: str) -> None:
    page, pdf = tmp_path / "page.html", tmp_path / "page.pdf"
    page.write_text("<!doctype html>", encoding="utf-8")
    pdf.write_text("the older one", encoding="utf-8")
    with pytest.raises(CannotPrint, match=reason):
        print_to_pdf(page, pdf, browser=_script(tmp_path, does), limit_s=0.5)
    assert pdf.read_text(encoding="utf-8") == "the older one"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["browser", "page.html", "page.pdf"]
