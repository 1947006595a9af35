"""Cases for cables in framing: 300.4 (300.6 in 2026), 300.3(B)."""

from __future__ import annotations

from typing import Any

from server.dwelling import Framing
from tests.cases.case import House, look_cases, measure_cases
from tests.cases.houses import a_room, wired_room

ECM_WOOD = "Code Q&A: protection in wood framing, 2020 (EC&M)"
ECM_66 = "What's wrong here? 66, 300.4(D) (EC&M)"
EM_CH3 = "Exploring chapter 3, 2023 (Electrical Contractor)"


def framed(framing: Framing | None, kind: str = "bedroom", **more: Any) -> House:
    return wired_room(kind, room={"framing": framing}, **more)


WOOD, METAL, UNKNOWN = framed(Framing.WOOD), framed(Framing.METAL), framed(None)
MC_IN_METAL = framed(Framing.METAL, cable={"kind": "mc"})
NO_CABLE = {"no cable in the room": a_room()}
WHICH = {"framing not recorded": UNKNOWN}

CASES = [
    *measure_cases("bored-holes", WOOD, "1 1/4", least=True, source=ECM_WOOD, outside={"metal framing": METAL, "outdoors": framed(Framing.WOOD, "outdoors")} | NO_CABLE, unknown=WHICH),
    *look_cases("notches-plated", WOOD, outside={"framing not recorded": UNKNOWN, "metal framing": METAL}),
    *measure_cases("cable-along-framing", UNKNOWN, "1 1/4", least=True, source=ECM_66, outside=NO_CABLE),
    *look_cases("metal-stud-bushings", METAL, outside={"framing not recorded": UNKNOWN, "wood framing": WOOD, "metal-clad cable": MC_IN_METAL}),
    *look_cases("metal-stud-plates", METAL, outside={"framing not recorded": UNKNOWN, "wood framing": WOOD, "metal-clad cable": MC_IN_METAL}),
    *measure_cases("cable-below-roof-deck", wired_room("attic"), "1 1/2", least=True, source=EM_CH3, outside={"no attic": WOOD}),
    *look_cases("cables-per-hole", UNKNOWN, outside={"metal-clad cable": MC_IN_METAL, "outdoors": framed(Framing.WOOD, "outdoors")}),
    *look_cases("jackets-whole", UNKNOWN, outside=NO_CABLE),
    *look_cases("circuit-conductors-together", UNKNOWN, outside=NO_CABLE),
    *look_cases("framing-not-weakened", WOOD, outside={"framing not recorded": UNKNOWN, "metal framing": METAL}),
]  # fmt: skip
