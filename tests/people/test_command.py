"""What whoever runs the server can do when nobody gets in through the browser."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pyotp
import pytest
from sqlalchemy import Engine, select

from seed_demo.seed import RealData, seed
from server.people import invites, second_factor
from server.people.__main__ import run
from server.people.accounts import account_by_sign_in_name
from server.store.engine import reading, writing
from server.store.jobs import make_job
from server.store.journal import NOBODY
from server.store.kinds import JobSettings
from server.store.tables.audit import AuditRow
from server.store.tables.people import SignInSessionRow
from tests.cast import SEAL, Cast

NOW = datetime.now(UTC)


def test_a_link_is_made_for_an_account_and_written_down(engine: Engine, cast: Cast) -> None:
    code, text = run(engine, "link", "ANA", "https://wiring.example.org", NOW)

    address = text.splitlines()[0]
    assert code == 0
    assert address.startswith("https://wiring.example.org/join/")
    with reading(engine) as session:
        invited = invites.find_invite(session, address.rpartition("/")[2], NOW)
        assert invited is not None
        assert invited.sign_in_name == "ana"
        assert session.scalars(select(AuditRow.what)).all() == ["link made"]


def test_a_second_factor_is_forgotten_and_sessions_end(engine: Engine, cast: Cast) -> None:
    before = NOW - timedelta(minutes=2)
    cast.token("ana")
    with writing(engine) as session:
        secret = second_factor.begin(session, "account-ana", SEAL)
        assert second_factor.confirm(session, "account-ana", pyotp.TOTP(secret).at(before), before, SEAL)

    code, text = run(engine, "forget-second-factor", "ana", "", NOW)

    assert (code, "ana signs in with the password alone" in text) == (0, True)
    with reading(engine) as session:
        account = account_by_sign_in_name(session, "ana")
        assert account is not None
        assert account.totp_secret is None
        assert session.scalars(select(SignInSessionRow)).all() == []


def test_the_list_names_everybody_with_crew_and_role(engine: Engine, cast: Cast) -> None:
    code, text = run(engine, "list", "", "", NOW)

    assert code == 0
    assert "ana\tAna Ruiz\towner of Ruiz Wiring" in text.splitlines()
    assert len(text.splitlines()) == 6


@pytest.mark.parametrize(("name", "exit_code"), [("nobody", 1), ("a b", 2), ("", 2)])
def test_a_name_that_is_nobodys_is_said(engine: Engine, cast: Cast, name: str, exit_code: int) -> None:
    code, text = run(engine, "link", name, "", NOW)

    assert (code, "expected" in text) == (exit_code, True)


@pytest.mark.parametrize("what", ["accounts", "real jobs"])
def test_the_demo_does_not_go_among_real_people_and_jobs(engine: Engine, cast: Cast, what: str) -> None:
    if what == "real jobs":
        with writing(engine) as session:
            make_job(session, "crew-of-ana", JobSettings("job-1", "Alder Court", 2023), NOBODY)

    with pytest.raises(RealData, match=what):
        seed(engine)

    assert len(run(engine, "list", "", "", NOW)[1].splitlines()) == 6
