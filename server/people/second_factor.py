"""The second factor: a six-digit code from an authenticator app (TOTP, RFC 6238), and codes for when it is gone.

The secret is kept sealed (``seal.py``). A code is good once: the step in which it was used is kept, and no code of that or an earlier step passes again.
"""

from __future__ import annotations

import hmac
import secrets
from datetime import datetime
from typing import Final

import pyotp
from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from server.people.seal import Seal
from server.people.tokens import token_hash
from server.store.tables.people import AccountRow, RecoveryCodeRow

__all__ = [
    "CODES",
    "begin",
    "check",
    "confirm",
    "left_over",
    "matching_step",
    "new_codes",
    "pending",
    "take_off",
    "uri",
]

_STEP_S: Final = 30
_DRIFT: Final = 1
CODES: Final = 10
_LETTERS: Final = "abcdefghjkmnpqrstuvwxyz23456789"
_LETTERS_A_CODE: Final = 16


def uri(secret: str, sign_in_name: str) -> str:
    """What an authenticator app reads from the square code."""
    return pyotp.TOTP(secret).provisioning_uri(name=sign_in_name, issuer_name="Studbay")


def matching_step(secret: str, code: str, now: datetime) -> int | None:
    """The time step that a code belongs to, one step early or late allowed; None when it fits none."""
    digits = "".join(code.split())
    if len(digits) != 6 or not digits.isascii() or not digits.isdigit():
        return None
    step = int(now.timestamp()) // _STEP_S
    totp = pyotp.TOTP(secret)
    found = None
    for candidate in range(step - _DRIFT, step + _DRIFT + 1):
        if hmac.compare_digest(totp.generate_otp(candidate), digits):
            found = candidate
    return found


def begin(session: Session, account_id: str, seal: Seal) -> str:
    """A new secret, kept aside until a code shows that the app has it."""
    secret = pyotp.random_base32()
    session.execute(
        update(AccountRow).where(AccountRow.id == account_id).values(totp_pending=seal.close(secret))
    )
    return secret


def pending(session: Session, account_id: str, seal: Seal) -> str | None:
    """The secret that waits for its first code."""
    kept = session.scalar(select(AccountRow.totp_pending).where(AccountRow.id == account_id))
    return None if kept is None else seal.open(kept)


def confirm(session: Session, account_id: str, code: str, now: datetime, seal: Seal) -> bool:
    """Turn the second factor on, if the code is of the pending secret."""
    secret = pending(session, account_id, seal)
    step = None if secret is None else matching_step(secret, code, now)
    if step is None:
        return False
    session.execute(
        update(AccountRow)
        .where(AccountRow.id == account_id)
        .values(totp_secret=seal.close(secret or ""), totp_pending=None, totp_last_step=step)
    )
    return True


def check(session: Session, account_id: str, code: str, now: datetime, seal: Seal) -> bool:
    """Whether a code, from the app or from the paper, passes; it is used up. A secret from before there was a seal is
    sealed on the way."""
    kept = session.scalar(select(AccountRow.totp_secret).where(AccountRow.id == account_id).with_for_update())
    if kept is None:
        return False
    secret = seal.open(kept)
    step = None if secret is None else matching_step(secret, code, now)
    if step is not None:
        used = session.execute(
            update(AccountRow)
            .where(
                AccountRow.id == account_id,
                AccountRow.totp_last_step.is_(None) | (AccountRow.totp_last_step < step),
            )
            .values(totp_last_step=step, totp_secret=kept if seal.is_sealed(kept) else seal.close(kept))
            .returning(AccountRow.id)
        )
        return used.first() is not None
    plain = "".join(character for character in code.lower() if character in _LETTERS)
    used = session.execute(
        update(RecoveryCodeRow)
        .where(
            RecoveryCodeRow.account_id == account_id,
            RecoveryCodeRow.code_sha256 == token_hash(plain),
            RecoveryCodeRow.used_at.is_(None),
        )
        .values(used_at=now)
        .returning(RecoveryCodeRow.account_id)
    )
    return used.first() is not None


def take_off(session: Session, account_id: str) -> None:
    """Turn the second factor off."""
    session.execute(
        update(AccountRow)
        .where(AccountRow.id == account_id)
        .values(totp_secret=None, totp_pending=None, totp_last_step=None)
    )
    session.execute(delete(RecoveryCodeRow).where(RecoveryCodeRow.account_id == account_id))


def new_codes(session: Session, account_id: str) -> list[str]:
    """Ten codes to keep on paper (79 random bits each); those made before end."""
    session.execute(delete(RecoveryCodeRow).where(RecoveryCodeRow.account_id == account_id))
    codes = ["".join(secrets.choice(_LETTERS) for _ in range(_LETTERS_A_CODE)) for _ in range(CODES)]
    session.add_all(RecoveryCodeRow(account_id=account_id, code_sha256=token_hash(code)) for code in codes)
    return ["-".join(code[i : i + 4] for i in range(0, _LETTERS_A_CODE, 4)) for code in codes]


def left_over(session: Session, account_id: str) -> int:
    """How many of the codes on paper are still good."""
    return len(
        session.scalars(
            select(RecoveryCodeRow.code_sha256).where(
                RecoveryCodeRow.account_id == account_id, RecoveryCodeRow.used_at.is_(None)
            )
        ).all()
    )
