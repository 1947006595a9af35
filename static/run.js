/* Drawing a run: a tap on a box in a drawing presses that box's button; what was pressed keeps the focus. */
"use strict";
(() => {
  let pressed = "";
  let open = new Set();

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.('.run svg a[href^="#tap-"]');
    if (link) {
      const button = document.getElementById(link.getAttribute("href").slice(1));
      if (!button) return;
      event.preventDefault();
      button.click();
      return;
    }
    const button = event.target.closest?.(".run button[id]");
    if (button) pressed = button.id;
  });

  // what was folded open stays open through a tap
  document.addEventListener("toggle", (event) => {
    if (!(event.target instanceof Element) || !event.target.matches("[data-keep-open]")) return;
    if (event.target.open) open.add(event.target.id); else open.delete(event.target.id);
  }, true);

  /** Scroll the one-line to the box that the next cable starts from. */
  function showHere() {
    for (const part of document.querySelectorAll("[data-show-here]")) {
      const ring = part.querySelector(".d-new");
      if (!ring) continue;
      const area = ring.getBoundingClientRect();
      const view = part.getBoundingClientRect();
      part.scrollLeft += area.left + area.width / 2 - view.left - part.clientWidth / 2;
      part.scrollTop += area.top + area.height / 2 - view.top - part.clientHeight / 2;
    }
  }

  document.addEventListener("htmx:after:swap", () => {
    for (const id of open) { const part = document.getElementById(id); if (part) part.open = true; }
    showHere();
    if (pressed) document.getElementById(pressed)?.focus({ preventScroll: true });
    pressed = "";
  });
  document.addEventListener("DOMContentLoaded", showHere);
})();
