"""The examples of the rules, examined as records: in a folder that holds the photo they speak of."""

from pathlib import Path

from generator.pipeline import Examination, examine_text
from generator.rules.example_house import TODAY


def example_folder(folder: Path) -> Path:
    """Put what the right examples need into the folder."""
    photos = folder / "photos"
    photos.mkdir(exist_ok=True)
    (photos / "EX-0001-centre.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>", encoding="utf-8")
    return folder


def examined(text: str, folder: Path) -> Examination:
    """The record examined on the day of the examples."""
    return examine_text(text, today=TODAY, file="example.yaml", folder=example_folder(folder))


def rules_of(text: str, folder: Path) -> set[str]:
    """The names of the rules that find anything in the record."""
    return {finding.rule for finding in examined(text, folder).findings}
