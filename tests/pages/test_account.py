"""One's own account: password, sessions, keys, crews, second factor."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime, timedelta
from typing import Any

import pyotp
import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select, update

from server.people.tokens import token_hash
from server.store.engine import reading, writing
from server.store.tables.people import AccountRow, ProgramKeyRow, SignInSessionRow
from tests.cast import PASSWORD, SEAL

Browser = Callable[[str], TestClient]
NEW = "seven yellow hammers"


def test_a_new_password_signs_the_others_out_and_renews_this_one(as_: Browser, client: TestClient) -> None:
    here, elsewhere = as_("pat"), as_("pat")
    old = here.cookies["studbay"]

    answer = here.post("/account/password", data={"current": PASSWORD, "password": NEW})

    assert answer.headers["location"] == "/account"
    assert here.cookies["studbay"] != old
    assert here.get("/account").status_code == 200
    assert elsewhere.get("/account").status_code == 303
    assert client.post("/sign-in", data={"sign_in_name": "pat", "password": PASSWORD}).status_code == 422
    assert client.post("/sign-in", data={"sign_in_name": "pat", "password": NEW}).status_code == 303


@pytest.mark.parametrize(
    ("current", "new", "field"),
    [("not mine at all", NEW, "current"), (PASSWORD, "short", "password"), (PASSWORD, "pat.osei.2027", "password"),
     (PASSWORD, PASSWORD, "password"), (PASSWORD, "", "password"), ("", NEW, "current")],
)  # fmt: skip
def test_a_password_that_is_refused_changes_nothing(
    as_: Browser, engine: Engine, current: str, new: str, field: str
) -> None:
    with reading(engine) as session:
        before = session.scalar(select(AccountRow.password_hash).where(AccountRow.id == "account-pat"))

    answer = as_("pat").post("/account/password", data={"current": current, "password": new})

    assert answer.status_code == 422
    assert f'href="#{field}"' in answer.text
    with reading(engine) as session:
        assert (
            session.scalar(select(AccountRow.password_hash).where(AccountRow.id == "account-pat")) == before
        )


def test_ones_sessions_are_listed_and_ended_one_by_one(as_: Browser, engine: Engine) -> None:
    here, elsewhere = as_("pat"), as_("pat")
    text = here.get("/account").text
    with reading(engine) as session:
        by_token = {row.token_sha256: row.id for row in session.scalars(select(SignInSessionRow))}
    assert text.count("Safari on iPad") >= 2
    assert set(re.findall(r"/account/sessions/([\w-]{36})/end", text)) == set(by_token.values())

    answer = here.post(f"/account/sessions/{by_token[token_hash(elsewhere.cookies['studbay'])]}/end")

    assert answer.headers["location"] == "/account"
    assert (here.get("/account").status_code, elsewhere.get("/account").status_code) == (200, 303)


def test_all_others_are_ended_at_once(as_: Browser) -> None:
    here, elsewhere = as_("pat"), as_("pat")

    here.post("/account/sessions/end-others")

    assert (here.get("/account").status_code, elsewhere.get("/account").status_code) == (200, 303)


def test_nobody_ends_somebody_elses(as_: Browser, engine: Engine) -> None:
    pat, sol = as_("pat"), as_("sol")
    with reading(engine) as session:
        of_pat = session.scalars(
            select(SignInSessionRow.id).where(SignInSessionRow.account_id == "account-pat")
        ).one()

    assert sol.post(f"/account/sessions/{of_pat}/end").status_code == 404
    assert pat.get("/account").status_code == 200


def test_a_key_is_shown_once_and_kept_as_a_hash(as_: Browser, engine: Engine) -> None:
    pat = as_("pat")

    shown = re.search(
        r'class="secret code"[^>]*>([\w-]{43})<', pat.post("/account/keys", data={"label": "export"}).text
    )

    assert shown
    assert shown[1] not in pat.get("/account").text
    with reading(engine) as session:
        row = session.scalars(select(ProgramKeyRow)).one()
        assert (row.label, row.token_sha256 == shown[1]) == ("export", False)


def test_a_key_opens_the_api_and_nothing_else(as_: Browser, app: FastAPI) -> None:
    shown = re.search(
        r'class="secret code"[^>]*>([\w-]{43})<', as_("pat").post("/account/keys", data={"label": "x"}).text
    )
    assert shown
    program = TestClient(app, base_url="http://127.0.0.1:8000", follow_redirects=False)
    bearer = {"Authorization": f"Bearer {shown[1]}"}

    assert program.get("/account", headers=bearer).status_code == 303
    assert program.post("/account/name", headers=bearer, data={"name": "Eve"}).status_code == 401


def test_a_crew_is_made_and_one_goes_over_and_back(as_: Browser) -> None:
    ana = as_("ana")
    first = ana.cookies["studbay"]

    ana.post("/account/crews", data={"label": "Evening class"})
    second = ana.cookies["studbay"]
    text = ana.get("/account").text

    assert first != second
    assert "Work for Ruiz Wiring" in text
    assert "Pat Osei" not in ana.get("/crew").text
    ana.post("/account/crews/crew-of-ana")
    assert "Pat Osei" in ana.get("/crew").text


def test_nobody_goes_over_to_a_crew_that_is_not_theirs(as_: Browser) -> None:
    pat = as_("pat")

    assert pat.post("/account/crews/crew-of-sol").status_code == 404
    assert "Ruiz Wiring" in pat.get("/account").text


def test_a_name_is_text(as_: Browser) -> None:
    pat = as_("pat")
    pat.post("/account/name", data={"name": "<script>alert(1)</script>"})

    text = pat.get("/account").text

    assert "<script>alert" not in text
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in text


def test_the_second_factor_is_set_up_with_a_code_and_gives_ten_codes(as_: Browser) -> None:
    pat = as_("pat")
    pat.post("/account/second-factor/begin")
    page = pat.get("/account/second-factor").text
    found = re.search(r'secret-inline">([A-Z2-7 ]+)<', page)
    assert found
    assert "<svg" in page.split('class="square"')[1]

    answer = pat.post(
        "/account/second-factor/confirm", data={"code": pyotp.TOTP(found[1].replace(" ", "")).now()}
    )

    assert len(re.findall(r"<li>[a-z2-9]{4}(?:-[a-z2-9]{4}){3}</li>", answer.text)) == 10
    assert "Turn it off" in pat.get("/account/second-factor").text
    assert pat.post("/account/second-factor/off", data={"password": "wrong one here"}).status_code == 422
    assert pat.post("/account/second-factor/off", data={"password": PASSWORD}).status_code == 303


def test_the_secret_is_shown_only_until_it_is_on(as_: Browser, engine: Engine) -> None:
    pat = as_("pat")
    pat.post("/account/second-factor/begin")
    with reading(engine) as session:
        sealed = session.scalars(select(AccountRow.totp_pending).where(AccountRow.id == "account-pat")).one()
    assert sealed
    secret = SEAL.open(sealed)
    assert secret
    assert secret in pat.get("/account/second-factor").text.replace(" ", "")
    pat.post("/account/second-factor/confirm", data={"code": pyotp.TOTP(secret).now()})

    assert secret not in pat.get("/account/second-factor").text.replace(" ", "")


def test_factors_and_keys_take_the_password_again_after_a_while(as_: Browser, engine: Engine) -> None:
    pat = as_("pat")
    with writing(engine) as session:
        session.execute(update(SignInSessionRow).values(proved_at=datetime.now(UTC) - timedelta(hours=1)))

    for method, path in (
        ("GET", "/account/second-factor"), ("POST", "/account/second-factor/begin"), ("POST", "/account/second-factor/codes"),
        ("POST", "/account/keys"),
    ):  # fmt: skip
        answer = pat.request(method, path, data={"label": "x"} if method == "POST" else None)
        assert answer.headers["location"].startswith("/prove?next="), path


def test_the_account_takes_the_same_number_of_queries_whatever_hangs_on_it(
    as_: Browser, query_count: Callable[[], AbstractContextManager[Any]]
) -> None:
    pat = as_("pat")
    pat.get("/account")
    with query_count() as few:
        pat.get("/account")
    for n in range(8):
        as_("pat")
        pat.post("/account/keys", data={"label": f"key {n}"})

    with query_count() as many:
        pat.get("/account")

    assert (few.count, many.count) == (5, 5), many.statements
