"""By what records are known to be as they were, and what is no record."""

from pathlib import Path

import pytest

from generator.findings.errors import CannotReadFile
from generator.site.ledger import any_records, record_gates, strays


def test_records_in_order_of_reference(tmp_path: Path) -> None:
    assert not any_records(tmp_path)
    for name in ("B-2.yaml", "B-1.yaml", ".B-3.yaml", "notes.txt"):
        (tmp_path / name).write_text("format: 1\n", encoding="utf-8")
    (tmp_path / "house-types").mkdir()
    assert any_records(tmp_path)
    assert list(record_gates(tmp_path)) == ["B-1", "B-2"]


@pytest.mark.parametrize("sort", ["to nowhere", "to itself", "folder"])
def test_what_is_named_as_a_record_and_is_none_is_told(sort: str, tmp_path: Path) -> None:
    """Left out without a word, the home would vanish from both sites."""
    (tmp_path / "B-2.yaml").write_text("format: 1\n", encoding="utf-8")
    place = tmp_path / "B-1.yaml"
    if sort == "folder":
        place.mkdir()
    else:
        place.symlink_to(tmp_path / ("nowhere.yaml" if sort == "to nowhere" else "B-1.yaml"))
    assert strays(tmp_path) == (str(place),)
    assert list(record_gates(tmp_path)) == ["B-2"]
    with pytest.raises(CannotReadFile, match=r"B-1\.yaml: it is named as a record and is no file"):
        any_records(tmp_path)
