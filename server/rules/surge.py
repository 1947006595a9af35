"""Surge protection of the dwelling's service: required since 2020."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import PRACTICE, moved
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = ["surge_protector", "surge_protector_lamp", "surge_protector_rating"]

surge_protector = look(
    id="surge-protector",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2020="230.67"),
    title="A surge protector is at the service",
    why="GFCIs, AFCIs and alarms are electronic: a surge that nobody notices leaves them dead, and everybody believes them alive.",
    look_for="A Type 1 or Type 2 device in the service panel or right beside it (or in every panel fed from it), its leads short and straight.",
    cure="Fit a Type 1 or Type 2 surge protector at the service panel, with the shortest leads that reach.",
    mistakes="A power strip; two feet of coiled lead, which takes away most of the protection.",
    plain="New and replaced main panels need a whole-house surge protector.",
    danger="A device on the line side of the main is connected by the utility or with its disconnection, never live.",
)

surge_protector_rating = measured(
    id="surge-protector-rating",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2023="230.67(E)"),
    title="The surge protector's discharge current is large enough",
    why="A small one does not outlast its first storm.",
    look_for="The nominal discharge current (In) on its label, in kA.",
    cure="Fit a device with a higher nominal discharge current.",
    measure=Measure(
        unit="kA",
        limit="surge.discharge_ka",
        least=True,
        how="Read the nominal discharge current, In, on the device's label; not the larger peak figure on the carton.",
        worst="the only device, or the smallest where each panel has one",
    ),
    mistakes="Reading the peak surge current instead of In.",
    plain="Look for In of at least 10 kA on the label.",
)

surge_protector_lamp = look(
    id="surge-protector-lamp",
    stage=Stage.FINAL,
    about=Site,
    cites=PRACTICE,
    title="The surge protector's lamp says that it works",
    why="It wears out by doing its work.",
    look_for="Its lamp lit or its window green, power on.",
    cure="Replace the device, power off, by one of the same kind.",
    plain="Check that the light on the surge protector is on.",
)
