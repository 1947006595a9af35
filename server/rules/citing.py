"""Which article stands behind a rule in each edition, written in one line.

cites=carried("314.23")                                    2017-2023 the same; 2026 carried, shown as unverified
cites=moved(e2017="314.17(C)", e2020="314.17(B)(1)")       each stands until the next one named
cites=moved(e2020="230.67")                                not in the editions before
cites=moved(e2017="300.4(D)", e2026="300.6(D)")            a 2026 number that somebody has seen in print
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

__all__ = ["DEPARTMENT", "PRACTICE", "carried", "held", "moved"]

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
