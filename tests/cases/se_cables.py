"""Cases for service-entrance cable within the house: 338.10, 338.12."""

from __future__ import annotations

from tests.cases.case import look_cases
from tests.cases.houses import wired_room

SE, NM = wired_room(cable={"kind": "se"}), {"a room wired with NM cable": wired_room()}

CASES = [*look_cases("se-cable-kind", SE, outside=NM), *look_cases("se-cable-size", SE, outside=NM)]
