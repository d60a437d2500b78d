"""How often addresses were renewed: kept beside the records, in a file that two people can change at once."""

from datetime import date
from pathlib import Path

import pytest

from generator.findings.errors import CannotReadFile, CannotWriteFile
from generator.site.errors import BadTenancies
from generator.site.tenancies import FILE_NAME, read_tenancies, renew

DAY = date(2026, 11, 25)


def test_without_the_file_nothing_was_renewed(tmp_path: Path) -> None:
    assert read_tenancies(tmp_path) == {}


def test_renewals_are_counted_and_kept(tmp_path: Path) -> None:
    assert renew(tmp_path, "HB-2", on=DAY) == 1
    assert renew(tmp_path, "HB-1", on=DAY) == 1
    assert renew(tmp_path, "HB-2", on=date(2027, 1, 9)) == 2
    assert read_tenancies(tmp_path) == {"HB-1": 1, "HB-2": 2}
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert text == "reference,renewed,on\nHB-1,1,2026-11-25\nHB-2,2,2027-01-09\n"
    assert [file.name for file in tmp_path.iterdir()] == [FILE_NAME]


def test_a_file_that_a_spreadsheet_saved_is_read(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_bytes(b"\xef\xbb\xbfreference,renewed,on\r\nHB-1, 3 ,25/11/2026\r\n\r\n")
    assert read_tenancies(tmp_path) == {"HB-1": 3}


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("HB-1,1,2026-11-25\n", ":1: has to be reference,renewed,on"),
        ("reference,renewed,on\nHB-1,1\n", ":2: has to be"),
        (f"reference,renewed,on\nHB-1,1,{'x' * 200_000}\n", ":2: is no line of such a table"),
        ("reference,renewed,on\nHB-1,0,x\n", ":2: '0' is no number"),
        ("reference,renewed,on\nHB-1,-1,x\n", ":2: '-1' is no number"),
        ("reference,renewed,on\nHB-1,1e3,x\n", ":2: '1e3' is no number"),
        ("reference,renewed,on\nHB-1,1,x\nHB-1,2,x\n", ":3: HB-1 is there twice"),
        ("<<<<<<< ours\nreference,renewed,on\n", ":1: has to be"),
    ],
)
def test_a_file_that_cannot_be_stops_the_build(tmp_path: Path, text: str, fault: str) -> None:
    """An old address would come alive again, so nothing is guessed."""
    (tmp_path / FILE_NAME).write_text(text, encoding="utf-8")
    with pytest.raises(BadTenancies) as caught:
        read_tenancies(tmp_path)
    assert fault in caught.value.message
    with pytest.raises(BadTenancies):
        renew(tmp_path, "HB-9", on=DAY)
    assert (tmp_path / FILE_NAME).read_text(encoding="utf-8") == text


def test_a_machine_that_refuses_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotWriteFile):
        renew(tmp_path / "no such folder", "HB-1", on=DAY)
    (tmp_path / FILE_NAME).mkdir()
    with pytest.raises(CannotReadFile):
        read_tenancies(tmp_path)


def test_there_is_an_end_to_it(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text("reference,renewed,on\nHB-1,9999,x\n", encoding="utf-8")
    with pytest.raises(BadTenancies, match="9999"):
        renew(tmp_path, "HB-1", on=DAY)
