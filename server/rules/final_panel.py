"""The panel as it is left: closed, clean, tried, with room before it."""

from __future__ import annotations

from server.dwelling import Panel, Stage
from server.rules.citing import PRACTICE, carried, held
from server.rules.looks import look
from server.rules.panel_terminals import has_protecting_breakers

__all__ = [
    "breakers_tested",
    "panel_clean",
    "panel_cover_on",
    "panel_wires_square",
    "spare_breakers_off",
    "working_space_kept",
    "working_space_lit",
]

panel_cover_on = look(
    id="panel-cover-on",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.27(A), 408.38"),
    title="The panel's cover is on, with the screws that came with it",
    why="A pointed screw goes through a conductor behind the cover.",
    look_for="Cover and door on and square, blunt machine screws in every hole, nothing pinched; flush panels within a quarter inch of the wall's face.",
    cure="Fit the cover with its own screws.",
    mistakes="Drywall screws.",
    plain="Put the panel cover on with its own blunt screws.",
    danger="Fitting a cover near live busbars has killed people. Power off, and in qualified hands.",
)

panel_clean = look(
    id="panel-clean",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.12(B)"),
    title="The panel is clean inside",
    why="Plaster on busbars and chips of copper behind breakers make heat and shorts.",
    look_for="No plaster, paint, sawdust, strippings or abrasive on breakers, bars and terminals.",
    cure="Vacuum the panel with the power off; replace what is painted over.",
    mistakes="Spray texture through the open panel.",
    plain="Vacuum out the panel before the cover goes on.",
    danger="Only with the power off and proved dead, and never near the supply lugs.",
)

panel_wires_square = look(
    id="panel-wires-square",
    stage=Stage.FINAL,
    about=Panel,
    cites=held("110.12"),
    title="Conductors in the panel lie at right angles without excess",
    why="A panel that can be read can be worked in.",
    look_for="Conductors along the sides, a square turn to each breaker, neutral and ground traced as easily, a little spare and no loops.",
    cure="Lay the conductors along the sides and shorten what hangs out.",
    plain="Run the wires in the panel neatly along the edges.",
)

spare_breakers_off = look(
    id="spare-breakers-off",
    stage=Stage.FINAL,
    about=Panel,
    cites=PRACTICE,
    title="Spare breakers are off and named as spares",
    why="A breaker that is on and feeds nothing hides the one that feeds something.",
    look_for="Breakers without a circuit in the off position, “spare” in the directory.",
    cure="Switch the spares off and name them.",
    plain="Leave spare breakers off and label them.",
)

breakers_tested = look(
    id="breakers-tested",
    stage=Stage.FINAL,
    about=Panel,
    cites=held("110.3(B)"),
    title="Every GFCI and AFCI breaker trips by its test button",
    why="A breaker that came dead from the carton protects nobody, and looks the same.",
    look_for="Power on, each GFCI and AFCI breaker tripped by its button and reset; what it feeds goes dead and comes back.",
    cure="Replace a breaker that does not trip, and look for the crossed neutral where one does not reset.",
    applies=has_protecting_breakers,
    plain="Press the test button of every AFCI and GFCI breaker.",
    danger="A breaker that does not trip by its button must not stay in use.",
)

working_space_kept = look(
    id="working-space-kept",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.26(B)"),
    title="Nothing is built or stored before the panel",
    why="What is put there on moving day stays there.",
    look_for="Three feet of floor before the panel free of shelves, freezers, boxes, hampers, water softeners.",
    cure="Move what stands there, and mark the floor.",
    mistakes="Hooks for the bicycles right before the panel.",
    plain="Keep the space in front of the panel empty.",
)

working_space_lit = look(
    id="working-space-lit",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.26(D)"),
    title="There is light at the panel, with a switch",
    why="Nobody should look for a breaker with a telephone between the teeth.",
    look_for="A luminaire that lights the panel, not one that only a motion sensor turns on.",
    cure="Set a luminaire near the panel, with a switch.",
    plain="You need a working light near the panel.",
)
