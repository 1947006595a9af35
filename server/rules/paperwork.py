"""Papers that the department wants to see before it looks at anything else."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT, held
from server.rules.looks import look
from server.rules.rule import Kind

__all__ = [
    "adopted_edition_known",
    "earlier_corrections_closed",
    "early_power_form",
    "fees_paid",
    "inspection_card",
    "instructions_on_site",
    "licenses_held",
    "load_calculation_filed",
    "panel_schedule_shown",
    "permit_in_force",
    "permit_matches",
    "permit_posted",
    "plans_on_site",
    "utility_order",
    "visits_in_order",
]

permit_posted = look(
    id="permit-posted",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The permit is issued and posted where it is seen",
    why="Work begun before the permit can cost double, and an inspector who finds none posted may turn around at the door.",
    look_for="The electrical permit, issued before the first box was set, behind glass or in a dry sleeve at the front of the house.",
    cure="Get the permit before going on, and post it where it can be read from outside the work.",
    mistakes="The building permit is posted and the electrical one still lies in the truck.",
    plain="Have your electrical permit before you start, and hang it where the inspector sees it.",
)

permit_matches = look(
    id="permit-matches-work",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Address, number and scope on the permit are those of the work",
    why="What the permit does not name is work without a permit, whoever did it and however well.",
    look_for="The street address and lot, the service size, the kind of work: everything that will be shown stands in the scope.",
    cure="Have the scope amended before the visit, with the fee that goes with it.",
    mistakes="A service change or a hot tub that was added after the permit was drawn.",
    plain="Check that the permit lists everything you are doing, at the right address.",
)

permit_in_force = look(
    id="permit-in-force",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The permit has not run out",
    why="Permits lapse when nobody calls for an inspection for a while; then everything starts over with a new fee.",
    look_for="The date of issue and of the last passed inspection against the department's limit, often half a year.",
    cure="Ask for an extension, or renew the permit, before calling for the visit.",
    plain="A permit runs out if nothing is inspected for months. Check the date.",
)

plans_on_site = look(
    id="plans-on-site",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The approved plans are on site",
    why="The inspector compares the house with the stamped set, and will not wait while somebody drives to fetch it.",
    look_for="The stamped set, with every sheet that shows wiring, dry and at hand; changes approved and marked on it.",
    cure="Bring the stamped set, and have changes approved before the visit.",
    mistakes="A clean copy without the stamp; a revised kitchen on a sheet that nobody submitted.",
    plain="Keep the plans with the town's stamp in the house.",
)

inspection_card = look(
    id="inspection-card",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The inspection card is on site for its signatures",
    why="The card is the record: a line that nobody signed is a visit that did not happen.",
    look_for="The card, with the lines of the earlier visits signed, where the inspector can write on it.",
    cure="Post the card; have a missing signature entered by the inspector who made that visit.",
    plain="Keep the inspection card where the inspector can sign it.",
)

visits_in_order = look(
    id="visits-in-order",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The visits are asked for in the department's order",
    why="A final without a passed rough, or a rough before the framing is scheduled, is refused and charged for.",
    look_for="Pole, footing, slab or trench, rough, service, final, as the department lists them; the one before this one passed; the "
    "other trades where it wants them first.",
    cure="Ask for the visit that comes first, and move this one.",
    mistakes="Calling for the final with a rough-in correction still open.",
    plain="Inspections come in a fixed order. Make sure the one before this is signed.",
)

earlier_corrections_closed = look(
    id="earlier-corrections-closed",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Earlier corrections are done and signed off",
    why="Most departments charge for a second visit that finds the first notice unmended, and some set a date for it.",
    look_for="Every line of every notice: mended, photographed, and signed, before its date.",
    cure="Mend what is left on the notice before you call again.",
    plain="Fix everything on the last correction notice before you call the inspector back.",
)

fees_paid = look(
    id="fees-paid",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Permit and reinspection fees are paid",
    why="Nobody is sent out while a fee is open.",
    look_for="The receipt of the permit fee, and of the reinspection fee where a visit failed; the visits that the fee still covers.",
    cure="Pay what is open, and keep the receipt with the card.",
    plain="Pay any reinspection fee before you ask for the next visit.",
)

licenses_held = look(
    id="licenses-held",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Everybody at work holds the license that the place asks for",
    why="Work by people without a license is not accepted, and its insurance does not pay.",
    look_for="The contractor's and the electricians' licenses, apprentices within the ratio and supervised; or the owner's exemption.",
    cure="Have a licensed electrician take the work over, or show the exemption.",
    plain="Only licensed electricians, or you yourself under an owner's permit, may do the wiring.",
)

adopted_edition_known = look(
    id="adopted-edition-known",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The department has said which edition and which amendments hold",
    why="The edition is fixed by the permit's date and by local law, and the next town may use another one.",
    look_for="The edition year and the list of local amendments, from the department or its page, entered in this job.",
    cure="Ask the department which edition holds for this permit and what it has amended, and enter both.",
    mistakes="Taking the newest book for the one in force.",
    plain="Ask your town which year of the electrical code it uses, and what it has changed in it.",
)

load_calculation_filed = look(
    id="load-calculation-filed",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The load calculation is at hand",
    why="It shows that the service is large enough; without it a new range, charger or addition is an open question.",
    look_for="A calculation by one of the code's methods, with the floor area and every large appliance as it was installed.",
    cure="Reckon the load of the house as it is built, and file it.",
    mistakes="A calculation of the plan set, before the car charger and the second oven.",
    plain="Show the sheet that proves your main breaker is big enough for everything in the house.",
)

panel_schedule_shown = look(
    id="panel-schedule-shown",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Panel schedule and one-line are at hand",
    why="With them the inspector reads the house in a minute; without them every breaker is a question.",
    look_for="A schedule of circuits with breaker and wire size, and a one-line of service, panels and feeders with their sizes.",
    cure="Print the panel schedule and the one-line of this job.",
    plain="Have a list of your circuits with breaker and wire sizes ready.",
)

instructions_on_site = look(
    id="instructions-on-site",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=held("110.3(B)"),
    title="The makers' instructions are on site",
    why="What the instructions ask of a fan, a tub or a panel is part of its listing, and the inspector may ask to read it.",
    look_for="A folder with the instructions of panels, fans, luminaires in insulation, tubs, heaters and appliances.",
    cure="Collect the instructions from the boxes, or print them.",
    mistakes="Thrown out with the cartons.",
    plain="Keep every instruction sheet until the final inspection.",
)

utility_order = look(
    id="utility-order",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The utility has given its work order and meter spot",
    why="The department cannot release a service that the utility has no order for, and the utility sets where the meter goes.",
    look_for="The work-order number, and the meter place approved by the utility, before the service is set.",
    cure="Ask the utility for the meter place and the order number, and write the number on the card.",
    plain="Call the power company early: it decides where the meter goes and needs an order number.",
)

early_power_form = look(
    id="early-power-form",
    stage=Stage.PAPERWORK,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Power before the final is signed for",
    why="Whoever uses the permanent wiring early answers for what it does; departments want that on paper.",
    look_for="Where the permanent wiring is used during construction: the signed form that names circuits, days and who is responsible. "
    "Record “not here” where nothing is energized early.",
    cure="Get the department's form signed, and switch off the circuits that it does not name.",
    plain="If you want power before the final inspection, ask for the form and sign it.",
    danger="An energized house with open boxes hurts people. Covers stay on, unfinished circuits stay off.",
)
