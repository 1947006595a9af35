"""Service-entrance cable as a feeder or large circuit within the house."""

from __future__ import annotations

from server.dwelling import CableKind, Room, Stage
from server.rules.citing import carried
from server.rules.looks import look
from server.rules.reach import has_cables

__all__ = ["se_cable_kind", "se_cable_size"]

_SE = has_cables(CableKind.SE)

se_cable_kind = look(
    id="se-cable-kind",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("338.10(B), 338.12"),
    title="Service-entrance cable in the house is of the kind for it, and held like other cable",
    why="Its bare conductor may be a ground there and never a neutral.",
    look_for="SE-R with an insulated neutral where one is needed, fastened and guarded as NM is; never in the earth, in wet pipes underground or where it "
    "can be struck; no USE inside; no bend tighter than five times its thickness.",
    cure="Run a cable with an insulated neutral, fastened as NM cable.",
    applies=_SE,
    mistakes="SE-U with its bare wire as the neutral of a subpanel or range; USE pulled through to the panel.",
    plain="Big SER cable inside needs staples and plates like other cable.",
)

se_cable_size = look(
    id="se-cable-size",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("338.10(B)(4), 310.12, 110.14(C)"),
    title="Service-entrance cable is large enough where it lies in insulation, and as a feeder",
    why="The small figures for services hold for the house's whole load and for nothing less.",
    look_for="10 AWG and smaller in insulation by the 60 °C column, larger by that of its terminals; several together in insulation or foam derated; the service's own "
    "table only where the cable carries all of the dwelling.",
    cure="Run a larger cable, or fit a smaller breaker.",
    applies=_SE,
    mistakes="4/0 aluminum on 200 A to a panel that is only half of the house.",
    plain="The wire size for a main service may be too small for a feeder.",
)
