"""Texts that give something away, and texts of the trade that only look like it."""

import pytest

from generator.rules.secrets import secrets_in


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Key safe by the door 4821", "the number of a key safe"),
        ("keysafe no. 123 beside the meter", "the number of a key safe"),
        ("lock-box: 9001", "the number of a key safe"),
        ("Alarm code is 1234", "an access or alarm code"),
        ("gate code C2468", "an access or alarm code"),
        ("main door code 5590#", "an access or alarm code"),
        ("PIN 4455", "an access or alarm code"),
        ("the code for the door is 885", "an access or alarm code"),
        ("wifi password: hearth", "a password"),
        ("write to someone@example.org first", "an e-mail address"),
        ("ring 07700 900123 before calling", "a telephone number"),
        ("+44 7700 900123", "a telephone number"),
        ("tel. 01632 960001", "a telephone number"),
        ("Mrs Example is at home on Tuesdays", "a person's name"),
        ("ask Mr. J. Sample upstairs", "a person's name"),
    ],
)
def test_gives_away(text: str, words: str) -> None:
    assert list(secrets_in(text)) == [words]


@pytest.mark.parametrize(
    "text",
    [
        "Smell of gas: ring 0800 111 999 and go out",
        "Northern Ireland: 0800 002 001",
        "Valve replaced on 2024-03-15, end switch proved",
        "Fault code 1234 on the boiler's display",
        "The alarm has its own fused spur",
        "Smoke alarm changed in 2024",
        "Gate valve on the cold feed seized",
        "Pin of the radiator valve freed",
        "Readings 230.1 229.8 230.4 V at 0.75 mm2",
        "4 Kiln Dr",
        "Stock number 10020030040",
        "Key safe is empty",
        "Door to the airing cupboard sticks",
        "Set to 60 C, 1500 W, 0.5 mm2, 12 m",
    ],
)
def test_harmless(text: str) -> None:
    assert list(secrets_in(text)) == []
