"""Reads groups, supplies and units out of the devices, and says where they ask for what no wiring can do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from server.editions import Edition
from server.reckon.hookup.demand import Demand, Group, Spot, Supply, Tier, Unit
from server.reckon.hookup.facts import Device, Half, Kind, NeutralRule, SwitchWays, Wiring
from server.reckon.hookup.faults import NoHookup
from server.reckon.hookup.listing import listed
from server.reckon.work import Work

__all__ = ["MOST_LOCATIONS", "demand_of"]

MOST_LOCATIONS: Final = 10
"""Switch locations of one group that are reckoned exactly; the work grows as 2 to this power."""

Target = tuple[str, Half | None]
"""A load, or one half of a receptacle."""


def demand_of(wiring: Wiring, code: Edition, work: Work, kept_at: Mapping[str, str]) -> Demand:
    """Read groups, supplies and units out of the devices.

    ``kept_at`` says in which part of a box a neutral kept for its switches lies, where a ring was opened in that box.

    Raises:
        NoHookup: no wiring can do what the devices ask.
    """
    return _Reader(wiring, code, work, kept_at).demand()


class _Reader:
    def __init__(self, wiring: Wiring, code: Edition, work: Work, kept_at: Mapping[str, str]) -> None:
        self.wiring, self.code, self.work, self.kept_at = wiring, code, work, kept_at
        self.devices = {device.id: device for device in wiring.devices}
        self.split = {device.id for device in wiring.devices if device.split}
        self.control: dict[Target, set[str]] = {}
        for switch in self._of(Kind.SWITCH):
            halves = dict(switch.halves)
            self.split.update(halves)
            for load in switch.controls:
                half = halves.get(load, self.devices[load].split)
                self.control.setdefault((load, half), set()).add(switch.id)
        self.lighting = code.names("hookup.neutral_at_switch_for", work)

    def _of(self, kind: Kind) -> list[Device]:
        return [device for device in self.wiring.devices if device.kind is kind]

    def demand(self) -> Demand:
        for switch in self._of(Kind.SWITCH):
            if not switch.controls:
                raise NoHookup(f"Switch {_placed(switch)} controls nothing: say which load it turns.")
        self.guards = self._guards()
        self.switched_gfci = {
            gfci.id: frozenset(self.control[gfci.id, None])
            for gfci in self._of(Kind.GFCI)
            if (gfci.id, None) in self.control
        }
        components = self._components()
        placed = [(self._group(switches), self._supply_of(switches)) for switches in components]
        units = [self._unit(members) for members in self._members(components)]
        by_device = {device: unit for unit in units for device in unit.devices}
        for group, gfci in placed:
            unit = by_device[group.switches[0].id]
            supply = unit.line
            if gfci is not None:
                supply = next(side for side in unit.load_sides if side.gfci and side.gfci.id == gfci)
                if supply.switched:
                    raise NoHookup(
                        f"{group.switches[0].id} would switch what already goes off with GFCI {gfci}, which is "
                        "switched itself: feed it from the line side, or leave the GFCI always live."
                    )
            supply.groups.append(group)
            for tier in group.tiers:
                supply.neutral.extend(self._neutral_spots(tier))
            self._keep_neutral(group, supply)
        return Demand(units)

    # -- protection ------------------------------------------------------------------------------------------

    def _guards(self) -> dict[str, frozenset[str]]:
        """The GFCIs upstream of each device, those that protect its protector included."""
        direct: dict[str, set[str]] = {device.id: set() for device in self.wiring.devices}
        for gfci in self._of(Kind.GFCI):
            for load in gfci.protects:
                direct[load].add(gfci.id)
        found: dict[str, frozenset[str]] = {}
        for device in self.wiring.devices:
            reached, waiting = set(direct[device.id]), list(direct[device.id])
            while waiting:
                for upper in direct[waiting.pop()] - reached:
                    reached.add(upper)
                    waiting.append(upper)
            if device.id in reached:
                raise NoHookup(f"GFCI {_placed(device)} would be on its own load side.")
            found[device.id] = frozenset(reached)
        return found

    def _nearest(self, guards: frozenset[str], what: str) -> str | None:
        """The last GFCI before a device; the others have to feed it."""
        if not guards:
            return None
        for gfci in sorted(guards):
            if self.guards[gfci] == guards - {gfci}:
                return gfci
        first, second = sorted(guards)[:2]
        raise NoHookup(
            f"{what} cannot be on the load side of both {first} and {second} unless one of them feeds the other."
        )

    def _supply_of(self, switches: Sequence[Device]) -> str | None:
        """The GFCI whose load side feeds a group, or None for the line side."""
        loads = sorted({target[0] for target in self._targets(switches)})
        sets = {self.guards[load] for load in loads}
        if len(sets) > 1:
            inside = next(load for load in loads if self.guards[load])
            outside = next(load for load in loads if self.guards[load] != self.guards[inside])
            raise NoHookup(
                f"{switches[0].id} turns {inside} on the load side of {', '.join(sorted(self.guards[inside]))} "
                f"together with {outside}, which is not: one switch carries one hot."
            )
        guards = sets.pop()
        for switch in switches:
            if self.guards[switch.id] and self.guards[switch.id] != guards:
                if guards:
                    raise NoHookup(
                        f"Switch {switch.id} is on the load side of {', '.join(sorted(self.guards[switch.id]))}, "
                        f"but its load {loads[0]} is on that of {', '.join(sorted(guards))}."
                    )
                guards = self.guards[switch.id]
        return self._nearest(guards, f"Switch {switches[0].id}")

    # -- groups ----------------------------------------------------------------------------------------------

    def _rides_on_gfci(self, target: Target) -> bool:
        """Whether a load goes on and off with the switched GFCI that feeds it, by the same switches."""
        gfci = self._nearest(self.guards[target[0]], target[0])
        return gfci in self.switched_gfci and self.switched_gfci[gfci] == frozenset(
            self.control.get(target, ())
        )

    def _targets(self, switches: Iterable[Device]) -> list[Target]:
        ids = {switch.id for switch in switches}
        return [target for target, by in self.control.items() if by & ids and not self._rides_on_gfci(target)]

    def _components(self) -> list[list[Device]]:
        """Switches that share loads, directly or through others."""
        own = {switch.id: {switch.id} for switch in self._of(Kind.SWITCH)}
        for by in self.control.values():
            merged = set().union(*(own[switch] for switch in by))
            for one in merged:
                own[one] = merged
        seen: set[str] = set()
        found = []
        for switch in self._of(Kind.SWITCH):
            if switch.id not in seen:
                seen |= own[switch.id]
                found.append([other for other in self._of(Kind.SWITCH) if other.id in own[switch.id]])
        return found

    def _group(self, switches: Sequence[Device]) -> Group:
        by_set: dict[frozenset[str], list[Target]] = {}
        for target in self._targets(switches):
            by_set.setdefault(frozenset(self.control[target]), []).append(target)
        order = sorted(by_set, key=len)
        for inner, outer in pairwise(order):
            if not inner < outer:
                raise NoHookup(
                    f"{self._names(by_set[inner])} is switched by {_in_order(inner)} and {self._names(by_set[outer])} "
                    f"by {_in_order(outer)}: a switch they share cannot serve both, since neither set of switches "
                    "holds the other."
                )
        tiers = tuple(
            Tier(by, tuple(map(self._hot_spot, by_set[by])), tuple(self._name(t) for t in by_set[by]))
            for by in order
        )
        self._check_ways(switches)
        legs = {device.leg for device in switches if device.leg}
        legs |= {leg for targets in by_set.values() for leg in map(self._leg_stated, targets) if leg}
        if len(legs) > 1:
            raise NoHookup(
                f"{_in_order(s.id for s in switches)} and their loads are said to be on both legs."
            )
        return Group(tuple(switches), tiers, legs.pop() if legs else 1)

    def _check_ways(self, switches: Sequence[Device]) -> None:
        if len(switches) == 1:
            return
        if len(switches) > MOST_LOCATIONS:
            raise NoHookup(
                f"{_in_order(s.id for s in switches)} act on common loads: more than {MOST_LOCATIONS} locations "
                "are beyond what is reckoned here."
            )
        for switch in switches:
            if switch.ways is SwitchWays.SINGLE_POLE or switch.ways is SwitchWays.DOUBLE_POLE:
                others = _in_order(s.id for s in switches if s is not switch)
                raise NoHookup(
                    f"Switch {_placed(switch)} is {switch.ways.value}, but it shares a load with {others}: "
                    "it has to be a three-way or a four-way."
                )
        three = [switch.id for switch in switches if switch.ways is SwitchWays.THREE_WAY]
        if len(three) > 2:
            raise NoHookup(
                f"{_in_order(three)} are all three-way; of {len(switches)} locations two are three-way and "
                "the others have to be four-way."
            )

    def _hot_spot(self, target: Target) -> Spot:
        device = self.devices[target[0]]
        if target[1] is not None:
            return Spot(device.node, device.id, f"hot_{target[1].value}")
        return Spot(device.node, device.id, "line_hot" if device.kind is Kind.GFCI else "hot")

    def _neutral_spots(self, tier: Tier) -> list[Spot]:
        found = []
        for spot in tier.spots:
            device = self.devices[spot.device]
            if device.id not in self.wired_neutral:
                self.wired_neutral.add(device.id)
                found.append(_neutral_of(device))
        return found

    def _leg_stated(self, target: Target) -> int | None:
        device = self.devices[target[0]]
        if target[1] is not None and target[1] is not device.split and device.second_leg:
            return device.second_leg
        return device.leg

    def _keep_neutral(self, group: Group, supply: Supply) -> None:
        kinds = {self.devices[spot.device].kind for tier in group.tiers for spot in tier.spots}
        lighting = any(kind.value in self.lighting for kind in kinds)
        for switch in group.switches:
            if switch.needs_neutral:
                supply.neutral.append(Spot(switch.node, switch.id, "neutral"))
            if self._needs_neutral(switch.node, lighting):
                supply.kept.add(self.kept_at.get(switch.node, switch.node))

    def _needs_neutral(self, node: str, lighting: bool) -> bool:
        if node in self.wiring.neutral_required:
            return True
        if node in self.wiring.neutral_exempt:
            return False
        match self.wiring.neutral_rule:
            case NeutralRule.REQUIRED:
                return True
            case NeutralRule.EXEMPT:
                return False
            case NeutralRule.CODE:
                return lighting and self.code.flag("hookup.neutral_at_switch", self.work)

    def _name(self, target: Target) -> str:
        both = (target[0], Half.TOP) in self.control and (target[0], Half.BOTTOM) in self.control
        return f"{target[0]} {target[1].value}" if both and target[1] else target[0]

    def _names(self, targets: Iterable[Target]) -> str:
        return _in_order(self._name(target) for target in targets)

    # -- units -----------------------------------------------------------------------------------------------

    def _members(self, components: Sequence[Sequence[Device]]) -> list[list[Device]]:
        """Devices that one source has to feed together."""
        own = {device.id: {device.id} for device in self.wiring.devices}

        def together(ids: Iterable[str]) -> None:
            merged = set().union(*(own[one] for one in ids))
            for one in merged:
                own[one] = merged

        for switches in components:
            loads = {load for switch in switches for load in switch.controls}
            together([*(switch.id for switch in switches), *loads])
        for gfci in self._of(Kind.GFCI):
            together([gfci.id, *gfci.protects])
        seen: set[str] = set()
        found = []
        for device in self.wiring.devices:
            if device.id not in seen:
                seen |= own[device.id]
                found.append([other for other in self.wiring.devices if other.id in own[device.id]])
        self.wired_neutral: set[str] = set()
        return found

    def _unit(self, members: Sequence[Device]) -> Unit:
        stated = sorted({device.source for device in members if device.source})
        if len(stated) > 1:
            raise NoHookup(
                f"{_in_order(device.id for device in members if device.source)} belong together, "
                f"but are said to be fed by {_in_order(stated)}."
            )
        sides = {
            device.id: Supply(gfci=device, switched=device.id in self.switched_gfci)
            for device in members
            if device.kind is Kind.GFCI and device.protects
        }
        unit = Unit(
            tuple(device.id for device in members),
            stated[0] if stated else None,
            Supply(),
            list(sides.values()),
        )
        for device in members:
            if device.kind is Kind.SWITCH:
                continue
            gfci = self._nearest(self.guards[device.id], device.id)
            self._hang(device, unit.line if gfci is None else sides[gfci])
        return unit

    def _hang(self, device: Device, supply: Supply) -> None:
        """Hang what no switch turns on the supply's hot, and a device that is always live on its neutral."""
        halves = (Half.TOP, Half.BOTTOM) if device.id in self.split else (None,)
        fed = False
        for half in halves:
            target: Target = (device.id, half)
            if target in self.control and not self._rides_on_gfci(target):
                continue
            if supply.switched and not self._rides_on_gfci(target):
                assert supply.gfci is not None
                raise NoHookup(
                    f"{device.id} in {device.node} is on the load side of {supply.gfci.id}, which is switched, so it "
                    "goes off with it: let the same switches control it."
                )
            fed = True
            supply.feed(1 if supply.gfci else self._leg_stated(target) or 1, self._hot_spot(target))
        if fed:
            self.wired_neutral.add(device.id)
            supply.neutral.append(_neutral_of(device))


def _neutral_of(device: Device) -> Spot:
    return Spot(device.node, device.id, "line_neutral" if device.kind is Kind.GFCI else "neutral")


def _in_order(ids: Iterable[str]) -> str:
    return listed(sorted(ids))


def _placed(device: Device) -> str:
    """Where a device is, for a sentence; one that is alone in its box goes by the box's name."""
    return f"in {device.node}" if device.id == device.node else f"{device.id} in {device.node}"
