"""A large mapping comes back as it was written, however it was written, and never as a mixture of two."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.kept.mapping import MOST_CHANGES, KeptMapping
from generator.kept.store import Kept

Mappings = dict[str, int]


def mapping(folder: Path) -> KeptMapping[int]:
    return KeptMapping(Kept(folder, "one"), "name")


def read(folder: Path) -> tuple[Mappings, object]:
    fresh = mapping(folder)
    fresh.read()
    return dict(fresh.entries), fresh.about


@given(
    steps=st.lists(
        st.tuples(st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 2)), st.booleans()),
        min_size=1,
        max_size=6,
    )
)
@settings(deadline=None)
def test_whatever_is_written_is_read(tmp_path_factory: object, steps: list[tuple[Mappings, bool]]) -> None:
    folder = tmp_path_factory.mktemp("kept")  # type: ignore[attr-defined]  # pytest's own
    writer = mapping(folder)
    writer.read()
    for number, (entries, anew) in enumerate(steps):
        if anew:
            writer = mapping(folder)
            writer.read()
        writer.write(entries, number)
        assert writer.holds()
        assert read(folder) == (entries, number)


def test_little_is_written_where_little_changed(tmp_path: Path) -> None:
    many = {str(number): number for number in range(10 * MOST_CHANGES)}
    writer = mapping(tmp_path)
    writer.write(many, None)
    kept = Kept(tmp_path, "one")
    before = kept.stamp("name")
    writer.write(many | {"5": 0}, None)
    assert kept.stamp("name") == before
    assert read(tmp_path)[0] == many | {"5": 0}
    writer.write({key: value + 1 for key, value in many.items()}, None)
    assert kept.stamp("name") != before


def test_what_another_wrote_is_noticed_and_not_mixed_up(tmp_path: Path) -> None:
    one, other = mapping(tmp_path), mapping(tmp_path)
    one.write({"a": 1}, "one")
    other.read()
    assert one.holds()
    one.write({"a": 2}, "one again")
    assert not other.holds()
    other.write({"a": 1, "b": 1}, "other")
    assert not one.holds()
    assert read(tmp_path) == ({"a": 1, "b": 1}, "other")
    one.write({"a": 3}, "one at last")
    assert read(tmp_path) == ({"a": 3}, "one at last")


def test_what_does_not_belong_together_is_nothing(tmp_path: Path) -> None:
    for name in ("name", "name-since"):
        mapping(tmp_path).write({"a": 1}, "about")
        assert read(tmp_path) == ({"a": 1}, "about")
        Kept(tmp_path, "one").write(name, "something else")
        assert read(tmp_path) == ({}, None)


def test_nothing_is_kept_without_a_folder() -> None:
    one = KeptMapping[int](Kept(None, "one"), "name")
    one.write({"a": 1}, "about")
    assert (one.entries, one.about) == ({"a": 1}, "about")
    assert not one.holds()
