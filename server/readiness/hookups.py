"""A circuit's hookup as people look at it: one card per box, what each cable carries, the truth table.

view = hookup_view(house.derive(hookups, code).of(circuit_id), house)
view.cards                  # from the panel outward
box_hookup(found, box_id, house)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from server.dwelling import BoxMaterial, Device, Dwelling
from server.readiness.hookup_words import (
    POSITIONS,
    color_word,
    conductor_words,
    ground_words,
    joined_words,
    terminal_label,
    terminal_words,
)
from server.reckon.hookup import BoxPlan, Cable, CableEnd, Conductor, Join, Terminal
from server.rules.hookup_names import device_word, listed
from server.rules.hookups import CircuitHookup

__all__ = [
    "BoxHookup",
    "CableView",
    "EnteringCable",
    "HookupView",
    "JoinView",
    "TerminalView",
    "TruthView",
    "WireEnd",
    "box_hookup",
    "hookup_view",
]

_PLAIN_SIGNALS: Final = ("hot", "neutral", "interconnect", "traveler", "load-side")
"""What signals begin with that need no article in a sentence."""


@dataclass(frozen=True, slots=True)
class WireEnd:
    """One conductor's end in a box. ``band`` is the color it is marked with, empty where it is not."""

    cable: str
    color: str
    band: str
    signal: str


@dataclass(frozen=True, slots=True)
class EnteringCable:
    """A cable at a box: ``toward`` is ``from Panel A`` or ``to Stair S2``; ``ground`` the color of its grounding
    conductor, empty where it has none."""

    id: str
    name: str
    toward: str
    is_feed: bool
    conductors: tuple[WireEnd, ...]
    ground: str


@dataclass(frozen=True, slots=True)
class TerminalView:
    """A terminal of a device in the box (or of the panel, ``device_id`` empty)."""

    device_id: str
    terminal: str
    label: str


@dataclass(frozen=True, slots=True)
class JoinView:
    """What is joined. ``color`` is a pigtail's; ``kind``: ``splice``, ``direct`` (no connector), ``capped``."""

    wires: tuple[WireEnd, ...]
    terminals: tuple[TerminalView, ...]
    signal: str
    color: str
    kind: str


@dataclass(frozen=True, slots=True)
class DeviceView:
    """A device of the box: ``name`` as it is called there, and its terminals in use."""

    id: str
    name: str
    terminals: tuple[TerminalView, ...]


@dataclass(frozen=True, slots=True)
class BoxHookup:
    """One box of a hookup, for a drawing and in words. ``box_id`` is empty for the panel."""

    box_id: str
    name: str
    room: str
    cables: tuple[EnteringCable, ...]
    joins: tuple[JoinView, ...]
    devices: tuple[DeviceView, ...]
    metal: bool
    words: tuple[str, ...]
    splices: int


@dataclass(frozen=True, slots=True)
class CableView:
    """What a cable carries: (color, band, signal) per conductor; ``short`` how many it needs where it has too few."""

    id: str
    name: str
    start: str
    end: str
    conductors: tuple[tuple[str, str, str], ...]
    has: int
    needs: int
    signals: tuple[str, ...]

    @property
    def short(self) -> bool:
        return self.needs > self.has


@dataclass(frozen=True, slots=True)
class TruthView:
    """Switches that act together: their names, their loads, and per row the positions and which loads are on."""

    switches: tuple[str, ...]
    loads: tuple[str, ...]
    rows: tuple[tuple[tuple[str, ...], tuple[bool, ...]], ...]


@dataclass(frozen=True, slots=True)
class HookupView:
    """A whole hookup. Without a plan the cards are empty and ``cables`` say what is short."""

    cards: tuple[BoxHookup, ...]
    cables: tuple[CableView, ...]
    truth: tuple[TruthView, ...]
    always_live: tuple[str, ...]
    notes: tuple[str, ...]


def hookup_view(found: CircuitHookup, house: Dwelling) -> HookupView:
    """Everything about a hookup, from the panel outward."""
    hookup = found.hookup
    order = ["", *found.run.reached, *(each for each in found.names.box if each not in found.run.reached)]
    cards = (box_hookup(found, each, house) for each in order)
    return HookupView(
        tuple(card for card in cards if card is not None and (card.joins or card.cables)),
        tuple(_cables(found)),
        tuple(
            TruthView(
                table.switches,
                table.loads,
                tuple(
                    (tuple(POSITIONS.get(each, each) for each in row.positions), tuple(load in row.on for load in table.loads))
                    for row in table.rows
                ),
            )
            for table in hookup.truth
        ),
        hookup.always_live,
        hookup.notes,
    )  # fmt: skip


def _cables(found: CircuitHookup) -> Iterator[CableView]:
    wiring = found.entered.wiring
    if wiring is None:
        return
    planned = {cable.id: cable for cable in found.hookup.plan.cables} if found.hookup.plan else {}
    short = {item.cable: item for item in found.hookup.short}
    order = {name: place for place, name in enumerate(found.names.cable.values())}
    for cable in sorted(wiring.cables, key=lambda each: order[each.id]):
        plan, lack = planned.get(cable.id), short.get(cable.id)
        start, end = _ends(cable, found)
        yield CableView(
            found.names.cable_id[cable.id],
            cable.id,
            start,
            end,
            tuple((c.color, c.reidentified_as or "", c.signal or "") for c in plan.conductors)
            if plan
            else (),
            cable.insulated,
            lack.needs if lack else cable.insulated,
            lack.signals if lack else (),
        )


def _ends(cable: Cable, found: CircuitHookup) -> tuple[str, str]:
    """Where a cable comes from and where it goes, seen from the panel."""
    for leg in found.run.legs:
        if found.names.cable.get(leg.cable.id) == cable.id:
            goes_to = found.names.box.get(leg.end, "")
            return (cable.a, cable.b) if cable.b == goes_to else (cable.b, cable.a)
    return cable.a, cable.b


def box_hookup(found: CircuitHookup, box_id: str, house: Dwelling) -> BoxHookup | None:
    """One box (``""``: the panel) of a hookup; None where no hookup was found or it has no part in the box."""
    plan, wiring = found.hookup.plan, found.entered.wiring
    node = found.names.box.get(box_id) if box_id else found.names.panel
    if plan is None or wiring is None or node is None:
        return None
    box_plan = next(each for each in plan.boxes if each.node == node)
    return _BoxReader(found, house, box_id, node, box_plan).card()


class _BoxReader:
    def __init__(self, found: CircuitHookup, house: Dwelling, box_id: str, node: str, plan: BoxPlan) -> None:
        self.found, self.house, self.box_id, self.node, self.plan = found, house, box_id, node, plan
        assert found.hookup.plan is not None
        self.conductors: dict[tuple[str, str], Conductor] = {
            (cable.id, each.color): each for cable in found.hookup.plan.cables for each in cable.conductors
        }
        box = house.boxes.get(box_id)
        self.metal = box is not None and box.material is BoxMaterial.METAL
        room = house.rooms.get(box.room_id) if box is not None else None
        self.room = room.name if room is not None else ""

    def card(self) -> BoxHookup:
        cables = tuple(self._entering())
        near = f" {self.room} " if self.room else "\0"
        toward = {cable.name: cable.toward.replace(near, " ") for cable in cables}
        joins = tuple(map(self._join, self.plan.joins))
        devices = tuple(self._devices(joins))
        return BoxHookup(
            self.box_id, self.node, self.room, cables, joins, devices, self.metal,
            tuple(self._words(cables, joins, toward, {device.id: device.name for device in devices})),
            sum(join.kind == "splice" for join in joins),
        )  # fmt: skip

    def _entering(self) -> Iterator[EnteringCable]:
        wiring = self.found.entered.wiring
        assert wiring is not None
        grounds = {end.cable: end.color for end in self.plan.grounds}
        for cable in wiring.cables:
            if self.node not in (cable.a, cable.b):
                continue
            start, end = _ends(cable, self.found)
            is_feed = end == self.node
            fact = self.house.cables.get(self.found.names.cable_id[cable.id])
            planned = [each for (name, _), each in self.conductors.items() if name == cable.id]
            yield EnteringCable(
                fact.id if fact else "",
                cable.id,
                f"from {start}" if is_feed else f"to {end}",
                is_feed,
                tuple(WireEnd(cable.id, c.color, c.reidentified_as or "", c.signal or "") for c in planned),
                grounds.get(cable.id, "") if fact is None or fact.has_ground else "",
            )

    def _join(self, join: Join) -> JoinView:
        wires = [self._wire(end) for end in join.ends if isinstance(end, CableEnd)]
        terminals = [self._terminal(end) for end in join.ends if isinstance(end, Terminal)]
        kind = "capped" if join.capped and wires else "splice" if join.is_splice else "direct"
        return JoinView(tuple(wires), tuple(terminals), join.signal, _pigtail(wires, join.signal), kind)

    def _wire(self, end: CableEnd) -> WireEnd:
        conductor = self.conductors[end.cable, end.color]
        return WireEnd(end.cable, end.color, conductor.reidentified_as or "", conductor.signal or "")

    def _device(self, name: str) -> Device | None:
        return self.house.devices.get(self.found.names.device_id.get(name, ""))

    def _terminal(self, end: Terminal) -> TerminalView:
        device = self._device(end.device)
        return TerminalView(device.id if device else "", end.terminal, terminal_label(end.terminal, device))

    def _devices(self, joins: Sequence[JoinView]) -> Iterator[DeviceView]:
        """The devices that have a terminal in use, in the box's order; the panel's own last."""
        used: dict[str, list[TerminalView]] = {}
        for join in joins:
            for terminal in join.terminals:
                used.setdefault(terminal.device_id, []).append(terminal)
        here = [device for device in self.house.devices_of_box.get(self.box_id, ()) if device.id in used]
        words = [device.label or device_word(device) for device in here]
        for device, word in zip(here, words, strict=True):
            alike = words.count(word)
            number = (
                f" {[d.id for d, w in zip(here, words, strict=True) if w == word].index(device.id) + 1}"
                if alike > 1
                else ""
            )
            yield DeviceView(device.id, f"{word}{number}", tuple(used[device.id]))
        if "" in used:
            yield DeviceView("", self.found.names.panel, tuple(used[""]))

    # -- words -------------------------------------------------------------------------------------------------

    def _words(
        self,
        cables: Iterable[EnteringCable],
        joins: Iterable[JoinView],
        toward: dict[str, str],
        called: dict[str, str],
    ) -> Iterator[str]:
        cables = list(cables)

        def told(end: WireEnd) -> tuple[str, str, str, str]:
            return end.color, end.band, end.cable.split(" ")[0], toward[end.cable]

        marked = [end for cable in cables for end in cable.conductors if end.band and end.signal]
        for end in marked:
            color, band, number, way = told(end)
            yield (
                f"Mark the {color_word(color)} of cable {number} {way} {band} with tape or paint: it carries "
                f"{self._signal(end.signal)}."
            )
        for join in joins:
            ends = [told(end) for end in join.wires]
            where = [self._terminal_words(each, called) for each in join.terminals]
            signal = self._signal(join.signal)
            if join.kind == "capped":
                yield f"Cap {conductor_words(*ends[0])} and fold it back: {signal}, kept here for later."
            elif join.kind == "splice" and where:
                tails = "a pigtail each" if len(where) > 1 else "a pigtail"
                lead = f"Join {joined_words(ends)}" if len(ends) > 1 else _first_up(conductor_words(*ends[0]))
                yield f"{lead}, with {tails} to {listed(where)}: {signal}."
            elif join.kind == "splice":
                yield f"Join {joined_words(ends)}: {signal}."
            elif ends:
                yield f"{_first_up(conductor_words(*ends[0]))} goes to {listed(where)}: {signal}."
            else:
                yield f"Join {listed(where)} with a short piece of wire: {signal}."
        for cable in cables:
            for end in cable.conductors:
                if not end.signal:
                    yield f"{_first_up(conductor_words(*told(end)))} is left over: cap it at both ends."
        grounds = ground_words(
            sum(bool(cable.ground) for cable in cables), len([each for each in called if each]), metal=self.metal,
            panel=not self.box_id,
        )  # fmt: skip
        if grounds:
            yield grounds

    def _signal(self, signal: str) -> str:
        """A signal in a sentence, without this room's name."""
        short = signal.replace(f"{self.room} ", "") if self.room else signal
        return short if short.split(" ")[0].rstrip(",") in _PLAIN_SIGNALS else f"the {short}"

    def _terminal_words(self, terminal: TerminalView, called: dict[str, str]) -> str:
        device = self.house.devices.get(terminal.device_id)
        name = called.get(terminal.device_id, "")
        return terminal_words(
            terminal.terminal, device, f"the {name}" if device and not device.label else name
        )


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def _pigtail(wires: Sequence[WireEnd], signal: str) -> str:
    """The color of a pigtail: the color (or the mark) of what it is joined to; white for a neutral."""
    if "neutral" in signal:
        return next((end.color for end in wires if not end.band), "white")
    plain = [end.band or end.color for end in wires]
    return next(
        (color for color in plain if not color.startswith(("white", "gray"))), plain[0] if plain else "black"
    )
