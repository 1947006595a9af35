"""Must an outlet have ground-fault circuit-interrupter protection?"""

from __future__ import annotations

from dataclasses import replace

from server.editions import Edition
from server.reckon.protection.facts import OutletFacts, Requirement
from server.reckon.protection.gfci_outlets import served_outlets
from server.reckon.protection.gfci_places import listed_places
from server.reckon.protection.reaches import Reach, fold
from server.reckon.work import SILENT, Work

__all__ = ["gfci_required"]

_LIST = "gfci.receptacle.volts_max"
_NO_RULE = {
    "receptacle": Reach(False, "gfci nowhere", (_LIST, "gfci.sink.within_ft", "gfci.tub.within_ft")),
    "lighting": Reach(False, "gfci lighting", ("gfci.crawl_light.volts_max",)),
    "hardwired": Reach(False, "gfci hardwired", ("gfci.appliances",), cites="210.8"),
    "switch": Reach(False, "gfci switch", (_LIST,), cites="210.8"),
}


def gfci_required(outlet: OutletFacts, code: Edition, work: Work = SILENT) -> Requirement:
    """Whether an outlet of a dwelling needs GFCI protection (210.8 and the articles it points to).

    Only what the code asks is answered; nothing forbids protecting more, except fire alarm circuits (760).
    """
    reaches = [
        *(listed_places(outlet, code) if outlet.kind == "receptacle" else ()),
        *served_outlets(outlet, code),
    ]
    found = fold(reaches, _NO_RULE[outlet.kind], code, work)
    if found.required is True and outlet.work_on == "replacement" and outlet.kind == "receptacle":
        article = code.cites("gfci.replacement")
        if not code.flag("gfci.replacement"):
            return replace(found, required=False, reason="gfci nowhere", operands={})
        if work:
            work.step(
                "A replaced receptacle must have the protection that a new one would need.", cites=article
            )
        return replace(found, cites=(*found.cites, article))
    return found
