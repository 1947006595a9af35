"""``POST /api/sheets/service-sizing``: rating, conductors, grounding and bonding for a load in amperes or for the
loads of a dwelling; or grounding and bonding for conductors that are there."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import BeforeValidator, Field, model_validator

from server.api.sheets.base import Awg, ExactNumber, StrictModel, sheet
from server.api.sheets.load_facts import LoadsIn, loads_of
from server.api.sheets.rated_loads import Amperes
from server.dwelling.supply import ConductorMaterial
from server.editions import Edition, default_year, load_edition
from server.reckon.conductor_sets import ConductorSet, conductor_set
from server.reckon.dwelling_load import reckon_dwelling_load
from server.reckon.dwelling_loads import System
from server.reckon.service_sizing import ServiceSize, size_grounding, size_service
from server.reckon.work import Work, round_half_up

__all__ = ["ServiceSizingRequest", "ServiceSizingResult"]

_MOST_A: Final = 6000
_ABOUT_THE_SUPPLY: Final = frozenset(
    {
        "edition",
        "amperes",
        "neutral_a",
        "material",
        "conductor",
        "sets",
        "method",
        "units",
        "supply",
        "system",
        "phases",
        "volts",
    }
)
"""Fields that are no loads: they may stand beside ``amperes``."""
_SAID: Final = {"cu": "copper", "al": "aluminum", "aluminium": "aluminum"}


def _material(came: object) -> object:
    return _SAID.get(came.strip().lower(), came) if isinstance(came, str) else came


class ServiceSizingRequest(LoadsIn):
    """A load in amperes, or the fields of dwelling-load; or conductors alone."""

    amperes: Annotated[Amperes, Field(le=_MOST_A)] | None = None
    neutral_a: Annotated[Amperes, Field(le=_MOST_A)] | None = None
    material: Annotated[ConductorMaterial, BeforeValidator(_material)] = ConductorMaterial.COPPER
    conductor: Awg | None = Field(
        default=None, description="Conductors that are there or chosen: they are judged."
    )
    sets: Annotated[int, Field(ge=1, le=12)] = Field(default=1, description="Parallel sets of them.")

    @model_validator(mode="after")
    def something_to_size(self) -> ServiceSizingRequest:
        loads = sorted(self.model_fields_set - _ABOUT_THE_SUPPLY)
        if self.amperes is not None and loads:
            raise ValueError(f"expected amperes or loads, not both; came {', '.join(['amperes', *loads])}")
        if self.amperes is None and not loads and self.conductor is None:
            raise ValueError("expected amperes, the loads of a dwelling, or a conductor; came none")
        if self.conductor is not None:
            _installed(self, load_edition(int(self.edition) if self.edition else default_year()))
        return self

    @property
    def gives_loads(self) -> bool:
        """Whether the load is still to be reckoned."""
        return bool(self.model_fields_set - _ABOUT_THE_SUPPLY)


class ServiceSizingResult(StrictModel):
    """Sizes of grounding and bonding are copper unless the name says otherwise."""

    rating_a: int | None
    conductor: str
    gec: str
    bonding_jumper: str
    amperes: int | None
    least_ampacity_a: ExactNumber | None
    ampacity_a: ExactNumber
    adequate: bool | None
    gec_aluminum: str
    gec_to_rod: str
    gec_to_concrete: str
    bonding_jumper_aluminum: str
    egc: str | None
    egc_aluminum: str | None
    neutral: str | None


def _installed(request: ServiceSizingRequest, code: Edition, work: Work | None = None) -> ConductorSet | None:
    if request.conductor is None:
        return None
    recorder = work or Work(silent=True)
    return conductor_set(request.conductor, request.sets, request.material, code, recorder)


def _sized(
    request: ServiceSizingRequest, installed: ConductorSet | None, code: Edition, work: Work
) -> ServiceSize:
    loads = loads_of(request, code, work)
    amperes, neutral = request.amperes, request.neutral_a
    if amperes is None:
        found = reckon_dwelling_load(loads, code, work)
        amperes, neutral = found.amperes_exact, found.neutral.a if neutral is None else neutral
    return size_service(
        amperes,
        request.material,
        code,
        work,
        one_family=loads.units == 1,
        whole_dwelling=loads.units == 1 and loads.system is not System.WYE_FOUR_WIRE,
        supply=loads.supply,
        system=loads.system,
        neutral_a=neutral,
        installed=installed,
    )


@sheet("service-sizing", title="Service sizing", asks=ServiceSizingRequest, gives=ServiceSizingResult)
def service_sizing(request: ServiceSizingRequest, code: Edition, work: Work) -> ServiceSizingResult:
    """The rating of a service or feeder, its conductors, grounding electrode conductor and bonding jumpers."""
    installed = _installed(request, code, work)
    if installed is not None and request.amperes is None and not request.gives_loads:
        ground = size_grounding(installed, request.material, code, work)
        return ServiceSizingResult(
            rating_a=None,
            conductor=str(installed),
            gec=ground.gec_copper,
            bonding_jumper=ground.bonding_jumper_copper,
            amperes=None,
            least_ampacity_a=None,
            ampacity_a=installed.ampacity_a,
            adequate=None,
            gec_aluminum=ground.gec_aluminum,
            gec_to_rod=ground.gec_to_rod,
            gec_to_concrete=ground.gec_to_concrete,
            bonding_jumper_aluminum=ground.bonding_jumper_aluminum,
            egc=None,
            egc_aluminum=None,
            neutral=None,
        )
    size = _sized(request, installed, code, work)
    return ServiceSizingResult(
        rating_a=size.rating_a,
        conductor=str(size.conductor),
        gec=size.grounding.gec_copper,
        bonding_jumper=size.grounding.bonding_jumper_copper,
        amperes=round_half_up(request.amperes) if request.amperes is not None else None,
        least_ampacity_a=size.least_ampacity_a,
        ampacity_a=size.conductor.ampacity_a,
        adequate=size.adequate,
        gec_aluminum=size.grounding.gec_aluminum,
        gec_to_rod=size.grounding.gec_to_rod,
        gec_to_concrete=size.grounding.gec_to_concrete,
        bonding_jumper_aluminum=size.grounding.bonding_jumper_aluminum,
        egc=size.egc_copper,
        egc_aluminum=size.egc_aluminum,
        neutral=str(size.neutral) if size.neutral else None,
    )
