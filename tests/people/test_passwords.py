"""Passwords: which are taken, and how they are kept. Bounds: OWASP ASVS 5.0, 6.2.1 to 6.2.12 and appendix C."""

from __future__ import annotations

import pytest
from argon2 import PasswordHasher, Type, extract_parameters
from hypothesis import given
from hypothesis import strategies as st
from zxcvbn.frequency_lists import FREQUENCY_LISTS

from server.people import passwords
from server.people.passwords import LONGEST, SHORTEST, UNUSABLE, hash_password, needs_rehash, verify, weakness
from tests.cast import PASSWORD, password_hash

OWN = ("Ana Ruiz", "ana.ruiz", "Ruiz Wiring")


@pytest.mark.parametrize("length", [SHORTEST - 1, SHORTEST, SHORTEST + 1])
def test_ten_characters_are_the_least(length: int) -> None:
    text = "kq7wnz3xvt5"[:length]

    assert (weakness(text) is not None) == (length < SHORTEST)


@pytest.mark.parametrize("length", [64, LONGEST, LONGEST + 1])
def test_long_ones_are_taken_up_to_256(length: int) -> None:
    text = ("seven yellow hammers, " * 20)[:length]

    assert (weakness(text) is not None) == (length > LONGEST)


@pytest.mark.parametrize(
    "text",
    [
        "password123", "P@ssw0rd2025!", "passwordpassword", "qwertyuiop", "1234567890", "abcdefghij", "abc12abc12", "aaaaaaaaaab",
        "correct horse battery staple", "electrician1!", "Summer2027!!", "hunter2hunter2", "qwerty123456!!", "iloveyou1234",
        "zyxwvutsrq", "0987654321", "1qaz2wsx3edc", "Admin123456", "studbay12345",
    ],
)  # fmt: skip
def test_what_is_guessed_first_is_refused(text: str) -> None:
    assert weakness(text, OWN) is not None


def test_none_of_the_thirty_thousand_that_are_met_most_is_taken() -> None:
    """The list that comes with zxcvbn: passwords out of public leaks, the commonest first."""
    long_enough = [text for text in FREQUENCY_LISTS["passwords"] if len(text) >= SHORTEST]

    assert len(long_enough) > 1000
    assert [text for text in long_enough if weakness(text) is None] == []


def test_one_of_them_with_digits_and_marks_around_it_is_not_taken_either() -> None:
    stems = [text for text in FREQUENCY_LISTS["passwords"][:3000] if len(text) >= 6 and text.isalpha()]

    assert len(stems) > 1000
    assert [text for text in stems if weakness(f"{text.capitalize()}-2026!") is None] == []


@pytest.mark.parametrize("text", ["Ruiz.Ana.2024", "ruizwiring!!1", "RUIZ-RUIZ-12", "ana.ruiz.123"])
def test_ones_own_names_are_no_password(text: str) -> None:
    assert weakness(text, OWN) is not None


@pytest.mark.parametrize(
    "text",
    [
        PASSWORD,
        "blue copper staple ladder",
        "tr0ub4dor&3xyz",
        "Ünïcödé pässwörter",
        "  spaces count  x",
        "ладонь-стремянка-7",
    ],
)
def test_anything_else_is_taken_whatever_its_characters(text: str) -> None:
    assert weakness(text, OWN) is None


def test_a_password_is_kept_as_argon2id_above_the_floor() -> None:
    found = extract_parameters(password_hash())

    assert found.type is Type.ID
    assert (found.memory_cost >= 19 * 1024, found.time_cost >= 2, found.parallelism >= 1) == (
        True,
        True,
        True,
    )


def test_only_the_very_same_characters_open() -> None:
    kept = password_hash()

    assert verify(PASSWORD, kept)
    assert not verify(PASSWORD + " ", kept)
    assert not verify(PASSWORD.upper(), kept)


@pytest.mark.parametrize("kept", [None, UNUSABLE, "", "$argon2id$nonsense"])
def test_nothing_opens_what_has_no_password(kept: str | None) -> None:
    assert not verify("nobody has this password", kept)
    assert not verify("", kept)


def test_an_unknown_name_costs_a_hash_as_well(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    class Counting:
        def hash(self, _text: str) -> str:
            return "a hash of nobody"

        def verify(self, kept: str, _text: str) -> bool:
            asked.append(kept)
            return True

    monkeypatch.setattr(passwords, "_HASHER", Counting())
    passwords._nobodys_hash.cache_clear()
    try:
        assert not verify("whatever it is", None)
        assert asked == ["a hash of nobody"]
    finally:
        passwords._nobodys_hash.cache_clear()


def test_an_older_profile_is_made_again() -> None:
    weak = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1).hash(PASSWORD)

    assert needs_rehash(weak)
    assert not needs_rehash(hash_password(PASSWORD))


@given(st.text(max_size=300))
def test_every_text_has_an_answer(text: str) -> None:
    answer = weakness(text, OWN)

    assert answer is None or answer.endswith((".", "try."))
