"""``python -m server.people``: for whoever runs the server, when nobody can get in through the browser.

    python -m server.people list
    python -m server.people link NAME                    # a one-time link that sets a password
    python -m server.people forget-second-factor NAME    # the telephone and the codes on paper are gone
    python -m server.people seal-key                     # a key for STUDBAY_SEAL_KEY, where several machines serve

Whoever can run this can read the database as well. What is done is written into the audit trail.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import UTC, datetime

from cryptography.fernet import Fernet
from sqlalchemy import Engine, select

from server.people import second_factor, sessions
from server.people.accounts import account_by_sign_in_name, crews_of, fold_sign_in_name
from server.people.audit import note
from server.people.invites import make_invite
from server.settings import Settings
from server.store.engine import make_engine, reading, writing
from server.store.tables.people import AccountRow

__all__ = ["main", "run"]


def run(engine: Engine, command: str, name: str, base: str, now: datetime) -> tuple[int, str]:
    """Carry out a command; returns the exit code and what to print."""
    if command == "list":
        with reading(engine) as session:
            accounts = session.execute(
                select(AccountRow.id, AccountRow.sign_in_name, AccountRow.name).order_by(
                    AccountRow.sign_in_name
                )
            ).all()
            lines = [
                f"{sign_in_name}\t{full_name}\t"
                + ", ".join(f"{role.word} of {crew}" for _, crew, role in crews_of(session, account_id))
                for account_id, sign_in_name, full_name in accounts
            ]
        return 0, "\n".join(lines)
    try:
        folded = fold_sign_in_name(name)
    except ValueError as error:
        return 2, str(error)
    with writing(engine) as session:
        account = account_by_sign_in_name(session, folded)
        if account is None:
            return (
                1,
                f"expected the sign-in name of an account, came {name!r}; see: python -m server.people list",
            )
        if command == "link":
            token = make_invite(session, account.id, None, now)
            note(session, "link made", now, person_id=account.id, by="command")
            return 0, f"{base}/join/{token}\nGood once, for three days. It does not get past a second factor."
        second_factor.take_off(session, account.id)
        sessions.end_all(session, account.id)
        note(session, "second factor off", now, person_id=account.id, by="command")
        return (
            0,
            f"{account.sign_in_name} signs in with the password alone now, and is signed out everywhere.",
        )


def main(arguments: Sequence[str] | None = None) -> int:
    """The command; returns the process's exit code."""
    parser = argparse.ArgumentParser(
        prog="python -m server.people", description="Help somebody who cannot get in."
    )
    parser.add_argument("command", choices=["list", "link", "forget-second-factor", "seal-key"])
    parser.add_argument("name", nargs="?", default="", help="the sign-in name")
    given = parser.parse_args(arguments)
    if given.command == "seal-key":
        sys.stdout.write(f"{Fernet.generate_key().decode()}\n")
        return 0
    settings = Settings()
    engine = make_engine(settings.database)
    base = settings.public_url or f"http://{settings.host}:{settings.port}"
    code, text = run(engine, given.command, given.name, base, datetime.now(UTC))
    engine.dispose()
    (sys.stderr if code else sys.stdout).write(text + "\n")
    return code


if __name__ == "__main__":
    sys.exit(main())
