"""Which article stands behind a rule in each edition, written in one line.

cites=carried("314.23")                                    2017-2023 the same; 2026 carried, shown as unverified
cites=moved(e2017="314.17(C)", e2020="314.17(B)(1)")       each stands until the next one named
cites=moved(e2020="230.67")                                not in the editions before
cites=moved(e2017="300.4(D)", e2026="300.6(D)")            a 2026 number that somebody has seen in print
cites=limited_energy("725.136, 800.133")              725 as it was taken apart in 2023 and 2026
cites=held("110.3(B)")                                     the same in 2026 too, where somebody has read the number
cites=PRACTICE                                             the trade's own standard

Where the numbers that 2026 keeps were read: 110.3(B) and 110.12, article 110 by the 2026 edition, codebookcity.com;
210.11(C)(2), LightNOW relaying EC&M, December 2025; 250.50, EC&M on an interim amendment, 26 January 2026; 310.12,
Daily Reporter, 22 June 2026; 422.12, ElectricalLicenseRenewal.com, section 1938.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from server.editions import YEARS
from server.rules.rule import COMMON_PRACTICE, NOT_IN_EDITION, Carried

__all__ = ["DEPARTMENT", "PRACTICE", "carried", "held", "limited_energy", "moved"]

PRACTICE: Final[Mapping[int, str]] = dict.fromkeys(YEARS, COMMON_PRACTICE)
DEPARTMENT: Final[Mapping[int, str]] = dict.fromkeys(YEARS, "local department")
"""The building department's own requirement: no article of the code stands behind it."""


def carried(article: str) -> Mapping[int, str]:
    """One number in every edition that has been seen, carried to 2026."""
    return moved(e2017=article)


def held(article: str) -> Mapping[int, str]:
    """One number in every edition, read for 2026 as well."""
    return moved(e2017=article, e2026=article)


def moved(
    *, e2017: str = NOT_IN_EDITION, e2020: str = "", e2023: str = "", e2026: str = ""
) -> Mapping[int, str]:
    """The number in each edition; an edition left out keeps the one before, and 2026 is then only carried."""
    e2020 = e2020 or e2017
    e2023 = e2023 or e2020
    last = e2026 or (e2023 if e2023 == NOT_IN_EDITION else Carried(e2023))
    return {2017: e2017, 2020: e2020, 2023: e2023, 2026: last}


_TAKEN_APART: Final = (
    ("725.121", "725.60", "721"),
    ("725.154", "722.135", "722"),
    ("725.24", "722.24", "722"),
    ("725.25", "722.25", "722"),
    ("725.143", "722.24", "722"),
    ("725.136", "725.136", "720 to 723"),
)
"""Where the sections of 725 went in 2023 and 2026. Read: 722.24, ElectricalLicenseRenewal.com, section 1573; that in 2026
power sources are in 721, cables in 722, raceways in 723 and nearly nothing is left in 725, Low Voltage Nation, 5 February
2026. From memory: 725.60, 722.25, 722.135 and where the support of cables (725.143) went."""


def limited_energy(article: str) -> Mapping[int, str]:
    """Numbers of 2017 and 2020, some of them in 725, with where they went; 2026 is shown as unverified."""
    later, latest = article, article
    for was, e2023, e2026 in _TAKEN_APART:
        later, latest = later.replace(was, e2023), latest.replace(was, e2026)
    once = ", ".join(dict.fromkeys(later.split(", ")))
    return moved(e2017=article, e2023=once, e2026=Carried(", ".join(dict.fromkeys(latest.split(", ")))))
