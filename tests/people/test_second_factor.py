"""TOTP against RFC 6238's own table, and what makes a code good once."""

from __future__ import annotations

import base64
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pyotp
import pytest
from sqlalchemy import Engine, select

from server.people import second_factor
from server.people.seal import Seal
from server.store.engine import reading, writing
from server.store.tables.people import AccountRow, RecoveryCodeRow
from tests.cast import SEAL, Cast

NOW = datetime(2026, 11, 25, 8, 0, 15, tzinfo=UTC)
# RFC 6238, appendix B, SHA-1 rows: the secret is the ASCII digits, the codes' last six digits
RFC_SECRET = base64.b32encode(b"12345678901234567890").decode()
RFC_ROWS = [
    (59, "287082"),
    (1111111109, "081804"),
    (1111111111, "050471"),
    (1234567890, "005924"),
    (2000000000, "279037"),
]


@pytest.mark.parametrize(("seconds", "code"), RFC_ROWS)
def test_the_codes_of_the_rfc_fit(seconds: int, code: str) -> None:
    assert (
        second_factor.matching_step(RFC_SECRET, code, datetime.fromtimestamp(seconds, UTC)) == seconds // 30
    )


@pytest.mark.parametrize(("steps", "fits"), [(-2, False), (-1, True), (0, True), (1, True), (2, False)])
def test_a_clock_may_be_one_step_off(steps: int, fits: bool) -> None:
    code = pyotp.TOTP(RFC_SECRET).at(NOW + timedelta(seconds=30 * steps))

    assert (second_factor.matching_step(RFC_SECRET, code, NOW) is not None) == fits


@pytest.mark.parametrize("code", ["", "12345", "1234567", "abcdef", "１２３４５６", "-12345"])
def test_what_is_no_code_fits_nothing(code: str) -> None:
    assert second_factor.matching_step(RFC_SECRET, code, NOW) is None


@pytest.fixture
def secret(engine: Engine, cast: Cast) -> str:
    """Ana's secret, turned on a minute ago."""
    with writing(engine) as session:
        made = second_factor.begin(session, "account-ana", SEAL)
        before = NOW - timedelta(minutes=1)
        assert second_factor.confirm(session, "account-ana", pyotp.TOTP(made).at(before), before, SEAL)
    return made


def check(engine: Engine, code: str, now: datetime = NOW) -> bool:
    with writing(engine) as session:
        return second_factor.check(session, "account-ana", code, now, SEAL)


def test_a_code_is_good_once(engine: Engine, secret: str) -> None:
    code = pyotp.TOTP(secret).at(NOW)

    assert check(engine, code)
    assert not check(engine, code)


def test_an_earlier_code_is_no_good_after_a_later_one(engine: Engine, secret: str) -> None:
    earlier, later = pyotp.TOTP(secret).at(NOW - timedelta(seconds=30)), pyotp.TOTP(secret).at(NOW)

    assert check(engine, later)
    assert not check(engine, earlier)


def test_the_code_that_turned_it_on_does_not_sign_in_as_well(engine: Engine, cast: Cast) -> None:
    with writing(engine) as session:
        made = second_factor.begin(session, "account-ana", SEAL)
        code = pyotp.TOTP(made).at(NOW)
        assert second_factor.confirm(session, "account-ana", code, NOW, SEAL)

    assert not check(engine, code)


def test_a_wrong_first_code_turns_nothing_on(engine: Engine, cast: Cast) -> None:
    with writing(engine) as session:
        second_factor.begin(session, "account-ana", SEAL)
        assert not second_factor.confirm(session, "account-ana", "000000", NOW, SEAL)

    assert not check(engine, "000000")


def test_codes_on_paper_are_ten_are_hashed_and_are_good_once(engine: Engine, secret: str) -> None:
    with writing(engine) as session:
        codes = second_factor.new_codes(session, "account-ana")
    with reading(engine) as session:
        kept = session.scalars(select(RecoveryCodeRow.code_sha256)).all()

    assert len(set(codes)) == 10
    assert not set(codes) & set(kept)
    assert check(engine, codes[0].upper().replace("-", " "))
    assert not check(engine, codes[0])
    with reading(engine) as session:
        assert second_factor.left_over(session, "account-ana") == 9


def test_new_codes_end_the_old_ones(engine: Engine, secret: str) -> None:
    with writing(engine) as session:
        old = second_factor.new_codes(session, "account-ana")
        second_factor.new_codes(session, "account-ana")

    assert not check(engine, old[0])


def test_taking_it_off_takes_the_codes_too(engine: Engine, secret: str) -> None:
    with writing(engine) as session:
        codes = second_factor.new_codes(session, "account-ana")
        second_factor.take_off(session, "account-ana")

    assert not check(engine, codes[0])
    assert not check(engine, pyotp.TOTP(secret).at(NOW))


def test_the_database_does_not_hold_the_secret(engine: Engine, cast: Cast) -> None:
    with writing(engine) as session:
        made = second_factor.begin(session, "account-ana", SEAL)
        waiting = session.get_one(AccountRow, "account-ana").totp_pending
        assert second_factor.confirm(session, "account-ana", pyotp.TOTP(made).at(NOW), NOW, SEAL)
        session.expire_all()
        kept = session.get_one(AccountRow, "account-ana").totp_secret

    assert waiting
    assert kept
    for text in (waiting, kept):
        assert made not in text
        assert SEAL.open(text) == made


def test_a_secret_from_before_there_was_a_seal_is_sealed_when_it_is_used(engine: Engine, cast: Cast) -> None:
    made = pyotp.random_base32()
    with writing(engine) as session:
        session.get_one(AccountRow, "account-ana").totp_secret = made

    assert check(engine, pyotp.TOTP(made).at(NOW))

    with reading(engine) as session:
        kept = session.get_one(AccountRow, "account-ana").totp_secret
    assert kept is not None
    assert made not in kept
    assert check(engine, pyotp.TOTP(made).at(NOW + timedelta(minutes=1)), NOW + timedelta(minutes=1))


def test_with_another_key_no_code_passes_and_those_on_paper_do(
    engine: Engine, secret: str, tmp_path: Path
) -> None:
    other = Seal(tmp_path)
    with writing(engine) as session:
        codes = second_factor.new_codes(session, "account-ana")
        assert not second_factor.check(session, "account-ana", pyotp.TOTP(secret).at(NOW), NOW, other)
        assert second_factor.check(session, "account-ana", codes[0], NOW, other)
