"""What `wiring.removed` may hold, and files with nothing in them."""

from pathlib import Path

import pytest

from generator.record.load import load_house_type, load_text
from generator.rules.example_house import HOUSE


def _findings(removed: str) -> list[tuple[str, str]]:
    text = HOUSE.replace("\nwiring:\n", f"\nwiring:\n  removed: [{removed}]\n", 1)
    assert text != HOUSE
    return [(each.rule, each.message) for each in load_text(text.encode(), "r.yaml").findings]


@pytest.mark.parametrize(
    ("item", "told"),
    [
        ("{}", "names nothing"),
        ("{cable: pump}", "`cable` without `core`"),
        ("{core: BN}", "`core` without `cable`"),
        ("{cable: pump, core: BN, link: [centre.A, centre.B]}", "a core and a link at once"),
        ("{cable: pump, link: [centre.A, centre.B]}", "a core and a link at once"),
        ("{link: []}", "names nothing"),
    ],
)
def test_an_item_that_removes_nothing_is_refused(item: str, told: str) -> None:
    (message,) = [message for rule, message in _findings(item) if rule == "removes-nothing"]
    assert told in message
    assert message.startswith("item 1 of `wiring.removed`: ")


@pytest.mark.parametrize("item", ["{cable: pump, core: BN}", "{link: [centre.A, centre.B]}"])
def test_a_core_or_a_link_may_be_removed(item: str) -> None:
    # Nothing is inherited here, so that alone is said.
    assert {rule for rule, _ in _findings(item)} == {"nothing-to-remove"}


@pytest.mark.parametrize("source", ["", "---\n", "# a remark\n"])
def test_an_empty_file_is_called_empty(source: str, tmp_path: Path) -> None:
    (finding,) = load_text(source.encode(), "r.yaml").findings
    assert finding.message == "the file is empty, and a record is a mapping of keys"
    file = tmp_path / "t.yaml"
    file.write_text(source, encoding="utf-8")
    (finding,) = load_house_type(file)[1]
    assert finding.message == "the file is empty, and a house type is a mapping of keys"
