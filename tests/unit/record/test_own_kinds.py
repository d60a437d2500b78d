"""Kinds of the firm's own: read as strictly as records, every fault at its line, and solved like any other kind."""

from datetime import date
from pathlib import Path

import jsonschema
import pytest

from generator.catalogue.kind import Duty
from generator.catalogue.logic import All, Any, Fed, Is, Joined, Not
from generator.pipeline import examine
from generator.record.kind_model import KindFile
from generator.record.own_kinds import expression, kinds_of_own, load_own_kind, own_kinds, read_own_kind
from generator.record.schema import json_schema
from generator.record.yaml12 import load
from generator.rules.example_house import HOUSE, change

GOOD = """\
format: 1
kind: run-back-timer
words: run-back timer
duty: timer
about: A push button that makes its contact for two hours.
protection: 2
terminals:
  L: { words: line in, role: permanent live, usual_core: BN }
  N: { words: neutral, role: neutral, usual_core: BU }
  out: { words: output, role: switched output }
inputs:
  channel-1: { words: channel 1, on: running, off: ended, kind: timer channel }
loads:
  clock: { words: electronics, between: [L, N], watts: 1, kind: electronics }
contacts:
  run: { words: contact, between: [L, out], while: { all: [channel-1, { fed: clock }] }, rated_a: 3 }
controls:
  button: { words: button, does: runs it for two hours, moves: channel-1 }
facts:
  - { words: run time, value: 2 h, source: from memory }
"""


def test_good() -> None:
    made = read_own_kind(GOOD.encode(), "kinds/run-back-timer.yaml", "run-back-timer")
    assert made.findings == ()
    assert made.kind is not None
    assert made.kind.duty is Duty.TIMER
    parts = made.kind.parts(made.kind.settings())
    assert [item.name for item in parts.terminals] == ["L", "N", "out"]
    (mover,) = parts.driven
    assert mover.when == All((Is("channel-1"), Fed("clock")))
    assert parts.contacts[0].when == Is(mover.name)


@pytest.mark.parametrize(
    ("old", "new", "line", "rule", "said"),
    [
        ("[L, out]", "[L, outt]", 16, "unknown-part", "did you mean `out`"),
        ("{ fed: clock }", "{ fed: clok }", 16, "unknown-part", "did you mean `clock`"),
        ("all: [channel-1,", "all: [chanel-1,", 16, "unknown-part", "did you mean `channel-1`"),
        ("moves: channel-1", "moves: channel-2", 18, "unknown-part", "no input `channel-2`"),
        ("[L, N], watts", "[L, L], watts", 14, "both-ends-alike", "both ends are `L`"),
        ("{ fed: clock }", "{ fed: clock, not: channel-1 }", 16, "wrong-condition", "one key"),
        ("{ fed: clock }", "{ feed: clock }", 16, "unknown-key", "did you mean `fed`"),
        ("duty: timer", "duty: timmer", 4, "not-allowed-value", "timer"),
        ("duty: timer", "duty: boiler", 4, "duty-needs-part", "`firing`"),
        ("kind: run-back-timer", "kind: run-back", 2, "not-the-file-name", "run-back"),
        (", source: from memory", "", 20, "missing-key", "source"),
        ("watts: 1,", "watts: none,", 14, "wrong-type", "number"),
        ("role: neutral", "role: neutrl", 9, "not-allowed-value", "neutral"),
        ("usual_core: BN", "usual_core: QQ", 8, "bad-core", "QQ"),
        ("format: 1", "format: 1\nwirings: 2", 2, "unknown-key", "wirings"),
        ("protection: 2\n", "protection: 2\ninner: [N]\n", 7, "name-twice", "`N` already"),
    ],
)
def test_one_thing_wrong(old: str, new: str, line: int, rule: str, said: str) -> None:
    assert GOOD.count(old) == 1
    made = read_own_kind(GOOD.replace(old, new).encode(), "kinds/run-back-timer.yaml", "run-back-timer")
    assert made.kind is None
    (finding,) = made.findings
    assert (finding.rule, finding.span.line) == (rule, line)
    assert said in finding.message + finding.fix


def test_name_of_the_catalogue() -> None:
    made = read_own_kind(
        GOOD.replace("run-back-timer", "time-switch").encode(), "kinds/x.yaml", "time-switch"
    )
    assert [finding.rule for finding in made.findings] == ["kind-name-taken"]


def test_conditions() -> None:
    document, _ = load(b"a: { any: [x, { not: { all: [y, z] } }, { joined: [p, q] }] }", "a.yaml")
    assert document is not None
    written = KindFile.model_validate(
        {
            "format": 1,
            "kind": "a",
            "words": "a",
            "duty": "other",
            "about": "A.",
            "contacts": {"c": {"words": "c", "between": ["p", "q"], "while": document.data["a"]}},
            "facts": [{"words": "a", "value": "b", "source": "from memory"}],
        }
    )
    assert expression(written.contacts["c"].made) == Any(
        (Is("x"), Not(All((Is("y"), Is("z")))), Joined("p", "q"))
    )


def test_json_schema() -> None:
    schema = json_schema(KindFile)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    document, _ = load(GOOD.encode(), "a.yaml")
    assert document is not None
    validator.validate(document.data)
    assert not validator.is_valid({**document.data, "wiring": {}})


_USING = change(
    HOUSE,
    ("settings: { channels: 2 } }", "settings: { channels: 1 } }\n  run-back: { kind: run-back-timer }"),
    ("        - { to: programmer.on-2, core: GY }\n", "        - { to: run-back.out, core: GY }\n"),
    (
        "        - { to: programmer.L, core: BN }\n",
        "        - { to: programmer.L, core: BN }\n        - { to: run-back.L, core: BN }\n",
    ),
    (
        "        - { to: programmer.N, core: BU }\n",
        "        - { to: programmer.N, core: BU }\n        - { to: run-back.N, core: BU }\n",
    ),
    ("channel: programmer.2", "channel: run-back.1"),
)


def _stock(folder: Path, kind: str) -> Path:
    (folder / "kinds").mkdir()
    (folder / "kinds" / "run-back-timer.yaml").write_text(kind, encoding="utf-8")
    record = folder / "EX-0001.yaml"
    record.write_text(_USING, encoding="utf-8")
    return record


def test_record_that_uses_it(tmp_path: Path) -> None:
    """A house with it is solved and found sound; its channel calls like any other's."""
    done = examine(_stock(tmp_path, GOOD), today=date(2026, 3, 20))
    assert done.findings == ()
    assert done.solution is not None
    state = done.solution.space.state(["run-back.channel-1", "room-thermostat.calling"])
    assert done.solution.settled.on["boiler.firing"] >> state & 1
    assert not done.solution.settled.on["water-valve.open"] >> state & 1


def test_record_that_uses_a_broken_one(tmp_path: Path) -> None:
    done = examine(_stock(tmp_path, GOOD.replace("[L, out]", "[L, outt]")), today=date(2026, 3, 20))
    found = [(Path(finding.span.file).name, finding.rule) for finding in done.findings]
    assert ("run-back-timer.yaml", "unknown-part") in found
    assert ("EX-0001.yaml", "unknown-kind") in found
    assert done.solution is None


def test_a_changed_file_is_read_anew(tmp_path: Path) -> None:
    _stock(tmp_path, GOOD)
    file = tmp_path / "kinds" / "run-back-timer.yaml"
    assert load_own_kind(file).kind is not None
    file.write_text(
        GOOD.replace("words: run-back timer", "words: boost timer of two hours"), encoding="utf-8"
    )
    (kind,) = kinds_of_own(tmp_path)
    assert kind.words == "boost timer of two hours"


def test_no_folder(tmp_path: Path) -> None:
    assert own_kinds(None) == own_kinds(tmp_path) == ()
