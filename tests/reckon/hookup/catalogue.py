"""Reads the catalogue of circuits into requests of the hookup sheet."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

__all__ = ["CIRCUITS", "request_of"]

_FILE = Path(__file__).parents[2] / "data" / "hookup" / "circuits.toml"
_LISTS = ("controls", "protects", "colors")
_NUMBERS = ("leg", "second_leg", "ways")

CIRCUITS: list[dict[str, Any]] = tomllib.loads(_FILE.read_text(encoding="utf-8"))["circuit"]


def request_of(circuit: dict[str, Any]) -> dict[str, Any]:
    """The request that a circuit of the catalogue stands for."""
    request: dict[str, Any] = {
        "nodes": [_node(word) for word in circuit["nodes"].split()],
        "cables": [_cable(line.split()) for line in circuit["cables"]],
        "devices": [_device(line.split()) for line in circuit["devices"]],
    }
    if "neutral" in circuit:
        request["neutral_at_switch"] = circuit["neutral"]
    return request


def _node(word: str) -> dict[str, Any]:
    name = word.rstrip("*")
    stars = len(word) - len(name)
    return {"id": name, "kind": "source" if stars else "box"} | ({"legs": 2} if stars == 2 else {})


def _cable(words: list[str]) -> dict[str, Any]:
    name, a, b, insulated, *more = words
    return {"id": name, "a": a, "b": b, "insulated": int(insulated), "awg": "14", "kind": "nm-b"} | _extra(
        more
    )


def _device(words: list[str]) -> dict[str, Any]:
    name, node, kind, *more = words
    return {"id": name, "node": node, "kind": kind} | _extra(more)


def _extra(words: list[str]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for word in words:
        key, value = word.split("=")
        if key in _LISTS:
            found[key] = value.split(",")
        elif key in _NUMBERS:
            found[key] = int(value)
        elif key == "halves":
            found[key] = dict([value.split(":")])
        elif key == "needs_neutral":
            found[key] = value == "true"
        else:
            found[key] = value
    return found
