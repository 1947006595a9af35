"""Work in a house that stood before: what is found in the walls, what is joined to it, what is brought up to date."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT, PRACTICE, carried, limited_energy, moved
from server.rules.job_facts import work_in_old_house
from server.rules.looks import look
from server.rules.rule import Carried, Kind

__all__ = [
    "abandoned_wiring", "added_outlet_ground", "afci_at_old_circuits", "aluminum_branch_devices",
    "aluminum_branch_splices", "box_extended", "false_grounds", "fuses_type_s", "grounding_brought_up", "knob_and_tube",
    "knob_and_tube_joints", "old_breakers_suit", "old_feeder_three_wire", "old_panel_as_box", "old_panel_sound", "old_supply_heat",
    "old_wiring_shown", "opened_walls", "replaced_receptacles", "surface_raceway",
]  # fmt: skip

_OLD = work_in_old_house
_HAZARD = "Old circuits are often fed from two places. Prove every wire dead, each time; what crumbles in the hand is work for a licensed electrician."

old_wiring_shown = look(
    id="old-wiring-shown",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="What stays of the old wiring is on the plan, and the department knows of it",
    why="It decides what has to be brought up to date, and no inspector likes to find it by himself.",
    look_for="A sketch of old circuits that stay, are extended or go; photographs of the old panel; a word from the department on what the work makes due.",
    cure="Write it down, and ask what the department wants renewed.",
    applies=_OLD,
    plain="Note which old circuits stay, and ask the inspector what must be updated.",
)

knob_and_tube = look(
    id="knob-and-tube",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("394.12"),
    title="Knob-and-tube wiring that stays lies in free air",
    why="It gives its heat to the air around it; in insulation it chars its own covering.",
    look_for="Open conductors on porcelain that stay: no insulation blown or laid around them, insulators whole, nothing hung on them. None here: “not here”.",
    cure="Replace the circuit before the bay is insulated.",
    applies=_OLD,
    mistakes="Cellulose blown into walls whose wiring nobody looked at.",
    plain="Never insulate around old knob-and-tube wires. Replace them first.",
    danger=_HAZARD,
)

knob_and_tube_joints = look(
    id="knob-and-tube-joints",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("394.10, 394.56, 300.15, 300.16"),
    title="New cable is joined to old wiring in a box that can be reached",
    why="A twisted joint under friction tape is older than the house's owner.",
    look_for="A box at each change of method, the old conductors in loom through their own holes, insulation that does not crumble, its breaker for its true size. None joined: “not here”.",
    cure="Set a box at the joint, or run new cable back to sound wiring.",
    applies=_OLD,
    plain="Join new cable to old wires only inside a box you can get to.",
    danger=_HAZARD,
)

added_outlet_ground = look(
    id="added-outlet-ground",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=moved(e2017="250.130(C), 406.4(D)", e2026=Carried("250.130(C), 406.12(D)")),
    title="Outlets added to an old circuit without ground bring their own",
    why="A third hole with nothing behind it promises what is not there.",
    look_for="New outlets fed by cable with ground from the panel, or a ground run to one of the points that the article allows; not merely a GFCI ahead of new ones. None added: “not here”.",
    cure="Run a ground to the panel, the electrode conductor or a grounded circuit's box, or run a new circuit.",
    applies=_OLD,
    mistakes="Extending a two-wire circuit and labeling the new receptacle “no ground”.",
    plain="New outlets need a real ground wire, even on old circuits.",
)

false_grounds = look(
    id="false-grounds",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="250.142(B), 406.4(D)", e2026=Carried("250.142(B), 406.12(D)")),
    title="No ground is borrowed from the neutral or the water pipe",
    why="With an open neutral the toaster's case is live, and every tester shows it right.",
    look_for="Old receptacles with three holes opened by sample: no jumper from neutral to ground screw, no wire to a nearby pipe.",
    cure="Take the jumper out, and use GFCI protection with its labels or run a ground.",
    applies=_OLD,
    plain="Never connect an outlet's ground to its neutral.",
    danger="A borrowed ground kills when the neutral opens.",
)

aluminum_branch_splices = look(
    id="aluminum-branch-splices",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("110.14(A), (B)"),
    title="Aluminum branch wiring is joined to copper by connectors listed for it",
    why="The two metals loosen and corrode each other; such joints glow behind plates.",
    look_for="In houses of about 1965 to 1975: connectors marked for aluminum with copper, installed as they say, torqued; boxes with room for them. No aluminum: “not here”.",
    cure="Remake the joints with connectors listed for aluminum to copper.",
    applies=_OLD,
    mistakes="Ordinary wire connectors with a dab of paste.",
    plain="Old aluminum wires need special connectors wherever they meet copper.",
    danger=_HAZARD,
)

aluminum_branch_devices = look(
    id="aluminum-branch-devices",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("404.14(C), 406.3(C)"),
    title="Devices on aluminum wire are marked for it",
    why="Ordinary screws let go of aluminum as it warms and cools.",
    look_for="CO/ALR on receptacles and switches of 15 and 20 A, or a copper tail by a listed connector; no wires pushed into the back. No aluminum: “not here”.",
    cure="Fit CO/ALR devices, or copper tails with listed connectors.",
    applies=_OLD,
    plain="On aluminum wiring use outlets and switches marked CO/ALR.",
)

old_supply_heat = look(
    id="old-supply-heat",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("110.3(B), 410.21"),
    title="New luminaires on old wires are ones that old wires withstand",
    why="Insulation of before 1985 is good for 60 °C; the lamp above it makes 90.",
    look_for="On the luminaire “supply conductors 90 °C”: then new cable from a box away from it. Lamps that stay cool, where the label allows old wires. None: “not here”.",
    cure="Choose another luminaire, or bring new cable from a box nearby.",
    applies=_OLD,
    plain="If the light's label asks for 90 °C wire, old wire will not do.",
)

abandoned_wiring = look(
    id="abandoned-wiring",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=limited_energy("590.3(D), 725.25, 800.25"),
    title="Wiring that is given up is gone, or dead, capped and in a box",
    why="Somebody finds it, and some of it is still live.",
    look_for="Old cables pulled out or cut off at the panel and capped in covered boxes, no live stubs in walls, loose communication cable taken out where it can be reached.",
    cure="Disconnect it at its source, and remove it or cap it in a box.",
    applies=_OLD,
    mistakes="A cut cable in the wall that was on the other breaker.",
    plain="Disconnect unused old cables at the panel; never just cut them off in the wall.",
    danger=_HAZARD,
)

replaced_receptacles = look(
    id="replaced-receptacles",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="406.4(D)", e2026=Carried("406.12(D)")),
    title="Replaced receptacles have what today's would have there",
    why="The exchange is the occasion: GFCI, AFCI, tamper and weather resistance come with it.",
    look_for="Each replaced one: GFCI where the place asks for it, AFCI protection, tamper-resistant, weather-resistant outdoors, covers as today. None replaced: “not here”.",
    cure="Fit devices and protection of today's kind.",
    applies=_OLD,
    plain="A new outlet in an old place must be the modern safe kind.",
)

afci_at_old_circuits = look(
    id="afci-at-old-circuits",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(e2017="210.12(D)", e2023="210.12(E)"),
    title="Old circuits that were extended or moved to a new panel have arc-fault protection where it is due",
    why="Old joints are where arcs begin.",
    look_for="Each extended or rerun circuit in the listed rooms, also after a new panel where its wires were lengthened past what is let off (six feet, no outlets added). None: “not here”.",
    cure="Fit an AFCI breaker, or an AFCI device at the first outlet.",
    applies=_OLD,
    mistakes="A new panel set ten feet away, all old circuits spliced on.",
    plain="When you extend old circuits, they usually need AFCI protection.",
)

old_breakers_suit = look(
    id="old-breakers-suit",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("240.4, 110.14(C)"),
    title="In a new panel each old wire has a breaker for its size",
    why="Old fuses of 30 A on thin wire become breakers of 30 A on thin wire.",
    look_for="Size and metal of each old conductor at the panel against its breaker; tinned copper and aluminum told apart. No old circuits: “not here”.",
    cure="Fit the breaker that the wire asks for.",
    applies=_OLD,
    plain="Match each breaker to the old wire's thickness, not to the old fuse.",
)

old_panel_sound = look(
    id="old-panel-sound",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("110.12(B), 110.3(B)"),
    title="An old panel that stays is sound, and its make is not one that departments turn down",
    why="Breakers of some makes of the last century do not trip; buses that were once wet or hot burn.",
    look_for="No rust, scorching or loose breakers; a main that turns all off (a split bus has several); breakers still made for it; the department asked where the make has a name for failing. New panel: “not here”.",
    cure="Replace the panel by one of today.",
    applies=_OLD,
    mistakes="A new kitchen on a panel whose breakers never trip.",
    plain="Ask the inspector whether your old panel may stay.",
    danger="Do not take the cover off an old panel. Leave that to a licensed electrician.",
)

fuses_type_s = look(
    id="fuses-type-s",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("240.51(B), 240.53, 240.54"),
    title="Plug fuses that stay are of the kind that cannot be made larger",
    why="A 30 A fuse fits the 15 A hole of old.",
    look_for="Type S adapters in every holder, of the wire's size; no coins, foil or jumpers; no holder left open. No fuses: “not here”.",
    cure="Fit Type S adapters of the wire's size, or a panel with breakers.",
    applies=_OLD,
    plain="Old screw-in fuses need adapters so that nobody can put in a bigger one.",
)

grounding_brought_up = look(
    id="grounding-brought-up",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.50, 250.24, 250.104"),
    title="With a new service or panel the grounding is brought up to today's",
    why="The old clamp at the pipe leads to a plastic main since the street was dug up.",
    look_for="Electrodes of today with conductors of the new size, water and gas bonded, intersystem bar, neutral and ground apart where the panel is now fed from a main outside. Service untouched: “not here”.",
    cure="Drive rods, run the conductors, bond the pipes as for a new service.",
    applies=_OLD,
    mistakes="A main set outdoors and the old panel left with its neutral bonded.",
    plain="A new service needs new grounding: rods, water and gas bonds.",
)

old_feeder_three_wire = look(
    id="old-feeder-three-wire",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.32(B)(1), 250.140, 250.142"),
    title="Old three-wire feeders and range circuits stay only where they may",
    why="Their neutral is also the ground: when it opens, stove and shed are live.",
    look_for="To a separate building only with no other metal path and the neutral bonded there; ranges and dryers only on whole old circuits from the service panel, never extended. None: “not here”.",
    cure="Run a new cable with four wires.",
    applies=_OLD,
    mistakes="An old dryer circuit moved to a new subpanel.",
    plain="When you move or extend an old three-wire range or shed circuit, run four wires.",
)

opened_walls = look(
    id="opened-walls",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=PRACTICE,
    title="What the opened walls show is set right before they are closed",
    why="It will not be seen again for fifty years.",
    look_for="Buried boxes brought to the surface, joints without boxes boxed, unprotected cable plated, chewed or scorched cable replaced, spacing of receptacles as the department asks of opened rooms.",
    cure="Mend what is found, or run the room anew.",
    applies=_OLD,
    plain="While the walls are open, fix the old wiring that you can see.",
)

surface_raceway = look(
    id="surface-raceway",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("386.10, 386.60, 388.10"),
    title="Raceway on the surface of old walls is fixed, grounded and closed",
    why="It comes loose from paint, and its metal base is the ground of what hangs on it.",
    look_for="Dry rooms, screws at the maker's distances, covers snapped on along all of it, metal base joined to ground at its feed, in one length where it passes a wall. None: “not here”.",
    cure="Screw the base down, ground it, and fit the missing covers.",
    applies=_OLD,
    mistakes="The starter box hung on an old box without a ground; tape alone on wallpaper.",
    plain="Screw surface wiring channels to the wall and ground the metal ones.",
)

box_extended = look(
    id="box-extended",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("314.22, 314.20"),
    title="Old boxes behind new finish, or with new outlets on them, are brought out by rings and covers for it",
    why="Behind paneling the splices lie in the wood.",
    look_for="An extension ring or extender screwed to the box, its ground joined; surface outlets fed out of a ring or box made for it, no cable out of a hole in the cover. None: “not here”.",
    cure="Fit a ring of the missing depth, grounded, or a surface box over it.",
    applies=_OLD,
    mistakes="New tile, and the box an inch behind it.",
    plain="When you add a layer to a wall, bring the boxes out to its face.",
)

old_panel_as_box = look(
    id="old-panel-as-box",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("312.8, 110.12(A), 314.29"),
    title="An old panel that became a junction box is a closed box with room",
    why="Somebody will take it for the panel again, and find splices behind an empty cover.",
    look_for="Busbars and breakers out, a blank cover screwed on, every opening closed, splices and conductors within its room, grounds bonded to it, a label that says where the panel is; within reach. "
    "None: “not here”.",
    cure="Take the interior out, close the openings, and fit a blank cover with a label.",
    applies=_OLD,
    mistakes="The old breakers left in as stoppers.",
    plain="If the old panel box stays for splices, empty it and screw a solid cover on.",
)
