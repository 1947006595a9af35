"""One's own account: name, password, where one is signed in, keys for programs, the calendar's address, and the crews one
is on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field
from sqlalchemy.orm import Session
from starlette.responses import RedirectResponse, Response

from server.pages.flash import redirect
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.rendering import render
from server.pages.sign_in import check_password
from server.pages.sign_in_cookies import end_session_cookies, request_id_of, set_session
from server.people import passwords, sessions
from server.people.access import NotFound
from server.people.accounts import LONGEST_NAME, crews_of, rename, set_password
from server.people.audit import note
from server.people.calendar_links import calendar_link_since, end_calendar_link, make_calendar_link
from server.people.crews import make_crew
from server.people.current import Member, Owner, engine_of, lifetime_of, open_session, require_proof
from server.people.devices import device_words
from server.people.person import Person
from server.people.program_keys import end_key, keys_of, make_key
from server.people.second_factor import left_over
from server.store.engine import reading, writing

__all__ = ["AccountPage", "router"]

router = APIRouter(prefix="/account", include_in_schema=False)


class NewName(BaseModel):
    """How one is called."""

    model_config = ConfigDict(extra="forbid")

    name: str = Field(min_length=1, max_length=LONGEST_NAME, pattern=r"\S")


class NewPassword(BaseModel):
    """The password that holds and the one that is to."""

    model_config = ConfigDict(extra="forbid")

    current: str = Field(max_length=passwords.LONGEST * 4)
    password: str = Field(max_length=passwords.LONGEST * 4)


class NewLabel(BaseModel):
    """What something new is called: a crew, or a program's key."""

    model_config = ConfigDict(extra="forbid")

    label: str = Field(min_length=1, max_length=LONGEST_NAME, pattern=r"\S")


@dataclass(frozen=True, slots=True)
class SignedInPlace:
    """A browser that is signed in."""

    id: str
    device: str
    since: datetime
    seen_at: datetime
    is_this: bool


@dataclass(frozen=True, slots=True)
class ProgramKey:
    """A key, without what opens."""

    id: str
    label: str
    made_at: datetime
    ends_at: datetime


@dataclass(frozen=True, slots=True)
class CrewOfMine:
    """A crew one is on."""

    id: str
    name: str
    role: str
    is_current: bool


@dataclass(frozen=True, slots=True)
class AccountPage:
    """The account page. ``new_key`` and ``new_calendar`` are shown once, right after they were made."""

    sign_in_name: str
    name_fields: Fields
    password_fields: Fields
    key_fields: Fields
    crew_fields: Fields
    places: tuple[SignedInPlace, ...]
    keys: tuple[ProgramKey, ...]
    crews: tuple[CrewOfMine, ...]
    may_make_crews: bool
    has_second_factor: bool
    codes_left: int
    calendar_since: datetime | None
    new_key: str = ""
    new_calendar: str = ""
    shortest: int = passwords.SHORTEST


@dataclass(frozen=True, slots=True)
class _Forms:
    name: Fields | None = None
    password: Fields = NOTHING_TYPED
    key: Fields = NOTHING_TYPED
    crew: Fields = NOTHING_TYPED


def _page(
    request: Request, person: Person, forms: _Forms | None = None, new_key: str = "", new_calendar: str = ""
) -> Response:
    forms = forms or _Forms()
    found = open_session(request)
    assert found is not None, "the route's person was signed in"
    now = datetime.now(UTC)
    with reading(engine_of(request)) as session:
        page = AccountPage(
            sign_in_name=found.sign_in_name,
            name_fields=forms.name or Fields({"name": person.name}),
            password_fields=forms.password,
            key_fields=forms.key,
            crew_fields=forms.crew,
            places=_places(session, request, person, now),
            keys=tuple(
                ProgramKey(k.id, k.label, k.made_at, k.ends_at) for k in keys_of(session, person, now)
            ),
            crews=tuple(
                CrewOfMine(crew_id, name, role.word, crew_id == person.crew_id)
                for crew_id, name, role in crews_of(session, person.id)
            ),
            may_make_crews=person.owns,
            has_second_factor=found.has_second_factor,
            codes_left=left_over(session, person.id) if found.has_second_factor else 0,
            calendar_since=calendar_link_since(session, person.id),
            new_key=new_key,
            new_calendar=new_calendar,
        )
    wrong = any(f.errors for f in (page.name_fields, page.password_fields, page.key_fields, page.crew_fields))
    return render(request, "people/account.html", page, status=422 if wrong else 200)


def _places(session: Session, request: Request, person: Person, now: datetime) -> tuple[SignedInPlace, ...]:
    return tuple(
        SignedInPlace(row.id, device_words(row.device), row.made_at, row.seen_at, row.id == person.session_id)
        for row in sessions.open_sessions(session, person.id, now, lifetime_of(request))
    )


@router.get("", name="account")
def show(request: Request, person: Member) -> Response:
    """Show the account."""
    return _page(request, person)


@router.post("/name")
def change_name(request: Request, person: Member, form: Typed) -> Response:
    """Change how one is called. What was recorded before keeps the name it was recorded under."""
    read = form.read(NewName)
    if read.model is None:
        return _page(request, person, _Forms(name=read.fields))
    with writing(engine_of(request)) as session:
        rename(session, person.id, read.model.name.strip())
    return redirect("/account", "Name changed.")


@router.post("/password")
def change_password(request: Request, person: Member, form: Typed) -> Response:
    """Change the password; every other browser is signed out, and this one gets a new session."""
    read = form.read(NewPassword)
    fields = NOTHING_TYPED if read.model else read.fields.without("current", "password")
    found = open_session(request)
    if read.model is not None and found is not None:
        wrong = check_password(request, person.id, read.model.current)
        weak = passwords.weakness(read.model.password, (person.name, found.sign_in_name, found.crew_name))
        if wrong:
            fields = fields.wrong("current", wrong)
        if weak:
            fields = fields.wrong("password", weak)
        elif read.model.password == read.model.current:
            fields = fields.wrong("password", "This is the password that you have.")
    if read.model is None or fields.errors:
        return _page(request, person, _Forms(password=fields))
    now, kept = datetime.now(UTC), passwords.hash_password(read.model.password)
    with writing(engine_of(request)) as session:
        set_password(session, person.id, kept, now, keep_session=person.session_id)
        token = sessions.renew(session, person.session_id, now)
        note(
            session,
            "password set",
            now,
            person_id=person.id,
            crew_id=person.crew_id,
            request_id=request_id_of(request),
            by="account",
        )
    response = redirect("/account", "Password changed. Other browsers were signed out.")
    set_session(request, response, token)
    return response


@router.post("/sessions/{session_id}/end")
def end_session(request: Request, person: Member, session_id: str) -> Response:
    """Sign a browser out."""
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        ended = sessions.end_one(session, person.id, session_id)
        if ended:
            note(
                session,
                "session ended",
                now,
                person_id=person.id,
                crew_id=person.crew_id,
                request_id=request_id_of(request),
            )
    if not ended:
        raise NotFound
    if session_id == person.session_id:
        response: Response = redirect("/sign-in", "You are signed out.")
        end_session_cookies(request, response)
        return response
    return redirect("/account", "That browser is signed out.")


@router.post("/sessions/end-others")
def end_others(request: Request, person: Member) -> Response:
    """Sign every other browser out."""
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        sessions.end_all(session, person.id, but=person.session_id)
        note(
            session,
            "session ended",
            now,
            person_id=person.id,
            crew_id=person.crew_id,
            request_id=request_id_of(request),
            which="all others",
        )
    return redirect("/account", "Every other browser is signed out.")


@router.post("/keys")
def add_key(request: Request, person: Member, form: Typed) -> Response:
    """Make a key for a program; it is shown once."""
    require_proof(request)
    read = form.read(NewLabel)
    if read.model is None:
        return _page(request, person, _Forms(key=read.fields))
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        key = make_key(session, person, read.model.label.strip(), now)
        note(
            session,
            "key made",
            now,
            person_id=person.id,
            crew_id=person.crew_id,
            request_id=request_id_of(request),
        )
    return _page(request, person, new_key=key)


@router.post("/keys/{key_id}/end")
def remove_key(request: Request, person: Member, key_id: str) -> Response:
    """End a key."""
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        ended = end_key(session, person, key_id)
        if ended:
            note(
                session,
                "key ended",
                now,
                person_id=person.id,
                crew_id=person.crew_id,
                request_id=request_id_of(request),
            )
    if not ended:
        raise NotFound
    return redirect("/account", "That key opens nothing any more.")


@router.post("/calendar", name="make_calendar_link")
def make_calendar(request: Request, person: Member) -> Response:
    """Make the address of one's calendar of visits; it is shown once, and the one before is ended."""
    require_proof(request)
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        token = make_calendar_link(session, person.id, now)
        note(
            session,
            "calendar link made",
            now,
            person_id=person.id,
            crew_id=person.crew_id,
            request_id=request_id_of(request),
        )
    base = request.app.state.settings.public_url or str(request.base_url).rstrip("/")
    return _page(request, person, new_calendar=f"{base}/calendar/{token}.ics")


@router.post("/calendar/end", name="end_calendar_link")
def end_calendar(request: Request, person: Member) -> Response:
    """End the address of one's calendar at once."""
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        ended = end_calendar_link(session, person.id)
        if ended:
            note(
                session,
                "calendar link ended",
                now,
                person_id=person.id,
                crew_id=person.crew_id,
                request_id=request_id_of(request),
            )
    return redirect(
        "/account#calendar", "That address opens nothing any more." if ended else "There was no address."
    )


@router.post("/crews")
def add_crew(request: Request, person: Owner, form: Typed) -> Response:
    """Make another crew, such as a class, and go over to it."""
    read = form.read(NewLabel)
    if read.model is None:
        return _page(request, person, _Forms(crew=read.fields))
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        crew_id = make_crew(session, person.id, read.model.label.strip(), now)
        token = sessions.renew(session, person.session_id, now, crew_id=crew_id)
        note(
            session, "crew made", now, person_id=person.id, crew_id=crew_id, request_id=request_id_of(request)
        )
    response = redirect("/account", f"Crew {read.model.label.strip()} made. You are working for it now.")
    set_session(request, response, token)
    return response


@router.post("/crews/{crew_id}")
def go_over(request: Request, person: Member, crew_id: str) -> Response:
    """Work for another of one's crews; the session gets a new token."""
    now = datetime.now(UTC)
    with writing(engine_of(request)) as session:
        names = {found_id: name for found_id, name, _role in crews_of(session, person.id)}
        if crew_id in names:
            token = sessions.renew(session, person.session_id, now, crew_id=crew_id)
            note(
                session,
                "crew changed",
                now,
                person_id=person.id,
                crew_id=crew_id,
                request_id=request_id_of(request),
            )
    if crew_id not in names:
        raise NotFound
    response: RedirectResponse = redirect("/", f"You are working for {names[crew_id]} now.")
    set_session(request, response, token)
    return response
