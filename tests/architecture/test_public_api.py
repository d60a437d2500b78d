"""What other programs may import changes on purpose only."""

from pathlib import Path

import generator

STORED = Path(__file__).with_name("public_api.txt")


def test_public_names_are_the_stored_ones() -> None:
    stored = STORED.read_text(encoding="utf-8").split()
    assert sorted(generator.__all__) == stored, f"if it is meant, change {STORED.name} and CHANGELOG.md too"


def test_every_public_name_exists() -> None:
    assert [name for name in generator.__all__ if not hasattr(generator, name)] == []
