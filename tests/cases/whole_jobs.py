"""Houses whose subject is the job, a panel or a piece of equipment, and the cases of rules with two limits."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref, WorkKind, parse_length
from server.editions import YEARS
from tests.cases.case import Case, House, look_cases, seen

__all__ = [
    "CASES",
    "a_fixture",
    "a_job",
    "a_panel",
    "a_subpanel",
    "band_cases",
    "device_on",
    "looks",
    "wired_fixture",
]

CASES: list[Case] = []
"""None: this module only builds houses."""

SIZE: dict[str, Any] = {"length_in": 144, "width_in": 120}


def a_job(
    work: WorkKind = WorkKind.NEW,
    *,
    fixture: str = "",
    cable: str = "",
    panel: dict[str, Any] | None = None,
    **site: Any,
) -> House:
    """The job, perhaps with a fixture, a cable of a kind, a service panel in it."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work, **site).site
        room = house.room("garage", **SIZE)
        if fixture:
            house.fixture(room, fixture)
        if panel is not None:
            house.panel(**panel)
        if cable:
            house.home_run(
                house.circuit(house.panel(), "Yard"), house.box(room, wall=1, at_in=36), kind=cable
            )
        return Ref("job", house.site.id)

    return build


def a_panel(kind: str = "garage", *, circuits: tuple[dict[str, Any], ...] = (), **panel: Any) -> House:
    """A service panel in a room, with circuits."""

    def build(house: HouseBuilder) -> Ref:
        made = house.panel(room_id=house.room(kind, **SIZE), **panel)
        for number, circuit in enumerate(circuits):
            house.circuit(made, **({"name": f"Circuit {number + 1}"} | circuit))
        return Ref("panel", made)

    return build


def a_subpanel(
    *,
    feeder: dict[str, Any] | None = None,
    cable: dict[str, Any] | None = None,
    work: WorkKind = WorkKind.NEW,
    **panel: Any,
) -> House:
    """A panel that is fed from another; ``feeder`` of None leaves the feeder out, ``cable`` of None its cable."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        main = house.panel("Panel A", room_id=house.room("garage", **SIZE))
        given = {"main_a": None, "bus_a": 100, **panel}
        made = house.panel("Panel B", room_id=house.room("hallway", **SIZE), is_service=False, **given)
        if feeder is not None:
            circuit = house.circuit(
                main, "Panel B", **({"rating_a": 60, "poles": 2, "conductor_awg": "6"} | feeder)
            )
            house.change(made, fed_by_circuit_id=circuit)
            if cable is not None:
                house.cable(main, made, circuit, **({"insulated": 3} | cable))
        return Ref("panel", made)

    return build


def a_fixture(kind: str, room: str = "mechanical room", **fixture: Any) -> House:
    """A fixture without an outlet."""

    def build(house: HouseBuilder) -> Ref:
        return Ref("fixture", house.fixture(house.room(room, **SIZE), kind, **fixture))

    return build


def wired_fixture(
    kind: str,
    *,
    circuit: dict[str, Any] | None = None,
    cable: dict[str, Any] | None = None,
    more: tuple[dict[str, Any], ...] = (),
    room: str = "mechanical room",
    work: WorkKind = WorkKind.NEW,
    **fixture: Any,
) -> House:
    """A fixture wired on a circuit of its own; ``more`` are further fixtures on the same circuit. ``circuit`` of
    None leaves the circuit out."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        room_id = house.room(room, **SIZE)
        made = [house.fixture(room_id, kind, **fixture)]
        made += [house.fixture(room_id, **({"kind": kind} | each)) for each in more]
        boxes = []
        for number, each in enumerate(made):
            boxes.append(house.box(room_id, wall=1, at_in=12 * (number + 1), height_in=48))
            house.device(boxes[-1], DeviceKind.HARDWIRED, fixture_id=each)
        if circuit is not None:
            circuit_id = house.circuit(house.panel(), kind.capitalize(), **circuit)
            house.home_run(circuit_id, *boxes, **(cable or {}))
        return Ref("fixture", made[0])

    return build


def device_on(
    kind: DeviceKind,
    room: str = "bathroom",
    *,
    fixture: str = "",
    work: WorkKind = WorkKind.NEW,
    box: dict[str, Any] | None = None,
    **device: Any,
) -> House:
    """A device in a box of a room, perhaps there for a fixture."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        room_id = house.room(room, **SIZE)
        given = dict(device)
        if fixture:
            given["fixture_id"] = house.fixture(
                room_id, fixture, fuel_burning=given.pop("fuel_burning", None)
            )
        made = house.box(room_id, **({"wall": 1, "at_in": 36, "height_in": 48} | (box or {})))
        return Ref("device", house.device(made, kind, **given))

    return build


def looks(house: House, *rules: str, **more: Any) -> list[Case]:
    """The cases of several rules that a look settles in the same house."""
    return [case for rule in rules for case in look_cases(rule, house, **more)]


def band_cases(
    rule: str,
    house: House,
    least: Any,
    most: Any,
    *,
    source: str = "",
    outside: Mapping[str, House] | None = None,
    years: tuple[int, ...] = YEARS,
) -> list[Case]:
    """The cases of a rule with a least and a most, both given a second time from their own source."""
    low, high, by = parse_length(least), parse_length(most), Fraction(1, 64)

    def at(figure: Fraction) -> House:
        return seen(house, rule, figure)

    return [
        Case(rule, "clear - exactly the least", at(low), "between", years, source),
        Case(rule, "clear - exactly the most", at(high), "between", years, source),
        Case(rule, "clear - just over the least", at(low + by), "between", years, source),
        Case(rule, "clear - just under the most", at(high - by), "between", years, source),
        Case(rule, "correction - just under the least", at(low - by), "too-little", years, source),
        Case(rule, "correction - just over the most", at(high + by), "measured-short", years, source),
        Case(rule, "unseen - nobody measured", house, "not-measured", years),
        Case(rule, "clear - found right without a figure", seen(house, rule, Answer.RIGHT), "looked-right", years),
        Case(rule, "correction - found wrong", seen(house, rule, Answer.WRONG), "looked-wrong", years),
        Case(rule, "outside - there is none", seen(house, rule, Answer.NOT_HERE), "not-here", years),
        *(Case(rule, f"outside - {words}", other, "not-reached", years) for words, other in (outside or {}).items()),
    ]  # fmt: skip
