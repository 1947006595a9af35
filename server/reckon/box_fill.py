"""Box fill (314.16): what the contents of a box need, and what the box has.

Every counting rule is a few lines of its own, in the order of the article: conductors (B)(1), clamps (B)(2),
support fittings (B)(3), yokes (B)(4), equipment grounds (B)(5), terminal blocks (B)(6). The numbers stand in
``editions/box_fill.toml``; what differs between editions differs there.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from server.dwelling.boxes import Clamps
from server.editions import Edition
from server.reckon.box_contents import BoxContents, BoxSize, ConductorRole, Conductors, Yoke
from server.reckon.conductor_sizes import circular_mils, largest, sized
from server.reckon.figures import written
from server.reckon.standard_boxes import GANGED_SHAPES, BoxError, find_box
from server.reckon.work import SILENT, Work

__all__ = ["Allowance", "BoxFill", "allowance_in3", "box_volume_in3", "reckon_box_fill", "yokes_of"]

_TABLE = "box.allowance_in3"
_PLACES = 4
"""Quarter allowances of the table's volumes have up to four decimals."""


@dataclass(frozen=True, slots=True)
class Allowance:
    """One line of the fill: what it is for, of which size, how many single allowances, how much room."""

    what: str
    awg: str
    allowances: Fraction
    in3: Fraction


@dataclass(frozen=True, slots=True)
class BoxFill:
    """What the contents need and what the box has, in cubic inches.

    ``available_in3`` is None where the box is not known. ``outside`` says why the table cannot answer (then
    ``required_in3`` is None); it is empty otherwise.
    """

    required_in3: Fraction | None
    available_in3: Fraction | None
    lines: tuple[Allowance, ...] = ()
    outside: str = ""

    @property
    def fits(self) -> bool | None:
        """Whether the box is large enough; None where that cannot be said."""
        if self.required_in3 is None or self.available_in3 is None:
            return None
        return self.required_in3 <= self.available_in3

    @property
    def left_in3(self) -> Fraction | None:
        """Room left, negative where the box is too small."""
        if self.required_in3 is None or self.available_in3 is None:
            return None
        return self.available_in3 - self.required_in3

    @property
    def allowances(self) -> Fraction:
        """All single allowances together, whatever their size."""
        return sum((line.allowances for line in self.lines), Fraction(0))


@dataclass(slots=True)
class _Tally:
    """The lines of one fill as they are counted."""

    code: Edition
    work: Work
    lines: list[Allowance] = field(default_factory=list)

    def add(self, what: str, awg: str, allowances: Fraction, node: str) -> None:
        each = allowance_in3(awg, self.code, self.work)
        line = Allowance(what, awg, allowances, allowances * each)
        self.lines.append(line)
        if self.work:
            count = written(allowances, _PLACES)
            self.work.step(
                f"{what}: {count} × {written(each)} in³ ({sized(awg)})",
                line.in3,
                "in3",
                self.code.cites(node),
            )

    def number(self, node: str) -> Fraction:
        return self.code.number(node, self.work)

    @property
    def total_in3(self) -> Fraction:
        return sum((line.in3 for line in self.lines), Fraction(0))


def allowance_in3(awg: str, code: Edition, work: Work = SILENT) -> Fraction:
    """The room that one conductor of a size takes.

    Raises:
        BoxError: the size is not in the table (4 AWG and larger are not).
        ConductorError: there is no such size.
    """
    found = code.table(_TABLE, work).get(awg)
    if not isinstance(found, int | Fraction):
        circular_mils(awg, code)
        raise BoxError("awg", f"expected a size of {code.cites(_TABLE)}, came {awg!r}", awg)
    return Fraction(found)


def reckon_box_fill(contents: BoxContents, code: Edition, work: Work = SILENT) -> BoxFill:
    """Reckon the fill of one box, or of one space of a divided box.

    Raises:
        BoxError: the box is no standard one, or a yoke has no conductor to be counted by.
        ConductorError: a size that does not exist.
    """
    if outside := _outside(contents, code, work):
        return BoxFill(None, box_volume_in3(contents.box, code, work), outside=outside)
    tally = _Tally(code, work)
    _conductors(contents, tally)
    _fixture_wires(contents, tally)
    biggest = largest(contents.sizes, code)
    _clamps(contents, biggest, tally)
    _fittings(contents, biggest, tally)
    _yokes(contents, tally)
    _grounds(contents, tally)
    _terminal_blocks(contents, tally)
    required = tally.total_in3
    if work:
        work.step("Room that the contents need", required, "in3", code.cites(_TABLE))
    available = box_volume_in3(contents.box, code, work)
    if work and available is not None:
        left = available - required
        text = "Room left" if left >= 0 else "Short by"
        work.step(
            f"{text}: {written(available)} − {written(required, _PLACES)} in³",
            abs(left),
            "in3",
            code.cites("box.large_enough"),
        )
    return BoxFill(required, available, tuple(tally.lines))


def _outside(contents: BoxContents, code: Edition, work: Work) -> str:
    table = code.table(_TABLE)
    big = largest((awg for awg in contents.sizes if awg not in table), code)
    if big is None:
        return ""
    cites = code.cites("box.pull_box_from_awg")
    from_awg = code.value("box.pull_box_from_awg", work)
    text = (
        f"{sized(big)} is not in {code.cites(_TABLE)}: a box with {sized(str(from_awg))} or larger is sized by its "
        f"raceways and bends ({cites}), not by volume alone"
    )
    work.skip(text, cites)
    return text


_COUNTED = {
    ConductorRole.INSULATED: "conductors that end or are spliced here",
    ConductorRole.THROUGH: "conductors that pass unbroken",
    ConductorRole.LOOP: "unbroken loops",
}


def _conductors(contents: BoxContents, tally: _Tally) -> None:
    once = tally.number("box.conductor_allowances")
    for group in contents.of(*_COUNTED):
        what = f"{group.count} {_COUNTED[group.role]}"
        if group.role is ConductorRole.LOOP and _long_enough(group, tally):
            twice = tally.number("box.loop_allowances")
            tally.add(what, group.awg, group.count * twice, "box.loop_allowances")
        else:
            tally.add(what, group.awg, group.count * once, "box.conductor_allowances")
    if tally.work:
        for group in contents.of(ConductorRole.PIGTAIL):
            tally.work.skip(
                f"{group.count} pigtails {sized(group.awg)} do not leave the box: no allowance",
                tally.code.cites("box.conductor_allowances"),
            )


def _long_enough(group: Conductors, tally: _Tally) -> bool:
    if group.loop_in is None:
        return True
    least = tally.number("box.loop_least_in")
    if group.loop_in >= least:
        return True
    tally.work.skip(
        f"A loop of {written(group.loop_in)} in is shorter than {written(least)} in: it counts once",
        tally.code.cites("box.loop_least_in"),
    )
    return False


def _fixture_wires(contents: BoxContents, tally: _Tally) -> None:
    code, work = tally.code, tally.work
    cites = code.cites("box.fixture_wires_omitted")
    below = circular_mils(str(code.value("box.fixture_wire_smaller_than_awg")), code)
    room = 0
    wires = sorted(
        contents.of(ConductorRole.FIXTURE), key=lambda group: circular_mils(group.awg, code), reverse=True
    )
    if wires:
        room = int(tally.number("box.fixture_wires_omitted"))
    for group in wires:
        # The largest of the small wires are left out first, which is the most that the exception gives.
        omitted = min(group.count, room) if circular_mils(group.awg, code) < below else 0
        room -= omitted
        if omitted:
            work.skip(f"{omitted} fixture wires {sized(group.awg)} from the canopy are left out", cites)
        if counted := group.count - omitted:
            each = tally.number("box.conductor_allowances")
            tally.add(f"{counted} fixture wires", group.awg, counted * each, "box.conductor_allowances")
    if work and any(contents.of(ConductorRole.FIXTURE_GROUND)):
        work.skip("The luminaire's equipment ground from the canopy is left out", cites)


def _clamps(contents: BoxContents, biggest: str | None, tally: _Tally) -> None:
    node = "box.clamp_allowances"
    if contents.clamps is Clamps.INTERNAL and biggest:
        tally.add("Clamps inside the box, all together", biggest, tally.number(node), node)
    elif contents.clamps is Clamps.EXTERNAL:
        tally.work.skip("Connectors clamp outside the box: no allowance", tally.code.cites(node))


def _fittings(contents: BoxContents, biggest: str | None, tally: _Tally) -> None:
    node = "box.support_fitting_allowances"
    for fitting in sorted(contents.fittings):
        if biggest:
            tally.add(f"Support fitting: {fitting.value}", biggest, tally.number(node), node)


def _yokes(contents: BoxContents, tally: _Tally) -> None:
    node = "box.yoke_allowances"
    code, work = tally.code, tally.work
    counted = yokes_of(contents, code)
    if work and len(counted) < len(contents.devices):
        work.trust(code.confidence("box.kinds_without_yoke"))
        for other in contents.devices:
            if other not in counted:
                work.skip(f"{other.kind}: has no yoke in the box, no allowance", code.cites(node))
    for yoke in counted:
        awg = yoke.largest_awg or _largest_insulated(contents, yoke, tally)
        wide = f", {yoke.gangs} gangs wide" if yoke.gangs > 1 else ""
        tally.add(f"Yoke: {yoke.kind}{wide}", awg, yoke.gangs * tally.number(node), node)


def yokes_of(contents: BoxContents, code: Edition) -> tuple[Yoke, ...]:
    """The devices that sit on a yoke; luminaires, fans and alarms hang on the box and take none of it."""
    if not contents.devices:
        return ()
    without = {kind.lower() for kind in code.names("box.kinds_without_yoke")}
    return tuple(yoke for yoke in contents.devices if yoke.kind.lower() not in without)


def _largest_insulated(contents: BoxContents, yoke: Yoke, tally: _Tally) -> str:
    awg = largest((group.awg for group in contents.of(*_COUNTED)), tally.code)
    if awg is None:
        raise BoxError(
            "devices", f"expected largest_awg: no insulated conductor is listed for the {yoke.kind}", None
        )
    tally.work.skip(
        f"{yoke.kind}: connected size not given, taken as the largest insulated conductor in the box ({sized(awg)})"
    )
    return awg


def _grounds(contents: BoxContents, tally: _Tally) -> None:
    code = tally.code
    plain, isolated = (
        list(contents.of(ConductorRole.GROUND)),
        list(contents.of(ConductorRole.ISOLATED_GROUND)),
    )
    if isolated:
        apart = code.flag("box.isolated_grounds_apart", tally.work)
        if apart:
            _ground_set(isolated, "isolated grounds, a set of their own", tally)
        else:
            tally.work.skip(
                "Isolated grounds count with the other equipment grounds in this edition",
                code.cites("box.isolated_grounds_apart"),
            )
            plain += isolated
    if plain:
        _ground_set(plain, "equipment grounds", tally)


def _ground_set(groups: list[Conductors], what: str, tally: _Tally) -> None:
    code = tally.code
    count = sum(group.count for group in groups)
    awg = largest((group.awg for group in groups), code)
    assert awg is not None
    allowances = tally.number("box.ground_allowances")
    text = f"{count} {what}"
    if code.has("box.grounds_in_first_allowance"):
        first = int(tally.number("box.grounds_in_first_allowance"))
        if count > first:
            further = tally.number("box.further_ground_allowances")
            allowances += (count - first) * further
            text += f" ({first} as one, {count - first} × {further})"
    tally.add(text, awg, allowances, "box.ground_allowances")


def _terminal_blocks(contents: BoxContents, tally: _Tally) -> None:
    node = "box.terminal_block_allowances"
    if contents.terminal_blocks and not tally.code.has(node):
        tally.work.skip(f"Terminal blocks have no allowance in the {tally.code.year} edition")
        return
    for awg in contents.terminal_blocks:
        tally.add("Terminal block", awg, tally.number(node), node)


def box_volume_in3(box: BoxSize | None, code: Edition, work: Work = SILENT) -> Fraction | None:
    """The volume of a box with its rings; None where neither a standard size nor a marked volume is known.

    Raises:
        BoxError: a name that is no standard box.
    """
    if box is None:
        return None
    volume = _own_volume(box, code, work)
    if volume is None:
        work.skip("The box has neither a marked volume nor a standard size", code.cites("box.marked_volume"))
        return None
    for ring in box.additions:
        added = ring.volume_in3
        if added is None and ring.table is not None:
            made_from = find_box(ring.table, code)
            code.table(made_from.node, work)
            added = made_from.volume_in3
        cites = code.cites("box.additions_marked_or_standard")
        if added is None:
            work.skip(f"{ring.kind}: not marked with a volume, adds none", cites)
            continue
        volume += added
        if work:
            work.trust(code.confidence("box.additions_marked_or_standard"))
            work.step(f"{ring.kind} adds", added, "in3", cites)
    return volume


def _own_volume(box: BoxSize, code: Edition, work: Work) -> Fraction | None:
    listed: Fraction | None = None
    if box.table is not None:
        standard = find_box(box.table, code)
        code.table(standard.node, work)
        sections = box.gangs if standard.shape in GANGED_SHAPES else 1
        listed = standard.volume_in3 * sections
        if work:
            ganged = f", {sections} ganged" if sections > 1 else ""
            work.step(f"Box {standard.name}{ganged}", listed, "in3", code.cites(standard.node))
    if box.volume_in3 is None:
        return listed
    if listed is not None and listed > box.volume_in3:
        work.skip(
            "The marked volume is smaller than the standard size's: the table stands",
            code.cites("box.marked_volume"),
        )
        return listed
    if work:
        work.step("Marked volume of the box", box.volume_in3, "in3", code.cites("box.marked_volume"))
    return box.volume_in3
