"""One box of a hookup: cables on the left, joins in the middle, the devices' terminals on the right.

Conductors in the colors of their insulation with a letter beside each, and a thin ink outline so that white and yellow
stand on paper and black in the dark. A re-identified white is drawn white with a band of its new color. Every join has
an upright of its own: dots and a cap over it where it takes a connector, a plain turn where one conductor goes to one
screw. Uprights are put in the order that crosses the least.

Drawn 348 units wide, so that it stands on a telephone at full size and can be enlarged everywhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from server.drawings.svg import PAPER_STYLE, Medium, Svg, px
from server.readiness.hookup_words import color_letter, short_signal
from server.readiness.hookups import BoxHookup, EnteringCable, JoinView, TerminalView, WireEnd

__all__ = ["COLORS", "HOOKUP_PAPER_STYLE", "draw_box_hookup"]

COLORS: Final[Mapping[str, str]] = {
    "black": "#22262B", "red": "#C62F26", "white": "#FFFFFF", "blue": "#2F66B3", "bare": "#B87333", "green": "#2E8B4A",
    "gray": "#9BA3AA", "orange": "#E57F1B", "yellow": "#F0CB2C", "brown": "#7A4A24",
}  # fmt: skip
"""Insulation colors; the sheet (static/css/hookup.css) has the same."""
HOOKUP_PAPER_STYLE: Final = PAPER_STYLE + (
    ".d-edge{stroke:#1B2530;stroke-width:5;fill:none}.d-sheath{stroke:#1B2530;stroke-width:1.2;fill:#F2F0EA}"
    ".d-cap{stroke:#1B2530;stroke-width:1.2;fill:#fff}.d-strong{fill:#1B2530;font-weight:700}"
    ".d-stripe{stroke-width:1.5;stroke-dasharray:5 4}.d-edge.d-band{stroke-width:8}.d-band{stroke-width:6}"
    + "".join(f".d-w-{name}{{stroke:{color};stroke-width:3;fill:none}}" for name, color in COLORS.items())
)

_WIDE: Final = 348
_ROW: Final = 24
_TOP: Final = 12
_SHEATH: Final = 24
_FIRST: Final = 170
"""Where the uprights begin; the words beside the conductors end before."""
_LAST: Final = 232
_TERMINAL: Final = 250
_BEND: Final = 5
_WORDS_MOST: Final = 19
_GROUND: Final = "ground"
_BOX: Final = "box"


@dataclass(slots=True)
class _Net:
    """A join: heights and colors of its conductors and of its terminals, and the place of its upright."""

    left: list[tuple[float, str]]
    right: list[tuple[float, str]]
    kind: str
    color: str
    x: float = 0

    @property
    def span(self) -> tuple[float, float]:
        rows = [y for y, _ in (*self.left, *self.right)]
        return min(rows), max(rows)

    @property
    def middle(self) -> float:
        rows = [y for y, _ in self.left] or [y for y, _ in self.right]
        return sum(rows) / len(rows)


def draw_box_hookup(card: BoxHookup, *, medium: Medium = Medium.SCREEN) -> str:
    """The drawing of one box."""
    return _Drawing(card, medium).finish()


class _Drawing:
    def __init__(self, card: BoxHookup, medium: Medium) -> None:
        self.card = card
        self.row: dict[tuple[str, str], float] = {}
        y = self._lay_cables()
        joins = sorted(card.joins, key=self._height_of)
        bottom = max(y, self._lay_devices(joins))
        self.height = bottom + 14
        self.nets = [self._net(join) for join in joins]
        ground = self._ground_net()
        if ground is not None:
            self.nets.append(ground)
        _place(self.nets)
        self.svg = Svg(
            _WIDE, self.height, f"Hookup of {card.name}", " ".join(card.words), medium=medium,
            name=f"h-{card.box_id or 'panel'}", paper_style=HOOKUP_PAPER_STYLE,
        )  # fmt: skip

    def finish(self) -> str:
        svg, card = self.svg, self.card
        svg.box("heavy", 12, 4, _WIDE - 16, self.height - 8)
        svg.flush()
        for net in self.nets:
            self._wires(net)
        for net in self.nets:
            self._marks(net)
        for cable in card.cables:
            for end in cable.conductors:
                if not end.signal:
                    y = self.row[cable.name, end.color]
                    self._wire(f"M{_SHEATH} {px(y)}H{_FIRST}", end.color)
                    self._cap(y)
            self._cable(cable)
        for device in card.devices:
            self._device(device.id, device.name)
        if card.metal:
            self._terminal(_BOX, _GROUND, "metal box")
        return svg.finish()

    # -- places ------------------------------------------------------------------------------------------------

    def _lay_cables(self) -> float:
        """A heading and a row per conductor for each cable; rows lie in the middle of a grid's lines."""
        y = float(_TOP)
        self.head: dict[str, float] = {}
        for cable in self.card.cables:
            self.head[cable.name] = y
            y += _ROW
            grounds = [_GROUND] if cable.ground else []
            for color in (*(end.color for end in cable.conductors), *grounds):
                self.row[cable.name, color] = y + _ROW / 2
                y += _ROW
        return y

    def _lay_devices(self, joins: Sequence[JoinView]) -> float:
        """The devices in the order of their joins; their rows lie on the grid's lines, half a row beside the cables'."""
        y = float(_TOP)
        self.terminal: dict[tuple[str, str], float] = {}
        self.block: dict[str, tuple[float, float]] = {}
        order = {(t.device_id, t.terminal): place for place, join in enumerate(joins) for t in join.terminals}

        def place(terminal: TerminalView) -> int:
            return order[terminal.device_id, terminal.terminal]

        for device in sorted(self.card.devices, key=lambda each: min(map(place, each.terminals))):
            top = y
            y += _ROW
            for terminal in (*(each.terminal for each in sorted(device.terminals, key=place)), _GROUND):
                y += _ROW
                self.terminal[device.id, terminal] = y
            self.block[device.id] = (top, y + _ROW / 2)
            y += _ROW / 2 if device is not self.card.devices[-1] else 0
            y = _TOP + -(-(y - _TOP) // _ROW) * _ROW
        if self.card.metal:
            y += _ROW
            self.terminal[_BOX, _GROUND] = y
        return y + _ROW / 2

    def _height_of(self, join: JoinView) -> float:
        rows = [self.row[end.cable, end.color] for end in join.wires]
        return sum(rows) / len(rows) if rows else max(self.row.values(), default=0)

    def _net(self, join: JoinView) -> _Net:
        left = [(self.row[end.cable, end.color], end.color) for end in join.wires]
        color = join.color if join.kind == "splice" or not join.wires else join.wires[0].color
        right = [(self.terminal[t.device_id, t.terminal], color) for t in join.terminals]
        return _Net(left, right, join.kind, color)

    def _ground_net(self) -> _Net | None:
        left = [(self.row[cable.name, _GROUND], cable.ground) for cable in self.card.cables if cable.ground]
        if not left:
            return None
        right = [(y, left[0][1]) for (_, terminal), y in self.terminal.items() if terminal == _GROUND]
        kind = "splice" if len(left) + len(right) > 2 else "direct" if right else "capped"
        return _Net(left, right, kind, left[0][1])

    # -- conductors ----------------------------------------------------------------------------------------------

    def _wires(self, net: _Net) -> None:
        x = net.x
        if net.kind == "direct" and len(net.left) == 1 and len(net.right) == 1:
            self._wire(_turned(_SHEATH, net.left[0][0], x, net.right[0][0], _TERMINAL), net.left[0][1])
            return
        if net.kind == "capped" or (not net.right and len(net.left) == 1):
            self._wire(f"M{_SHEATH} {px(net.left[0][0])}H{_FIRST}", net.left[0][1])
            return
        top, bottom = net.span
        self._wire(f"M{px(x)} {px(top)}V{px(bottom)}", net.color)
        for y, color in net.left:
            self._wire(f"M{_SHEATH} {px(y)}H{px(x)}", color)
        for y, color in net.right:
            self._wire(f"M{px(x)} {px(y)}H{_TERMINAL}", color)

    def _wire(self, path: str, color: str) -> None:
        """One conductor over what was drawn before: its outline, its insulation, the stripe of a striped one."""
        plain, _, stripe = color.partition("/")
        svg = self.svg
        svg.flush()
        svg.curve("edge", path)
        svg.curve(f"w-{plain if plain in COLORS else 'black'}", path)
        if stripe:
            svg.curve(f"w-{stripe} d-stripe", path)
        svg.flush()

    def _marks(self, net: _Net) -> None:
        """Dots and a connector's cap on a splice; a cap on what is kept for later."""
        svg = self.svg
        if net.kind == "capped":
            self._cap(net.left[0][0])
        if net.kind != "splice":
            return
        for y in sorted({y for y, _ in (*net.left, *net.right)}):
            svg.circle("fill", net.x, y, 3)
        top = net.span[0]
        svg.flush()
        svg.curve(
            "cap",
            f"M{px(net.x - 6)} {px(top - 3)}L{px(net.x - 3)} {px(top - 13)}h6L{px(net.x + 6)} {px(top - 3)}Z",
        )
        svg.flush()

    def _cap(self, y: float) -> None:
        self.svg.curve("cap", f"M{_FIRST - 3} {px(y - 6)}l12 3v6l-12 3Z")
        self.svg.flush()

    # -- what stands around them --------------------------------------------------------------------------------

    def _cable(self, cable: EnteringCable) -> None:
        svg, top = self.svg, self.head[cable.name]
        rows = len(cable.conductors) + bool(cable.ground)
        svg.box("sheath", 2, top + _ROW + 3, _SHEATH - 2, rows * _ROW - 6)
        svg.flush()
        toward = cable.toward.replace(f" {self.card.room} ", " ") if self.card.room else cable.toward
        # a device's name may stand in the same line, from the right
        beside = max(
            (len(_cut(each.name, 20)) for each in self.card.devices if self.block[each.id][0] == top),
            default=0,
        )
        most = min(33, 46 - beside)
        svg.text(
            20, top + 17, _cut_before_last(f"{cable.name} {toward}", most), anchor="start", layer="strong"
        )
        for end in cable.conductors:
            self._label(end, self.row[cable.name, end.color])
        if cable.ground:
            y = self.row[cable.name, _GROUND] - 5
            svg.text(_SHEATH + 14, y, "G", anchor="start", layer="strong")
            svg.text(_SHEATH + 29, y, cable.ground, anchor="start", layer="note")

    def _label(self, end: WireEnd, y: float) -> None:
        svg = self.svg
        marked = bool(end.band and end.signal)
        if marked:
            bands = f"M{_SHEATH + 2} {px(y)}h10M{_FIRST - 16} {px(y)}h10"
            svg.curve("edge d-band", bands)
            svg.curve(f"w-{end.band} d-band", bands)
            svg.flush()
        letter = color_letter(end.color) + (f"→{color_letter(end.band)}" if marked else "")
        svg.text(_SHEATH + 14, y - 5, letter, anchor="start", layer="strong")
        words = short_signal(end.signal, self.card.room) if end.signal else "left over"
        wide = 9 * len(letter)
        svg.text(
            _SHEATH + 20 + wide,
            y - 5,
            _cut(words, _WORDS_MOST - max(0, wide - 9) // 6),
            anchor="start",
            layer="note",
        )

    def _device(self, device_id: str, name: str) -> None:
        svg = self.svg
        top, bottom = self.block[device_id]
        svg.box("box", _TERMINAL, top + _ROW, _WIDE - _TERMINAL - 12, bottom - top - _ROW)
        svg.flush()
        svg.text(_WIDE - 12, top + 17, _cut(name, 20), anchor="end", layer="strong")
        for device in self.card.devices:
            if device.id == device_id:
                for terminal in device.terminals:
                    self._terminal(device_id, terminal.terminal, terminal.label)
        self._terminal(device_id, _GROUND, "ground" if device_id else "ground bar")

    def _terminal(self, device_id: str, terminal: str, words: str) -> None:
        y = self.terminal[device_id, terminal]
        self.svg.circle("box", _TERMINAL, y, 4)
        self.svg.flush()
        self.svg.text(_TERMINAL + 9, y + 4, _cut(words, 14), anchor="start", layer="note")


def _turned(start: float, y: float, x: float, to: float, end: float) -> str:
    """Across, along an upright, across: with rounded turns, or straight where there is nothing to turn for."""
    if abs(to - y) < 2 * _BEND:
        return f"M{px(start)} {px(y)}H{px(x - _BEND)}C{px(x)} {px(y)} {px(x)} {px(to)} {px(x + _BEND)} {px(to)}H{px(end)}"
    way = _BEND if to > y else -_BEND
    return (
        f"M{px(start)} {px(y)}H{px(x - _BEND)}Q{px(x)} {px(y)} {px(x)} {px(y + way)}"
        f"V{px(to - way)}Q{px(x)} {px(to)} {px(x + _BEND)} {px(to)}H{px(end)}"
    )


def _place(nets: Sequence[_Net]) -> None:
    """Give each upright its place, in an order that few conductors cross: neighbors change places while that helps."""
    upright = [net for net in nets if net.kind != "capped"]
    order = sorted(upright, key=lambda net: net.middle)
    for _ in order:
        changed = False
        for at in range(len(order) - 1):
            one, other = order[at], order[at + 1]
            if _crossings(other, one) < _crossings(one, other):
                order[at], order[at + 1] = other, one
                changed = True
        if not changed:
            break
    apart = min(14.0, (_LAST - _FIRST) / (len(order) - 1)) if len(order) > 1 else 0
    first = (_FIRST + _LAST - apart * (len(order) - 1)) / 2
    for place, net in enumerate(order):
        net.x = first + place * apart


def _crossings(left: _Net, right: _Net) -> int:
    """How often two nets cross where one's upright stands to the left of the other's."""
    return _within(right.left, left.span) + _within(left.right, right.span)


def _within(rows: Iterable[tuple[float, str]], span: tuple[float, float]) -> int:
    return sum(span[0] < y < span[1] for y, _ in rows)


def _cut_before_last(text: str, most: int) -> str:
    """A text whose last word, which says which box it is, is kept whole."""
    head, _, last = text.rpartition(" ")
    return text if len(text) <= most else f"{_cut(head, most - len(last) - 1)} {last}".lstrip()


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
