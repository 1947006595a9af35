"""Requests made from the OpenAPI document, right ones and wrong ones, of every route: never a failure on our side.

What is answered fits what the document says: the status is described, a body has the described shape, every refusal
is a problem document.
"""

from __future__ import annotations

from contextlib import suppress

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from server.people.current import cookie_name
from tests.cast import Cast

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
HOST = "http://127.0.0.1:8000"
THERE = {"job_id": "job-1", "fact_id": "box-1", "rule_id": "box-fill", "kind": "box", "subject_id": "box-1"}


@pytest.fixture
def database_kind() -> str:
    """Once is enough: what is generated are requests, and the store's own tests run on both."""
    return "sqlite"


@pytest.mark.parametrize("mode", list(GenerationMode), ids=lambda mode: f"{mode.value} requests")
@pytest.mark.parametrize("part", range(4))
def test_every_route_answers_what_its_description_says(
    mode: GenerationMode, part: int, app: FastAPI, cast: Cast, job: str
) -> None:
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", app, headers={"Host": "127.0.0.1:8000"})
    found = [result.ok() for result in schema.include(path_regex="^/api/jobs").get_all_operations()]
    cookies = {cookie_name(app.state.settings.secure): cast.token("ana")}
    asked = 0

    for operation in found[part::4]:

        @settings(
            max_examples=10, deadline=None, database=None, phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )  # fmt: skip
        @given(case=operation.as_strategy(generation_mode=mode))
        def ask(case: schemathesis.Case) -> None:
            nonlocal asked
            asked += 1
            for name, value in THERE.items():
                # every other time about something that is there
                if name in case.path_parameters and asked % 2:
                    case.path_parameters[name] = value

            answer = case.call(base_url=HOST, headers={"Sec-Fetch-Site": "same-origin"}, cookies=cookies)

            case.validate_response(answer, checks=CHECKS)
            assert answer.status_code != 401
            if answer.status_code >= 400:
                assert answer.headers["content-type"] == ["application/problem+json"]

        # an address whose only parts are ids of any spelling cannot be asked wrongly
        with suppress(Unsatisfiable):
            ask()

    assert len(found) >= 70
    assert asked >= 100
