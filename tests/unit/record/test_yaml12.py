"""What the YAML reader takes, what it refuses and in which words, with both readers underneath."""

from collections.abc import Callable
from typing import Any

import pytest

from generator.findings.finding import Finding
from generator.record.places import Document
from generator.record.scalars import IntAsWritten
from generator.record.yaml12 import MAX_DEPTH, MAX_NODES, load

Load = Callable[[str | bytes], tuple[Document | None, list[Finding]]]


@pytest.fixture(params=[False, True], ids=["compiled", "pure"])
def read(request: pytest.FixtureRequest) -> Load:
    def read(source: str | bytes) -> tuple[Document | None, list[Finding]]:
        raw = source.encode() if isinstance(source, str) else source
        return load(raw, "a.yaml", pure=request.param)

    return read


def _data(read: Load, source: str) -> Any:
    document, findings = read(source)
    assert findings == []
    assert document is not None
    return document.data


def _rules(findings: list[Finding]) -> list[tuple[str, int, int]]:
    return [(finding.rule, finding.span.line, finding.span.column) for finding in findings]


# ---------------------------------------------------------------------- what is read


def test_a_record_is_read_as_plain_data(read: Load) -> None:
    source = "a: NO\nb: [1, 1.5, true, null, 12:30]\nc:\n  d: |\n    two\n    lines\n  '010': x\n"
    assert _data(read, source) == {
        "a": "NO",
        "b": [1, 1.5, True, None, "12:30"],
        "c": {"d": "two\nlines\n", "010": "x"},
    }


@pytest.mark.parametrize("text", ["010", "true", "null", ".inf", "1.5", "~", ""])
def test_quoted_scalars_are_text(read: Load, text: str) -> None:
    data = _data(read, f"a: '{text}'\nb: \"{text}\"\nc: |-\n  {text or 'x'}\n")
    assert data == {"a": text, "b": text, "c": text or "x"}
    assert all(type(value) is str for value in data.values())


def test_keys_are_text_as_written(read: Load) -> None:
    assert _data(read, "010: a\nNO: b\ntrue: c\nnull: d\n1.50: e\n<<: f\n") == {
        "010": "a",
        "NO": "b",
        "true": "c",
        "null": "d",
        "1.50": "e",
        "<<": "f",
    }


def test_zeros_are_kept_for_text_fields(read: Load) -> None:
    value = _data(read, "a: 0012")["a"]
    assert isinstance(value, IntAsWritten)
    assert value.text == "0012"


def test_order_of_keys_is_that_of_the_file(read: Load) -> None:
    assert list(_data(read, "z: 1\na: 2\nm: 3\n")) == ["z", "a", "m"]


@pytest.mark.parametrize("source", ["", "\n\n", "# only a comment\n", "---\n"])
def test_a_file_with_nothing_in_it(read: Load, source: str) -> None:
    document, findings = read(source)
    assert findings == []
    assert document is not None
    assert document.data is None
    assert document.places.value(()).line >= 1


def test_line_ends_and_a_byte_order_mark_make_no_difference(read: Load) -> None:
    for source in (
        b"a: 1\r\nb: 2\r\n",
        b"a: 1\rb: 2\r",
        b"\xef\xbb\xbfa: 1\nb: 2\n",
        b"%YAML 1.2\n---\na: 1\nb: 2\n",
    ):
        document, findings = read(source)
        assert findings == []
        assert document is not None
        assert document.data == {"a": 1, "b": 2}


# ---------------------------------------------------------------------- what is refused

REFUSED: list[tuple[str, str | bytes, list[tuple[str, int, int]]]] = [
    ("a key twice", "a: 1\nb: 2\na: 3\n", [("duplicate-key", 3, 1)]),
    ("a key twice, once quoted", "a: 1\n'a': 3\n", [("duplicate-key", 2, 1)]),
    (
        "keys within a repeated key",
        "a: 1\na: {b: 1, b: 2}\n",
        [("duplicate-key", 2, 1), ("duplicate-key", 2, 11)],
    ),
    ("a tag", "a: !!str 1\n", [("yaml-tag", 1, 4)]),
    ("a tag of its own", "a: !thing {b: 1}\n", [("yaml-tag", 1, 4)]),
    ("a tag on a key", "!!str a: 1\n", [("yaml-tag", 1, 1)]),
    ("a tag directive", "%TAG ! tag:x,2000:\n---\na: 1\n", [("yaml-tag", 1, 1)]),
    ("an anchor and an alias", "a: &x 1\nb: *x\n", [("yaml-anchor", 1, 4), ("yaml-alias", 2, 4)]),
    ("an alias as a key", "*x : b\n", [("yaml-alias", 1, 1)]),
    ("a merge key", "a: &x {b: 1}\nc: {<<: *x}\n", [("yaml-anchor", 1, 4), ("yaml-alias", 2, 9)]),
    ("a list as a key", "? [a, b]\n: c\nd: e\n", [("key-not-text", 1, 3)]),
    ("an empty key", "a: {'': 1}\n", [("key-not-text", 1, 5)]),
    ("two documents", "a: 1\n---\nb: 2\n", [("several-documents", 2, 1)]),
    ("YAML 1.1 asked for", "%YAML 1.1\n---\na: 1\n", [("yaml-syntax", 1, 1)]),
    ("infinity and its like", "a: .inf\nb: .nan\nc: 1e999\n", [("not-a-number", n, 4) for n in (1, 2, 3)]),
    ("a tab in the indentation", "a:\n\tb: 1\n", [("tab", 2, 1)]),
    ("a tab in the text", "a: b\tc\n", [("tab", 1, 5)]),
    ("a tab by an escape", 'a: "b\\tc"\n', [("hidden-character", 1, 4)]),
    ("a control character", "a: b\x07\n", [("hidden-character", 1, 5)]),
    ("right-to-left override", "a: b\u202ec\n", [("hidden-character", 1, 5)]),
    ("right-to-left override in a comment", "a: b # \u202ec\n", [("hidden-character", 1, 8)]),
    ("right-to-left override by an escape", 'a: "b\\u202e"\n', [("hidden-character", 1, 4)]),
    ("zero-width blank in a key", "a\u200b: b\n", [("hidden-character", 1, 2)]),
    ("no-break space", "a:\u00a0b\n", [("hidden-character", 1, 3)]),
    ("a line separator", "a: b\u2028c\nd: e\n", [("hidden-character", 1, 5)]),
    ("Latin-1", b"a: caf\xe9\nb: \xe9\n", [("not-utf8", 1, 7), ("not-utf8", 2, 4)]),
    ("UTF-16", "a: 1\n".encode("utf-16"), [("not-utf8", 1, 1)]),
    ("quotes not closed", "a: 'b\nc: d\n", [("yaml-syntax", 1, 4)]),
    ("brackets not closed", "a: [1, 2\nb: 3\n", [("yaml-syntax", 1, 4)]),
    ("a colon too many", "a: b: c\n", [("yaml-syntax", 1, 5)]),
    ("out of line", "a:\n  b: 1\n c: 2\n", [("yaml-syntax", 3, 2)]),
    ("a key without a colon", "a: 1\nb\nc: 2\n", [("yaml-syntax", 2, 1)]),
    ("more after a quoted text", "a: 'b' c\n", [("yaml-syntax", 1, 8)]),
    ("a reserved character", "a: @b\n", [("yaml-syntax", 1, 4)]),
    ("an escape that is none", 'a: "\\q"\n', [("yaml-syntax", 1, -1)]),
]


@pytest.mark.parametrize(
    ("source", "expected"), [each[1:] for each in REFUSED], ids=[each[0] for each in REFUSED]
)
def test_refused(read: Load, source: str | bytes, expected: list[tuple[str, int, int]]) -> None:
    _, findings = read(source)
    found = [
        (rule, line, column if wanted[2] > 0 else -1)
        for (rule, line, column), wanted in zip(_rules(findings), expected, strict=True)
    ]
    assert found == expected


def test_everything_wrong_is_told_at_once(read: Load) -> None:
    _, findings = read("a: 1\na: &x 2\nb: !t 3\nc: *x\nd: .nan\ne: \u202ef\n")
    assert [finding.rule for finding in findings] == [
        "duplicate-key",
        "yaml-anchor",
        "yaml-tag",
        "yaml-alias",
        "not-a-number",
        "hidden-character",
    ]


def test_what_comes_before_a_break_in_the_layout_is_told_too(read: Load) -> None:
    document, findings = read("a: 1\na: 2\nb: [\n")
    assert document is None
    assert [finding.rule for finding in findings] == ["duplicate-key", "yaml-syntax"]


def test_a_repeated_key_points_to_the_first(read: Load) -> None:
    document, (finding,) = read("a: 1\nb: 2\na: {c: 3}\n")
    assert document is not None
    assert document.data == {"a": 1, "b": 2}
    assert [(str(span), words) for span, words in finding.related] == [("a.yaml:1:1", "given first here")]


def test_refused_values_are_marked_unread(read: Load) -> None:
    document, _ = read("a: *x\nb: {c: .inf, d: 1}\ne: !t [1]\nf: fine\n")
    assert document is not None
    assert document.places.unread_paths() == {("a",), ("b", "c"), ("e",)}
    assert document.places.is_unread(("e", 0))
    assert not document.places.is_unread(("b", "d"))


def test_nesting_has_an_end(read: Load) -> None:
    assert read("[" * MAX_DEPTH + "]" * MAX_DEPTH)[1] == []
    for source in ("[" * (MAX_DEPTH + 1), "[" * 100_000, "\n".join(" " * n + "a:" for n in range(40))):
        document, findings = read(source)
        assert document is None
        assert [finding.rule for finding in findings] == ["too-deep"]


def test_a_file_can_have_too_many_values(read: Load) -> None:
    document, findings = read("- 1\n" * (MAX_NODES + 10))
    assert document is None
    assert _rules(findings) == [("file-too-long", MAX_NODES, 3)]


def test_a_file_can_be_too_large(read: Load) -> None:
    document, findings = read(b"# " + b"x" * 512 * 1024)
    assert document is None
    assert _rules(findings) == [("file-too-long", 1, 1)]


def test_anchors_do_not_multiply(read: Load) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    document, findings = read("\n".join(lines))
    assert document is not None
    assert {finding.rule for finding in findings} == {"yaml-anchor", "yaml-alias"}


def test_a_file_wrong_throughout_gets_a_bounded_number_of_findings(read: Load) -> None:
    assert len(read("a: \u202e\n" * 1)[1]) == 1
    assert len(read("- \u202e\n" * 5000)[1]) == 20
    assert len(read("-\tx\n" * 5000)[1]) == 20
    assert len(read(b"- \xff\n" * 5000)[1]) == 20


def test_no_wording_of_the_reader_gets_out(read: Load) -> None:
    telling = ("while ", "expected", "token", "scalar", "node", "sequence", "indicator", "unicode string")
    for _, source, _ in REFUSED:
        for finding in read(source)[1]:
            words = f"{finding.message} {finding.fix}".lower()
            assert not [word for word in telling if word in words], words
            assert finding.message
            assert not finding.message.endswith(".")
            assert not finding.fix or finding.fix.endswith((".", "?"))
