"""House rules of the templates: nothing inline, htmx's small dialect only, every page titled, no unescaped text."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2] / "templates"
TEMPLATES = sorted(ROOT.rglob("*.html"))
_DIALECT = {"hx-get", "hx-post", "hx-target", "hx-swap", "hx-trigger", "hx-include", "hx-vals", "hx-select", "hx-indicator",
            "hx-disable", "hx-push-url", "hx-swap-oob", "hx-sync", "hx-encoding"}  # fmt: skip
_FORBIDDEN = {
    "an inline style": r"<[^>]*\sstyle\s*=", "a style element": r"<style\b", "an inline script": r"<script(?![^>]*\ssrc=)",
    "an event attribute": r"<[^>{]*\son[a-z]+\s*=", "hx-on": r"hx-on\b", "hx-boost": r"hx-boost", "an inherited attribute": r"hx-[a-z-]+:inherited",
    "an evaluated value": r"hx-[a-z]+\s*=\s*[\"']\s*js:", "a trigger filter": r"hx-trigger\s*=\s*\"[^\"]*\[", "unescaped text": r"\|\s*safe\b",
    "autoescape off": r"autoescape\s+false", "another host": r"(?:src|href|action)\s*=\s*\"https?:", "javascript:": r"javascript:",
}  # fmt: skip
PAPER = ROOT / "report"
"""Paper is rendered to PDF, not sent to browsers; it may carry its own style sheet."""


def ids(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def without_remarks(path: Path) -> str:
    return re.sub(r"{#.*?#}", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)


@pytest.mark.parametrize("path", TEMPLATES, ids=ids)
@pytest.mark.parametrize("what", _FORBIDDEN)
def test_nothing_forbidden_stands_in_it(path: Path, what: str) -> None:
    if PAPER in path.parents and what in ("a style element", "another host"):
        return

    found = re.findall(_FORBIDDEN[what], without_remarks(path), flags=re.IGNORECASE)

    assert found == [], f"{what} in {ids(path)}"


@pytest.mark.parametrize("path", TEMPLATES, ids=ids)
def test_htmx_is_used_in_its_small_dialect(path: Path) -> None:
    used = set(re.findall(r"\b(hx-[a-z-]+)\s*=", without_remarks(path)))

    assert used <= _DIALECT


class _Elements(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


@pytest.mark.parametrize("path", TEMPLATES, ids=ids)
def test_what_asks_with_htmx_names_its_own_target_and_swap(path: Path) -> None:
    parser = _Elements()
    parser.feed(without_remarks(path))

    lazy = [
        (tag, attributes)
        for tag, attributes in parser.found
        if ({"hx-get", "hx-post"} & attributes.keys()) and not {"hx-target", "hx-swap"} <= attributes.keys()
    ]

    assert lazy == []


@pytest.mark.parametrize("path", TEMPLATES, ids=ids)
def test_a_form_that_htmx_sends_also_works_without(path: Path) -> None:
    parser = _Elements()
    parser.feed(without_remarks(path))

    stranded = [
        attributes
        for tag, attributes in parser.found
        if tag == "form" and "hx-post" in attributes and not attributes.get("action")
    ]

    assert stranded == []


@pytest.mark.parametrize(
    "path", [p for p in TEMPLATES if 'extends "base.html"' in p.read_text(encoding="utf-8")], ids=ids
)
def test_a_page_has_a_title(path: Path) -> None:
    assert re.search(r"{% block title %}.+{% endblock %}", path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("what", _FORBIDDEN)
def test_the_rules_can_fail(what: str) -> None:
    bad = {
        "an inline style": '<p style="x">', "a style element": "<style>", "an inline script": "<script>x</script>",
        "an event attribute": '<p onclick="x">', "hx-on": '<p hx-on:click="x">', "hx-boost": '<a hx-boost="true">',
        "an inherited attribute": '<p hx-target:inherited="x">', "an evaluated value": '<p hx-vals="js:{}">',
        "a trigger filter": '<p hx-trigger="click[x]">', "unescaped text": "{{ x|safe }}", "autoescape off": "{% autoescape false %}",
        "another host": '<img src="https://x">', "javascript:": '<a href="javascript:x">',
    }  # fmt: skip

    assert re.search(_FORBIDDEN[what], bad[what], flags=re.IGNORECASE)
