"""The one-time link: once, for three days, past no second factor, and of no crew but its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pyotp
import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, select

from server.people import invites, second_factor
from server.people.accounts import add_membership
from server.people.roles import Role
from server.store.engine import reading, writing
from server.store.tables.people import InviteRow
from tests.cast import SEAL, Cast, client_for

NEW = "seven yellow hammers"


def link_for(engine: Engine, name: str, now: datetime | None = None) -> str:
    with writing(engine) as session:
        return invites.make_invite(session, f"account-{name}", "account-ana", now or datetime.now(UTC))


def test_it_sets_a_password_once(client: TestClient, engine: Engine, cast: Cast) -> None:
    token = link_for(engine, "pat")

    assert "Pat Osei" in client.get(f"/join/{token}").text
    assert client.post(f"/join/{token}", data={"password": NEW}).headers["location"] == "/sign-in"
    assert client.get(f"/join/{token}").status_code == 404
    assert client.post(f"/join/{token}", data={"password": "another one entirely"}).status_code == 404
    assert client.post("/sign-in", data={"sign_in_name": "pat", "password": NEW}).status_code == 303


def test_it_signs_every_browser_out(app: FastAPI, client: TestClient, engine: Engine, cast: Cast) -> None:
    stolen = client_for(app, cast.token("pat"))
    client.post(f"/join/{link_for(engine, 'pat')}", data={"password": NEW})

    assert stolen.get("/account").status_code == 303


def test_looking_does_not_use_it_up(client: TestClient, engine: Engine, cast: Cast) -> None:
    token = link_for(engine, "pat")

    assert [client.get(f"/join/{token}").status_code for _ in range(3)] == [200] * 3


@pytest.mark.parametrize(
    ("age", "status"), [(invites.JOIN_FOR - timedelta(minutes=1), 200), (invites.JOIN_FOR, 404)]
)
def test_it_ends_after_three_days(
    client: TestClient, engine: Engine, cast: Cast, age: timedelta, status: int
) -> None:
    token = link_for(engine, "pat", datetime.now(UTC) - age)

    assert client.get(f"/join/{token}").status_code == status


def test_a_new_link_ends_the_one_before(client: TestClient, engine: Engine, cast: Cast) -> None:
    first, second = link_for(engine, "pat"), link_for(engine, "pat")

    assert client.get(f"/join/{first}").status_code == 404
    assert client.get(f"/join/{second}").status_code == 200


def test_the_database_does_not_hold_the_link(engine: Engine, cast: Cast) -> None:
    token = link_for(engine, "pat")

    with reading(engine) as session:
        assert token not in session.scalars(select(InviteRow.token_sha256)).one()


def test_a_weak_password_does_not_use_it_up(client: TestClient, engine: Engine, cast: Cast) -> None:
    token = link_for(engine, "pat")

    assert client.post(f"/join/{token}", data={"password": "pat.osei.2026"}).status_code == 422
    assert client.get(f"/join/{token}").status_code == 200


def test_it_does_not_get_past_the_second_factor(client: TestClient, engine: Engine, cast: Cast) -> None:
    now = datetime.now(UTC)
    with writing(engine) as session:
        secret = second_factor.begin(session, "account-pat", SEAL)
        assert second_factor.confirm(session, "account-pat", pyotp.TOTP(secret).at(now), now, SEAL)
    client.post(f"/join/{link_for(engine, 'pat')}", data={"password": NEW})

    answer = client.post("/sign-in", data={"sign_in_name": "pat", "password": NEW})

    assert "Second step" in answer.text
    assert client.get("/account").status_code == 303


def test_an_owner_gets_no_link_for_somebody_who_is_also_elsewhere(
    as_: Callable[[str], TestClient], engine: Engine, cast: Cast
) -> None:
    with writing(engine) as session:
        add_membership(session, "crew-of-sol", "account-pat", Role.APPRENTICE, datetime.now(UTC))

    answer = as_("ana").post("/crew/people/account-pat/link")

    assert answer.status_code == 409
    assert "/join/" not in answer.text


@pytest.mark.parametrize("token", ["x", "x" * 43, "%00", "a b"])
def test_what_is_no_link_is_missing(client: TestClient, cast: Cast, token: str) -> None:
    assert client.get(f"/join/{token}").status_code == 404
