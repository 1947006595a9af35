"""CSRF: by what the browser says of the request. The table is the whole rule."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient
from starlette.datastructures import Headers

from server.security.same_origin import refusal
from tests.cast import Cast

OWN = frozenset({"https://wiring.example.org"})
TABLE = [
    # method, headers, passes
    ("GET", {"sec-fetch-site": "cross-site", "cookie": "a=b"}, True),
    ("HEAD", {"origin": "https://evil.example"}, True),
    ("POST", {"sec-fetch-site": "same-origin", "cookie": "a=b"}, True),
    ("POST", {"sec-fetch-site": "none", "cookie": "a=b"}, True),
    ("POST", {"sec-fetch-site": "same-site", "cookie": "a=b"}, False),
    ("POST", {"sec-fetch-site": "cross-site", "cookie": "a=b"}, False),
    ("POST", {"sec-fetch-site": "cross-site"}, False),
    ("POST", {"sec-fetch-site": "cross-site", "origin": "https://wiring.example.org"}, False),
    ("POST", {"sec-fetch-site": "", "cookie": "a=b"}, False),
    ("POST", {"origin": "https://wiring.example.org", "cookie": "a=b"}, True),
    ("POST", {"origin": "HTTPS://WIRING.EXAMPLE.ORG", "cookie": "a=b"}, True),
    ("POST", {"origin": "http://wiring.example.org", "cookie": "a=b"}, False),
    ("POST", {"origin": "https://wiring.example.org.evil.example", "cookie": "a=b"}, False),
    ("POST", {"origin": "https://wiring.example.org:8443", "cookie": "a=b"}, False),
    ("POST", {"origin": "null", "cookie": "a=b"}, False),
    ("POST", {"origin": "https://evil.example"}, False),
    ("POST", {"cookie": "a=b"}, False),
    ("POST", {}, True),
    ("PUT", {"sec-fetch-site": "cross-site"}, False),
    ("DELETE", {"cookie": "a=b"}, False),
    ("PATCH", {"origin": "null"}, False),
    ("PROPFIND", {"cookie": "a=b"}, False),
]


@pytest.mark.parametrize(("method", "headers", "passes"), TABLE)
def test_the_rule(method: str, headers: dict[str, str], passes: bool) -> None:
    assert (refusal(method, Headers(headers), OWN) is None) == passes


def test_without_a_public_address_the_requests_own_host_is_ours(client: TestClient, cast: Cast) -> None:
    fields = {"theme": "dark", "back": "/"}
    client.headers.pop("Sec-Fetch-Site")
    client.cookies.set("any", "cookie", domain="127.0.0.1")

    assert client.post("/theme", data=fields, headers={"Origin": "http://127.0.0.1:8000"}).status_code == 303
    assert client.post("/theme", data=fields, headers={"Origin": "http://127.0.0.1:9000"}).status_code == 403
    assert client.post("/theme", data=fields).status_code == 403


def test_a_refusal_says_why_and_what_to_do(client: TestClient, cast: Cast) -> None:
    answer = client.post("/sign-out", headers={"Sec-Fetch-Site": "cross-site"})

    assert answer.status_code == 403
    assert "sent by another site" in answer.text
    assert (
        client.post("/api/x", headers={"Sec-Fetch-Site": "cross-site"}).headers["content-type"]
        == "application/problem+json"
    )
