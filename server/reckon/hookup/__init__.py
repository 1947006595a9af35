"""Which conductor goes where: the hookup of a circuit from its boxes, cables and devices.

``solve_hookup(wiring, code, work)`` decides exactly whether a lawful hookup exists and writes the best one out;
``box_view(hookup, node)`` is one box of it for a drawing. The way there, module by module:

* ``facts`` what is asked; ``faults`` what cannot be asked; ``result`` what is answered
* ``reading`` makes ``demand`` of the devices: groups of switches, supplies, what one source feeds as a whole
* ``rings`` opens rings of cables into trees; ``tree`` paths and spanning subtrees as packed integers
* ``supplies`` the nets of hot and neutral; ``nets`` those of a group once its order is chosen
* ``chains`` the orders of one group; ``orders`` the best of all groups; ``search`` over the sources
* ``colors`` and ``meter`` what fits into a cable; ``plan`` writes it out; ``sentences`` says it
* ``simulate`` proves the plan from its joins alone (``joined``), over all switch positions
"""

from server.reckon.hookup.box_view import BoxView, ConductorView, JoinView, box_view
from server.reckon.hookup.facts import Cable, Device, Half, Kind, NeutralRule, Node, SwitchWays, Wiring
from server.reckon.hookup.faults import Fault, faults_of
from server.reckon.hookup.result import (
    BoxPlan,
    CableEnd,
    CableNeed,
    CablePlan,
    Conductor,
    End,
    Hookup,
    Join,
    Plan,
    Short,
    Terminal,
    TruthRow,
    TruthTable,
)
from server.reckon.hookup.simulate import Proof, prove
from server.reckon.hookup.solve import solve_hookup

__all__ = [
    "BoxPlan",
    "BoxView",
    "Cable",
    "CableEnd",
    "CableNeed",
    "CablePlan",
    "Conductor",
    "ConductorView",
    "Device",
    "End",
    "Fault",
    "Half",
    "Hookup",
    "Join",
    "JoinView",
    "Kind",
    "NeutralRule",
    "Node",
    "Plan",
    "Proof",
    "Short",
    "SwitchWays",
    "Terminal",
    "TruthRow",
    "TruthTable",
    "Wiring",
    "box_view",
    "faults_of",
    "prove",
    "solve_hookup",
]
