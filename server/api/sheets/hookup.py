"""The hookup sheet: which conductor goes where, from boxes, cables and devices."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi.exceptions import RequestValidationError
from pydantic import BeforeValidator, Field

from server.api.sheets.base import Awg, SheetRequest, StrictModel, sheet
from server.dwelling import Half, SwitchWays
from server.editions import Edition
from server.reckon.hookup import (
    Cable,
    CableEnd,
    Device,
    End,
    Hookup,
    Kind,
    NeutralRule,
    Node,
    TruthTable,
    Wiring,
    faults_of,
    solve_hookup,
)
from server.reckon.work import Work

__all__ = ["HookupRequest", "HookupResult", "hookup", "wiring_of"]

MOST_ROWS = 1024
"""Rows of one truth table over all switches; beyond this, tables of switches that act together follow one another."""

_WAYS = {"1": "single-pole", "3": "three-way", "4": "four-way", "single": "single-pole"}


def _ways(came: object) -> object:
    """The ways of a switch as the trade writes them: 3, "3-way", "three-way", "three_way"."""
    if isinstance(came, bool) or not isinstance(came, int | str):
        return came
    word = str(came).strip().lower().replace("_", "-").replace(" ", "-")
    return _WAYS.get(word.removesuffix("-way"), word)


Id = Annotated[str, Field(min_length=1, max_length=60, pattern=r"^[^\x00-\x1f]+$")]


class NodeIn(StrictModel):
    """A box, or the source of a circuit."""

    id: Id
    kind: Literal["source", "box"] = "box"
    legs: Literal[1, 2] = Field(
        default=1, description="2 for a multiwire circuit: terminals hot and hot_2, one neutral."
    )


class CableIn(StrictModel):
    """A cable between two nodes."""

    id: Id
    a: Id
    b: Id
    insulated: int = Field(
        default=2, ge=1, le=40, description="Insulated conductors: 2 in a 14-2, 3 in a 14-3."
    )
    awg: Awg | None = None
    kind: str = Field(default="nm-b", max_length=30)
    colors: list[str] | None = Field(
        default=None,
        description="Insulation colors where they are not the usual ones, one a conductor, as in a cable with two "
        'neutrals: ["black", "white", "red", "white/red"].',
    )


class DeviceIn(StrictModel):
    """A device in a box."""

    id: Id
    node: Id
    kind: Literal["switch", "dimmer", "receptacle", "luminaire", "fan", "load", "gfci"]
    controls: list[Id] = Field(default=[], description="For a switch: the loads it turns.")
    halves: dict[Id, Half] = Field(
        default={}, description="For a switch: which half of a receptacle it turns, where not its split half."
    )
    ways: Annotated[Literal["single-pole", "three-way", "four-way"] | None, BeforeValidator(_ways)] = Field(
        default=None,
        description="Also as 1, 3 or 4; where left out it follows from how many switches list a load.",
    )
    split: Half | None = Field(
        default=None,
        description="The half of a receptacle that is wired apart: the switched one where a switch controls it.",
    )
    protects: list[Id] = Field(default=[], description="For a gfci: devices on its load side.")
    needs_neutral: bool = Field(default=False, description="For a switch: it uses a neutral itself.")
    source: Id | None = Field(default=None, description="The source that feeds it, where there are several.")
    leg: Literal[1, 2] | None = Field(
        default=None, description="The hot of a multiwire source; 1 if not said."
    )
    second_leg: Literal[1, 2] | None = Field(
        default=None, description="The hot of the half of a receptacle that split does not name."
    )


class NeutralIn(StrictModel):
    """Nodes where a neutral is required at the switches, and nodes where it is not; elsewhere as the edition has it."""

    required: list[Id] = Field(default=[])
    exempt: list[Id] = Field(default=[])


class HookupRequest(SheetRequest):
    """Nodes, cables and devices of one or more circuits."""

    nodes: list[NodeIn] = Field(max_length=300)
    cables: list[CableIn] = Field(max_length=600)
    devices: list[DeviceIn] = Field(max_length=600)
    neutral_at_switch: Literal["required", "exempt"] | list[Id] | NeutralIn | None = Field(
        default=None,
        description="Where a neutral has to be present at switches: everywhere, nowhere, or everywhere but in the nodes "
        "listed. Not given: as the edition has it, that is where the switch is for lighting.",
    )


class ConductorOut(StrictModel):
    """One insulated conductor; ``signal`` is null where it is left over and capped."""

    color: str
    reidentified_as: str | None
    signal: str | None


class CablePlanOut(StrictModel):
    """What the conductors of a cable are for."""

    id: str
    conductors: list[ConductorOut]


class BoxPlanOut(StrictModel):
    """What is joined in a node. One cable end alone is capped and kept."""

    node: str
    joins: list[list[dict[str, str]]]
    grounds: list[dict[str, str]] = Field(
        description="The equipment grounding conductors, joined together and to every device and metal box."
    )


class PlanOut(StrictModel):
    """Cables and boxes."""

    cables: list[CablePlanOut]
    boxes: list[BoxPlanOut]


class TruthRowOut(StrictModel):
    """Positions of switches, and which of the loads they turn are on."""

    positions: dict[str, str]
    on: list[str]


class ShortOut(StrictModel):
    """A cable with too few conductors."""

    cable: str
    has: int
    needs: int
    signals: list[str]


class CableNeedOut(StrictModel):
    """A cable of the cheapest plan."""

    cable: str
    insulated: int
    has: int
    colors: list[str]


class HookupResult(StrictModel):
    """The hookup, or why there is none and what would mend it."""

    possible: bool
    why: str | None = Field(
        description="One sentence that names box and cable: why it is not possible, or that cables close a ring, which "
        "the plan then keeps open."
    )
    plan: PlanOut | None
    truth: list[TruthRowOut] = Field(
        description="Positions: off and on of a single-pole switch; 1 and 2 of a three-way, common to traveler_1 or _2; "
        "straight and crossed of a four-way, in_1 to out_1 or out_2."
    )
    always_live: list[str] = Field(description="Loads that no switch turns.")
    splices: int | None = Field(description="Joins that take a connector; null where there is no plan.")
    reidentified: int | None = Field(description="White conductors used as something else.")
    conductors: int | None = Field(description="Cable conductors in use.")
    short: list[ShortOut]
    cheapest: list[CableNeedOut]
    notes: list[str]


def wiring_of(request: HookupRequest) -> Wiring:
    """The request as facts."""
    rule = NeutralRule.CODE
    required: list[str] = []
    exempt: list[str] = []
    match request.neutral_at_switch:
        case NeutralIn(required=some, exempt=others):
            required, exempt = some, others
        case list() as others:
            rule, exempt = NeutralRule.REQUIRED, others
        case str() as word:
            rule = NeutralRule(word)
    return Wiring(
        nodes=tuple(Node(node.id, node.kind == "source", node.legs) for node in request.nodes),
        cables=tuple(
            Cable(c.id, c.a, c.b, c.insulated, c.kind.lower(), c.awg, tuple(c.colors or ()))
            for c in request.cables
        ),
        devices=tuple(
            Device(
                id=device.id,
                node=device.node,
                kind=Kind.SWITCH if device.kind == "dimmer" else Kind(device.kind),
                controls=tuple(dict.fromkeys(device.controls)),
                halves=tuple(device.halves.items()),
                ways=SwitchWays(device.ways) if device.ways is not None else None,
                split=device.split,
                protects=tuple(dict.fromkeys(device.protects)),
                needs_neutral=device.needs_neutral,
                source=device.source,
                leg=device.leg,
                second_leg=device.second_leg,
            )
            for device in request.devices
        ),
        neutral_rule=rule,
        neutral_exempt=frozenset(exempt),
        neutral_required=frozenset(required),
    )


@sheet("hookup", title="Hookup", asks=HookupRequest, gives=HookupResult)
def hookup(request: HookupRequest, code: Edition, work: Work) -> HookupResult:
    """Whether the cables allow a lawful hookup of the devices, and which conductor then goes where.

    A source's terminals are those of a device named like its node. Splices count joins of insulated conductors that
    take a connector (two cable ends, or more than two ends); equipment grounds are listed apart and not counted.
    """
    wiring = wiring_of(request)
    if faults := faults_of(wiring):
        raise RequestValidationError(
            [
                {
                    "type": "value_error",
                    "loc": ("body", *fault.place),
                    "msg": fault.expected,
                    "input": fault.came,
                }
                for fault in faults
            ]
        )
    return _shown(solve_hookup(wiring, code, work))


def _shown(found: Hookup) -> HookupResult:
    plan = found.plan and PlanOut(
        cables=[
            CablePlanOut(
                id=cable.id,
                conductors=[
                    ConductorOut(color=c.color, reidentified_as=c.reidentified_as, signal=c.signal)
                    for c in cable.conductors
                ],
            )
            for cable in found.plan.cables
        ],
        boxes=[
            BoxPlanOut(
                node=box.node,
                joins=[[_end(end) for end in join.ends] for join in box.joins],
                grounds=[_end(end) for end in box.grounds],
            )
            for box in found.plan.boxes
        ],
    )
    return HookupResult(
        possible=found.possible,
        why=found.why or next((note for note in found.notes if "close a ring" in note), None),
        plan=plan,
        truth=_rows(found.truth),
        always_live=list(found.always_live),
        splices=found.splices if plan else None,
        reidentified=found.reidentified if plan else None,
        conductors=found.conductors if plan else None,
        short=[
            ShortOut(cable=s.cable, has=s.has, needs=s.needs, signals=list(s.signals)) for s in found.short
        ],
        cheapest=[
            CableNeedOut(cable=c.cable, insulated=c.insulated, has=c.has, colors=list(c.colors))
            for c in found.cheapest
        ],
        notes=list(found.notes),
    )


def _end(end: End) -> dict[str, str]:
    if isinstance(end, CableEnd):
        return {"cable": end.cable, "color": end.color}
    return {"device": end.device, "terminal": end.terminal}


def _rows(tables: tuple[TruthTable, ...]) -> list[TruthRowOut]:
    """All switches in one table while it is small; else a table for each set of switches that act together."""
    rows = 1
    for table in tables:
        rows *= len(table.rows)
    if rows > MOST_ROWS:
        return [row for table in tables for row in _product([table])]
    return _product(list(tables))


def _product(tables: list[TruthTable]) -> list[TruthRowOut]:
    found: list[tuple[dict[str, Any], list[str]]] = [({}, [])]
    for table in tables:
        found = [
            ({**positions, **dict(zip(table.switches, row.positions, strict=True))}, [*on, *row.on])
            for positions, on in found
            for row in table.rows
        ]
    return [TruthRowOut(positions=positions, on=on) for positions, on in found if positions]
