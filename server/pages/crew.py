"""The crew: who is on it and as what. Owners add people with a one-time link, change roles, let go and take back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field, field_validator
from sqlalchemy.orm import Session
from starlette.responses import Response

from server.pages.errors import error_page
from server.pages.flash import redirect
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.rendering import render
from server.pages.sign_in_cookies import request_id_of
from server.people import crews
from server.people.accounts import LONGEST_NAME, NameTaken, fold_sign_in_name
from server.people.audit import note
from server.people.crews import ElsewhereToo, LastOwner, Member
from server.people.current import Foreman, Owner, engine_of, require_proof
from server.people.person import Person
from server.people.roles import ROLE_WORDS, Role
from server.store.engine import reading, writing

__all__ = ["CrewPage", "LinkPage", "MemberPage", "NewPersonPage", "router"]

router = APIRouter(prefix="/crew", include_in_schema=False)
_LAST_OWNER = "A crew keeps at least one owner. Make somebody else an owner first."


class NewPerson(BaseModel):
    """Somebody to add."""

    model_config = ConfigDict(extra="forbid")

    name: str = Field(min_length=1, max_length=LONGEST_NAME, pattern=r"\S")
    sign_in_name: str
    role: Role

    @field_validator("sign_in_name")
    @classmethod
    def _folded(cls, value: str) -> str:
        return fold_sign_in_name(value)

    @field_validator("role", mode="before")
    @classmethod
    def _named(cls, value: object) -> Role:
        return Role.named(str(value))


class NewRole(BaseModel):
    """Another role."""

    model_config = ConfigDict(extra="forbid")

    role: Role

    @field_validator("role", mode="before")
    @classmethod
    def _named(cls, value: object) -> Role:
        return Role.named(str(value))


class NewCrewName(BaseModel):
    """Another name for the crew."""

    model_config = ConfigDict(extra="forbid")

    crew_name: str = Field(min_length=1, max_length=LONGEST_NAME, pattern=r"\S")


def _roles() -> tuple[tuple[str, str, str], ...]:
    return tuple((role.word, role.word, ROLE_WORDS[role]) for role in sorted(Role))


@dataclass(frozen=True, slots=True)
class CrewPage:
    """The crew's people."""

    members: tuple[Member, ...]
    former: tuple[Member, ...]
    may_change: bool
    roles: tuple[tuple[str, str, str], ...]
    fields: Fields


@dataclass(frozen=True, slots=True)
class NewPersonPage:
    """The form for somebody new."""

    fields: Fields
    roles: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class MemberPage:
    """One person of the crew."""

    member: Member
    is_me: bool
    fields: Fields
    roles: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class LinkPage:
    """A one-time link, shown once."""

    name: str
    sign_in_name: str
    link: str
    days: int


def _note(
    request: Request, session: Session, what: str, person: Person, account_id: str, **details: str
) -> None:
    note(
        session, what, datetime.now(UTC), person_id=person.id, crew_id=person.crew_id,
        request_id=request_id_of(request), about=account_id, **details,
    )  # fmt: skip


@router.get("", name="crew")
def show(request: Request, person: Foreman) -> Response:
    """List the crew's people."""
    return _crew_page(request, person, NOTHING_TYPED)


def _crew_page(request: Request, person: Person, fields: Fields) -> Response:
    with reading(engine_of(request)) as session:
        found = crews.members(session, person)
    page = CrewPage(
        tuple(who for who in found if who.is_on),
        tuple(who for who in found if not who.is_on),
        person.owns,
        _roles(),
        fields,
    )
    return render(request, "people/crew.html", page, status=422 if fields.errors else 200)


@router.post("/name")
def rename(request: Request, person: Owner, form: Typed) -> Response:
    """Give the crew another name."""
    read = form.read(NewCrewName)
    if read.model is None:
        return _crew_page(request, person, read.fields)
    with writing(engine_of(request)) as session:
        crews.rename_crew(session, person, read.model.crew_name.strip())
    return redirect("/crew", "The crew has its new name.")


@router.get("/people/new", name="new_person")
def new(request: Request, person: Owner) -> Response:
    """The form for somebody new."""
    require_proof(request)
    return render(request, "people/new_person.html", NewPersonPage(Fields({"role": "electrician"}), _roles()))


@router.post("/people")
def add(request: Request, person: Owner, form: Typed) -> Response:
    """Add somebody and show the link to send."""
    require_proof(request)
    read = form.read(NewPerson)
    fields = read.fields
    if read.model is not None:
        now = datetime.now(UTC)
        try:
            with writing(engine_of(request)) as session:
                account_id, token = crews.add_person(
                    session, person, name=read.model.name.strip(), sign_in_name=read.model.sign_in_name,
                    role=read.model.role, now=now,
                )  # fmt: skip
                _note(request, session, "person added", person, account_id, role=read.model.role.word)
        except NameTaken:
            fields = fields.wrong(
                "sign_in_name", "Somebody here has this sign-in name already. Take another one."
            )
        else:
            return _link(request, read.model.name.strip(), read.model.sign_in_name, token)
    return render(request, "people/new_person.html", NewPersonPage(fields, _roles()), status=422)


def _link(request: Request, name: str, sign_in_name: str, token: str) -> Response:
    settings = request.app.state.settings
    base = settings.public_url or str(request.base_url).rstrip("/")
    page = LinkPage(name, sign_in_name, f"{base}/join/{token}", 3)
    return render(request, "people/link.html", page)


@router.get("/people/{account_id}", name="member")
def show_member(request: Request, person: Owner, account_id: str) -> Response:
    """Show one of the crew."""
    require_proof(request)
    return _member_page(request, person, account_id)


def _member_page(request: Request, person: Person, account_id: str, error: str = "") -> Response:
    with reading(engine_of(request)) as session:
        member = crews.member(session, person, account_id)
    fields = Fields({"role": member.role.word})
    if error:
        fields = fields.wrong("role", error)
    page = MemberPage(member, account_id == person.id, fields, _roles())
    return render(request, "people/member.html", page, status=422 if error else 200)


@router.post("/people/{account_id}/role")
def change_role(request: Request, person: Owner, account_id: str, form: Typed) -> Response:
    """Change somebody's role."""
    require_proof(request)
    read = form.read(NewRole)
    if read.model is None:
        return _member_page(
            request, person, account_id, read.fields.error("role") or "This form has no such field."
        )
    try:
        with writing(engine_of(request)) as session:
            before = crews.change_role(session, person, account_id, read.model.role)
            _note(
                request,
                session,
                "role changed",
                person,
                account_id,
                before=before.role.word,
                after=read.model.role.word,
            )
    except LastOwner:
        return _member_page(request, person, account_id, _LAST_OWNER)
    return redirect("/crew", f"{before.name} is {read.model.role.word} now.")


@router.post("/people/{account_id}/link")
def link(request: Request, person: Owner, account_id: str) -> Response:
    """Make another one-time link."""
    require_proof(request)
    now = datetime.now(UTC)
    try:
        with writing(engine_of(request)) as session:
            token = crews.invite_again(session, person, account_id, now)
            who = crews.member(session, person, account_id)
            _note(request, session, "link made", person, account_id)
    except ElsewhereToo:
        return error_page(
            request, 409, "This person is on another crew as well, so the password is not this crew's to set. "
            "Whoever runs the server can make a link.",
        )  # fmt: skip
    return _link(request, who.name, who.sign_in_name, token)


@router.post("/people/{account_id}/let-go")
def let_go(request: Request, person: Owner, account_id: str) -> Response:
    """End somebody's membership."""
    require_proof(request)
    try:
        with writing(engine_of(request)) as session:
            before = crews.let_go(session, person, account_id, datetime.now(UTC))
            _note(request, session, "person let go", person, account_id)
    except LastOwner:
        return _member_page(request, person, account_id, _LAST_OWNER)
    return redirect("/crew", f"{before.name} is off the crew and signed out.")


@router.post("/people/{account_id}/take-back")
def take_back(request: Request, person: Owner, account_id: str) -> Response:
    """Let somebody work on the crew again."""
    require_proof(request)
    with writing(engine_of(request)) as session:
        before = crews.take_back(session, person, account_id)
        _note(request, session, "person taken back", person, account_id)
    return redirect("/crew", f"{before.name} is on the crew again.")
