"""``POST /api/sheets/overcurrent``: the device, the receptacles and the conductor of one circuit, without a job."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from server.api.sheets.base import ExactNumber, StrictModel, sheet
from server.api.sheets.conductor_fields import ConductorFields
from server.api.sheets.electrical_numbers import Amperes, SomeAmperes, VoltAmperes, Volts
from server.editions import Edition
from server.reckon.figures import written
from server.reckon.overcurrent import ProtectedCircuit, reckon_overcurrent
from server.reckon.overcurrent_ratings import Exemption, most_cord_load_a
from server.reckon.work import Work

__all__ = ["OvercurrentRequest", "OvercurrentResult"]

_USUAL_VOLTS = 120


class OvercurrentRequest(ConductorFields):
    """A conductor, what it supplies and what protects it. The continuous part is a part of the load."""

    load_a: Amperes | None = None
    load_va: VoltAmperes | None = None
    volts: Volts | None = Field(default=None, description="For loads in volt-amperes; 120 where not given.")
    continuous_va: VoltAmperes | None = Field(
        default=None, description="The part of the load that runs three hours or more."
    )
    continuous_a: Amperes | None = Field(default=None, description="The same in amperes.")
    outlets: list[Annotated[int, Field(ge=1, le=1000)]] = Field(
        default=[], max_length=200, description="Rating of each receptacle; a duplex is two."
    )
    device_a: SomeAmperes | None = Field(default=None, description="The breaker or fuse as it is.")
    small_conductor_exempt: Exemption | None = None
    nameplate_max_a: SomeAmperes | None = Field(
        default=None, description="Largest device marked on the exempt equipment."
    )
    whole_dwelling: bool = Field(
        default=False, description="A service or feeder that carries a dwelling's whole load (310.12)."
    )

    @field_validator("load_va")
    @classmethod
    def one_load(cls, load_va: Fraction | None, info: ValidationInfo) -> Fraction | None:
        if load_va is not None and info.data.get("load_a") is not None:
            raise ValueError("expected load_a or load_va, came both")
        return load_va

    @field_validator("continuous_va", "continuous_a")
    @classmethod
    def within_the_load(cls, continuous: Fraction | None, info: ValidationInfo) -> Fraction | None:
        if continuous is None:
            return None
        if info.field_name == "continuous_a" and info.data.get("continuous_va") is not None:
            raise ValueError("expected continuous_va or continuous_a, came both")
        volts = _volts(info.data.get("volts"))
        load_a, load_va = info.data.get("load_a"), info.data.get("load_va")
        total = load_va / volts if load_va is not None else load_a
        steady = continuous if info.field_name == "continuous_a" else continuous / volts
        if total is not None and steady > total:
            raise ValueError(
                f"expected a part of the load ({written(total)} A), came {written(steady)} A: the load is the "
                "whole, its continuous part among it"
            )
        return continuous

    @property
    def circuit(self) -> ProtectedCircuit:
        """The circuit as the reckoning takes it."""
        volts = _volts(self.volts)
        load = self.load_a if self.load_va is None else self.load_va / volts
        steady = self.continuous_a if self.continuous_va is None else self.continuous_va / volts
        return ProtectedCircuit(
            run=self.run,
            load_a=load,
            continuous_a=steady or Fraction(0),
            outlets=tuple(Fraction(rating) for rating in self.outlets),
            device_a=self.device_a,
            exempt=self.small_conductor_exempt,
            nameplate_most_a=self.nameplate_max_a,
            whole_dwelling=self.whole_dwelling,
        )


def _volts(given: Fraction | None) -> Fraction:
    return Fraction(_USUAL_VOLTS) if given is None else given


class OvercurrentResult(StrictModel):
    """The largest device for the conductor, the smallest conductor for device and load, and whether the
    circuit is allowed. ``device_a`` is the device that was judged."""

    max_device_a: ExactNumber | None
    min_conductor_awg: str | None
    allowed: bool
    why: str
    device_a: ExactNumber | None
    design_a: ExactNumber | None = Field(description="The load with its continuous part at 125 percent.")
    ampacity_a: ExactNumber
    most_cord_load_a: ExactNumber | None = Field(
        description="Most that may be plugged into one of two or more receptacles."
    )


@sheet("overcurrent", title="Overcurrent protection", asks=OvercurrentRequest, gives=OvercurrentResult)
def overcurrent(request: OvercurrentRequest, code: Edition, work: Work) -> OvercurrentResult:
    """Reckon what may protect a conductor, and whether device, receptacles and load go with it."""
    if request.volts is None and (request.load_va or request.continuous_va):
        work.skip(f"Volts not given: {_USUAL_VOLTS} V taken")
    found = reckon_overcurrent(request.circuit, code, work)
    cord = None
    if len(request.outlets) > 1:
        cord = most_cord_load_a(Fraction(min(request.outlets)), code)
    return OvercurrentResult(
        max_device_a=found.max_device_a,
        min_conductor_awg=found.min_conductor_awg,
        allowed=found.allowed,
        why=found.why,
        device_a=found.device_a,
        design_a=found.design_a,
        ampacity_a=found.ampacity.allowed_a,
        most_cord_load_a=cord,
    )
