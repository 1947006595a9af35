/* Where a drawing was tapped becomes a place in inches. Without this script the place is typed. */
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";

  /** Inches as the trade writes them: 6' 2". */
  function written(inches) {
    const whole = Math.round(inches);
    return whole >= 24 ? `${Math.floor(whole / 12)}' ${whole % 12}"` : `${whole}"`;
  }

  /** The part of a target that was tapped, 0 to 1 across and down; null for a click made with the keyboard. */
  function tapped(event, link) {
    if (event.detail === 0 && event.clientX === 0 && event.clientY === 0) return null;
    const area = link.querySelector(".d-hit")?.getBoundingClientRect();
    if (!area || !area.width || !area.height) return null;
    const part = (at, from, size) => Math.min(1, Math.max(0, (at - from) / size));
    return { across: part(event.clientX, area.left, area.width), down: part(event.clientY, area.top, area.height) };
  }

  /** Draw a line (on a wall) or a ring (on a plan) where the box would go. */
  function mark(link, across, down) {
    const drawing = link.ownerSVGElement;
    const hit = link.querySelector(".d-hit");
    drawing.querySelector("[data-spot]")?.remove();
    const x = Number(hit.getAttribute("x")) + across * Number(hit.getAttribute("width"));
    const top = Number(hit.getAttribute("y"));
    const high = Number(hit.getAttribute("height"));
    const spot = document.createElementNS(SVG, "path");
    spot.setAttribute("data-spot", "");
    spot.setAttribute("class", "d-mark");
    spot.setAttribute("d", down === null
      ? `M${x} ${top}v${high}`
      : `M${x - 14} ${top + down * high}h28M${x} ${top + down * high - 14}v28`);
    drawing.append(spot);
  }

  function fill(name, value) {
    const field = document.getElementById(name);
    if (!field) return false;
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    return true;
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[data-wall], a[data-plan-wide]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
    const spot = tapped(event, link);
    if (!spot) return;
    const address = new URL(link.getAttribute("href"), location.href);
    const here = link.closest("[data-place]");
    const on = link.dataset;
    if (on.wall !== undefined) {
      const at = written(spot.across * Number(on.along));
      const name = document.getElementById("at_in") ? "at_in" : "from_in";
      if (here && document.getElementById(name)) {
        event.preventDefault();
        fill(name, at);
        const measured = document.querySelector('select[name="measured"]');
        if (measured) measured.value = "left";
        mark(link, spot.across, null);
        window.studbay?.announce(`${at} from the left end`);
        return;
      }
      address.searchParams.set("at", at);
    } else {
      const x = written(Number(on.planFromX) + spot.across * Number(on.planWide));
      const y = written(Number(on.planFromY) + spot.down * Number(on.planDeep));
      if (here && document.getElementById("x_in")) {
        event.preventDefault();
        fill("x_in", x);
        fill("y_in", y);
        mark(link, spot.across, spot.down);
        window.studbay?.announce(`${x} by ${y} from the first corner`);
        return;
      }
      address.searchParams.set("x", x);
      address.searchParams.set("y", y);
    }
    event.preventDefault();
    location.assign(address);
  });

  /** Scroll a wide drawing to the box that the page is about, or to what is proposed first. */
  function showMark() {
    for (const part of document.querySelectorAll("[data-show-mark]")) {
      const found = part.querySelector(".d-mark");
      if (!found || part.scrollWidth <= part.clientWidth) continue;
      const area = found.getBoundingClientRect();
      part.scrollLeft += area.left + area.width / 2 - part.getBoundingClientRect().left - part.clientWidth / 2;
    }
  }

  document.addEventListener("DOMContentLoaded", showMark);
})();
