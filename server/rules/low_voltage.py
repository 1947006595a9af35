"""Low voltage as it is finished: transformers, boxes, and the grounds of what comes in from outside."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Room, Site, Stage
from server.rules.citing import carried, limited_energy
from server.rules.looks import look
from server.rules.reach import fixture_is, has_boxes

__all__ = ["communications_grounded", "low_voltage_boxes", "low_voltage_transformer", "security_panel_supply"]

low_voltage_transformer = look(
    id="low-voltage-transformer",
    stage=Stage.FINAL,
    about=Site,
    cites=limited_energy("725.121, 411.6"),
    title="Bell and low-voltage transformers can be reached, with their 120 V side in a box",
    why="A transformer in the attic insulation runs hot beside paper.",
    look_for="Each transformer on the outside of a covered box, in the open, listed as Class 2, its cable not in the box.",
    cure="Mount it on a covered box where it can be reached.",
    mistakes="Behind the drywall at the doorbell.",
    plain="The doorbell transformer must be on a covered box where you can get to it.",
)

low_voltage_boxes = look(
    id="low-voltage-boxes",
    stage=Stage.FINAL,
    about=Room,
    cites=limited_energy("725.136, 800.133"),
    title="No low-voltage wire ends in a power box",
    why="A loose strand of 120 V on a data cable reaches every keyboard of the house.",
    look_for="Data, bell, thermostat and speaker cables in boxes or brackets of their own, or behind a listed divider.",
    cure="Set a bracket beside the power box, or fit a listed divider.",
    applies=has_boxes,
    mistakes="The television box with power and coaxial cable side by side and no divider.",
    plain="Keep data and TV wires out of electrical boxes.",
)

communications_grounded = look(
    id="communications-grounded",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("800.100, 820.100, 810.21"),
    title="Telephone, cable and antenna are grounded to the house's intersystem bar",
    why="On a rod of their own they lift the television to thousands of volts when lightning is near.",
    look_for="The ground of each protector, block and mast led to the bar at the service, short and straight.",
    cure="Lead the ground to the intersystem bar.",
    mistakes="Its own rod at the other end of the house, joined to nothing.",
    plain="The ground wires of phone, TV and dish go to the bar by the meter.",
)

security_panel_supply = look(
    id="security-panel-supply",
    stage=Stage.FINAL,
    about=Fixture,
    cites=limited_energy("760.121(B), 725.121"),
    title="The alarm panel is fed from where nobody turns it off by chance",
    why="Its battery lasts a day; then it watches nothing.",
    look_for="Its transformer plugged in where it cannot fall out, on no switch; one that watches for fire on a circuit of its own without GFCI and AFCI, marked in the directory, its breaker "
    "held on; its battery dated.",
    cure="Move it to an outlet or circuit that stays on.",
    applies=fixture_is(FixtureKind.SECURITY_PANEL),
    mistakes="Plugged in behind the garage GFCI.",
    plain="The alarm system must not hang on a switched or GFCI outlet.",
)
