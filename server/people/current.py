"""Who asks, as a dependency of a route; and the declaration that every route must make of who may use it.

    def list_jobs(request: Request, person: Reader) -> Response: ...          # anyone signed in
    def add_box(request: Request, person: Builder, ...) -> Response: ...      # electrician and up
    @router.get("/sign-in", dependencies=[open_to_anyone("signing in comes before being known")])

A test walks the routes and fails for one that declares neither. The role here is the crew's; whether a job is the
crew's at all is asked of :mod:`server.people.access`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Annotated, Any, Final

from fastapi import Depends, Request
from sqlalchemy import Engine

from server.people import program_keys, sessions
from server.people.access import require
from server.people.guest_links import find_guest
from server.people.person import Person
from server.people.roles import Role
from server.people.sessions import Lifetime, OpenSession
from server.store.engine import reading, writing

__all__ = [
    "GUEST_ENDING",
    "Builder",
    "Foreman",
    "Member",
    "NoAccount",
    "Owner",
    "ProofNeeded",
    "Reader",
    "Recorder",
    "SecondFactorNeeded",
    "SignInNeeded",
    "cookie_name",
    "current_person",
    "engine_of",
    "lifetime_of",
    "needs",
    "open_session",
    "open_to_anyone",
    "require_proof",
]

_PLAIN_COOKIE: Final = "studbay"
GUEST_ENDING: Final = "-guest"
"""What the cookie of a guest's link has behind the usual name."""


class SignInNeeded(Exception):
    """Nobody is signed in, or no longer."""


class ProofNeeded(Exception):
    """A sensitive change: the password was not given lately."""


class NoAccount(Exception):
    """Whoever asks came by a guest's link: there is no account behind it to change, and no crew to see."""


class SecondFactorNeeded(Exception):
    """Owners whose installation others can reach need a second factor for what only owners may do."""


def cookie_name(secure: bool) -> str:
    """``__Host-`` binds the cookie to this host and path over https; over http on loopback browsers refuse that."""
    return f"__Host-{_PLAIN_COOKIE}" if secure else _PLAIN_COOKIE


def engine_of(request: Request) -> Engine:
    """The database's engine."""
    engine: Engine = request.app.state.engine
    return engine


def lifetime_of(request: Request) -> Lifetime:
    """How long sessions last here."""
    settings = request.app.state.settings
    return Lifetime(timedelta(hours=settings.idle_hours), timedelta(days=settings.longest_days))


def open_session(request: Request) -> OpenSession | None:
    """The session that the request's cookie opens, looked up once a request."""
    if not hasattr(request.state, "session"):
        request.state.session = _look_up(request)
    found: OpenSession | None = request.state.session
    return found


def _look_up(request: Request) -> OpenSession | None:
    scheme, _, key = request.headers.get("authorization", "").partition(" ")
    if scheme.lower() == "bearer" and request.url.path.startswith("/api/"):
        return _by_key(request, key.strip())
    secure = request.app.state.settings.secure
    token = request.cookies.get(cookie_name(secure), "")
    guest = request.cookies.get(cookie_name(secure) + GUEST_ENDING, "")
    if not token:
        return _by_guest_link(request, guest) if guest else None
    now = datetime.now(UTC)
    with reading(engine_of(request)) as session:
        found = sessions.find(session, token, now, lifetime_of(request))
    if found is not None and now - found.seen_at > sessions.SEEN_EVERY:
        with writing(engine_of(request)) as session:
            sessions.mark_seen(session, found.person.session_id, now)
    return found


def _by_guest_link(request: Request, token: str) -> OpenSession | None:
    now = datetime.now(UTC)
    with reading(engine_of(request)) as session:
        found = find_guest(session, token, now)
    if found is None:
        return None
    person, crew_name = found
    return OpenSession(person, crew_name, "", True, now, datetime.min.replace(tzinfo=UTC))


def _by_key(request: Request, key: str) -> OpenSession | None:
    now = datetime.now(UTC)
    with reading(engine_of(request)) as session:
        found = program_keys.find_key(session, key, now)
    if found is None:
        return None
    person, crew_name = found
    # a program proves nothing about the person: sensitive changes stay out of its reach
    return OpenSession(person, crew_name, "", True, now, datetime.min.replace(tzinfo=UTC))


def current_person(request: Request) -> Person:
    """Whoever is signed in.

    Raises:
        SignInNeeded: nobody is.
    """
    found = open_session(request)
    if found is None:
        raise SignInNeeded
    meant = request.headers.get("Studbay-Person")
    if meant is not None and meant != found.person.id:
        # an outbox sends what its owner recorded: never under the name of whoever signed in since
        raise SignInNeeded
    return found.person


def needs(role: Role, *, account: bool = False) -> Callable[[Request], Person]:
    """A dependency: the signed-in person, if the role on the crew is ``role`` or higher.

    With ``account`` also only if there is an account: a guest's link opens a job, not what is the crew's or one's own.

    It raises :class:`SignInNeeded`, :class:`server.people.access.Forbidden` or :class:`NoAccount`.
    """

    def person_with_role(request: Request) -> Person:
        person = current_person(request)
        require(person, role)
        if account and not person.has_account:
            raise NoAccount
        if role is Role.OWNER and not request.app.state.settings.is_local:
            found = open_session(request)
            if found is None or not found.has_second_factor:
                raise SecondFactorNeeded
        return person

    person_with_role.declared_access = role.word  # type: ignore[attr-defined]
    return person_with_role


def require_proof(request: Request) -> None:
    """For pages that change who may get in.

    Raises:
        ProofNeeded: the password was not given within :data:`server.people.sessions.PROVED_FOR`.
    """
    found = open_session(request)
    if found is None or datetime.now(UTC) - found.proved_at > sessions.PROVED_FOR:
        raise ProofNeeded


def open_to_anyone(reason: str) -> Any:
    """A dependency that declares a route open without signing in, and says why."""

    def anyone() -> None:
        return None

    anyone.declared_access = f"anyone: {reason}"  # type: ignore[attr-defined]
    return Depends(anyone)


Reader = Annotated[Person, Depends(needs(Role.GUEST))]
"""Anyone signed in."""
Member = Annotated[Person, Depends(needs(Role.GUEST, account=True))]
"""Anyone with an account on the crew; not whoever came by a guest's link."""
Recorder = Annotated[Person, Depends(needs(Role.APPRENTICE))]
"""Whoever may record observations."""
Builder = Annotated[Person, Depends(needs(Role.ELECTRICIAN))]
"""Whoever may change a job's facts."""
Foreman = Annotated[Person, Depends(needs(Role.FOREMAN))]
"""Whoever may make, assign and delete jobs."""
Owner = Annotated[Person, Depends(needs(Role.OWNER))]
"""Whoever may change the crew."""
