"""``python -m server`` as it is started on a real machine: it makes its database, serves, and refuses what is unsafe."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn

from server.__main__ import serve
from server.settings import Settings

ROOT = Path(__file__).parents[2]
_WAIT_S = 60


def environment(folder: Path, **settings: str) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STUDBAY_")}
    return {
        **kept,
        "STUDBAY_DATA_DIR": str(folder),
        **{f"STUDBAY_{name}": value for name, value in settings.items()},
    }


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def served(folder: Path, **settings: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "server"], cwd=ROOT, env=environment(folder, PORT=str(port), **settings), text=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip
    url, until = f"http://127.0.0.1:{port}", time.monotonic() + _WAIT_S
    try:
        while True:
            assert process.poll() is None, process.stderr.read() if process.stderr else ""
            assert time.monotonic() < until, "it did not answer in time"
            try:
                httpx.get(url + "/static/icon.svg")
                break
            except httpx.TransportError:
                time.sleep(0.1)
        yield url, process
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(_WAIT_S)
        if process.stderr:
            process.stderr.close()


@pytest.mark.parametrize("workers", ["1", "2"])
def test_it_makes_its_database_and_leads_to_the_first_account(tmp_path: Path, workers: str) -> None:
    with served(tmp_path, WORKERS=workers) as (url, _process):
        answer = httpx.get(url + "/jobs")

        assert (answer.status_code, answer.headers["location"]) == (303, "/first-account")
        assert "server" not in answer.headers
    assert (tmp_path / "studbay.sqlite3").exists()


def test_where_others_can_reach_it_the_first_account_takes_the_servers_code(tmp_path: Path) -> None:
    fields = {
        "name": "Ana",
        "sign_in_name": "ana",
        "password": "ladder copper blue seven",
        "crew_name": "Ruiz",
    }
    with served(tmp_path, PUBLIC_URL="https://wiring.example.org") as (url, _process):
        headers = {"Host": "wiring.example.org", "Origin": "https://wiring.example.org"}
        code_file = tmp_path / "first-account-code"
        assert code_file.stat().st_mode & 0o077 == 0
        code = code_file.read_text().strip()

        guessed = httpx.post(url + "/first-account", data={**fields, "code": "aaaabbbbcccc"}, headers=headers)
        without = httpx.post(url + "/first-account", data=fields, headers=headers)
        right = httpx.post(url + "/first-account", data={**fields, "code": code.upper()}, headers=headers)

        assert (guessed.status_code, without.status_code, right.status_code) == (422, 422, 303)
        assert "__Host-studbay=" in right.headers["set-cookie"]
        assert not code_file.exists()


@pytest.mark.parametrize(
    ("settings", "why"),
    [
        ({"HOST": "0.0.0.0"}, "can be reached by other machines"),  # noqa: S104 - refused
        ({"PUBLIC_URL": "http://wiring.example.org"}, "in the clear"),
        ({"THREADS": "many"}, "STUDBAY_THREADS"),
        ({"DATABASE_URL": "mysql://x/y"}, "sqlite or postgresql"),
    ],
)
def test_what_is_unsafe_or_unknown_is_refused_with_a_sentence(
    tmp_path: Path, settings: dict[str, str], why: str
) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "server"], cwd=ROOT, env=environment(tmp_path, **settings), capture_output=True, text=True,
        timeout=_WAIT_S, check=False,
    )  # fmt: skip

    assert done.returncode == 2
    assert why in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("proxies", ["", "10.0.0.1,10.1.0.0/16"])
def test_only_named_proxies_say_who_asks(monkeypatch: pytest.MonkeyPatch, proxies: str) -> None:
    given: dict[str, Any] = {}
    monkeypatch.setattr(uvicorn, "run", lambda _app, **more: given.update(more))

    serve(Settings.model_validate({"trusted_proxies": proxies}))

    assert (given["proxy_headers"], given["forwarded_allow_ips"]) == (bool(proxies), proxies or None)


def test_a_connection_outlives_a_pause_between_two_taps_and_the_proxys_own(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    given: dict[str, Any] = {}
    monkeypatch.setattr(uvicorn, "run", lambda _app, **more: given.update(more))

    serve(Settings())

    assert given["timeout_keep_alive"] > 60


def test_the_log_is_one_json_object_a_line_where_asked_and_keeps_secrets_of_paths(tmp_path: Path) -> None:
    with served(tmp_path, LOG_FORMAT="json") as (url, process):
        httpx.get(url + "/join/" + "s" * 43)
        process.send_signal(signal.SIGTERM)
        assert process.stderr is not None
        lines = [json.loads(line) for line in process.stderr.read().splitlines()]

    asked = [line for line in lines if line["says"].startswith("GET /join/")]
    assert [line["says"] for line in asked] == ["GET /join/... 404"]
    assert {"at", "level", "from", "request_id", "ms"} <= asked[0].keys()
    assert "s" * 43 not in str(lines)
