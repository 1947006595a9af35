"""``POST /api/sheets/ampacity``: what a conductor may carry as it is run, without a job."""

from __future__ import annotations

from server.api.sheets.base import ExactNumber, StrictModel, sheet
from server.api.sheets.conductor_fields import ConductorFields
from server.editions import Edition
from server.reckon.ampacity import reckon_ampacity
from server.reckon.work import Work

__all__ = ["AmpacityRequest", "AmpacityResult"]


class AmpacityRequest(ConductorFields):
    """A conductor and how it is run."""


class AmpacityResult(StrictModel):
    """The ampacity and every number on the way. ``derated_a`` is the table value with both factors;
    ``allowed_a`` the least of that, the terminals' limit and the cable's own."""

    table_a: ExactNumber
    correction: ExactNumber
    adjustment: ExactNumber
    derated_a: ExactNumber
    terminal_limit_a: ExactNumber
    allowed_a: ExactNumber
    cable_limit_a: ExactNumber | None
    column_c: int
    terminal_c: int


@sheet("ampacity", title="Ampacity", asks=AmpacityRequest, gives=AmpacityResult)
def ampacity(request: AmpacityRequest, code: Edition, work: Work) -> AmpacityResult:
    """Reckon the ampacity of a conductor: ambient, conductors together, cable and terminals."""
    found = reckon_ampacity(request.run, code, work)
    return AmpacityResult(
        table_a=found.table_a,
        correction=found.correction,
        adjustment=found.adjustment,
        derated_a=found.derated_a,
        terminal_limit_a=found.terminal_limit_a,
        allowed_a=found.allowed_a,
        cable_limit_a=found.cable_limit_a,
        column_c=found.start_c,
        terminal_c=found.terminal_c,
    )
