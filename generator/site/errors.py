"""What can stop a site from being written, each with its own wording.

It must not know how a page is made; errors in a record are findings and never come here.
"""

from pathlib import Path

from generator.findings.errors import HearthbookError

_SHOWN = 20


class BadPage(HearthbookError):
    """A page or a file was handed over that no site can hold: our own mistake, not the record's."""

    def __init__(self, url: str, reason: str) -> None:
        super().__init__(url, reason)
        self.url = url
        self.reason = reason

    @property
    def message(self) -> str:
        return f"page '{self.url}': {self.reason}"


class BrokenLinks(HearthbookError):
    """Finished pages point at pages, files or places in a page that do not exist."""

    def __init__(self, broken: tuple[str, ...]) -> None:
        super().__init__(broken)
        self.broken = broken

    @property
    def message(self) -> str:
        shown = "\n".join(f"  {each}" for each in self.broken[:_SHOWN])
        more = len(self.broken) - _SHOWN
        rest = f"\n  and {more} more" if more > 0 else ""
        links = "1 broken link" if len(self.broken) == 1 else f"{len(self.broken)} broken links"
        return f"{links}, so the site was not finished:\n{shown}{rest}"


class NotOurFolder(HearthbookError):
    """The output folder holds something that is not the site to be replaced, so it is left alone."""

    def __init__(self, folder: Path, reason: str) -> None:
        super().__init__(folder, reason)
        self.folder = folder
        self.reason = reason

    @property
    def message(self) -> str:
        return f"{self.folder} {self.reason}; empty it or name another folder"


class AnotherBuildRuns(HearthbookError):
    """Two builds were started on the same output folder."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.folder = folder

    @property
    def message(self) -> str:
        return f"another build is writing {self.folder}; wait until it has finished"


class BadSettings(HearthbookError):
    """The firm's settings cannot be used as they are."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__(faults)
        self.faults = faults

    @property
    def message(self) -> str:
        return "\n".join(self.faults)


class BuilderFailed(HearthbookError):
    """The program that writes the hand-written pages gave up."""

    def __init__(self, complaints: tuple[str, ...]) -> None:
        super().__init__(complaints)
        self.complaints = complaints

    @property
    def message(self) -> str:
        return "the engineers' site could not be built:\n" + "\n".join(
            f"  {each}" for each in self.complaints
        )


class UnsafeSecret(HearthbookError):
    """The secret behind the tenants' addresses is missing, damaged, or where others can read it."""

    def __init__(self, file: Path, reason: str) -> None:
        super().__init__(file, reason)
        self.file = file
        self.reason = reason

    @property
    def message(self) -> str:
        return f"the tenants' secret {self.file} {self.reason}"


class BadTenancies(HearthbookError):
    """The file of renewed addresses cannot be used; to go on would make wrong addresses."""

    def __init__(self, file: Path, line: int, reason: str) -> None:
        super().__init__(file, line, reason)
        self.file = file
        self.line = line
        self.reason = reason

    @property
    def message(self) -> str:
        return f"{self.file}:{self.line}: {self.reason}"
