"""A build that is asked for later comes once, and not while somebody saves."""

import time
from collections.abc import Iterator

import pytest

from generator.site.follow_up import FollowUp

_AFTER_S = 0.2


@pytest.fixture
def follow_up() -> Iterator[FollowUp]:
    made = FollowUp(after_s=_AFTER_S)
    yield made
    made.end()


def _asked(follow_up: FollowUp, first: list[str]) -> None:
    def note() -> None:
        assert not list(follow_up.folder.iterdir()) or first
        first.append("first")

    follow_up.ask(note)


def test_a_file_changes_after_what_comes_first(follow_up: FollowUp) -> None:
    first: list[str] = []
    _asked(follow_up, first)
    assert first == []
    time.sleep(10 * _AFTER_S)
    assert first == ["first"]
    before = [file.read_bytes() for file in follow_up.folder.iterdir()]
    assert len(before) == 1
    _asked(follow_up, first)
    time.sleep(10 * _AFTER_S)
    assert [file.read_bytes() for file in follow_up.folder.iterdir()] != before


def test_asking_twice_asks_once(follow_up: FollowUp) -> None:
    first: list[str] = []
    _asked(follow_up, first)
    _asked(follow_up, first)
    time.sleep(10 * _AFTER_S)
    assert first == ["first"]


def test_what_is_withdrawn_does_not_come(follow_up: FollowUp) -> None:
    first: list[str] = []
    _asked(follow_up, first)
    follow_up.withdraw()
    time.sleep(5 * _AFTER_S)
    assert first == []
    assert not list(follow_up.folder.iterdir())


def test_nothing_is_left_behind(follow_up: FollowUp) -> None:
    follow_up.ask(lambda: None)
    follow_up.end()
    assert not follow_up.folder.exists()
