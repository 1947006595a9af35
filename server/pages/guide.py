"""The guided way for someone who wires their own house: who are you, then one step after the other, in plain words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel, ConfigDict

from server.pages.forms import Typed
from server.pages.opened import JobFacts, open_job
from server.pages.rendering import render
from server.people.current import Reader
from server.readiness.shopping import ShoppingList, shopping_list

__all__ = ["WHO_COOKIE", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)
WHO_COOKIE: Final = "who"
_YEAR_S: Final = 31_536_000
WHO: Final = (
    ("homeowner", "I am wiring my own house", "Plain words, one step after the other, and when to stop and call someone."),
    ("apprentice", "I am learning the trade", "The trade's words, with the reasons and how to measure."),
    ("trade", "I do this for a living", "Short, with the article."),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way: what to do, where, and how far it is. ``stop`` says when to call a licensed electrician."""

    title: str
    text: str
    link: str
    link_words: str
    state: str
    stop: str = ""


@dataclass(frozen=True, slots=True)
class GuidePage:
    """The way through a job."""

    job: JobFacts
    who: str
    choices: tuple[tuple[str, str, str], ...]
    steps: tuple[Step, ...]


@router.get("/guide", name="guide")
def guide(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """The way through a job, with how far each step is."""
    opened = open_job(request, person, job_id)
    base = f"/jobs/{job_id}"
    house, whole = opened.house, opened.judged.whole
    rooms = house.facts.rooms
    to_see = sum(opened.left(room.id).looks for room in rooms)
    on_circuit = sum(bool(house.cables_of_box.get(box.id)) for box in house.facts.boxes)
    boxes = len(house.facts.boxes)
    job = opened.job
    steps = (
        Step(
            "The permit", "Ask your building department for the permit, whether you may do the wiring of your own house yourself, and which "
            "edition of the code is in force. Most ask for a simple plan: the drawings here will do.",
            f"{base}/settings", "Enter edition and dates", "done" if job.permit_date else "to do",
            "Renting it out, a multi-family house, or a department that does not let owners do it: hire a licensed electrician.",
        ),
        Step(
            "What you leave to others", "The service conductors and the meter stay with the utility and a licensed electrician in nearly every "
            "place. A panel is live on its line side even with its main breaker off.", "/rules?stage=service", "Read about the service", "read",
            "Anything on the supply side of the main breaker; aluminum branch wiring; old wiring without a ground that you did not put in.",
        ),
        Step(
            "Plan each room", "Give each room its kind and size: boxes and devices are proposed that meet the code. Change what you want otherwise.",
            f"{base}/rooms/new", "Add a room", f"{len(rooms)} rooms" if rooms else "to do",
        ),
        Step(
            "Plan the circuits", "Draw each circuit by tapping its boxes in the order the cable visits them. Studbay says whether it can work and "
            "which wire goes where.", f"{base}/panels", "Circuits", f"{on_circuit} of {boxes} boxes on a cable" if boxes else "to do",
        ),
        Step("Buy", "The list is counted from your plan.", f"{base}/shopping", "Shopping list", "ready" if boxes else "after the plan"),
        Step(
            "Rough-in", "Set the boxes, bore the holes, pull the cable, fasten it, make up the grounds. Hang no devices and cover nothing.",
            f"{base}/walk", "Walk what you did", f"{to_see} to look at" if boxes else "later",
            "A breaker that trips again and again, a smell of heat, a shock however small: stop, switch off, call someone.",
        ),
        Step(
            "Mend what does not pass", "Each correction says what is wrong, by how much, and the cheapest cure.", f"{base}/readiness", "What holds it open",
            f"{whole.corrections} corrections" if whole.corrections else "none" if boxes else "later",
        ),
        Step(
            "Call for the inspection", "When every room is ready, call. Be there, leave everything open, and have the packet at hand.",
            f"{base}/packet", "Print the packet", job.inspection_date.isoformat() if job.inspection_date else "no date yet",
        ),
        Step(
            "Cover", "Only after the inspector has approved in writing. Enter what was written, and sign the cover.", f"{base}/work#visits",
            "Enter the visit", "after approval",
        ),
        Step(
            "Finish and final", "Devices, plates, luminaires; label the panel; test every GFCI and AFCI. Then change the job's stage to final and "
            "walk it again.", f"{base}/settings", "Change the stage", "done" if job.stage == "final" else "later",
        ),
    )  # fmt: skip
    who = request.cookies.get(WHO_COOKIE, "")
    page = GuidePage(job, who if who in {value for value, _, _ in WHO} else "", WHO, steps)
    return render(request, "guide/guide.html", page, job=opened.bar)


class Who(BaseModel):
    """Who somebody says to be."""

    model_config = ConfigDict(extra="forbid")

    who: str


@router.post("/guide", name="choose_who")
def choose(request: Request, job_id: str, person: Reader, form: Typed) -> RedirectResponse:
    """Keep the choice in the reader's own browser: it changes words, not rights."""
    read = form.read(Who)
    response = RedirectResponse(f"/jobs/{job_id}/guide", status_code=303)
    if read.model is not None and read.model.who in {value for value, _, _ in WHO}:
        response.set_cookie(
            WHO_COOKIE, read.model.who, max_age=_YEAR_S, path="/", httponly=True, samesite="lax"
        )
    return response


@dataclass(frozen=True, slots=True)
class ShoppingPage:
    """What to buy."""

    job: JobFacts
    list: ShoppingList


@router.get("/shopping", name="shopping")
def shopping(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """What to buy, counted from the facts."""
    opened = open_job(request, person, job_id)
    return render(
        request, "guide/shopping.html", ShoppingPage(opened.job, shopping_list(opened.house)), job=opened.bar
    )
