"""The table of modules in DEVELOPERS.md, made from the first line of each module's docstring.

`python -m tests.tools.module_table --write` brings it up to date; a test says when it is not.
"""

import ast
import inspect
import sys
import tokenize
from pathlib import Path

from tests.tools.paths import GENERATOR, ROOT, python_modules, relative

DEVELOPERS = ROOT / "DEVELOPERS.md"
BEGIN = "<!-- modules: made by `python -m tests.tools.module_table --write`, do not edit -->"
END = "<!-- end of modules -->"

# From what a record is to what a user sees, so that the table reads as the flow does.
FLOW = (
    "findings",
    "catalogue",
    "record",
    "circuit",
    "states",
    "rules",
    "pipeline.py",
    "drawings",
    "views",
    "pages",
    "site",
    "plugin.py",
    "command",
    "templates.py",
    "__init__.py",
)


def docstring_of(module: Path) -> str:
    """Return a module's docstring, empty if it has none; the rest of the module is not read."""
    with tokenize.open(module) as file:
        for token in tokenize.generate_tokens(file.readline):
            if token.type == tokenize.STRING:
                return inspect.cleandoc(ast.literal_eval(token.string))
            if token.type not in (tokenize.COMMENT, tokenize.NL):
                break
    return ""


def _place_in_flow(module: Path) -> tuple[int, str]:
    top = module.relative_to(GENERATOR).parts[0]
    place = FLOW.index(top) if top in FLOW else len(FLOW)
    return place, relative(module).replace("__init__.py", "")


def _row(module: Path) -> str:
    first_line, *_ = docstring_of(module).splitlines() or [""]
    is_package = module.name == "__init__.py" and module.parent != GENERATOR
    name = relative(module.parent) + "/" if is_package else relative(module)
    name = f"**`{name}`**" if is_package or module.parent == GENERATOR else f"`{name}`"
    return f"| {name} | {first_line.replace('|', '&#124;')} |"


def module_table() -> str:
    rows = [_row(module) for module in sorted(python_modules(GENERATOR), key=_place_in_flow)]
    return "\n".join(["| module | what it holds |", "| --- | --- |", *rows])


def with_fresh_table(text: str) -> str:
    """Return the text of DEVELOPERS.md with the table between its two marks made anew."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n\n{module_table()}\n\n{END}{after}"


def main() -> int:
    text = DEVELOPERS.read_text(encoding="utf-8")
    fresh = with_fresh_table(text)
    if "--write" in sys.argv[1:]:
        DEVELOPERS.write_text(fresh, encoding="utf-8")
        return 0
    return int(fresh != text)


if __name__ == "__main__":
    sys.exit(main())
