"""The crew page: what owners may do, what nobody may, and that a crew keeps an owner."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select, update

from server.people.accounts import add_account, add_membership
from server.people.roles import Role
from server.store.engine import reading, writing
from server.store.tables.audit import AuditRow
from server.store.tables.people import AccountRow, MembershipRow, SignInSessionRow
from tests.cast import Cast, client_for, make_app

Browser = Callable[[str], TestClient]
NEW = {"name": "Noor Bey", "sign_in_name": "Noor", "role": "electrician"}


def role_of(engine: Engine, account_id: str) -> str | None:
    with reading(engine) as session:
        return session.scalar(select(MembershipRow.role).where(MembershipRow.account_id == account_id))


def test_it_works(as_: Browser, engine: Engine) -> None:
    answer = as_("ana").post("/crew/people", data=NEW)

    link = re.search(r"http://127\.0\.0\.1:8000(/join/[\w-]{43})", answer.text)
    assert link
    with reading(engine) as session:
        made = session.scalars(select(AccountRow).where(AccountRow.sign_in_name == "noor")).one()
        assert (made.name, made.password_hash) == ("Noor Bey", "!")
    assert role_of(engine, made.id) == "electrician"


@pytest.mark.parametrize(
    ("name", "status"), [("ana", 200), ("hugo", 200), ("elena", 403), ("pat", 403), ("gus", 403)]
)
def test_who_sees_the_crew(as_: Browser, name: str, status: int) -> None:
    assert as_(name).get("/crew").status_code == status


def test_a_foreman_sees_no_way_to_change_it(as_: Browser) -> None:
    text = as_("hugo").get("/crew").text

    assert "Elena Novak" in text
    assert "/crew/people/" not in text


def test_another_crew_is_not_seen(as_: Browser) -> None:
    assert "Vance" not in as_("ana").get("/crew").text
    assert "Ruiz" not in as_("sol").get("/crew").text


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"name": ""}, "name"), ({"name": "   "}, "name"), ({"name": "x" * 81}, "name"), ({"sign_in_name": "a b"}, "sign_in_name"),
        ({"sign_in_name": "ana"}, "sign_in_name"), ({"role": "boss"}, "role"), ({"role": ""}, "role"), ({"crew_id": "crew-of-sol"}, "crew_id"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named_and_the_rest_stays(
    as_: Browser, engine: Engine, change: dict[str, str], field: str
) -> None:
    answer = as_("ana").post("/crew/people", data={**NEW, **change})

    assert answer.status_code == 422
    assert f'href="#{field}"' in answer.text
    assert "name" in change or "Noor Bey" in answer.text
    with reading(engine) as session:
        assert session.scalar(select(AccountRow.id).where(AccountRow.name == "Noor Bey")) is None


def test_a_role_is_changed_and_written_down(as_: Browser, engine: Engine) -> None:
    answer = as_("ana").post("/crew/people/account-pat/role", data={"role": "electrician"})

    assert answer.headers["location"] == "/crew"
    assert role_of(engine, "account-pat") == "electrician"
    with reading(engine) as session:
        row = session.scalars(select(AuditRow)).one()
        assert (row.what, row.person_id, row.details) == (
            "role changed", "account-ana", {"about": "account-pat", "before": "apprentice", "after": "electrician"},
        )  # fmt: skip


@pytest.mark.parametrize("how", ["role", "let-go"])
def test_the_last_owner_stays(as_: Browser, engine: Engine, how: str) -> None:
    answer = as_("ana").post(f"/crew/people/account-ana/{how}", data={"role": "guest"})

    assert answer.status_code == 422
    assert "A crew keeps at least one owner." in answer.text
    assert role_of(engine, "account-ana") == Role.OWNER.word


def test_with_a_second_owner_the_first_may_go(as_: Browser, engine: Engine) -> None:
    ana = as_("ana")
    ana.post("/crew/people/account-hugo/role", data={"role": "owner"})

    assert ana.post("/crew/people/account-ana/role", data={"role": "guest"}).status_code == 303
    assert ana.get("/crew").status_code == 403


def test_whoever_is_let_go_is_out_at_once_and_can_be_taken_back(
    as_: Browser, app: FastAPI, cast: Cast
) -> None:
    ana, pat = as_("ana"), as_("pat")
    key = pat.post("/account/keys", data={"label": "a program"}).text
    token = re.search(r'class="secret code"[^>]*>([\w-]{43})<', key)
    assert token

    ana.post("/crew/people/account-pat/let-go")

    assert pat.get("/account").status_code == 303
    program = client_for(app)
    assert program.get("/api/jobs", headers={"Authorization": f"Bearer {token[1]}"}).status_code in (401, 404)
    assert "Pat Osei" in ana.get("/crew").text

    ana.post("/crew/people/account-pat/take-back")
    assert client_for(app, cast.token("pat")).get("/account").status_code == 200


@pytest.mark.parametrize("what", ["role", "link", "let-go", "take-back"])
def test_another_crews_people_are_missing(as_: Browser, engine: Engine, what: str) -> None:
    answer = as_("sol").post(f"/crew/people/account-pat/{what}", data={"role": "owner"})

    assert answer.status_code == 404
    assert role_of(engine, "account-pat") == "apprentice"


def test_changing_who_gets_in_takes_the_password_again_after_a_while(
    as_: Browser, engine: Engine, cast: Cast
) -> None:
    ana = as_("ana")
    with writing(engine) as session:
        session.execute(update(SignInSessionRow).values(proved_at=datetime.now(UTC) - timedelta(minutes=16)))

    assert ana.get("/crew/people/new").headers["location"] == "/prove?next=%2Fcrew%2Fpeople%2Fnew"
    assert (
        ana.post(
            "/crew/people", data=NEW, headers={"Referer": "http://127.0.0.1:8000/crew/people/new"}
        ).headers["location"]
        == "/prove?next=%2Fcrew%2Fpeople%2Fnew"
    )

    old = ana.cookies["studbay"]
    assert ana.post("/prove", data={"password": "not it at all", "next": "/crew"}).status_code == 422
    answer = ana.post("/prove", data={"password": "ladder copper blue seven", "next": "/crew/people/new"})
    assert answer.headers["location"] == "/crew/people/new"
    assert ana.cookies["studbay"] != old
    assert ana.get("/crew/people/new").status_code == 200


def test_where_others_can_reach_it_owners_need_a_second_factor(engine: Engine, cast: Cast) -> None:
    app = make_app(engine, public_url="https://wiring.example.org")
    ana = client_for(app, base_url="https://wiring.example.org")
    ana.cookies.set("__Host-studbay", cast.token("ana"), domain="wiring.example.org")

    assert ana.get("/crew").status_code == 200
    assert ana.get("/crew/people/new").headers["location"] == "/account/second-factor"
    assert "Owners need it here." in ana.get("/account/second-factor").text


def test_the_crew_takes_the_same_number_of_queries_whatever_its_size(
    as_: Browser, engine: Engine, query_count: Callable[[], AbstractContextManager[Any]]
) -> None:
    ana = as_("ana")
    ana.get("/crew")
    with query_count() as few:
        ana.get("/crew")
    now = datetime.now(UTC)
    with writing(engine) as session:
        for n in range(40):
            account_id = add_account(session, name=f"N {n}", sign_in_name=f"n{n}", password_hash="!", now=now)
            session.flush()
            add_membership(session, "crew-of-ana", account_id, Role.GUEST, now)

    with query_count() as many:
        ana.get("/crew")

    assert (few.count, many.count) == (2, 2), many.statements
