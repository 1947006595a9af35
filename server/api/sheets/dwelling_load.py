"""``POST /api/sheets/dwelling-load``: the load of a dwelling, of two or of many, with service and conductors."""

from __future__ import annotations

from server.api.sheets.base import ExactNumber, StrictModel, sheet
from server.api.sheets.load_facts import LoadsIn, loads_of, unmatched_names
from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.conductor_sets import SIZE_UNIT
from server.reckon.cooking_demand import cooking_circuits
from server.reckon.dwelling_load import reckon_dwelling_load
from server.reckon.dwelling_loads import DwellingLoads, LoadError, Method
from server.reckon.load_result import LoadResult
from server.reckon.service_sizing import ServiceSize, size_service
from server.reckon.work import SILENT, Work

__all__ = ["DwellingLoadRequest", "DwellingLoadResult", "service_for"]


class DwellingLoadRequest(LoadsIn):
    """What a worked example of a dwelling's load states."""


class PartOut(StrictModel):
    name: str
    connected_va: ExactNumber
    demand_va: ExactNumber


class LinesOut(StrictModel):
    """Amperes line by line, where loads name a leg."""

    a: ExactNumber
    b: ExactNumber
    neutral: ExactNumber


class CookingCircuitOut(StrictModel):
    """A branch circuit of cooking appliances (note 4 of the range table)."""

    circuit: str
    kinds: list[str]
    va: ExactNumber
    amperes: ExactNumber
    least_rating_a: int | None


class DwellingLoadResult(StrictModel):
    """The calculated load and what it asks of the service. Sizes of several conductors read ``2 x 4/0``."""

    total_va: ExactNumber
    amperes: int
    neutral_va: ExactNumber
    neutral_a: int
    service_rating_a: int | None
    conductor_copper: str | None
    conductor_aluminum: str | None
    gec_copper: str | None
    amperes_exact: ExactNumber
    connected_va: ExactNumber
    neutral_exact_a: ExactNumber
    neutral_before_reduction_a: ExactNumber
    neutral_copper: str | None
    neutral_aluminum: str | None
    gec_for_aluminum_conductors: str | None
    bonding_jumper_copper: str | None
    egc_copper: str | None
    lighting_circuits_15a: int
    lighting_circuits_20a: int
    cooking_circuits: list[CookingCircuitOut]
    parts: list[PartOut]
    lines: LinesOut | None
    section: str
    permitted: bool
    unmet: list[str]
    notes: list[str]


def service_for(
    loads: DwellingLoads, found: LoadResult, material: ConductorMaterial, code: Edition, work: Work
) -> ServiceSize | None:
    """The service or feeder for a reckoned load; None beyond the largest standard rating."""
    try:
        return size_service(
            found.amperes,
            material,
            code,
            work,
            one_family=loads.units == 1,
            whole_dwelling=loads.units == 1,
            supply=loads.supply,
            system=loads.system,
            neutral_a=found.neutral_a,
        )
    except LoadError:
        work.skip(
            f"No standard rating reaches {found.amperes} A", code.cites("overcurrent.standard_ratings_a")
        )
        return None


@sheet("dwelling-load", title="Dwelling load", asks=DwellingLoadRequest, gives=DwellingLoadResult)
def dwelling_load(request: DwellingLoadRequest, code: Edition, work: Work) -> DwellingLoadResult:
    """The load of a dwelling by the standard or optional method, or of an existing one."""
    loads = loads_of(request, code, work)
    found = reckon_dwelling_load(loads, code, work)
    copper = service_for(loads, found, ConductorMaterial.COPPER, code, work)
    aluminum = service_for(loads, found, ConductorMaterial.ALUMINUM, code, SILENT)
    if work and aluminum is not None:
        work.step(
            f"The same in aluminum, for {aluminum.rating_a} A",
            str(aluminum.conductor),
            SIZE_UNIT,
            code.cites("conductor.ampacity_aluminum"),
        )
    shown = (
        work
        if request.method is Method.STANDARD or any(item.circuit is not None for item in request.cooking)
        else SILENT
    )
    circuits = cooking_circuits(loads.cooking, loads.volts, code, shown)
    notes = [
        *found.notes,
        *(f"neutral.only_240: no load is named {name!r}." for name in unmatched_names(request)),
    ]
    return DwellingLoadResult(
        total_va=found.total_va,
        amperes=found.amperes,
        neutral_va=found.neutral.va,
        neutral_a=found.neutral_a,
        service_rating_a=copper.rating_a if copper else None,
        conductor_copper=str(copper.conductor) if copper else None,
        conductor_aluminum=str(aluminum.conductor) if aluminum else None,
        gec_copper=copper.grounding.gec_copper if copper else None,
        amperes_exact=found.amperes_exact,
        connected_va=found.connected_va,
        neutral_exact_a=found.lines.neutral if found.lines else found.neutral.a,
        neutral_before_reduction_a=found.neutral.full_a,
        neutral_copper=str(copper.neutral) if copper else None,
        neutral_aluminum=str(aluminum.neutral) if aluminum else None,
        gec_for_aluminum_conductors=aluminum.grounding.gec_copper if aluminum else None,
        bonding_jumper_copper=copper.grounding.bonding_jumper_copper if copper else None,
        egc_copper=copper.egc_copper if copper else None,
        lighting_circuits_15a=found.lighting_circuits_15a,
        lighting_circuits_20a=found.lighting_circuits_20a,
        cooking_circuits=[
            CookingCircuitOut(
                circuit=item.name,
                kinds=[unit.kind.value for unit in item.members],
                va=item.va,
                amperes=item.amperes,
                least_rating_a=item.least_rating_a,
            )
            for item in circuits
        ],
        parts=[
            PartOut(name=part.name, connected_va=part.connected_va, demand_va=part.demand_va)
            for part in found.parts
        ],
        lines=LinesOut(a=found.lines.a, b=found.lines.b, neutral=found.lines.neutral)
        if found.lines
        else None,
        section=found.section,
        permitted=found.permitted,
        unmet=list(found.unmet),
        notes=notes,
    )
