"""Nothing but the tenant's own facts is in the tenants' site: every text of every record is marked, and the marks are looked for.

Made over the demo stock and over a house of every arrangement. A mark says which property and which field it stands in.
"""

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from generator.pages.label_pages import label_sheet_html
from generator.pages.tenant_pages import tenant_page_html
from generator.pipeline import Examination, examine_text, today
from generator.record.load import load_record, load_text
from generator.record.written_out import written_out
from generator.record.yaml12 import load
from generator.site.config import FirmConfig
from generator.site.tenant_address import tenant_address
from generator.views.tenant import tenant_page
from generator.views.tenant_label import label
from generator.views.tenant_wording import ENGLISH, load_wordings
from tests.hand_made_overrides import hand_made
from tests.laws.test_renaming import renamed_tree
from tests.pages.bulk_site import write_tenants
from tests.short_houses import ARRANGEMENTS, short_house
from tests.tenant_pages import FIRM, PROPERTIES, REFERENCES

_MARK = re.compile(r"Qx[a-z]+")
_SHORT = tuple(sorted(ARRANGEMENTS))


class Marks:
    """Makes marks of letters only, so that no rule takes them for a telephone number, and knows where each one stands."""

    def __init__(self, house: int) -> None:
        self.house = house
        self.where: dict[str, str] = {}

    def new(self, where: str) -> str:
        mark = f"Qx{_letters(self.house)}x{_letters(len(self.where))}"
        self.where[mark] = where
        return mark


def _letters(number: int) -> str:
    return "".join("abcdefghij"[int(digit)] for digit in f"{number:03}")


def marked(text: str, house: int) -> tuple[str, Marks]:
    """A record with a mark in every field that takes words, and in the name of every device."""
    document, _ = load(text.encode(), "record.yaml")
    assert document is not None
    data: Any = json.loads(json.dumps(document.data))
    marks = Marks(house)
    data = renamed_tree(data, {name: marks.new(f"device {name}, key").lower() for name in data["devices"]})
    for name, device in data["devices"].items():
        for field in ("name", "place", "part", "special"):
            device[field] = marks.new(f"device {name}, {field}")
    address = data["property"]["address"]
    address["lines"] = [marks.new("address, line") for _ in address["lines"]]
    address["town"], address["postcode"] = marks.new("town"), marks.new("postcode")
    for circuit in data.get("water", {}).get("circuits", {}).values():
        circuit["where"] = marks.new("water circuit, where")
    day = data["sure"]["on"]
    data["visits"] = [
        {
            "on": day,
            "by": "electrician",
            "found": marks.new("visit, found"),
            "changed": marks.new("visit, changed"),
        }
    ]
    data["photos"] = [{"file": "photos/none.png", "caption": marks.new("photo, caption")}]
    data["accepted"] = [
        {
            "rule": "fuse-not-3-amp",
            "reason": f"{marks.new('accepted, reason')} long",
            "on": day,
            "by": "electrician",
        }
    ]
    data["notes"] = marks.new("notes")
    # A spelling of JSON is YAML 1.2 as well; the marks in the comment are read by nobody, and must not be.
    return f"# {marks.new('comment')}\n{json.dumps(data)}\n", marks


@cache
def houses() -> tuple[tuple[Examination, Marks], ...]:
    texts = [written_out(load_record(PROPERTIES / f"{reference}.yaml")) for reference in REFERENCES]
    texts += [written_out(load_text(short_house(name).encode(), "XX-1.yaml", folder=None)) for name in _SHORT]
    made = []
    for number, text in enumerate(texts):
        record, marks = marked(text, number)
        examination = examine_text(record, today=today(), folder=PROPERTIES)
        assert examination.record is not None, [each.message for each in examination.findings]
        made.append((examination, marks))
    return tuple(made)


HOUSES = range(len(REFERENCES) + len(_SHORT))


def page(examination: Examination) -> str:
    made = hand_made(examination.circuit) if examination.circuit is not None else None
    return tenant_page_html(
        tenant_page(examination, made, wording=load_wordings()[0][ENGLISH], firm=FIRM, revision="b7a1")
    )


@pytest.mark.parametrize("number", HOUSES)
def test_a_page_holds_the_address_and_what_its_steps_move_and_nothing_else(number: int) -> None:
    examination, marks = houses()[number]
    html = page(examination)
    moved = set()
    if examination.circuit is not None and not examination.in_danger:
        for instruction in hand_made(examination.circuit).instructions:
            for step in (
                *instruction.put_back,
                *(step for each in instruction.attempts for step in each.steps),
            ):
                moved.add(step.device)
    allowed = {f"device {name}, {field}" for name in moved for field in ("name", "place")} | {"address, line"}
    found = set(_MARK.findall(html))
    assert found <= set(marks.where), "a mark of another property"
    assert {marks.where[mark] for mark in found} <= allowed
    assert "address, line" in {marks.where[mark] for mark in found}
    assert not {name.lower() for name in marks.where if "key" in marks.where[name]} & set(
        re.findall(r"qx[a-z]+", html)
    )


@pytest.mark.parametrize("number", HOUSES)
def test_a_label_says_only_where_the_switch_is(number: int) -> None:
    examination, marks = houses()[number]
    made = label(
        examination,
        stem="XX-1",
        wording=load_wordings()[0][ENGLISH],
        firm=FIRM,
        tenants="https://heating.example.org/a/",
        engineers="",
    )
    found = {marks.where[mark] for mark in _MARK.findall(label_sheet_html([made]))}
    assert all(each.endswith(", place") for each in found)
    assert len(found) <= 1


@pytest.fixture(scope="module")
def stock(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("marked") / "properties"
    folder.mkdir()
    (folder / "kinds").symlink_to(PROPERTIES / "kinds")
    for number, reference in enumerate(REFERENCES):
        text, _ = marked(written_out(load_record(PROPERTIES / f"{reference}.yaml")), number)
        (folder / f"{reference}.yaml").write_text(text, encoding="utf-8")
    (folder / "tenancies.csv").write_text("reference,renewed,on\nEB-0012,2,2026-11-25\n", encoding="utf-8")
    return folder


SECRET = bytes(range(32))


@pytest.fixture(scope="module")
def site(stock: Path) -> Path:
    out = stock.parent / "site"
    assert set(write_tenants(stock, FirmConfig(base=stock.parent), out, SECRET)) == set(REFERENCES)
    return out


def test_no_page_leads_to_another(site: Path) -> None:
    """No link leaves a page, and no address, reference or mark of another property is anywhere in it."""
    for number, reference in enumerate(REFERENCES):
        tenancy = 2 if reference == "EB-0012" else 0
        html = (site / tenant_address(reference, SECRET, tenancy=tenancy) / "index.html").read_text(
            encoding="utf-8"
        )
        assert re.findall(r'(?:href|src|action)="(?!tel:|#)', html) == []
        assert {mark[:5] for mark in _MARK.findall(html)} <= {f"Qx{_letters(number)}"}
        for other in REFERENCES:
            assert other not in html
            for past in range(3):
                assert tenant_address(other, SECRET, tenancy=past) not in html


def test_nothing_else_is_in_the_site(site: Path) -> None:
    """No list, no index, no picture: only the pages, the old addresses, and what a wrong address leads to."""
    folders = {
        tenant_address(reference, SECRET, tenancy=2 if reference == "EB-0012" else 0)
        for reference in REFERENCES
    }
    old = {tenant_address("EB-0012", SECRET, tenancy=past) for past in (0, 1)}
    files = {file.relative_to(site).as_posix() for file in site.rglob("*") if file.is_file()}
    assert files == {
        "404.html",
        "index.html",
        "robots.txt",
        *(f"{each}/index.html" for each in folders | old),
    }
    lost = (site / "404.html").read_text(encoding="utf-8")
    assert _MARK.findall(lost) == []
    assert not any(folder in lost for folder in folders | old)
    for each in old:
        assert (site / each / "index.html").read_text(encoding="utf-8") == lost
