"""Sessions end when they should, and the database's reader cannot use them. OWASP ASVS 5.0, 7.2 to 7.4."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, select, update

from server.people import sessions
from server.people.devices import device_words
from server.people.roles import Role
from server.people.tokens import looks_like_token, new_token, token_hash
from server.store.engine import reading, writing
from server.store.tables.people import AccountRow, MembershipRow, SignInSessionRow
from tests.cast import LIFETIME, Cast

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)


def found(engine: Engine, token: str, now: datetime) -> sessions.OpenSession | None:
    with reading(engine) as session:
        return sessions.find(session, token, now, LIFETIME)


def test_a_token_has_256_random_bits_and_is_kept_as_a_hash(engine: Engine, cast: Cast) -> None:
    token = cast.token("ana", now=NOW)

    assert looks_like_token(token)
    assert len({new_token() for _ in range(1000)}) == 1000
    with reading(engine) as session:
        kept = session.scalars(select(SignInSessionRow.token_sha256)).all()
    assert kept == [token_hash(token)]
    assert token not in str(kept)


def test_it_opens_for_its_person_on_its_crew(engine: Engine, cast: Cast) -> None:
    open_session = found(engine, cast.token("elena", now=NOW), NOW)

    assert open_session is not None
    person = open_session.person
    assert (person.name, person.crew_id, person.role) == ("Elena Novak", "crew-of-ana", Role.ELECTRICIAN)


@pytest.mark.parametrize("token", ["", "x", "x" * 43, "' OR 1=1 --", "ä" * 43])
def test_nothing_else_opens(engine: Engine, cast: Cast, token: str) -> None:
    cast.token("ana", now=NOW)

    assert found(engine, token, NOW) is None


@pytest.mark.parametrize(
    ("later", "is_open"),
    [
        (LIFETIME.idle - timedelta(seconds=1), True),
        (LIFETIME.idle, False),
        (LIFETIME.idle + timedelta(seconds=1), False),
    ],
)
def test_it_ends_unused(engine: Engine, cast: Cast, later: timedelta, is_open: bool) -> None:
    token = cast.token("ana", now=NOW)

    assert (found(engine, token, NOW + later) is not None) == is_open


@pytest.mark.parametrize(
    ("later", "is_open"),
    [
        (LIFETIME.longest - timedelta(seconds=1), True),
        (LIFETIME.longest, False),
        (LIFETIME.longest + timedelta(seconds=1), False),
    ],
)
def test_it_ends_in_any_case(engine: Engine, cast: Cast, later: timedelta, is_open: bool) -> None:
    token = cast.token("ana", now=NOW)
    with writing(engine) as session:
        session.execute(update(SignInSessionRow).values(seen_at=NOW + later))

    assert (found(engine, token, NOW + later) is not None) == is_open


def test_it_ends_with_the_account_and_with_the_membership(engine: Engine, cast: Cast) -> None:
    ana, pat = cast.token("ana", now=NOW), cast.token("pat", now=NOW)
    with writing(engine) as session:
        session.execute(update(AccountRow).where(AccountRow.id == "account-ana").values(disabled_at=NOW))
        session.execute(
            update(MembershipRow).where(MembershipRow.account_id == "account-pat").values(ended_at=NOW)
        )

    assert found(engine, ana, NOW) is None
    assert found(engine, pat, NOW) is None


def test_a_role_holds_from_the_next_request_on(engine: Engine, cast: Cast) -> None:
    token = cast.token("pat", now=NOW)
    with writing(engine) as session:
        session.execute(
            update(MembershipRow).where(MembershipRow.account_id == "account-pat").values(role="guest")
        )

    open_session = found(engine, token, NOW)

    assert open_session is not None
    assert open_session.person.role is Role.GUEST


def test_renewing_kills_the_old_token(engine: Engine, cast: Cast) -> None:
    old = cast.token("ana", now=NOW)
    open_session = found(engine, old, NOW)
    assert open_session is not None
    with writing(engine) as session:
        new = sessions.renew(session, open_session.person.session_id, NOW)

    assert found(engine, old, NOW) is None
    assert found(engine, new, NOW) is not None


def test_somebody_elses_session_cannot_be_ended(engine: Engine, cast: Cast) -> None:
    token = cast.token("ana", now=NOW)
    open_session = found(engine, token, NOW)
    assert open_session is not None
    with writing(engine) as session:
        assert not sessions.end_one(session, "account-sol", open_session.person.session_id)
        assert sessions.end_one(session, "account-ana", open_session.person.session_id)

    assert found(engine, token, NOW) is None


def test_ending_all_leaves_the_one_that_is_kept(engine: Engine, cast: Cast) -> None:
    kept, other = cast.token("ana", now=NOW), cast.token("ana", now=NOW)
    open_session = found(engine, kept, NOW)
    assert open_session is not None
    with writing(engine) as session:
        sessions.end_all(session, "account-ana", but=open_session.person.session_id)

    assert found(engine, kept, NOW) is not None
    assert found(engine, other, NOW) is None


@pytest.mark.parametrize(
    ("user_agent", "words"),
    [
        (
            "Mozilla/5.0 (iPad; CPU OS 18_0 like Mac OS X) AppleWebKit/605 Version/18.0 Mobile Safari/604.1",
            "Safari on iPad",
        ),
        (
            "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/140.0 Safari/537.36",
            "Chrome on Android",
        ),
        ("Mozilla/5.0 (Windows NT 10.0) Gecko/20100101 Firefox/140.0", "Firefox on Windows"),
        ("curl/8.5", "A browser"),
        ("<script>", "A browser"),
    ],
)
def test_a_browser_in_words(user_agent: str, words: str) -> None:
    assert device_words(user_agent) == words
