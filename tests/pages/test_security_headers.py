"""What every answer carries, whatever it is. OWASP ASVS 5.0, 3.4 and 14.3."""

from __future__ import annotations

import gzip
import logging
from collections.abc import Callable
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from server.pages import account
from server.people.current import open_to_anyone
from server.security.csp import POLICY
from server.security.log import JsonLines, TextLines
from tests.cast import Cast, client_for, make_app

PATHS = {
    "a page": "/sign-in", "a missing page": "/nothing", "a redirect": "/account", "a style sheet": "/static/css/studbay.css",
    "a missing file": "/static/nothing.css", "the API": "/api/nothing", "the API's document": "/api/openapi.json",
    "a failure": "/fails", "a failure of the API": "/api/fails",
}  # fmt: skip


@pytest.fixture
def app(engine: Engine, cast: Cast) -> FastAPI:
    made = make_app(engine, body_limit_mb=3)  # an application apart: it gets two routes of its own

    def fails() -> None:
        raise RuntimeError("the secret inside")

    for path in ("/fails", "/api/fails"):
        made.add_api_route(path, fails, dependencies=[open_to_anyone("only in this test, to fail")])
    return made


@pytest.mark.parametrize("what", PATHS)
def test_every_answer_carries_the_headers(client: TestClient, what: str) -> None:
    headers = client.get(PATHS[what]).headers

    assert headers["content-security-policy"].startswith(
        "default-src 'none'; script-src 'self'; style-src 'self'"
    )
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cross-origin-opener-policy"] == "same-origin"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert "geolocation=()" in headers["permissions-policy"]
    assert len(headers["x-request-id"]) == 16
    assert "strict-transport-security" not in headers
    assert "server" not in headers


def test_the_policy_allows_nothing_inline_and_no_other_host() -> None:
    for name, value in POLICY.items():
        assert value in ("'none'", "'self'", "'self' blob:"), name
    assert (
        POLICY["default-src"]
        == POLICY["object-src"]
        == POLICY["base-uri"]
        == POLICY["frame-ancestors"]
        == "'none'"
    )
    assert POLICY["form-action"] == POLICY["script-src"] == "'self'"


def test_over_https_browsers_are_told_to_stay_there(engine: Engine, cast: Cast) -> None:
    secure = client_for(
        make_app(engine, public_url="https://wiring.example.org"), base_url="https://wiring.example.org"
    )
    headers = secure.get("/sign-in").headers

    assert headers["strict-transport-security"] == "max-age=31536000; includeSubDomains"
    assert headers["content-security-policy"].endswith("; upgrade-insecure-requests")


@pytest.mark.parametrize("path", ["/sign-in", "/account", "/nothing", "/api/nothing", "/fails"])
def test_pages_are_not_kept_by_caches(client: TestClient, path: str) -> None:
    assert client.get(path).headers["cache-control"] == "no-store"


def test_files_are_kept_for_ever_under_their_hash_and_asked_again_without(client: TestClient) -> None:
    page = client.get("/sign-in").text
    hashed = page.split('rel="stylesheet" href="')[1].split('"')[0]

    assert client.get(hashed).headers["cache-control"] == "public, max-age=31536000, immutable"
    assert client.get("/static/css/studbay.css").headers["cache-control"] == "no-cache"


def test_a_part_is_not_mistaken_for_its_page(client: TestClient) -> None:
    assert "hx-request" in client.get("/sign-in").headers["vary"].lower()


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "", "localhost.evil.example:8000", "[::2]"]
)
def test_a_foreign_name_is_not_answered(client: TestClient, host: str) -> None:
    answer = client.get("/sign-in", headers={"Host": host})

    assert answer.status_code == 421
    assert "STUDBAY_PUBLIC_URL" in answer.text


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost", "LOCALHOST:1", "[::1]:8000"])
def test_this_machines_own_names_are(client: TestClient, host: str) -> None:
    assert client.get("/sign-in", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("path", ["/fails", "/api/fails"])
def test_a_failure_tells_its_number_and_nothing_else(client: TestClient, path: str) -> None:
    answer = client.get(path)

    assert answer.status_code == 500
    assert answer.headers["x-request-id"] in answer.text
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text
    if path.startswith("/api/"):
        assert answer.headers["content-type"] == "application/problem+json"


@pytest.mark.parametrize("path", ["/join/", "/guest/"])
def test_the_secret_of_a_link_is_not_in_the_log(
    client: TestClient, caplog: pytest.LogCaptureFixture, path: str
) -> None:
    with caplog.at_level(logging.INFO, "studbay.request"):
        client.get(path + "s" * 43)

    said = [record.getMessage() for record in caplog.records if record.name.startswith("studbay")]
    assert [line.rpartition(" ")[0] for line in said] == [f"GET {path}..."]


@pytest.mark.parametrize(("name", "path", "status"), [("gus", "/crew", 403), ("elena", "/visits.ics", 200)])
def test_the_log_says_who_was_refused_and_who_took_something_away(
    as_: Callable[[str], TestClient], caplog: pytest.LogCaptureFixture, name: str, path: str, status: int
) -> None:
    with caplog.at_level(logging.INFO, "studbay.request"):
        answer = as_(name).get(path)

    (record,) = [record for record in caplog.records if record.name == "studbay.request"]
    assert record.getMessage() == f"GET {path} {status}"
    for line in (TextLines().format(record), JsonLines().format(record)):
        assert f"account-{name}" in line
        assert answer.headers["x-request-id"] in line


@pytest.mark.parametrize("lines", [TextLines(), JsonLines()], ids=["text", "json"])
def test_a_line_break_that_was_sent_makes_no_line_of_the_log(lines: logging.Formatter) -> None:
    sent = "GET /x\r\n08:12:01 info studbay.request GET /forged 200"

    line = lines.format(logging.LogRecord("studbay.request", logging.INFO, "", 0, sent, None, None))

    assert "forged" in line
    assert not {"\r", "\n"} & set(line)


def test_a_failure_in_a_page_of_ours_is_caught_as_well(
    as_: Callable[[str], TestClient], monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError("inside")

    monkeypatch.setattr(account, "left_over", breaks)
    monkeypatch.setattr(account, "keys_of", breaks)

    answer = as_("pat").get("/account")

    assert answer.status_code == 500
    assert "inside" not in answer.text


def test_text_travels_compressed(client: TestClient) -> None:
    answer = client.get("/static/css/studbay.css", headers={"Accept-Encoding": "gzip"})

    assert answer.headers["content-encoding"] == "gzip"
    assert "accept-encoding" in answer.headers["vary"].lower()


def test_the_first_page_weighs_under_60_kb_with_all_it_loads(client: TestClient) -> None:
    page = client.get("/sign-in").text
    loads = [part.split('"')[0] for part in page.replace('src="', 'href="').split('href="')[1:]]
    files = sorted({address for address in loads if address.startswith("/static/")})

    weights = {
        address: len(gzip.compress(client.get(address).content, 6)) for address in [*files, "/sign-in"]
    }

    assert any("htmx" in address for address in files)
    assert sum(weights.values()) < 60_000, weights


@pytest.mark.parametrize("path", ["/docs", "/redoc", "/openapi.json"])
def test_the_frameworks_own_pages_are_off(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_a_body_that_is_too_large_is_refused(client: TestClient) -> None:
    answer = client.post("/sign-in", data={"sign_in_name": "ana", "password": "x" * 3_000_000})

    assert answer.status_code == 413


@pytest.mark.parametrize("kind", ["application/json", "text/plain", "", "application/xml"])
def test_a_form_takes_forms_only(client: TestClient, kind: str) -> None:
    answer = client.post("/sign-in", content=b"sign_in_name=ana&password=x", headers={"Content-Type": kind})

    assert answer.status_code == 415


def test_a_form_with_a_file_or_too_many_fields_is_refused(client: TestClient) -> None:
    with_file = client.post("/sign-in", files={"password": ("x.txt", b"text")})
    crowded = client.post("/sign-in", files={f"f{n}": (None, "x") for n in range(600)})

    assert (with_file.status_code, crowded.status_code) == (400, 400)
