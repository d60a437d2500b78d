"""Errors of the tool itself: something it needs is missing or broken, so it cannot do the job.

Must not be used for what is wrong in a record: that is a finding.
"""

import errno


class HearthbookError(Exception):
    """The tool cannot work. The command line shows the message and exits with 2.

    A subclass passes its objects to ``super().__init__`` in the order of its own parameters (so that it
    survives being handed from one process to another), keeps them as attributes, and builds its wording in
    ``message``.
    """

    def __init__(self, *objects: object) -> None:
        super().__init__(*objects)

    @property
    def message(self) -> str:
        """What went wrong and what to do, in one or two sentences."""
        return ", ".join(str(each) for each in self.args) or "the job could not be done"

    def __str__(self) -> str:
        return self.message


class CannotReadFile(HearthbookError):
    """A file that is needed cannot be read."""

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)
        self.path = path
        self.reason = reason

    @property
    def message(self) -> str:
        return f"cannot read {self.path}: {self.reason}"


class CannotWriteFile(HearthbookError):
    """A file cannot be written."""

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)
        self.path = path
        self.reason = reason

    @property
    def message(self) -> str:
        return f"cannot write {self.path}: {self.reason}"


_IN_THE_WAY = {
    errno.EEXIST: "there is a file where a folder has to be; move it away, or name another place",
    errno.ENOTDIR: "a part of that place is a file and no folder; name another place",
    errno.EISDIR: "there is a folder of that name; name a file",
}


def why_not_written(error: OSError) -> str:
    """Why the machine will not write, in words that say what to do where its own do not."""
    return _IN_THE_WAY.get(error.errno or 0) or error.strerror or str(error)
