"""A small writer of SVG: escapes what it is given, keeps one path per layer, names itself for assistive technology."""

from __future__ import annotations

from enum import Enum
from html import escape
from typing import Final

__all__ = ["PAPER_STYLE", "Medium", "Svg", "px"]


class Medium(Enum):
    """Where a drawing will be looked at."""

    SCREEN = "screen"
    PAPER = "paper"


PAPER_STYLE: Final = """
.d-stud{stroke:#9AA3AD;stroke-width:.4;fill:none}.d-thin{stroke:#556070;stroke-width:.7;fill:none}
.d-cable{stroke:#1B2530;stroke-width:1;fill:none;stroke-dasharray:5 2}.d-box{stroke:#1B2530;stroke-width:1.2;fill:#fff}
.d-open{stroke:#1B2530;stroke-width:1.2;fill:none}.d-heavy{stroke:#1B2530;stroke-width:2.2;fill:none}
.d-fill{fill:#1B2530;stroke:none}.d-dim{stroke:#556070;stroke-width:.7;fill:none}
.d-gap{stroke:#A8231B;stroke-width:1.8;fill:none}.d-gap-text{fill:#A8231B;font-weight:700}
.d-text{fill:#1B2530}.d-note{fill:#556070}text{font-family:"DejaVu Sans",sans-serif;font-size:11px}
.d-cab{stroke:#7C8794;stroke-width:1;fill:#F2F0EA}.d-hit{fill:none;stroke:none}
.d-new{stroke:#1F4E79;stroke-width:1.5;fill:none;stroke-dasharray:2 2}
.d-mark{stroke:#1F4E79;stroke-width:2;fill:none}
"""
"""The classes of a drawing on paper (light inks; told apart in grey by weight and dash, not by colour alone)."""


def px(number: float) -> str:
    """A coordinate with at most one decimal: an eighth of an inch at drawing scale is a third of a pixel."""
    return f"{number:.1f}".rstrip("0").rstrip(".") if number % 1 else str(int(number))


class Svg:
    """Collects marks and gives the finished drawing.

    ``title`` names the drawing and ``description`` says what it shows, for people who do not see it.
    """

    __slots__ = (
        "_id",
        "_layers",
        "_parts",
        "description",
        "height",
        "medium",
        "paper_style",
        "title",
        "width",
    )

    def __init__(
        self,
        width: float,
        height: float,
        title: str,
        description: str,
        *,
        medium: Medium,
        name: str,
        paper_style: str = PAPER_STYLE,
    ) -> None:
        self.paper_style = paper_style
        self.width, self.height = width, height
        self.title, self.description, self.medium = title, description, medium
        self._id = name
        self._parts: list[str] = []
        self._layers: dict[str, list[str]] = {}

    def stroke(self, layer: str, *points: tuple[float, float], close: bool = False) -> None:
        """Add a polyline to a layer's one path."""
        (x, y), *rest = points
        path = f"M{px(x)} {px(y)}" + "".join(f"L{px(a)} {px(b)}" for a, b in rest) + ("Z" if close else "")
        self._layers.setdefault(layer, []).append(path)

    def curve(self, layer: str, path: str) -> None:
        """Add ready path data to a layer's one path."""
        self._layers.setdefault(layer, []).append(path)

    def box(self, layer: str, x: float, y: float, width: float, height: float) -> None:
        """Add a rectangle to a layer's one path."""
        self._layers.setdefault(layer, []).append(f"M{px(x)} {px(y)}h{px(width)}v{px(height)}h{px(-width)}Z")

    def circle(self, layer: str, x: float, y: float, radius: float) -> None:
        """Add a circle to a layer's one path."""
        r = px(radius)
        self._layers.setdefault(layer, []).append(
            f"M{px(x - radius)} {px(y)}a{r} {r} 0 1 0 {px(2 * radius)} 0a{r} {r} 0 1 0 {px(-2 * radius)} 0"
        )

    def flush(self) -> None:
        """Write the layers collected so far, so that what follows lies over them."""
        for layer, paths in self._layers.items():
            self._parts.append(f'<path class="d-{layer}" d="{"".join(paths)}"/>')
        self._layers.clear()

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        layer: str = "text",
        anchor: str = "middle",
        turn: bool = False,
    ) -> None:
        """Write words; ``anchor`` is start, middle or end; ``turn`` writes upwards."""
        at = f'x="{px(x)}" y="{px(y)}"'
        turned = f' transform="rotate(-90 {px(x)} {px(y)})"' if turn else ""
        side = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.flush()
        self._parts.append(f'<text class="d-{layer}" {at}{side}{turned}>{escape(words)}</text>')

    def open_link(self, href: str | None, label: str, **data: str) -> None:
        """Begin a mark that can be followed (on screen) and that has a name."""
        self.flush()
        attributes = "".join(f' data-{key}="{escape(value)}"' for key, value in data.items())
        if href is not None and self.medium is Medium.SCREEN:
            self._parts.append(f'<a href="{escape(href)}" aria-label="{escape(label)}"{attributes}>')
        else:
            self._parts.append(f'<g role="img" aria-label="{escape(label)}"{attributes}>')

    def close_link(self, href: str | None) -> None:
        """End the mark begun with ``open_link``."""
        self.flush()
        self._parts.append("</a>" if href is not None and self.medium is Medium.SCREEN else "</g>")

    def hit(self, x: float, y: float, width: float, height: float) -> None:
        """An invisible target of a finger's size."""
        if self.medium is Medium.SCREEN:
            self._parts.append(
                f'<rect class="d-hit" x="{px(x)}" y="{px(y)}" width="{px(width)}" height="{px(height)}"/>'
            )

    def finish(self) -> str:
        """The drawing."""
        self.flush()
        style = f"<style>{self.paper_style}</style>" if self.medium is Medium.PAPER else ""
        # role img would hide the links inside from assistive technology; a named group keeps them
        role = "group" if self.medium is Medium.SCREEN else "img"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="{role}" '
            f'aria-labelledby="{self._id}-t {self._id}-d" width="{px(self.width)}" height="{px(self.height)}" '
            f'viewBox="0 0 {px(self.width)} {px(self.height)}">{style}'
            f'<title id="{self._id}-t">{escape(self.title)}</title>'
            f'<desc id="{self._id}-d">{escape(self.description)}</desc>{"".join(self._parts)}</svg>'
        )
