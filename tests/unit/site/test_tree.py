"""Files written whole, left alone where nothing changed, and gone where not wanted."""

from pathlib import Path

import pytest

from generator.findings.errors import CannotWriteFile
from generator.site.errors import BadPage
from generator.site.tree import Tree


def test_unchanged_files_are_not_touched(tmp_path: Path) -> None:
    Tree(tmp_path).put("a/b", b"one")
    before = (tmp_path / "a/b").stat()
    tree = Tree(tmp_path)
    tree.put("a/b", b"one")
    after = (tmp_path / "a/b").stat()
    assert (before.st_ino, before.st_mtime_ns, tree.changed) == (after.st_ino, after.st_mtime_ns, 0)


def test_changed_files_are_replaced_not_overwritten(tmp_path: Path) -> None:
    Tree(tmp_path).put("a", b"one")
    (tmp_path / "kept").hardlink_to(tmp_path / "a")
    tree = Tree(tmp_path)
    tree.put("a", b"two")
    assert ((tmp_path / "a").read_bytes(), (tmp_path / "kept").read_bytes(), tree.changed) == (
        b"two",
        b"one",
        1,
    )
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a", "kept"]


def test_same_files_of_an_older_site_are_linked(tmp_path: Path) -> None:
    older = Tree(tmp_path / "older")
    older.put("a", b"one")
    older.put("b", b"one")
    tree = Tree(tmp_path / "newer", older=tmp_path / "older")
    tree.put("a", b"one")
    tree.put("b", b"two")
    tree.put("c", b"new")
    assert (tmp_path / "newer/a").samefile(tmp_path / "older/a")
    assert (tmp_path / "older/b").read_bytes() == b"one"
    assert tree.changed == 2


def test_what_was_not_written_goes(tmp_path: Path) -> None:
    old = Tree(tmp_path)
    for path in ("p/a/index.html", "p/b/index.html", "p/b/x/index.html", "q/index.html"):
        old.put(path, b"")
    new = Tree(tmp_path)
    new.put("p/a/index.html", b"")
    assert new.prune("p") == 2
    assert sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*")) == [
        "p",
        "p/a",
        "p/a/index.html",
        "q",
        "q/index.html",
    ]
    assert new.prune("nothing") == 0


def test_no_two_files_want_one_place(tmp_path: Path) -> None:
    tree = Tree(tmp_path)
    tree.put("a", b"")
    with pytest.raises(BadPage, match="two pages or files"):
        tree.put("a", b"")


def test_a_file_in_the_way_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"")
    with pytest.raises(CannotWriteFile):
        Tree(tmp_path).put("a/b", b"")
