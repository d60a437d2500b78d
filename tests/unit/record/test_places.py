"""Every key and value knows its line and column, counted in characters as an editor counts them."""

import pytest

from generator.findings.finding import Span
from generator.record.places import Document, Path
from generator.record.yaml12 import load

SOURCE = """\
format: 1
property:
  address: {town: Eastby, lines: ['4 Kiln Row']}
  größe: 'ä😀' # the next key stands after characters of several bytes
devices:
    hall-valve:
        kind: two-port-valve
        place:
        tested:
          - on-1
          -   {x: 1, "quoted key": "two
              lines", y: z}
"""


def _document(*, pure: bool) -> Document:
    document, findings = load(SOURCE.encode(), "EB-0012.yaml", pure=pure)
    assert findings == []
    assert document is not None
    return document


@pytest.fixture(params=[False, True], ids=["compiled", "pure"])
def document(request: pytest.FixtureRequest) -> Document:
    return _document(pure=request.param)


@pytest.mark.parametrize(
    ("path", "key", "value"),
    [
        ((), (1, 1), (1, 1)),
        (("format",), (1, 1), (1, 9)),
        (("property",), (2, 1), (3, 3)),
        (("property", "address"), (3, 3), (3, 12)),
        (("property", "address", "town"), (3, 13), (3, 19)),
        (("property", "address", "lines"), (3, 27), (3, 34)),
        (("property", "address", "lines", 0), (3, 35), (3, 35)),
        (("property", "größe"), (4, 3), (4, 10)),
        (("devices", "hall-valve", "kind"), (7, 9), (7, 15)),
        (("devices", "hall-valve", "place"), (8, 9), (8, 15)),
        (("devices", "hall-valve", "tested", 0), (10, 13), (10, 13)),
        (("devices", "hall-valve", "tested", 1), (11, 15), (11, 15)),
        (("devices", "hall-valve", "tested", 1, "quoted key"), (11, 22), (11, 36)),
        (("devices", "hall-valve", "tested", 1, "y"), (12, 23), (12, 26)),
    ],
)
def test_places(document: Document, path: Path, key: tuple[int, int], value: tuple[int, int]) -> None:
    assert document.places.key(path) == Span("EB-0012.yaml", *key)
    assert document.places.value(path) == Span("EB-0012.yaml", *value)
    assert document.places.is_written(path)


def test_columns_count_characters_not_bytes_or_halves() -> None:
    document, _ = load("a: [ä😀, x]\n".encode(), "a.yaml")
    assert document is not None
    assert document.places.value(("a", 1)).column == 9


def test_what_is_not_written_has_the_place_of_what_is_around_it(document: Document) -> None:
    places = document.places
    assert places.value(("devices", "hall-valve", "reach")) == places.key(("devices", "hall-valve"))
    assert places.key(("devices", "hall-valve", "reach")) == places.key(("devices", "hall-valve"))
    assert places.value(("no", "such", 3, "path")) == places.value(())
    assert not places.is_written(("no",))


def test_every_value_of_the_data_has_a_place(document: Document) -> None:
    def walk(value: object, path: Path) -> list[Path]:
        inner: list[Path] = [path]
        if isinstance(value, dict):
            for key, item in value.items():
                inner += walk(item, (*path, key))
        if isinstance(value, list):
            for place, item in enumerate(value):
                inner += walk(item, (*path, place))
        return inner

    assert set(walk(document.data, ())) == set(document.places.paths())


def test_both_readers_give_the_same_places() -> None:
    fast, slow = _document(pure=False), _document(pure=True)
    assert fast.data == slow.data
    for path in fast.places.paths():
        assert fast.places.key(path) == slow.places.key(path)
        assert fast.places.value(path) == slow.places.value(path)
