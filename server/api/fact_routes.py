"""Every kind of fact of a job: listed, added, read, changed, deleted, each under its own address and models.

    /api/jobs/{job_id}/boxes                GET  POST
    /api/jobs/{job_id}/boxes/{fact_id}      GET  PATCH  DELETE

The models are made from the facts' dataclasses (``server.store.documents``), so that OpenAPI describes each field.
Every write answers with the change that it made, which ``/changes/{change_id}/undo`` takes back.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Annotated, Any, Final, cast

from fastapi import APIRouter, Request, Response
from pydantic import Field, ValidationError, create_model
from sqlalchemy.orm import Session

from server.api.once import IdempotencyKey, author_of, write_once
from server.api.problems import RESPONSES
from server.api.store_problems import Refused
from server.people.access import job_for
from server.people.current import Builder, Reader, engine_of
from server.people.roles import Role
from server.store import facts
from server.store.documents import Document, IdText, document_of, fact_of
from server.store.engine import reading
from server.store.errors import NotThere, Taken
from server.store.journal import new_id
from server.store.kinds import KINDS, FactKind
from server.store.plain import plain_of
from server.store.stored import Stored

__all__ = ["router"]

router: Final = APIRouter(prefix="/api/jobs/{job_id}", tags=["facts"], responses=RESPONSES)


class Deleted(Document):
    """The change that deleted a fact with all that it owned."""

    change: str


@cache
def _added(kind: FactKind) -> Any:
    """The document of a fact to be added; an ``id`` made by the client makes a repeat harmless."""
    return create_model(f"New{kind.fact.__name__}", __base__=document_of(kind), id=(IdText | None, None))


@cache
def _changed(kind: FactKind) -> Any:
    """The document of a change: any of the fields, and the version that was seen."""
    wanted: dict[str, Any] = {
        name: (field.annotation if not field.metadata else Annotated[field.annotation, *field.metadata], None)
        for name, field in document_of(kind).model_fields.items()
        if name != "id"
    }
    return create_model(
        f"{kind.fact.__name__}Change",
        __base__=Document,
        __doc__=f"New values for fields of a {kind.name}; what is left out stays. With ``base_version`` a field "
        "that somebody else changed since is not written over.",
        base_version=(Annotated[int, Field(strict=True, ge=1)] | None, None),
        **wanted,
    )


@cache
def _stands(kind: FactKind) -> Any:
    """The document of a fact as it stands, with its version."""
    return create_model(f"Stored{kind.fact.__name__}", __base__=document_of(kind), version=(int, ...))


@cache
def _written(kind: FactKind) -> Any:
    own: Any = {kind.name: (_stands(kind), ...)}
    return create_model(
        f"Written{kind.fact.__name__}",
        __base__=Document,
        __doc__=f"The {kind.name} after a write, and the change to undo it by (None where nothing was different).",
        change=(str | None, ...),
        **own,
    )


@cache
def _listed(kind: FactKind) -> Any:
    own: Any = {kind.plural: (list[_stands(kind)], ...)}  # type: ignore[misc]
    return create_model(
        f"{kind.fact.__name__}List",
        __base__=Document,
        __doc__=f"The {kind.plural} of a job, as they were entered.",
        **own,
    )


def _plain(kind: FactKind, stored: Stored) -> dict[str, Any]:
    return {**plain_of(stored.fact, kind.fields), "version": stored.version}


def _answer(
    session: Session, kind: FactKind, job_id: str, fact_id: str, change: str | None
) -> dict[str, Any]:
    return {kind.name: _plain(kind, facts.read(session, job_id, kind.name, fact_id)), "change": change}


def _see_that_it_fits(kind: FactKind, fact: Any) -> None:
    """What single fields cannot tell: an edge left of another."""
    try:
        document_of(kind).model_validate(plain_of(fact, kind.fields))
    except ValidationError as error:
        raise Refused.by(error) from None


def _is_there(session: Session, kind: FactKind, job_id: str, fact: Any) -> bool:
    try:
        return bool(facts.read(session, job_id, kind.name, fact.id).fact == fact)
    except NotThere:
        return False


def _list(kind: FactKind) -> Callable[..., Any]:
    def list_facts(request: Request, job_id: str, person: Reader) -> Any:
        with reading(engine_of(request)) as session:
            job_for(session, person, job_id)
            found = facts.read_all(session, job_id, kind.name)
        return {kind.plural: [_plain(kind, stored) for stored in found]}

    list_facts.__doc__ = f"The {kind.plural} of a job, as they were entered."
    return list_facts


def _read(kind: FactKind) -> Callable[..., Any]:
    def read_fact(request: Request, job_id: str, fact_id: str, person: Reader) -> Any:
        with reading(engine_of(request)) as session:
            job_for(session, person, job_id)
            return _plain(kind, facts.read(session, job_id, kind.name, fact_id))

    read_fact.__doc__ = f"One {kind.name}."
    return read_fact


def _add(kind: FactKind) -> Callable[..., Any]:
    def add_fact(
        request: Request,
        response: Response,
        job_id: str,
        person: Builder,
        body: Any,
        key: IdempotencyKey = None,
    ) -> Any:
        fact_id = body.id or new_id()
        fact = fact_of(kind, body.model_copy(update={"id": fact_id}))

        def write(session: Session) -> dict[str, Any]:
            try:
                change = facts.add(session, job_id, fact, author=author_of(person))
            except Taken:
                # the same fact once more: the client made its id so that it may ask again
                if not _is_there(session, kind, job_id, fact):
                    raise
                return _answer(session, kind, job_id, fact_id, None)
            return _answer(session, kind, job_id, fact_id, change)

        asked = body.model_dump(mode="json", exclude_unset=True)
        answer = write_once(request, person, job_id, Role.ELECTRICIAN, key, asked, write)
        response.headers["Location"] = f"/api/jobs/{job_id}/{kind.plural}/{answer[kind.name]['id']}"
        return answer

    add_fact.__doc__ = f"Add a {kind.name}."
    add_fact.__annotations__["body"] = _added(kind)
    return add_fact


def _change(kind: FactKind) -> Callable[..., Any]:
    def change_fact(
        request: Request, job_id: str, fact_id: str, person: Builder, body: Any, key: IdempotencyKey = None
    ) -> Any:
        given = {name: getattr(body, name) for name in body.model_fields_set - {"base_version"}}

        def write(session: Session) -> dict[str, Any]:
            change, _ = facts.change(
                session, job_id, kind.name, fact_id, given, body.base_version, author=author_of(person)
            )
            _see_that_it_fits(kind, facts.read(session, job_id, kind.name, fact_id).fact)
            return _answer(session, kind, job_id, fact_id, change)

        asked = body.model_dump(mode="json", exclude_unset=True)
        return write_once(request, person, job_id, Role.ELECTRICIAN, key, asked, write)

    change_fact.__doc__ = f"Change some fields of a {kind.name}; what is left out stays."
    change_fact.__annotations__["body"] = _changed(kind)
    return change_fact


def _delete(kind: FactKind) -> Callable[..., Any]:
    def delete_fact(
        request: Request, job_id: str, fact_id: str, person: Builder, key: IdempotencyKey = None
    ) -> Any:
        return write_once(
            request, person, job_id, Role.ELECTRICIAN, key, {},
            lambda session: {
                "change": facts.delete(session, job_id, kind.name, fact_id, author=author_of(person))
            },
        )  # fmt: skip

    delete_fact.__doc__ = f"Delete a {kind.name} with all that it owns; what refers to it lets go of it."
    return delete_fact


def _register(kind: FactKind) -> None:
    many, one = f"/{kind.plural}", f"/{kind.plural}/{{fact_id}}"
    for path, method, endpoint, model, status in (
        (many, "GET", _list(kind), _listed(kind), 200),
        (many, "POST", _add(kind), _written(kind), 201),
        (one, "GET", _read(kind), _stands(kind), 200),
        (one, "PATCH", _change(kind), _written(kind), 200),
        (one, "DELETE", _delete(kind), Deleted, 200),
    ):
        thing = kind.plural if path == many and method == "GET" else kind.name
        word = {
            "GET": "list" if path == many else "read",
            "POST": "add",
            "PATCH": "change",
            "DELETE": "delete",
        }[method]
        router.add_api_route(
            path,
            endpoint,
            methods=[method],
            response_model=cast(Any, model),
            status_code=status,
            name=f"{word}_{thing}",
            summary=f"{word.capitalize()} {thing}",
        )


for _kind in KINDS.values():
    _register(_kind)
