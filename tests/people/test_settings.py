"""Settings: unsafe and contradictory ones are refused with a sentence."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from server.settings import Settings, is_loopback

NETWORKED = {"host": "0.0.0.0", "public_url": "https://wiring.example.org"}  # noqa: S104 - settings that are only read


def settings(**given: object) -> Settings:
    return Settings.model_validate(given)


def test_the_defaults_serve_this_machine_only() -> None:
    found = settings()

    assert (found.is_local, found.secure, found.database) == (True, False, "sqlite:///var/studbay.sqlite3")
    assert "localhost" in found.host_names


def test_a_networked_installation_is_secure() -> None:
    found = settings(**NETWORKED)

    assert (found.is_local, found.secure, found.host_names) == (False, True, {"wiring.example.org"})


@pytest.mark.parametrize(
    ("given", "why"),
    [
        ({"host": "0.0.0.0"}, "reached by other machines"),  # noqa: S104 - refused
        ({"host": "192.168.1.5"}, "reached by other machines"),
        ({"public_url": "http://wiring.example.org"}, "in the clear"),
        ({"public_url": "wiring.example.org"}, "expected https://NAME"),
        ({"public_url": "https://wiring.example.org/path"}, "without a path"),
        ({"public_url": "ftp://wiring.example.org"}, "expected https://NAME"),
        ({**NETWORKED, "secure_cookies": False}, "contradicts"),
        ({"secure_cookies": True}, "contradicts"),
        ({**NETWORKED, "demo": True}, "loopback address only"),
        ({"trusted_proxies": "0.0.0.0/0"}, "anybody's claim"),
        ({"trusted_proxies": "::/0"}, "anybody's claim"),
        ({"trusted_proxies": "my-proxy"}, "expected addresses"),
        ({"threads": 0}, "greater than or equal to 1"),
        ({"workers": 0}, "greater than or equal to 1"),
        ({"idle_hours": 9999}, "less than or equal to 336"),
        ({"longest_days": 9999}, "less than or equal to 90"),
        ({"log_format": "xml"}, "match pattern"),
    ],
)
def test_unsafe_and_contradictory_ones_are_refused(given: dict[str, object], why: str) -> None:
    with pytest.raises(ValidationError, match=why):
        settings(**given)


def test_they_come_from_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STUDBAY_PORT", "9000")
    monkeypatch.setenv("STUDBAY_TRUSTED_PROXIES", "10.0.0.1, 10.1.0.0/16")

    found = Settings()

    assert (found.port, found.trusted_proxies) == (9000, ("10.0.0.1", "10.1.0.0/16"))


@pytest.mark.parametrize(
    ("host", "loopback"),
    [("localhost", True), ("127.0.0.1", True), ("127.8.8.8", True), ("::1", True), ("[::1]", True), ("0.0.0.0", False),  # noqa: S104
     ("192.168.0.1", False), ("localhost.example.org", False), ("", False)],
)  # fmt: skip
def test_what_only_this_machine_reaches(host: str, loopback: bool) -> None:
    assert is_loopback(host) == loopback
