"""The names inside a kind of the firm's own: whether what they speak of is there, and what its duty asks for.

Every wrong name becomes a finding with the closest right one; nothing raises.
"""

from collections.abc import Iterator, Sequence

from generator.findings.finding import Finding, Severity
from generator.record.kind_model import Condition, KindFile
from generator.record.places import Path, Places
from generator.record.wording import closest

_PARTS: dict[str, tuple[tuple[str, tuple[str, ...], str], ...]] = {
    "timer": (("inputs", ("channel-1",), "an input `channel-1` of kind `timer channel`"),),
    "room thermostat": (("inputs", ("calling",), "an input `calling` of kind `thermostat`"),),
    "cylinder thermostat": (("inputs", ("calling",), "an input `calling` of kind `thermostat`"),),
    "motorised valve": (
        (
            "driven",
            ("open", "open-heating", "open-water"),
            "a moving part `open`, or `open-heating` and `open-water`",
        ),
    ),
    "pump": (("driven", ("running",), "a moving part `running`"),),
    "boiler": (("driven", ("firing",), "a moving part `firing`"),),
}
"""What rules and pages look for in a device of each duty."""


def name_problems(model: KindFile, places: Places) -> list[Finding]:
    """Everything that is wrong with the names of a kind."""
    return [*_Names(model, places).all()]


class _Names:
    def __init__(self, model: KindFile, places: Places) -> None:
        self.model = model
        self.places = places
        self.points = [*model.terminals, *model.inner]
        self.moved = [*model.inputs, *model.driven]

    def all(self) -> Iterator[Finding]:
        yield from self.twice()
        for name, contact in self.model.contacts.items():
            yield from self.ends(contact.between, ("contacts", name, "between"))
            yield from self.condition(contact.made, ("contacts", name, "while"))
        for name, load in self.model.loads.items():
            yield from self.ends(load.between, ("loads", name, "between"))
        for name, driven in self.model.driven.items():
            yield from self.condition(driven.moves, ("driven", name, "while"))
        for name, sense in self.model.senses.items():
            yield from self.ends(sense.between, ("senses", name, "between"))
        for name, control in self.model.controls.items():
            yield from self.known(
                control.moves, list(self.model.inputs), "input", ("controls", name, "moves")
            )
        yield from self.duty()

    def twice(self) -> Iterator[Finding]:
        for index, point in enumerate(self.model.inner):
            if point in self.points[: len(self.model.terminals) + index]:
                yield self.report(
                    "name-twice", ("inner", index), f"there is a terminal or point `{point}` already"
                )
        for name in self.model.driven:
            if name in self.model.inputs:
                yield self.report(
                    "name-twice",
                    ("driven", name),
                    f"there is an input `{name}` already; a condition could mean either",
                    key=True,
                )

    def ends(self, between: Sequence[str], path: Path) -> Iterator[Finding]:
        for index, point in enumerate(between):
            yield from self.known(point, self.points, "terminal or point inside", (*path, index))
        if between[0] == between[1]:
            yield self.report("both-ends-alike", path, f"both ends are `{between[0]}`")

    def condition(self, written: str | Condition, path: Path) -> Iterator[Finding]:
        if isinstance(written, str):
            yield from self.known(written, self.moved, "input or moving part", path)
            return
        if written.is_ is not None:
            yield from self.known(written.is_, self.moved, "input or moving part", (*path, "is"))
        if written.not_ is not None:
            yield from self.condition(written.not_, (*path, "not"))
        for key, several in (("all", written.all_), ("any", written.any_)):
            for index, each in enumerate(several or ()):
                yield from self.condition(each, (*path, key, index))
        if written.fed is not None:
            yield from self.known(written.fed, list(self.model.loads), "load", (*path, "fed"))
        for key, point in (("live", written.live), ("back", written.back)):
            if point is not None:
                yield from self.known(point, self.points, "terminal or point inside", (*path, key))
        for index, point in enumerate(written.joined or ()):
            yield from self.known(point, self.points, "terminal or point inside", (*path, "joined", index))

    def known(self, name: str, among: list[str], what: str, path: Path) -> Iterator[Finding]:
        if name in among:
            return
        close = closest(name, among)
        hint = f"; did you mean `{close}`?" if close else ""
        listed = ", ".join(f"`{each}`" for each in among)
        yield self.report(
            "unknown-part",
            path,
            f"this kind has no {what} `{name}`{hint}",
            fix=f"It has {listed}." if among else "It has none.",
        )

    def duty(self) -> Iterator[Finding]:
        for section, names, words in _PARTS.get(self.model.duty, ()):
            if not set(names) & set(getattr(self.model, section)):
                yield self.report(
                    "duty-needs-part",
                    ("duty",),
                    f"a kind with the duty `{self.model.duty}` needs {words}, which rules and pages go by",
                    fix="Add it, or write the duty `other`.",
                )

    def report(
        self, rule: str, path: Path, message: str, *, fix: str = "Correct one of them.", key: bool = False
    ) -> Finding:
        span = self.places.key(path) if key else self.places.value(path)
        return Finding(rule=rule, severity=Severity.ERROR, message=message, fix=fix, span=span)
