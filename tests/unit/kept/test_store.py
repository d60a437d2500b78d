"""Results that are kept: made once, made again when harmed, and never anything but our own classes."""

import os
import pickle
import zlib
from hashlib import blake2b
from pathlib import Path

import pytest

from generator.findings.finding import Finding, Severity, Span
from generator.kept.packed import NotWhole, pack, unpack
from generator.kept.store import Kept, digest_of, drop_older
from generator.record.scalars import IntAsWritten

FOUND = Finding(rule="a-rule", severity=Severity.NOTE, message="something", span=Span("a.yaml", 1, 2))


def test_made_once(tmp_path: Path) -> None:
    made = []

    def make() -> Finding:
        made.append(1)
        return FOUND

    for _ in range(2):
        kept = Kept(tmp_path, "one")
        assert kept.remembered("sort", "key", make) == FOUND
        assert kept.remembered("sort", "key", make) == FOUND
    assert made == [1]
    assert Kept(tmp_path, "two").remembered("sort", "key", make) == FOUND
    assert Kept(tmp_path, "one").remembered("other", "key", make) == FOUND
    assert made == [1, 1, 1]


def test_nothing_made_is_kept_of_a_failure(tmp_path: Path) -> None:
    def fail() -> Finding:
        raise KeyError

    with pytest.raises(KeyError):
        Kept(tmp_path, "one").remembered("sort", "key", fail)
    assert Kept(tmp_path, "one").remembered("sort", "key", lambda: FOUND) == FOUND


def test_folder_may_go_at_any_time(tmp_path: Path) -> None:
    kept = Kept(tmp_path / "cache", "one")
    kept.write("name", FOUND)
    assert kept.read("name") == FOUND
    for file in sorted((tmp_path / "cache").rglob("*"), reverse=True):
        file.rmdir() if file.is_dir() else file.unlink()
    assert kept.read("name") is None
    kept.write("name", FOUND)
    assert kept.read("name") == FOUND


@pytest.mark.parametrize("harm", [slice(0, 10), slice(0, -1), slice(1, None), slice(0, 0)])
def test_cut_bytes_are_nothing(harm: slice) -> None:
    with pytest.raises(NotWhole):
        unpack(pack(FOUND)[harm])


def test_other_classes_are_refused() -> None:
    body = zlib.compress(pickle.dumps(os.getcwd))
    with pytest.raises(NotWhole):
        unpack(b"HBK1" + blake2b(body, digest_size=16).digest() + body)


def test_digests_tell_types_order_and_writing_apart() -> None:
    values: list[object] = [
        1,
        "1",
        1.0,
        True,
        None,
        [1],
        {"a": 1},
        {"a": [1]},
        ["a", 1],
        ["a", "1"],
        ["a, 1"],
        "['a', '1']",
        [],
        {},
        {"a": 1, "b": 2},
        {"b": 2, "a": 1},
        IntAsWritten(10, "10"),
        IntAsWritten(10, "010"),
    ]
    assert len({digest_of(value) for value in values}) == len(values)


def test_only_folders_of_ours_are_removed(tmp_path: Path) -> None:
    for name in ("v-a", "v-b", "v-c"):
        (tmp_path / name).mkdir()
    drop_older(tmp_path, "c")
    assert len(list(tmp_path.iterdir())) == 3
    Kept(tmp_path, "c").write("name", 1)
    drop_older(tmp_path, "c")
    assert (tmp_path / "v-c").is_dir()
    assert len(list(tmp_path.glob("v-*"))) == 2
