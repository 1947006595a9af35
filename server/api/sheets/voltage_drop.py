"""``POST /api/sheets/voltage-drop``: the drop of one run and the smallest size within the recommended limit."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field, ValidationInfo, field_validator

from server.api.sheets.base import Awg, ExactNumber, SheetRequest, StrictModel, sheet
from server.api.sheets.conductor_fields import edition_of
from server.api.sheets.electrical_numbers import Feet, KOfMetal, Percent, PowerFactor, SomeAmperes, Volts
from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.voltage_drop import Conduit, DropMethod, VoltageRun, ohms_per_kft, reckon_voltage_drop
from server.reckon.work import Work

__all__ = ["VoltageDropRequest", "VoltageDropResult"]

_CONDUITS = {
    None: Conduit.PVC,
    "pvc": Conduit.PVC,
    "none": Conduit.PVC,
    "cable": Conduit.PVC,
    "aluminum": Conduit.ALUMINUM,
    "steel": Conduit.STEEL,
    "emt": Conduit.STEEL,
    "imc": Conduit.STEEL,
    "rmc": Conduit.STEEL,
}


class VoltageDropRequest(SheetRequest):
    """A load at the end of a run. Without a size, only the smallest size is looked for."""

    volts: Volts
    phases: Literal[1, 3] = 1
    load_a: SomeAmperes
    one_way_ft: Feet
    material: ConductorMaterial = ConductorMaterial.COPPER
    method: DropMethod = DropMethod.K
    conduit: Literal["pvc", "none", "cable", "aluminum", "steel", "emt", "imc", "rmc"] | None = Field(
        default=None,
        description="Column of Table 9; cable without metal stands with PVC (as where not given), EMT with steel.",
    )
    power_factor: PowerFactor | None = Field(
        default=None, description="For Table 9; its printed 0.85 where not given."
    )
    k: KOfMetal | None = Field(
        default=None, description="In place of the usual K: 12.9 copper, 21.2 aluminum."
    )
    stranded: bool | None = Field(
        default=None, description="For Table 8; where not given solid up to 10 AWG."
    )
    limit_percent: Percent | None = Field(
        default=None, description="Another limit than the recommended 3 percent."
    )
    awg: Awg | None = None

    @field_validator("awg")
    @classmethod
    def in_the_table(cls, awg: str | None, info: ValidationInfo) -> str | None:
        needed = ("volts", "load_a", "one_way_ft", "material", "method", "conduit")
        if awg is not None and all(name in info.data for name in needed):
            run = VoltageRun(
                volts=info.data["volts"],
                load_a=info.data["load_a"],
                one_way_ft=info.data["one_way_ft"],
                material=info.data["material"],
                method=info.data["method"],
                conduit=_CONDUITS[info.data["conduit"]],
            )
            reckon_voltage_drop(replace(run, awg=awg), edition_of(info))
        return awg

    @property
    def run(self) -> VoltageRun:
        """The run as the reckoning takes it, within the recommended limit."""
        return VoltageRun(
            volts=self.volts,
            load_a=self.load_a,
            one_way_ft=self.one_way_ft,
            awg=self.awg,
            material=self.material,
            phases=self.phases,
            method=self.method,
            k=self.k,
            stranded=self.stranded,
            power_factor=self.power_factor,
            conduit=_CONDUITS[self.conduit],
        )


class VoltageDropResult(StrictModel):
    """The drop, and the smallest size that stays within the limit (null where none of the table does)."""

    drop_v: ExactNumber | None
    drop_percent: ExactNumber | None
    smallest_awg_for_3_percent: str | None
    smallest_awg_for_limit: str | None
    limit_percent: ExactNumber
    least_circular_mils: ExactNumber | None = Field(
        description="What the K method asks for within the limit."
    )
    ohms_per_kft: ExactNumber | None = Field(description="Resistance or impedance that the tables gave.")


@sheet("voltage-drop", title="Voltage drop", asks=VoltageDropRequest, gives=VoltageDropResult)
def voltage_drop(request: VoltageDropRequest, code: Edition, work: Work) -> VoltageDropResult:
    """Reckon the voltage drop of a run. Advice: the limit is recommended, not required."""
    usual = reckon_voltage_drop(request.run, code, work)
    asked = usual
    if request.limit_percent is not None and request.limit_percent != usual.limit_percent:
        other = replace(request.run, awg=None, limit_percent=request.limit_percent)
        asked = reckon_voltage_drop(other, code, work)
    ohms = None
    if request.awg is not None and request.method is not DropMethod.K:
        ohms = ohms_per_kft(request.run, request.awg, code)
    return VoltageDropResult(
        drop_v=usual.drop_v,
        drop_percent=usual.drop_percent,
        smallest_awg_for_3_percent=usual.smallest_awg,
        smallest_awg_for_limit=asked.smallest_awg,
        limit_percent=asked.limit_percent,
        least_circular_mils=asked.least_circular_mils,
        ohms_per_kft=ohms,
    )
