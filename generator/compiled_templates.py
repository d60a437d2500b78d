"""Templates as they were compiled, beside our own compiled modules: most runs compile none.

It knows neither what the templates say nor who fills them.
"""

import sys
from contextlib import suppress
from hashlib import sha256
from importlib.util import cache_from_source
from pathlib import Path

import jinja2
from jinja2 import FileSystemBytecodeCache
from jinja2.bccache import Bucket


class Compiled(FileSystemBytecodeCache):
    """The files of compiled templates in a folder; where one cannot be read or written the template is compiled again."""

    def load_bytecode(self, bucket: Bucket) -> None:
        """Read one; a file that was cut short counts as none."""
        try:
            super().load_bytecode(bucket)
        except Exception:  # noqa: BLE001  # whatever a file that was cut short leads to
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Write one, where that can be done."""
        with suppress(OSError):
            super().dump_bytecode(bucket)


def compiled(made_by: str, sort: str) -> Compiled | None:
    """Those of environments that compile a template alike; None where Python keeps no compiled modules.

    Args:
        made_by: The file of the module that says what these environments are like.
        sort: Which of those in that file, a slug.
    """
    if sys.dont_write_bytecode:
        return None
    folder = Path(cache_from_source(made_by)).parent
    version = sha256(Path(made_by).read_bytes() + jinja2.__version__.encode()).hexdigest()[:8]
    return Compiled(str(folder), f"template-{version}-{sort}-%s.cache") if folder.is_dir() else None
