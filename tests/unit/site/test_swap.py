"""A folder replaced whole. That it survives being killed is tested with the pages."""

from pathlib import Path

import pytest

from generator.site.aside import Aside
from generator.site.errors import AnotherBuildRuns, NotOurFolder
from generator.site.swap import MARK, patched, recover, replaced


def test_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "site"
    for words in ("one", "two"):
        with replaced(out, audience="engineers") as new:
            (new / words).write_text(words, encoding="utf-8")
    assert sorted(p.name for p in out.iterdir()) == [MARK, "two"]
    assert [p.name for p in out.parent.iterdir()] == ["site"]


def test_what_goes_takes_its_empty_folders_along(tmp_path: Path) -> None:
    with replaced(tmp_path / "site", audience="engineers") as new:
        for path in ("kinds/index.html", "kinds/odd/index.html", "deep/er/one", "deep/two"):
            (new / path).parent.mkdir(parents=True, exist_ok=True)
            (new / path).touch()
    with patched(tmp_path / "site", audience="engineers") as patch:
        patch.gone += ["kinds/odd/index.html", "deep/er/one", "deep/two", "kinds/never/there"]
    left = sorted(p.relative_to(tmp_path / "site").as_posix() for p in (tmp_path / "site").rglob("*"))
    assert left == [MARK, "kinds", "kinds/index.html"]


def test_a_failure_leaves_the_old_one(tmp_path: Path) -> None:
    with replaced(tmp_path / "site", audience="engineers") as new:
        (new / "old").touch()

    def fail() -> None:
        with replaced(tmp_path / "site", audience="engineers") as new:
            (new / "new").touch()
            raise KeyError

    with pytest.raises(KeyError):
        fail()
    assert sorted(p.name for p in (tmp_path / "site").iterdir()) == [MARK, "old"]


def test_sites_for_others_are_never_replaced(tmp_path: Path) -> None:
    with replaced(tmp_path / "site", audience="tenants"):
        pass
    with (
        pytest.raises(NotOurFolder, match="not the site for engineers"),
        replaced(tmp_path / "site", audience="engineers"),
    ):
        pass


def test_a_file_and_a_full_folder_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter").touch()
    for name in ("file", "full"):
        with pytest.raises(NotOurFolder), replaced(tmp_path / name, audience="engineers"):
            pass


def test_an_empty_folder_and_a_link_to_a_folder_are_taken(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    with replaced(tmp_path / "link", audience="engineers") as new:
        (new / "page").touch()
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "page").is_file()


def test_only_one_build_at_a_time(tmp_path: Path) -> None:
    with replaced(tmp_path / "site", audience="engineers"):
        with pytest.raises(AnotherBuildRuns), replaced(tmp_path / "site", audience="engineers"):
            pass
        with pytest.raises(AnotherBuildRuns):
            recover(tmp_path / "site")


def test_recovery_of_nothing_does_nothing(tmp_path: Path) -> None:
    recover(tmp_path / "nowhere" / "site")
    assert list(tmp_path.iterdir()) == []


def test_folders_set_aside_come_back(tmp_path: Path) -> None:
    for name in ("p", "q"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "page").touch()
    aside = Aside(tmp_path)
    aside.take_all()
    assert [p.name for p in tmp_path.iterdir() if not p.name.startswith(".")] == []
    aside.give_back("p")
    assert (tmp_path / "p" / "page").is_file()
    # As after a kill: another object, which finds what was left aside.
    Aside(tmp_path).take_all()
    Aside(tmp_path).give_back_all()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["p", "q"]


def test_what_is_there_already_is_not_pushed_out(tmp_path: Path) -> None:
    (tmp_path / "p").mkdir()
    aside = Aside(tmp_path)
    aside.take_all()
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "new").touch()
    aside.give_back_all()
    assert (tmp_path / "p" / "new").is_file()
