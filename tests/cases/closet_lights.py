"""Cases for luminaires in closets and insulated ceilings: 410.16, 410.115, 410.116."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House, look_cases, measure_cases
from tests.cases.houses import a_room

ELR = "410.16(C), 2017, as quoted with North Carolina's amendment (ElectricalLicenseRenewal.com)"
QUIZ = "Luminaires in clothes closets, code quiz (EC&M)"
PERSON = "Person County NC inspection list, 410.66"


def lit(kind: str = "closet", **luminaire: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room(kind, length_in=72, width_in=48)
        house.luminaire(house.box(room, surface="ceiling"), **luminaire)
        return Ref("room", room)

    return build


TUBES = lit(recessed=False, lamp="fluorescent")
SURFACE, RECESSED = lit(recessed=False), lit(recessed=True)
UNKNOWN = {"recessed or not": lit()}

CASES = [
    Case("closet-light-kind", "clear - an enclosed LED", lit(lamp="enclosed LED"), "enclosed", source=ELR),
    Case("closet-light-kind", "clear - recessed", RECESSED, "enclosed", source=ELR),
    Case("closet-light-kind", "correction - a bare lampholder", lit(lamp="bare bulb in a keyless lampholder"), "bare", source=ELR),
    Case("closet-light-kind", "correction - a pendant", lit(lamp="pendant"), "bare", source=ELR),
    Case("closet-light-kind", "unseen - the lamp is not recorded", SURFACE, "lamp-not-recorded"),
    Case("closet-light-kind", "outside - no light", a_room("closet"), "no-light"),
    Case("closet-light-kind", "outside - a bedroom", lit("bedroom"), "other-room"),
    *measure_cases("closet-light-surface", SURFACE, 12, least=True, source=ELR, outside={"a bedroom": lit("bedroom"), "a recessed one": RECESSED}, unknown=UNKNOWN),
    *measure_cases("closet-light-fluorescent", TUBES, 6, least=True, source=ELR, outside={"a bedroom": lit("bedroom"), "an LED": SURFACE}),
    Case("closet-light-surface", "outside - only fluorescent tubes", TUBES, "not-reached", source=ELR),
    *measure_cases("closet-light-recessed", RECESSED, 6, least=True, source=ELR, outside={"recessed or not": lit(), "a bedroom": lit("bedroom"), "a surface one": SURFACE}),
    *look_cases("recessed-in-insulation", RECESSED, outside={"a surface one": SURFACE, "no light": a_room()}, unknown=UNKNOWN),
    *measure_cases("recessed-near-wood", RECESSED, "1/2", least=True, source=PERSON, outside={"recessed or not": lit(), "a surface one": SURFACE}),
    *look_cases("recessed-listed", RECESSED, outside={"recessed or not": lit(), "a surface one": SURFACE}),
]  # fmt: skip
