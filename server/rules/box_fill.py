"""Box fill: what the recorded cables and devices need against what the box has.

The counting is ``server.reckon.box_fill``; here the house's facts are turned into its contents. Boxes with the same
contents are reckoned once. Where nobody recorded whether the clamps are inside, both readings are tried, and only
where they differ is the fact asked for.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from server.dwelling import Box, Clamps, Device, Dwelling, Stage
from server.editions import Edition
from server.reckon.box_contents import (
    Addition,
    BoxContents,
    BoxSize,
    ConductorRole,
    Conductors,
    SupportFitting,
    Yoke,
)
from server.reckon.box_cure import cure_box
from server.reckon.box_fill import BoxFill, reckon_box_fill
from server.reckon.conductor_sizes import ConductorError
from server.reckon.remembered import remembered
from server.reckon.standard_boxes import BoxError
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["box_fill", "contents_of"]

_DEVICE_AWG = ("14", "12", "10", "8", "6")
"""Sizes that end on devices; a smaller number is a larger wire."""


def contents_of(box: Box, house: Dwelling) -> BoxContents | Missing:
    """What is in a box as box fill counts it, or the fact that is missing to say it.

    Luminaires hang on the box's ears: their fixture wires come from the canopy and are left to the one who fits
    them.
    """
    cables = house.cables_of_box.get(box.id, ())
    if not cables:
        return Missing("the cables that enter it", "cable")
    insulated: Counter[str] = Counter()
    grounds: Counter[str] = Counter()
    for cable in cables:
        if cable.awg is None:
            return Missing("the wire size of each cable", "cable.awg")
        ends = (cable.a_box_id == box.id) + (cable.b_box_id == box.id)
        insulated[cable.awg] += cable.insulated * ends
        if cable.has_ground:
            grounds[cable.awg] += ends
    fittings = frozenset(
        fitting
        for fitting, count in (
            (SupportFitting.STUD, box.luminaire_studs),
            (SupportFitting.HICKEY, box.hickeys),
        )
        if count
    )
    return BoxContents(
        conductors=tuple(
            [Conductors(awg, count) for awg, count in insulated.items()]
            + [Conductors(awg, count, ConductorRole.GROUND) for awg, count in grounds.items()]
        ),
        devices=tuple(_yoke(device, house) for device in house.devices_of_box.get(box.id, ())),
        clamps=box.clamps or Clamps.NONE,
        fittings=fittings,
        box=BoxSize(
            box.trade_size,
            box.volume_in3,
            box.gangs,
            () if box.ring_in3 is None else (Addition("ring", box.ring_in3),),
        ),
    )


def _yoke(device: Device, house: Dwelling) -> Yoke:
    return Yoke(str(device.kind), device.largest_awg or _connected_awg(device, house), device.gangs_wide)


def _connected_awg(device: Device, house: Dwelling) -> str | None:
    """The largest conductor that can be on a device whose circuit is named: that of its circuit's cables in the box."""
    if device.circuit_id is None or device.second_circuit_id is not None:
        return None
    cables = [
        cable
        for cable in house.cables_of_box.get(device.box_id, ())
        if device.circuit_id in cable.circuit_ids
    ]
    plain = [int(cable.awg) for cable in cables if cable.awg in _DEVICE_AWG]
    return str(min(plain)) if plain and len(plain) == len(cables) else None


def _reckon(contents: BoxContents, code: Edition, work: Work) -> BoxFill:
    return reckon_box_fill(contents, code, work) if work else _known(contents, code)


@remembered(4096)
def _known(contents: BoxContents, code: Edition) -> BoxFill:
    """Most boxes of a house are one of a few dozen."""
    return reckon_box_fill(contents, code)


def _cure(fill: BoxFill, contents: BoxContents, code: Edition) -> str:
    found = cure_box(fill, contents, code)
    ways = []
    if found.extension_in3:
        ways.append(f"fit a ring or extension marked with at least {float(found.extension_in3):g} in³")
    if found.smallest_box is not None:
        room = float(found.smallest_box.volume_in3)
        ways.append(
            f"change to a box of {found.smallest_box.name} ({room:g} in³) or a plastic one marked with more"
        )
    ways.append("take a splice out of this box into one beside it")
    text = "; or ".join(ways)
    return f"{text[0].upper()}{text[1:]}."


@rule(
    id="box-fill",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("314.16"),
    title="The box is large enough for what is in it",
    why="Conductors that are crammed behind a device are nicked and run hot, and the splice that gives way is behind a "
    "finished wall.",
    look_for="Count by the article: each conductor that comes from outside, the device as two, the inside clamps as "
    "one, the grounds together. The volume is marked inside a plastic box and stands in the table for a metal one.",
    cure="Change to a deeper box, or add a ring or extension that is marked with its volume.",
    says={
        "fits": "The contents need {required_in3:n} in³; the box has {available_in3:n}.",
        "too-small": "The contents need {required_in3:n} in³ and the box has {available_in3:n}: it is {short_in3:n} in³ too small.",
        "fact-missing": "The fill cannot be reckoned: {what} is not recorded.",
        "no-such-box": "{trade_size} is no standard size of the table, and no volume is recorded.",
        "clamps-decide": "Without inside clamps the contents fit ({required_in3:n} of {available_in3:n} in³), with them not.",
        "no-such-wire": "The fill cannot be reckoned: {what}.",
        "large-conductors": "{why}.",
    },
    cures={"too-small": "{cure}"},
    mistakes="Counting a two-gang device as one yoke; taking the volume of a metal box by its outside; counting pigtails.",
    plain="Every box has a size in cubic inches, and each wire, device and clamp in it takes up some of that.",
)
def box_fill(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The allowances of the contents against the volume of box and ring."""
    contents = contents_of(box, house)
    if isinstance(contents, Missing):
        return unseen("fact-missing", contents, what=contents.words)
    try:
        fill = _reckon(contents, code, work)
    except BoxError as error:
        if error.field == "table":
            missing = Missing("the volume marked on the box", "box.volume_in3")
            return unseen("no-such-box", missing, trade_size=box.trade_size)
        return unseen("no-such-wire", Missing("the wire size of each cable", "cable.awg"), what=str(error))
    except ConductorError as error:
        return unseen("no-such-wire", Missing("the wire size of each cable", "cable.awg"), what=str(error))
    if fill.outside or fill.required_in3 is None:
        return outside("large-conductors", why=fill.outside)
    if fill.available_in3 is None:
        field = "box.trade_size" if box.material == "metal" else "box.volume_in3"
        missing = Missing("the size or marked volume of the box", field)
        return unseen("fact-missing", missing, what=missing.words)
    required_in3, available_in3 = fill.required_in3, fill.available_in3
    if box.clamps is None and fill.fits:
        clamped = _reckon(replace(contents, clamps=Clamps.INTERNAL), code, SILENT)
        if not clamped.fits:
            missing = Missing("whether it has clamps inside", "box.clamps")
            return unseen("clamps-decide", missing, required_in3=required_in3, available_in3=available_in3)
    if fill.fits:
        return clear("fits", required_in3=required_in3, available_in3=available_in3)
    return correction(
        "too-small", required_in3=required_in3, available_in3=available_in3, short_in3=required_in3 - available_in3,
        cure=Lazily(lambda: _cure(fill, contents, code)),
    )  # fmt: skip
