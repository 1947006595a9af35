"""A job's load and the service that it needs, from the job's own facts, by both methods."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from server.dwelling import ConductorMaterial
from server.editions import Absent
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.current import Reader
from server.reckon.conductor_sizes import ConductorError
from server.reckon.dwelling_load import reckon_dwelling_load
from server.reckon.dwelling_loads import LoadError, Method
from server.reckon.load_result import LoadPart
from server.reckon.service_sizing import ServiceSize, size_service
from server.reckon.work import Step, Work
from server.rules.house_load import loads_of
from server.rules.outcome import Missing

__all__ = ["LoadByMethod", "loads_by_method", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class LoadByMethod:
    """The load by one method, with its steps; ``problem`` where it could not be reckoned."""

    method: str
    parts: tuple[LoadPart, ...]
    total_va: str
    amperes: int
    neutral_a: int
    steps: tuple[Step, ...]
    cites: tuple[str, ...]
    confidence: str
    copper: ServiceSize | None
    aluminum: ServiceSize | None
    notes: tuple[str, ...]
    problem: str = ""


@dataclass(frozen=True, slots=True)
class LoadPage:
    """The load of a house by both methods; ``missing`` names the fact that keeps it from being reckoned."""

    job: JobFacts
    missing: str
    methods: tuple[LoadByMethod, ...]
    main_a: int | None


def loads_by_method(opened: OpenJob) -> tuple[str, tuple[LoadByMethod, ...]]:
    """What is missing (empty: nothing), and the load by each method."""
    found = []
    for method in (Method.STANDARD, Method.OPTIONAL):
        loads = loads_of(opened.house, method)
        if isinstance(loads, Missing):
            return loads.words, ()
        work = Work()
        try:
            result = reckon_dwelling_load(loads, opened.code, work)
            sizes = [
                size_service(result.amperes_exact, material, opened.code, neutral_a=result.neutral_a)
                for material in (ConductorMaterial.COPPER, ConductorMaterial.ALUMINUM)
            ]
        except (Absent, LoadError, ConductorError) as error:
            found.append(
                LoadByMethod(method.value, (), "", 0, 0, (), (), "memory", None, None, (), str(error))
            )
            continue
        found.append(
            LoadByMethod(
                method.value, result.parts, f"{float(result.total_va):,.0f}", result.amperes, result.neutral_a, tuple(work.steps),
                work.cites, work.confidence, sizes[0], sizes[1], (*result.unmet, *result.notes),
            )
        )  # fmt: skip
    return "", tuple(found)


@router.get("/load", name="load")
def load(request: Request, job_id: str, person: Reader) -> HTMLResponse:
    """The load by both methods, and the service for it."""
    opened = open_job(request, person, job_id)
    missing, methods = loads_by_method(opened)
    main_a = next((panel.main_a for panel in opened.house.facts.panels if panel.is_service), None)
    return render(request, "load/load.html", LoadPage(opened.job, missing, methods, main_a), job=opened.bar)
