"""Whatever is thrown at the YAML reader, it gives a document or findings, and never falls over."""

from typing import Any

import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from generator.record.places import Document
from generator.record.source_text import HIDDEN
from generator.record.yaml12 import load

RECORD = """\
format: 1
property: {reference: EB-0012, nation: wales}
devices:
  hall-valve: &v
    kind: "two-port-valve"
    settings: ['a', 010, 1.5, !t x, *v, ? y]
    notes: |
      two
      lines
  ? 'odd key'
  : - 1
    - >-
      folded
"""
PIECES = [
    *"abc01.:-?,[]{}#&*!|>'\"%@`~ \n\n\t\r\\",
    "  ", "\n  ", "\n- ", ": ", "---\n", "...\n", "%YAML 1.1\n", "&a ", "*a ", "!!int ", "<<: ", ".nan", "1e9",
    "\u202e", "\u2028", "\x85", "\ufeff", "\x00", "\ufffd", "😀", "é", '"\\u202e"', '"\\UFFFFFFFF"', '"\\ud800"', "'", "é: ",
]  # fmt: skip


def _check(source: bytes) -> None:
    for pure in (False, True):
        document, findings = load(source, "a.yaml", pure=pure)
        assert document is not None or findings
        for finding in findings:
            assert finding.span.file == "a.yaml"
            assert finding.span.line >= 1
            assert finding.span.column >= 1
            assert finding.message
        if document is not None:
            _check_data(document.data, document, ())


def _check_data(value: Any, document: Document, path: tuple[str | int, ...]) -> None:
    assert document.places.is_written(path)
    assert isinstance(value, dict | list | str | int | float | None)
    if isinstance(value, str) and not document.places.is_unread(path):
        assert not HIDDEN.search(value)
    if isinstance(value, dict):
        for key, item in value.items():
            assert type(key) is str
            _check_data(item, document, (*path, key))
    if isinstance(value, list):
        for place, item in enumerate(value):
            _check_data(item, document, (*path, place))


@given(st.binary(max_size=200))
@example(b"\xff\xfe")
@example(b"\x00" * 20)
@example(b"\xef\xbb\xbf")
def test_random_bytes(source: bytes) -> None:
    _check(source)


@given(st.text(max_size=100))
@example("a: \ufeff")
def test_random_text(source: str) -> None:
    _check(source.encode("utf-8", errors="surrogatepass"))


@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
@example("%TAG ! x\n---\n!a b")
@example("? - a\n: b")
@example("{? , : }")
@example("- *a : b")
@example('? "\\UFFFFFFFF"')
def test_pieces_of_yaml_in_any_order(source: str) -> None:
    _check(source.encode())


@given(
    st.lists(
        st.tuples(st.integers(0, len(RECORD)), st.integers(0, 12), st.sampled_from([*PIECES, ""])),
        min_size=1,
        max_size=6,
    )
)
def test_a_mangled_record(cuts: list[tuple[int, int, str]]) -> None:
    source = RECORD
    for start, length, piece in cuts:
        source = source[:start] + piece + source[start + length :]
    _check(source.encode())


# ---------------------------------------------------------------------- against another reader

_SAFE_TEXT = st.text(st.characters(codec="utf-8", categories=["L", "P", "S"]), max_size=12).filter(
    lambda text: not HIDDEN.search(text)
)
_SCALARS = (
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | _SAFE_TEXT
)
_KEYS = _SAFE_TEXT.filter(bool)
_DATA = st.recursive(
    _SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_KEYS, inner, max_size=4),
    max_leaves=12,
)


@given(_DATA, st.sampled_from([None, True, False]))
def test_what_a_yaml_1_1_writer_writes_is_read_alike(data: Any, flow: bool | None) -> None:
    """Where the two versions agree: the writer quotes every text that 1.1 would take for something else."""
    text = yaml.safe_dump(data, default_flow_style=flow, allow_unicode=True, sort_keys=False)
    # Text that is a number in 1.2 only (1e3, 0o17) is written plain by a 1.1 writer; see `_as_yaml_1_1`.
    document, findings = load(text.encode(), "a.yaml")
    assert findings == []
    assert document is not None
    assert _as_yaml_1_1(document.data) == data == yaml.safe_load(text)


def _as_yaml_1_1(value: Any) -> Any:
    """Numbers that 1.1 has for text, back to text; keys that are text stay so."""
    if isinstance(value, dict):
        return {key: _as_yaml_1_1(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_as_yaml_1_1(item) for item in value]
    written = getattr(value, "text", None)
    return written if isinstance(written, str) and isinstance(yaml.safe_load(written), str) else value
