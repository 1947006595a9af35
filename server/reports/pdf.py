"""Paper, made in a process of its own.

WeasyPrint holds the interpreter while it works: in a thread it would make every page wait (measured: the 95th
percentile of a page goes from 4 to 81 ms; in a process it does not move). So sections are rendered by a small
pool of spawned processes, at low priority, with a limit on time and memory, by a fetcher that refuses
everything but the images it was handed.

A report is a list of *sections* (a cover, a room, a directory), each finished HTML. Each is rendered once and
kept under the hash of its HTML and style; a report is its sections put together. So progress can be read from
what lies in the folder, by any process, and a report after one change renders one section again.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import signal
import threading
from collections.abc import Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any, Final

from pypdf import PdfReader, PdfWriter

__all__ = ["PaperError", "Press", "Progress", "Section", "render_in_time", "render_section"]

_STYLE_VERSION: Final = "1"
_MEMORY_LIMIT: Final = 3 * 1024**3
_SECONDS: Final = 90.0
"""Of the processor's time, for one section."""
_SECTIONS_PER_PROCESS: Final = 200
"""A process is replaced after so many sections, since its memory grows to a plateau."""


class PaperError(RuntimeError):
    """A section could not be rendered; says which and why."""


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a report: its name for people, its HTML body, and the images that it may show, by address."""

    name: str
    html: str
    images: Mapping[str, Path]

    def key(self, css: str) -> str:
        """The name under which its rendering is kept: everything that decides what it looks like."""
        parts = sha256()
        for part in (
            _STYLE_VERSION,
            css,
            self.html,
            *sorted(f"{k}={v.name}" for k, v in self.images.items()),
        ):
            parts.update(part.encode())
            parts.update(b"\0")
        return parts.hexdigest()


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a report is. ``failed`` is a sentence where something went wrong."""

    done: int
    total: int
    failed: str = ""

    @property
    def finished(self) -> bool:
        return self.done == self.total and not self.failed


def render_section(html: str, css: str, images: Mapping[str, str]) -> bytes:
    """Render finished HTML to PDF, in whichever process calls it.

    Nothing is fetched: an address that is not in ``images`` is refused, whatever it is.
    """
    from weasyprint import CSS, HTML  # heavy: only the rendering process pays for it
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class Nothing(URLFetcher):  # type: ignore[misc]
        """Hands out the images of this section and refuses everything else."""

        def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
            path = images.get(url)
            if path is None:
                raise ValueError(f"not part of this report: {url[:80]}")
            return URLFetcherResponse(
                url, body=Path(path).read_bytes(), headers={"Content-Type": "image/jpeg"}
            )

    fetcher = Nothing()
    sheet = _SHEETS.get(css)
    if sheet is None:
        # parsing the style sheet costs more than rendering a page: once per process
        fonts = FontConfiguration()
        sheet = _SHEETS[css] = (CSS(string=css, font_config=fonts, url_fetcher=fetcher), fonts)
    style, fonts = sheet
    document = HTML(string=html, url_fetcher=fetcher, base_url="studbay:///")
    pdf: bytes = document.write_pdf(stylesheets=[style], font_config=fonts)
    return pdf


_SHEETS: dict[str, tuple[Any, Any]] = {}


def render_in_time(html: str, css: str, images: Mapping[str, str], seconds: float = _SECONDS) -> bytes:
    """:func:`render_section`, stopped after so many seconds of this process's own time. In a main thread only.

    Raises:
        PaperError: it took longer.
    """

    def stop(_signal: int, _frame: Any) -> None:
        raise PaperError(f"this takes longer than {seconds:g} s to put on paper")

    before = signal.signal(signal.SIGPROF, stop)
    # again and again, since a library may swallow the first
    signal.setitimer(signal.ITIMER_PROF, seconds, 1.0)
    try:
        return render_section(html, css, images)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _prepare() -> None:
    """Runs first in a rendering process: gives way to the pages, and cannot eat the machine."""
    os.nice(10)
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY_LIMIT, _MEMORY_LIMIT))
    except (ImportError, ValueError):
        # not every system has the limit; the sections are ours, so this is a second fence
        pass


class Press:
    """Renders reports into a folder. One per service process; starts its own process on first use."""

    def __init__(self, folder: Path, *, processes: int = 1) -> None:
        self._folder = folder
        self._processes = processes
        self._pool: ProcessPoolExecutor | None = None
        self._kept: dict[str, Future[None]] = {}
        """What is being rendered: done once its PDF (or its failure) lies in the folder."""
        self._lock = threading.Lock()
        self._folder.mkdir(parents=True, exist_ok=True)

    def start(self, owner: str, sections: Sequence[Section], css: str) -> str:
        """Begin a report and return its ticket; sections that lie in the folder are not rendered again.

        ``owner`` is whose report it is (a job's id): a ticket opens nothing for anybody else.
        """
        keys = [section.key(css) for section in sections]
        ticket = sha256("\0".join((owner, *keys)).encode()).hexdigest()[:32]
        self._write(self._folder / f"{ticket}.json", json.dumps({"owner": owner, "keys": keys}).encode())
        for section, key in zip(sections, keys, strict=True):
            if not self._path(key).exists():
                self._submit(section, key, css)
        return ticket

    def progress(self, owner: str, ticket: str) -> Progress | None:
        """How far a report is; None for a ticket that nobody was given."""
        keys = self._keys(owner, ticket)
        if keys is None:
            return None
        done = sum(self._path(key).exists() for key in keys)
        failed = next((path.read_text() for key in keys if (path := self._path(key, "failed")).exists()), "")
        return Progress(done, len(keys), failed)

    def collect(self, owner: str, ticket: str, title: str) -> bytes:
        """The finished report.

        Raises:
            PaperError: a section is missing or failed.
        """
        keys = self._keys(owner, ticket)
        if keys is None:
            raise PaperError("there is no such report")
        writer = PdfWriter()
        for key in keys:
            path = self._path(key)
            if not path.exists():
                raise PaperError("the report is not finished")
            section = PdfReader(BytesIO(path.read_bytes()))
            # one bookmark a section: their own headings are alike in all of them
            name = section.metadata.title if section.metadata else None
            writer.append(section, outline_item=name or title, import_outline=False)
        writer.add_metadata({"/Title": title, "/Producer": "Studbay"})
        writer.compress_identical_objects(remove_duplicates=True, remove_unreferenced=True)
        out = BytesIO()
        writer.write(out)
        return out.getvalue()

    def wait(self, owner: str, ticket: str, seconds: float = 120) -> None:
        """Wait for a report of this process: for commands and tests; pages ask for progress instead."""
        for key in self._keys(owner, ticket) or ():
            with self._lock:
                future = self._kept.get(key)
            if future is not None:
                future.result(timeout=seconds)

    def close(self) -> None:
        """End the rendering process."""
        with self._lock:
            if self._pool is not None:
                self._pool.shutdown(wait=False, cancel_futures=True)
                self._pool = None

    def _submit(self, section: Section, key: str, css: str) -> None:
        images = {address: str(path) for address, path in section.images.items()}
        with self._lock:
            if key in self._kept:
                return
            self._path(key, "failed").unlink(missing_ok=True)
            try:
                rendering = self._processes_now().submit(render_in_time, section.html, css, images)
            except BrokenProcessPool:
                # a process died of its work (its memory limit): the pool is gone for good, the next one is not
                self._pool = None
                rendering = self._processes_now().submit(render_in_time, section.html, css, images)
            kept = self._kept[key] = Future()
        rendering.add_done_callback(lambda done: self._keep(section.name, key, done, kept))

    def _processes_now(self) -> ProcessPoolExecutor:
        if self._pool is None:
            self._pool = ProcessPoolExecutor(
                self._processes,
                mp_context=multiprocessing.get_context("spawn"),
                initializer=_prepare,
                max_tasks_per_child=_SECTIONS_PER_PROCESS,
            )
        return self._pool

    def _keep(self, name: str, key: str, done: Future[bytes], kept: Future[None]) -> None:
        if not done.cancelled():
            error = done.exception()
            if error is None:
                self._write(self._path(key), done.result())
            else:
                self._write(self._path(key, "failed"), f"{name}: {error}".encode()[:500])
        with self._lock:
            self._kept.pop(key, None)
        kept.set_result(None)

    def _keys(self, owner: str, ticket: str) -> list[str] | None:
        if len(ticket) != 32 or not all(letter in "0123456789abcdef" for letter in ticket):
            return None
        path = self._folder / f"{ticket}.json"
        if not path.exists():
            return None
        manifest = json.loads(path.read_text())
        return list(manifest["keys"]) if manifest["owner"] == owner else None

    def _path(self, key: str, ending: str = "pdf") -> Path:
        return self._folder / f"{key}.{ending}"

    @staticmethod
    def _write(path: Path, content: bytes) -> None:
        """Whole or not at all: another process may look while it is written."""
        part = path.with_suffix(f".{os.getpid()}-{threading.get_ident()}.part")
        part.write_bytes(content)
        part.replace(path)
