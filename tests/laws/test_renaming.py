"""Names mean nothing: with every device renamed and all wiring written out, every computed page stays the same."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from generator.circuit.build import words_from_key
from generator.pages.property_pages import property_bodies
from generator.pipeline import Examination, examine_text
from generator.record.load import load_record
from generator.record.written_out import write_yaml, written_out
from generator.record.yaml12 import load
from generator.views.property import property_view

TODAY = date(2026, 11, 25)
PROPERTIES = Path(__file__).parents[2] / "properties"
RECORDS = sorted(PROPERTIES.glob("*.yaml"))


def pages(examination: Examination, stem: str) -> dict[str, str]:
    """Every computed page; the page of the record itself shows the text as written, so it is left out."""
    view = property_view(examination, stem=stem)
    return {
        body.tab.kind: body.head + body.html
        for body in property_bodies(view, rules={}, photos=())
        if body.tab.kind != "property-record"
    }


def renamed_tree(data: Any, new: dict[str, str]) -> Any:
    """The record's data with every device called otherwise and its words kept."""

    def end(written: str) -> str:
        device, _, terminal = written.partition(".")
        return f"{new.get(device, device)}.{terminal}" if terminal else new.get(written, written)

    def walk(value: Any, path: tuple[str, ...]) -> Any:
        if isinstance(value, dict):
            names = path in (("devices",), ("cables",), ("wiring", "centres"))
            return {
                (new.get(key, key) if names else key): walk(inner, (*path, key))
                for key, inner in value.items()
            }
        if isinstance(value, list):
            return [walk(inner, (*path, "*")) for inner in value]
        last = next((part for part in reversed(path) if part != "*"), "")
        if path[0] == "accepted" and last == "at":
            # a device, a terminal, or a core of a cable that is named after a device
            device, space, core = str(value).partition(" ")
            return end(device) + space + core
        if isinstance(value, str) and last in (
            "to",
            "ends",
            "channel",
            "thermostat",
            "valve",
            "pump",
            "device",
            "cable",
            "bypass",
            "shows",
        ):
            return end(value)
        return value

    tree = walk(data, ())
    for old, device in zip(data["devices"], tree["devices"].values(), strict=True):
        # not what would be made from either key: such words are written without a capital within a sentence
        device.setdefault("name", f"{words_from_key(old)} of the house")
    return tree


@pytest.mark.parametrize("file", RECORDS, ids=[file.stem for file in RECORDS])
def test_renaming_every_device_changes_nothing_but_names(file: Path) -> None:
    loaded = load_record(file)
    text = written_out(loaded)
    document, findings = load(text.encode(), "record.yaml")
    assert document is not None
    assert findings == []
    count = len(document.data["devices"])
    # in reverse of the alphabet, so that anything sorted by name would change places
    new = {old: f"q{count - index:02d}x" for index, old in enumerate(document.data["devices"])}
    named = write_yaml(renamed_tree(document.data, {}))
    again = write_yaml(renamed_tree(document.data, new))
    first = examine_text(named, today=TODAY, folder=PROPERTIES)
    second = examine_text(again, today=TODAY, folder=PROPERTIES)
    before, after = pages(first, file.stem), pages(second, file.stem)
    house_type = loaded.record.house_type if loaded.record else None
    for kind, html in before.items():
        back = after[kind]
        for old, token in new.items():
            back = back.replace(token, old)
        assert _plain(back) == _plain(html), f"{kind} differs (house type {house_type})"


def _plain(html: str) -> list[str]:
    """The page without what follows from where and how the record was written."""
    kept = []
    for line in html.splitlines():
        if "hb-finding__rule" in line or "House type" in line or "Record revision" in line:
            continue
        kept.append(line)
    return kept
