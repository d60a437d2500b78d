"""Errors of the tool build their own message and survive being handed between processes."""

import pickle

from generator.findings.errors import CannotReadFile, CannotWriteFile, HearthbookError


def test_an_error_builds_its_message_from_its_objects() -> None:
    error = CannotReadFile("properties/EB-0012.yaml", "no such file")
    assert str(error) == "cannot read properties/EB-0012.yaml: no such file"
    assert (error.path, error.reason) == ("properties/EB-0012.yaml", "no such file")
    assert str(CannotWriteFile("site", "the disk is full")) == "cannot write site: the disk is full"


def test_an_error_can_be_handed_from_one_process_to_another() -> None:
    handed = pickle.loads(pickle.dumps(CannotReadFile("a.yaml", "gone")))  # noqa: S301  # our own object
    assert isinstance(handed, CannotReadFile)
    assert str(handed) == "cannot read a.yaml: gone"


def test_the_base_error_has_a_message_in_any_case() -> None:
    assert str(HearthbookError()) == "the job could not be done"
    assert str(HearthbookError("no room", 3)) == "no room, 3"
