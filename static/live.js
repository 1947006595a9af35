/* Pages that follow what others do. While somebody looks, the parts that change are asked for again; a part is swapped
   only when it says something else, and never while somebody types or chooses in it. */
"use strict";
(() => {
  const source = document.querySelector("[data-live]");
  if (!source) return;
  const EVERY_MS = 15000, LONGEST_MS = 120000;
  const said = new Map();
  let tag = "", timer = 0, wait = EVERY_MS, asking = false;

  /** A part without what only this browser added to it. */
  function plain(part) {
    const copy = part.cloneNode(true);
    for (const open of copy.querySelectorAll("details[open]")) open.removeAttribute("open");
    for (const marked of copy.querySelectorAll(".just-recorded")) marked.classList.remove("just-recorded");
    for (const marked of copy.querySelectorAll("[class='']")) marked.removeAttribute("class");
    for (const form of copy.querySelectorAll("[data-sent]")) form.removeAttribute("data-sent");
    return copy;
  }
  const typedIn = (part) => [...part.querySelectorAll("input, textarea, select")].some((field) =>
    field === document.activeElement || (field.type === "checkbox" || field.type === "radio" ? field.checked !== field.defaultChecked : field.tagName === "SELECT" ? [...field.options].some((option) => option.selected !== option.defaultSelected && field.selectedIndex > 0) : field.value !== field.defaultValue));
  const busy = (part) => typedIn(part) || part.querySelector("[data-sent], .confirm[open]") !== null;
  /** By what a link or a button is found again after the swap. */
  const nameOf = (target) => `${target.tagName} ${target.getAttribute("href") ?? target.closest("form")?.getAttribute("action") ?? ""} ${target.textContent.trim()}`;

  function swap(here, next) {
    const open = [...here.querySelectorAll("details[open][id]")].map((each) => each.id);
    const focused = here.contains(document.activeElement) ? nameOf(document.activeElement) : "";
    const rows = new Set([...plain(here).querySelectorAll("li, article")].map((row) => row.outerHTML));
    for (const row of next.querySelectorAll("li, article")) if (!rows.has(row.outerHTML) && !row.querySelector("li, article")) row.classList.add("just-recorded");
    here.replaceWith(next);
    for (const id of open) { const each = document.getElementById(id); if (each) each.open = true; }
    if (focused) {
      const again = [...next.querySelectorAll("a, button, summary")].find((each) => nameOf(each) === focused);
      if (!again) next.tabIndex = -1;
      (again ?? next).focus({ preventScroll: true });
    }
    globalThis.htmx?.process?.(next);
    globalThis.studbay?.localTimes(next);
  }

  async function ask() {
    if (asking || document.hidden) return;
    asking = true;
    clearTimeout(timer);
    try {
      const headers = { "HX-Request": "true", Accept: "text/html", ...(tag ? { "If-None-Match": tag } : {}) };
      const answer = await fetch(source.dataset.live, { headers, cache: "no-store", redirect: "manual", credentials: "same-origin", signal: AbortSignal.timeout(10000) });
      if (answer.status === 401 || answer.status === 403 || answer.status === 404 || answer.type === "opaqueredirect") return;
      wait = answer.status === 200 || answer.status === 304 ? EVERY_MS : Math.min(wait * 2, LONGEST_MS);
      if (answer.status === 200) take(await answer.text(), answer.headers.get("ETag") ?? "");
    } catch { wait = Math.min(wait * 2, LONGEST_MS); }
    finally { asking = false; }
    again();
  }
  function take(text, newTag) {
    let left = false;
    for (const part of [...new DOMParser().parseFromString(text, "text/html").body.children]) {
      const here = part.id && document.getElementById(part.id);
      if (!here) continue;
      const words = part.outerHTML;
      if (said.has(part.id) ? said.get(part.id) === words : plain(here).isEqualNode(part)) { said.set(part.id, words); continue; }
      // somebody is at it: it waits, and the whole is asked for again
      if (busy(here)) { left = true; continue; }
      swap(here, document.importNode(part, true));
      said.set(part.id, words);
    }
    tag = left ? "" : newTag;
  }
  function again() {
    clearTimeout(timer);
    if (!document.hidden) timer = setTimeout(ask, wait);
  }
  document.addEventListener("visibilitychange", () => { if (document.hidden) clearTimeout(timer); else ask(); });
  again();
})();
