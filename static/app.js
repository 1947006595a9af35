/* The little that pages do by themselves. Everything also works without it. */
"use strict";
(() => {
  const live = () => document.getElementById("live");

  /** Say something to whoever cannot see that a part of the page changed. */
  function announce(text) {
    const region = live();
    if (!region || !text) return;
    region.textContent = "";
    window.setTimeout(() => { region.textContent = text; }, 50);
  }

  /** Times are written in UTC; show them in the reader's own zone. */
  function localTimes(root) {
    for (const element of root.querySelectorAll("time[datetime]:not([data-local])")) {
      const at = new Date(element.dateTime);
      if (Number.isNaN(at.getTime()) || !element.dateTime.includes("T")) continue;
      element.title = element.textContent.trim();
      // under a heading with its day, the hour is enough, unless it is another day here
      const pad = (number) => String(number).padStart(2, "0");
      const here = `${at.getFullYear()}-${pad(at.getMonth() + 1)}-${pad(at.getDate())}`;
      const day = element.dataset.under === here ? {} : { weekday: "short", day: "numeric", month: "short" };
      element.textContent = at.toLocaleString(undefined, { ...day, hour: "2-digit", minute: "2-digit" });
      element.dataset.local = "";
    }
  }

  // menus close by Escape and by a tap elsewhere
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    for (const menu of document.querySelectorAll("details.menu[open]")) {
      menu.open = false;
      menu.querySelector("summary").focus();
    }
  });
  document.addEventListener("click", (event) => {
    for (const menu of document.querySelectorAll("details.menu[open]")) {
      if (!menu.contains(event.target)) menu.open = false;
    }
  });

  // a button that copies what it carries; without a clipboard it stays away
  document.addEventListener("click", async (event) => {
    const button = event.target.closest?.("[data-copy]");
    if (!button) return;
    try {
      await navigator.clipboard.writeText(button.dataset.copy);
      announce("Copied.");
      button.textContent = "Copied";
    } catch { announce("Copying was refused. Mark the text and copy it."); }
  });

  // a second tap on a slow connection is not a second deed
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "post" || form.hasAttribute("hx-post")) return;
    if (form.dataset.sent) { event.preventDefault(); return; }
    form.dataset.sent = "yes";
    window.setTimeout(() => { delete form.dataset.sent; }, 4000);
  });
  window.addEventListener("pageshow", () => {
    for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
  });

  // a swapped part tells what changed (data-say) and takes the focus where it asks to (data-focus)
  document.addEventListener("htmx:after:swap", (event) => {
    localTimes(document);
    const target = event.detail?.ctx?.target ?? event.target;
    const part = target instanceof Element && target.isConnected ? target : document;
    const said = part.querySelector?.("[data-say]") ?? document.querySelector("[data-say]");
    if (said) { announce(said.dataset.say); said.removeAttribute("data-say"); }
    const focus = document.querySelector("[data-focus]");
    if (focus) { focus.removeAttribute("data-focus"); focus.focus({ preventScroll: false }); }
  });
  document.addEventListener("htmx:error", () => announce("No answer: this was not recorded. Try again when the signal is back."));
  document.addEventListener("htmx:response:error", (event) => {
    const status = event.detail?.ctx?.response?.status;
    if (status && status !== 422) announce("That was refused: nothing was recorded.");
  });

  document.addEventListener("DOMContentLoaded", () => {
    localTimes(document);
    if (navigator.clipboard) for (const button of document.querySelectorAll("[data-copy]")) button.hidden = false;
    document.querySelector(".wrong")?.focus();
  });
  window.studbay = Object.freeze({ announce, localTimes });
})();
