"""What an installation decides, from ``STUDBAY_*`` in the environment; unsafe or contradictory choices are refused.

The defaults serve one machine: the embedded database under ``var/``, http on the loopback address. Serving others
takes ``STUDBAY_PUBLIC_URL=https://...`` (a proxy in front ends TLS): cookies then travel over https only.
"""

from __future__ import annotations

import ipaddress
from functools import cached_property
from pathlib import Path
from typing import Annotated, Final, Self
from urllib.parse import urlsplit

from cryptography.fernet import Fernet
from pydantic import Field, field_validator, model_validator
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

__all__ = ["Settings", "is_loopback"]

_LOOPBACK_NAMES: Final = ("localhost", "127.0.0.1", "[::1]")


def is_loopback(host: str) -> bool:
    """Whether a host name or address can only be reached from this machine."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


class Settings(BaseSettings):
    """The settings of one installation.

    Raises:
        pydantic.ValidationError: a value is unknown, unsafe or contradicts another; the text says which and why.
    """

    model_config = SettingsConfigDict(env_prefix="STUDBAY_", frozen=True, extra="ignore")

    data_dir: Path = Field(Path("var"), description="where the embedded database and the photographs stand")
    database_url: str = Field("", description="sqlite:///FILE or postgresql://...; empty: a file in data_dir")
    host: str = Field("127.0.0.1", description="the address to listen on")
    port: int = Field(8000, ge=0, le=65535)
    public_url: str = Field("", description="how browsers reach it, such as https://wiring.example.org")
    trusted_proxies: Annotated[tuple[str, ...], NoDecode] = Field(
        (), description="addresses whose X-Forwarded-For and -Proto are believed, comma between"
    )
    secure_cookies: bool | None = Field(None, description="empty: as public_url says")
    seal_key: str = Field(
        "", repr=False, description="key that seals secrets in the database; empty: a file in data_dir"
    )
    demo: bool = Field(False, description="offer the demo page that signs in without a password")
    workers: int = Field(1, ge=1, le=64, description="server processes")
    threads: int = Field(6, ge=1, le=40, description="requests that run Python at once, per process")
    pdf_workers: int = Field(
        2, ge=1, le=8, description="processes that make PDF, per server process; pages go before them"
    )
    idle_hours: int = Field(
        72, ge=1, le=336, description="signed out after so long unused; a tablet rests over a weekend"
    )
    longest_days: int = Field(30, ge=1, le=90, description="signed out after so long in any case")
    body_limit_mb: int = Field(2, ge=1, le=100, description="largest request outside uploads")
    upload_limit_mb: int = Field(25, ge=1, le=200, description="largest upload of one photograph or job file")
    log_format: str = Field("text", pattern="^(text|json)$")

    @field_validator("trusted_proxies", mode="before")
    @classmethod
    def _comma_between(cls, value: object) -> object:
        return (
            tuple(part.strip() for part in value.split(",") if part.strip())
            if isinstance(value, str)
            else value
        )

    @field_validator("trusted_proxies")
    @classmethod
    def _proxies_are_addresses(cls, value: tuple[str, ...]) -> tuple[str, ...]:
        for part in value:
            try:
                network = ipaddress.ip_network(part, strict=False)
            except ValueError:
                raise ValueError(f"expected addresses or networks of proxies, came {part!r}") from None
            if network.prefixlen == 0:
                raise ValueError(
                    f"{part} would believe anybody's claim of being somebody else; name the proxy"
                )
        return value

    @field_validator("seal_key")
    @classmethod
    def _key_of_a_seal(cls, value: str) -> str:
        if not value:
            return value
        try:
            Fernet(value)
        except ValueError:
            raise ValueError(
                "expected 32 bytes in URL-safe base64; `python -m server.people seal-key` makes one"
            ) from None
        return value

    @field_validator("public_url")
    @classmethod
    def _address_of_a_site(cls, value: str) -> str:
        if not value:
            return value
        parts = urlsplit(value)
        if (
            parts.scheme not in ("http", "https")
            or not parts.hostname
            or parts.path not in ("", "/")
            or parts.query
        ):
            raise ValueError(f"expected https://NAME without a path, came {value!r}")
        return f"{parts.scheme}://{parts.netloc}"

    @model_validator(mode="after")
    def _nothing_contradicts(self) -> Self:
        if self.public_url.startswith("http://") and not is_loopback(
            urlsplit(self.public_url).hostname or ""
        ):
            raise ValueError(
                f"STUDBAY_PUBLIC_URL={self.public_url}: passwords would cross the network in the clear, and tablets "
                "work without signal only over https; expected an https address"
            )
        if not is_loopback(self.host) and not self.public_url:
            raise ValueError(
                f"STUDBAY_HOST={self.host} can be reached by other machines: say how in STUDBAY_PUBLIC_URL=https://..."
            )
        if self.secure_cookies is not None and self.secure_cookies != self.public_url.startswith("https://"):
            raise ValueError(
                "STUDBAY_SECURE_COOKIES contradicts STUDBAY_PUBLIC_URL: cookies are secure exactly where the address is https"
            )
        if self.demo and not self.is_local:
            raise ValueError("STUDBAY_DEMO signs in without a password: it runs on the loopback address only")
        if self.workers > 1 and self.database.startswith("sqlite") and self.port == 0:
            raise ValueError("STUDBAY_PORT=0 picks a free port; several workers need the same one")
        return self

    @property
    def is_local(self) -> bool:
        """Whether only this machine can reach it."""
        return is_loopback(self.host) and (
            not self.public_url or is_loopback(urlsplit(self.public_url).hostname or "")
        )

    @property
    def secure(self) -> bool:
        """Whether browsers come over https: secure cookies, HSTS."""
        return self.public_url.startswith("https://")

    @property
    def database(self) -> str:
        """The database's URL."""
        return self.database_url or f"sqlite:///{self.data_dir / 'studbay.sqlite3'}"

    @cached_property
    def host_names(self) -> frozenset[str]:
        """What may stand in a request's Host header, without port: a foreign name that was pointed here is refused."""
        public = urlsplit(self.public_url).hostname
        return (
            frozenset((public,))
            if public and not self.is_local
            else frozenset((*_LOOPBACK_NAMES, public or "localhost"))
        )
