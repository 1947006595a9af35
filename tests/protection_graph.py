"""A circuit as a networkx graph: what checks coverage and cures from outside."""

from __future__ import annotations

from typing import Any

import networkx as nx

from server.reckon.protection.tree import SOURCE, ProtectionTree

__all__ = ["graph_of", "reaches"]


def graph_of(tree: ProtectionTree, leg: str, without: str) -> tuple[nx.DiGraph, dict[str, Any]]:
    """The leg as a directed graph of joined conductors, without the devices that give a protection.

    Cables run both ways; a device runs from what feeds it to its load. AFCI devices are counted by the means checked
    above, which the caller passes in as the device's own flag.
    """
    boxes = {box.id for box in tree.boxes}
    hung: dict[tuple[str, str, str], str] = {}
    for device in tree.devices:
        for cable in device.load_cables:
            hung.setdefault(("cable", cable, device.box), device.id)
        for outlet in (*device.load_outlets, *((device.outlet,) if device.outlet else ())):
            hung.setdefault(("outlet", outlet, device.box), device.id)
        for other in device.load_devices:
            hung.setdefault(("device", other, device.box), device.id)
    graph = nx.DiGraph()
    graph.add_node(SOURCE)
    for cable in tree.cables:
        if leg in cable.legs and cable.a != cable.b and {cable.a, cable.b} <= boxes | {SOURCE}:
            ends = [
                ("load " + hung[key]) if (key := ("cable", cable.id, end)) in hung else end
                for end in (cable.a, cable.b)
            ]
            graph.add_edges_from([ends, ends[::-1]])
    for device in tree.devices:
        if device.leg == leg and not getattr(device, without, False):
            key = ("device", device.id, device.box)
            graph.add_edge("load " + hung[key] if key in hung else device.box, "load " + device.id)
    seats = {
        outlet.id: "load " + hung[key] if (key := ("outlet", outlet.id, outlet.box)) in hung else outlet.box
        for outlet in tree.outlets
    }
    return graph, seats


def reaches(graph: nx.DiGraph, seat: str) -> bool:
    return bool(graph.has_node(seat) and nx.has_path(graph, SOURCE, seat))
