"""Signing in and out, as a browser sees it. OWASP ASVS 5.0, 6.3, 7.2 to 7.4."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pyotp
import pytest
from argon2 import PasswordHasher
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, func, select, update

from server.people import passwords, second_factor, throttle
from server.people.passwords import UNUSABLE, needs_rehash
from server.store.engine import reading, writing
from server.store.tables.audit import AuditRow
from server.store.tables.people import AccountRow, MembershipRow, SignInSessionRow, ThrottleRow
from tests.cast import PASSWORD, SEAL, Cast, client_for, make_app

Browser = Callable[[str], TestClient]


def sign_in(client: TestClient, name: str = "ana", password: str = PASSWORD, **more: str) -> object:
    return client.post("/sign-in", data={"sign_in_name": name, "password": password, **more})


def is_signed_in(client: TestClient) -> bool:
    return bool(client.get("/account").status_code == 200)


def test_it_works(client: TestClient, cast: Cast) -> None:
    answer = sign_in(client)

    assert (answer.status_code, answer.headers["location"]) == (303, "/")  # type: ignore[attr-defined]
    assert is_signed_in(client)


@pytest.mark.parametrize("name", ["ana", "ANA", "  Ana "])
def test_a_sign_in_name_is_the_same_in_any_case(client: TestClient, cast: Cast, name: str) -> None:
    sign_in(client, name)

    assert is_signed_in(client)


def test_before_the_first_account_every_page_leads_to_it(client: TestClient) -> None:
    for path in ("/", "/sign-in", "/jobs", "/account", "/nothing-here"):
        assert client.get(path).headers["location"] == "/first-account", path
    assert sign_in(client).headers["location"] == "/first-account"  # type: ignore[attr-defined]


def test_the_page_of_the_first_account_is_gone_once_it_is_made(client: TestClient, cast: Cast) -> None:
    fields = {"name": "Eve", "sign_in_name": "eve", "password": PASSWORD, "crew_name": "Eve's"}

    assert client.get("/first-account").status_code == 404
    assert client.post("/first-account", data=fields).status_code == 404


def test_one_goes_on_to_the_page_that_was_asked_for(client: TestClient, cast: Cast) -> None:
    asked = client.get("/crew?x=1")
    assert asked.headers["location"] == "/sign-in?next=%2Fcrew%3Fx%3D1"
    assert 'name="next" value="/crew?x=1"' in client.get(asked.headers["location"]).text

    assert sign_in(client, next="/crew?x=1").headers["location"] == "/crew?x=1"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "elsewhere",
    [
        "//evil.example",
        "https://evil.example/",
        "/\\evil.example",
        "javascript:alert(1)",
        "evil",
        "/a\nLocation: b",
        "/" + "x" * 3000,
    ],
)
def test_one_never_goes_to_another_site(client: TestClient, cast: Cast, elsewhere: str) -> None:
    assert sign_in(client, next=elsewhere).headers["location"] == "/"  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("name", "password"),
    [("ana", "not this one"), ("nobody", PASSWORD), ("ana", PASSWORD + " "), ("x y z", PASSWORD), ("a", "b")],
)
def test_a_refusal_tells_nothing(client: TestClient, cast: Cast, name: str, password: str) -> None:
    answer = sign_in(client, name, password)

    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert "That name and password do not go together." in answer.text  # type: ignore[attr-defined]
    assert "studbay" not in client.cookies


@pytest.mark.parametrize("gone", ["disabled", "let go", "no password yet"])
def test_whoever_may_not_come_in_gets_the_same_answer(
    client: TestClient, engine: Engine, cast: Cast, gone: str
) -> None:
    with writing(engine) as session:
        match gone:
            case "disabled":
                session.execute(
                    update(AccountRow)
                    .where(AccountRow.id == "account-pat")
                    .values(disabled_at=datetime.now(UTC))
                )
            case "let go":
                session.execute(
                    update(MembershipRow)
                    .where(MembershipRow.account_id == "account-pat")
                    .values(ended_at=datetime.now(UTC))
                )
            case _:
                session.execute(
                    update(AccountRow).where(AccountRow.id == "account-pat").values(password_hash=UNUSABLE)
                )

    answer = sign_in(client, "pat")

    assert "That name and password do not go together." in answer.text  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", ["nobody", "pat", "not a name !"])
def test_every_refusal_takes_one_hash(
    client: TestClient, engine: Engine, cast: Cast, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    with writing(engine) as session:
        session.execute(
            update(AccountRow).where(AccountRow.id == "account-pat").values(password_hash=UNUSABLE)
        )
    hashed, verify = [], passwords.verify
    monkeypatch.setattr(passwords, "verify", lambda text, kept: hashed.append(kept) or verify(text, kept))

    assert sign_in(client, name).status_code == 422  # type: ignore[attr-defined]

    assert len(hashed) == 1


def test_the_password_does_not_come_back(client: TestClient, cast: Cast) -> None:
    answer = sign_in(client, "ana", "my secret mistake 77")

    assert "my secret mistake 77" not in answer.text  # type: ignore[attr-defined]
    assert 'value="ana"' in answer.text  # type: ignore[attr-defined]


def test_signing_in_gives_a_new_session_and_ends_the_old(app: FastAPI, engine: Engine, cast: Cast) -> None:
    old = cast.token("ana")
    client = client_for(app, old)

    sign_in(client)

    assert client.cookies["studbay"] != old
    assert not is_signed_in(client_for(app, old))
    with reading(engine) as session:
        assert session.scalar(select(func.count()).select_from(SignInSessionRow)) == 1


def test_a_session_that_somebody_planted_is_not_taken(app: FastAPI, cast: Cast) -> None:
    client = client_for(app, "p" * 43)

    sign_in(client)

    assert client.cookies["studbay"] != "p" * 43


def test_the_cookie_is_out_of_a_scripts_reach(client: TestClient, cast: Cast) -> None:
    cookies = sign_in(client).headers.get_list("set-cookie")  # type: ignore[attr-defined]

    session = next(line for line in cookies if line.startswith("studbay="))
    assert re.match(r"studbay=[\w-]{43}; HttpOnly; Max-Age=2592000; Path=/; SameSite=lax$", session)


def test_over_https_the_cookie_is_bound_to_the_host(engine: Engine, cast: Cast) -> None:
    app = make_app(engine, public_url="https://wiring.example.org")
    client = client_for(app, base_url="https://wiring.example.org")

    cookies = sign_in(client).headers.get_list("set-cookie")  # type: ignore[attr-defined]

    assert any(line.startswith("__Host-studbay=") for line in cookies)
    assert all("Secure" in line and "HttpOnly" in line and "Domain" not in line for line in cookies)
    assert is_signed_in(client)


def test_signing_out_ends_it_on_the_server(app: FastAPI, cast: Cast) -> None:
    token = cast.token("ana")
    client = client_for(app, token)

    answer = client.post("/sign-out")

    assert answer.headers["location"] == "/sign-in"
    assert 'studbay=""' in str(answer.headers.get_list("set-cookie"))
    assert not is_signed_in(client_for(app, token))


def test_an_unused_session_has_ended(app: FastAPI, cast: Cast) -> None:
    token = cast.token("ana", now=datetime.now(UTC) - timedelta(hours=73))

    assert client_for(app, token).get("/account").status_code == 303


def test_using_a_session_keeps_it(app: FastAPI, engine: Engine, cast: Cast) -> None:
    token = cast.token("ana", now=datetime.now(UTC) - timedelta(hours=1))

    client_for(app, token).get("/account")

    with reading(engine) as session:
        seen = session.scalars(select(SignInSessionRow.seen_at)).one()
    assert datetime.now(UTC) - seen < timedelta(minutes=1)


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Compare instead of hashing, where it is the count of tries that is asked."""
    monkeypatch.setattr(passwords, "verify", lambda text, kept: kept is not None and text == PASSWORD)


@pytest.mark.usefixtures("quick")
def test_guessing_at_an_account_is_stopped_and_says_how_long(client: TestClient, cast: Cast) -> None:
    answers = [sign_in(client, "ana", f"guess number {n}") for n in range(throttle.ACCOUNT.tokens + 1)]

    assert [answer.status_code for answer in answers] == [422] * throttle.ACCOUNT.tokens + [429]  # type: ignore[attr-defined]
    assert 0 < int(answers[-1].headers["retry-after"]) <= 60  # type: ignore[attr-defined]
    assert "Too many tries." in answers[-1].text  # type: ignore[attr-defined]


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("bucket", ["ADDRESS", "EVERYBODY"])
def test_guessing_at_many_names_is_stopped_by_address_and_altogether(
    client: TestClient, cast: Cast, monkeypatch: pytest.MonkeyPatch, bucket: str
) -> None:
    monkeypatch.setattr(throttle, bucket, throttle.Limit(3, 60))

    answers = [sign_in(client, f"name{n}", "one guess each") for n in range(4)]

    assert [answer.status_code for answer in answers] == [422, 422, 422, 429]  # type: ignore[attr-defined]


@pytest.mark.usefixtures("quick")
def test_the_right_password_does_not_help_against_an_empty_bucket(client: TestClient, cast: Cast) -> None:
    for n in range(throttle.ACCOUNT.tokens):
        sign_in(client, "ana", f"guess number {n}")

    assert sign_in(client).status_code == 429  # type: ignore[attr-defined]


@pytest.mark.usefixtures("quick")
def test_a_stranger_who_guesses_does_not_lock_the_owner_out(app: FastAPI, cast: Cast) -> None:
    owner, stranger = client_for(app), client_for(app)
    sign_in(owner)
    owner.post("/sign-out")
    for n in range(throttle.ACCOUNT.tokens + 1):
        sign_in(stranger, "ana", f"guess number {n}")
    assert sign_in(stranger).status_code == 429  # type: ignore[attr-defined]

    assert sign_in(owner).status_code == 303  # type: ignore[attr-defined]


@pytest.mark.usefixtures("quick")
def test_a_known_browser_is_known_for_its_own_account_only(app: FastAPI, engine: Engine, cast: Cast) -> None:
    client = client_for(app)
    sign_in(client, "pat")
    client.post("/sign-out")

    for n in range(throttle.ACCOUNT.tokens + 1):
        answer = sign_in(client, "ana", f"guess number {n}")

    assert answer.status_code == 429  # type: ignore[attr-defined]
    with reading(engine) as session:
        names = session.scalars(select(ThrottleRow.bucket)).all()
    assert any(name.startswith("account:") for name in names)


@pytest.mark.usefixtures("quick")
def test_signing_in_rightly_gives_the_tries_back(client: TestClient, cast: Cast) -> None:
    for _ in range(3):
        for n in range(throttle.ACCOUNT.tokens - 1):
            assert sign_in(client, "ana", f"guess number {n}").status_code == 422  # type: ignore[attr-defined]
        assert sign_in(client).status_code == 303  # type: ignore[attr-defined]
        client.cookies.clear()
        with writing(cast.engine) as session:  # the address has its own count, which is not asked here
            throttle.give_back(session, [throttle.Bucket("address:unknown", throttle.ADDRESS)])


def test_an_old_hash_is_made_again_on_the_way_in(client: TestClient, engine: Engine, cast: Cast) -> None:
    weak = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1).hash(PASSWORD)
    with writing(engine) as session:
        session.execute(update(AccountRow).where(AccountRow.id == "account-ana").values(password_hash=weak))

    sign_in(client)

    with reading(engine) as session:
        kept = session.scalars(select(AccountRow.password_hash).where(AccountRow.id == "account-ana")).one()
    assert kept != weak
    assert not needs_rehash(kept)


def test_sign_ins_and_refusals_are_written_down_without_secrets(
    client: TestClient, engine: Engine, cast: Cast
) -> None:
    sign_in(client, "ana", "a wrong one, alas")
    sign_in(client)

    with reading(engine) as session:
        rows = session.scalars(select(AuditRow).order_by(AuditRow.number)).all()
        told = [(row.what, row.person_id) for row in rows]
        text = " ".join(str(row.details) for row in rows)
    assert told == [("sign-in refused", "account-ana"), ("signed in", "account-ana")]
    assert "wrong" not in text
    assert PASSWORD not in text


@pytest.mark.parametrize(
    "fields",
    [
        {"sign_in_name": "ana"}, {"password": PASSWORD}, {"sign_in_name": "", "password": ""},
        {"sign_in_name": "ana", "password": PASSWORD, "role": "owner"}, {"sign_in_name": ["ana", "sol"], "password": PASSWORD},
        {"sign_in_name": "a" * 5000, "password": "b" * 5000}, {"sign_in_name": "\x00", "password": "\x00"},
    ],
)  # fmt: skip
def test_a_crooked_form_is_answered_not_served(
    client: TestClient, cast: Cast, fields: dict[str, object]
) -> None:
    answer = client.post("/sign-in", data=fields)

    assert answer.status_code == 422
    assert 'class="wrong"' in answer.text


# -- the second step ---------------------------------------------------------------------------------------------


@pytest.fixture
def secret(engine: Engine, cast: Cast) -> str:
    """Ana's second factor, on since an hour."""
    with writing(engine) as session:
        made = second_factor.begin(session, "account-ana", SEAL)
        before = datetime.now(UTC) - timedelta(hours=1)
        assert second_factor.confirm(session, "account-ana", pyotp.TOTP(made).at(before), before, SEAL)
    return made


def test_the_password_alone_opens_nothing_with_a_second_factor(client: TestClient, secret: str) -> None:
    answer = sign_in(client)

    assert "Second step" in answer.text  # type: ignore[attr-defined]
    assert not is_signed_in(client)


def test_the_code_finishes_it(client: TestClient, secret: str) -> None:
    sign_in(client)

    answer = client.post("/sign-in/code", data={"code": pyotp.TOTP(secret).now(), "next": "/crew"})

    assert answer.headers["location"] == "/crew"
    assert is_signed_in(client)


def test_the_code_alone_opens_nothing(client: TestClient, secret: str) -> None:
    answer = client.post("/sign-in/code", data={"code": pyotp.TOTP(secret).now()})

    assert "Begin again" in answer.text
    assert not is_signed_in(client)


def test_guessing_codes_is_stopped(client: TestClient, secret: str) -> None:
    sign_in(client)
    answers = [
        client.post("/sign-in/code", data={"code": f"{n:06d}"}).status_code
        for n in range(throttle.SECOND_FACTOR.tokens + 1)
    ]

    assert answers == [422] * throttle.SECOND_FACTOR.tokens + [429]


def test_the_step_between_works_once(app: FastAPI, secret: str, client: TestClient) -> None:
    sign_in(client)
    half = client.cookies["studbay-half"]
    client.post("/sign-in/code", data={"code": pyotp.TOTP(secret).now()})

    other = client_for(app)
    other.cookies.set("studbay-half", half, domain="127.0.0.1")
    answer = other.post(
        "/sign-in/code", data={"code": pyotp.TOTP(secret).at(datetime.now(UTC) + timedelta(seconds=30))}
    )

    assert answer.status_code == 422
    assert not is_signed_in(other)
