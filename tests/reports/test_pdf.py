"""Paper: rendered apart, section by section, and nothing is fetched."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from server.reports.pdf import PaperError, Press, Section, render_in_time, render_section

CSS = "@page { size: Letter } h1 { font: 20pt 'DejaVu Sans' }"


@pytest.fixture
def press(tmp_path: Path) -> Iterator[Press]:
    made = Press(tmp_path / "paper")
    yield made
    made.close()


def section(words: str, **images: Path) -> Section:
    return Section(words, f"<html lang=en><title>{words}</title><h1>{words}</h1></html>", images)


def words_of(pdf: bytes) -> list[str]:
    return [page.extract_text().strip() for page in PdfReader(BytesIO(pdf)).pages]


def test_sections_come_out_as_one_document_in_their_order(press: Press) -> None:
    ticket = press.start("job", [section("Kitchen"), section("Bath")], CSS)
    press.wait("job", ticket)

    progress = press.progress("job", ticket)
    assert progress is not None
    assert (progress.done, progress.total, progress.finished) == (2, 2, True)
    assert words_of(press.collect("job", ticket, "Packet")) == ["Kitchen", "Bath"]


def test_a_section_that_did_not_change_is_not_rendered_again(press: Press, tmp_path: Path) -> None:
    first = press.start("job", [section("Kitchen"), section("Bath")], CSS)
    press.wait("job", first)
    kept = {path.name: path.stat().st_mtime_ns for path in (tmp_path / "paper").glob("*.pdf")}

    second = press.start("job", [section("Kitchen"), section("Bath, changed")], CSS)
    press.wait("job", second)

    after = {path.name: path.stat().st_mtime_ns for path in (tmp_path / "paper").glob("*.pdf")}
    assert second != first
    assert len(after) == 3
    assert all(after[name] == when for name, when in kept.items())


def test_progress_can_be_read_by_another_process(press: Press, tmp_path: Path) -> None:
    ticket = press.start("job", [section("Kitchen")], CSS)
    press.wait("job", ticket)

    other = Press(tmp_path / "paper")

    assert other.progress("job", ticket) == press.progress("job", ticket)


def test_a_ticket_opens_nothing_for_another_job(press: Press) -> None:
    ticket = press.start("job", [section("Kitchen")], CSS)
    press.wait("job", ticket)

    assert press.progress("another job", ticket) is None
    with pytest.raises(PaperError, match="no such report"):
        press.collect("another job", ticket, "Packet")
    assert press.start("another job", [section("Kitchen")], CSS) != ticket


def test_a_report_that_is_not_finished_is_not_handed_out(press: Press) -> None:
    with pytest.raises(PaperError, match="no such report"):
        press.collect("job", "0" * 32, "Packet")
    assert press.progress("job", "../../etc/passwd") is None
    assert press.progress("job", "0" * 32) is None


@pytest.mark.parametrize(
    "address", ["FILE", "PICTURE", "http://127.0.0.1:9/x.png", "data.png", "studbay:///other.jpg"]
)
def test_nothing_is_fetched_that_was_not_handed_over(address: str, tmp_path: Path) -> None:
    secret, picture = tmp_path / "secret.txt", tmp_path / "secret.png"
    secret.write_text("secret words")
    Image.new("RGB", (60, 40), "white").save(picture)
    address = {"FILE": secret.as_uri(), "PICTURE": picture.as_uri()}.get(address, address)
    html = (
        f"<html><head><link rel=attachment href='{address}'><link rel=stylesheet href='{address}'></head><body>"
        f"<img src='{address}' alt='picture'><a rel=attachment href='{address}'>x</a>"
        f"<p style='background: url({address})'>text</p></body></html>"
    )

    pdf = render_section(html, CSS, {})

    reader = PdfReader(BytesIO(pdf))
    assert not reader.attachments
    assert not [image for page in reader.pages for image in page.images]
    assert b"EmbeddedFile" not in pdf


def test_a_section_that_takes_too_long_is_stopped_and_the_next_is_made() -> None:
    endless = "<p>" + "many words " * 200_000 + "</p>"

    with pytest.raises(PaperError, match="takes longer than 1 s"):
        render_in_time(endless, CSS, {}, seconds=1)

    assert words_of(render_in_time("<h1>Kitchen</h1>", CSS, {})) == ["Kitchen"]


def test_an_image_that_was_handed_over_is_shown(tmp_path: Path) -> None:
    picture = tmp_path / "a.jpg"
    Image.new("RGB", (60, 40), "white").save(picture)

    pdf = render_section("<img src='studbay:///photo/a' alt=''>", CSS, {"studbay:///photo/a": str(picture)})

    assert len(PdfReader(BytesIO(pdf)).pages[0].images) == 1


def test_a_press_whose_process_was_killed_prints_again(tmp_path: Path) -> None:
    press = Press(tmp_path)
    try:
        press.wait("job", press.start("job", [Section("Attic", "<h1>Attic</h1>", {})], CSS))
        for process in list(press._pool._processes.values()):  # type: ignore[union-attr]
            process.kill()
            process.join()
        kitchen = [Section("Kitchen", "<h1>Kitchen</h1>", {})]

        for _ in range(2):  # the first may still go to the dead process, and says so; asking again is enough
            ticket = press.start("job", kitchen, CSS)
            press.wait("job", ticket)

        assert words_of(press.collect("job", ticket, "x")) == ["Kitchen"]
    finally:
        press.close()
