"""The demo's own way in: pick a person, no password. Only with STUDBAY_DEMO, which runs on the loopback address only,
and only for people of a crew whose every job is an invented one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict
from sqlalchemy import select
from sqlalchemy.orm import Session
from starlette.responses import Response

from server.pages.errors import error_page
from server.pages.flash import redirect
from server.pages.forms import Typed
from server.pages.rendering import render
from server.pages.sign_in_cookies import asking, set_signed_in
from server.people.access import NotFound
from server.people.current import engine_of, open_to_anyone
from server.people.roles import ROLE_WORDS, Role
from server.people.signing_in import open_for
from server.store.engine import reading, writing
from server.store.tables.jobs import JobRow
from server.store.tables.people import AccountRow, CrewRow, MembershipRow

__all__ = ["DemoPage", "DemoPerson", "router"]

router = APIRouter(
    prefix="/demo",
    include_in_schema=False,
    dependencies=[open_to_anyone("the demo's invented people have no passwords")],
)


class Chosen(BaseModel):
    """Whom to be."""

    model_config = ConfigDict(extra="forbid")

    account_id: str


@dataclass(frozen=True, slots=True)
class DemoPerson:
    """One of the demo's people."""

    account_id: str
    name: str
    crew_id: str
    crew_name: str
    role: str
    may: str


@dataclass(frozen=True, slots=True)
class DemoPage:
    """Whom one can be."""

    people: tuple[DemoPerson, ...]


def _people(session: Session) -> list[DemoPerson]:
    of_demo = select(JobRow.crew_id).where(JobRow.is_demo)
    of_real = select(JobRow.crew_id).where(JobRow.is_demo.is_(False))
    rows = session.execute(
        select(AccountRow.id, AccountRow.name, CrewRow.id, CrewRow.name, MembershipRow.role)
        .join(MembershipRow, MembershipRow.account_id == AccountRow.id)
        .join(CrewRow, CrewRow.id == MembershipRow.crew_id)
        .where(
            CrewRow.id.in_(of_demo), CrewRow.id.not_in(of_real), MembershipRow.ended_at.is_(None),
            AccountRow.disabled_at.is_(None),
        )
    )  # fmt: skip
    found = [
        DemoPerson(account_id, name, crew_id, crew, role, ROLE_WORDS[Role.named(role)])
        for account_id, name, crew_id, crew, role in rows
    ]
    return sorted(found, key=lambda who: (-Role.named(who.role), who.name))


@router.get("", name="demo")
def show(request: Request) -> Response:
    """Whom one can be."""
    if not request.app.state.settings.demo:
        return error_page(request, 404)
    with reading(engine_of(request)) as session:
        people = _people(session)
    return render(request, "people/demo.html", DemoPage(tuple(people)))


@router.post("")
def be(request: Request, form: Typed) -> Response:
    """Sign in as one of them."""
    read = form.read(Chosen)
    if not request.app.state.settings.demo or read.model is None:
        return error_page(request, 404)
    with writing(engine_of(request)) as session:
        who = next((who for who in _people(session) if who.account_id == read.model.account_id), None)
        if who is None:
            raise NotFound
        signed_in = open_for(session, who.account_id, who.crew_id, asking(request), datetime.now(UTC))
    response = redirect("/", f"You are {who.name}, {who.role}.")
    set_signed_in(request, response, signed_in)
    return response
