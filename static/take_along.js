/* Taking a job along: its pages are fetched one by one, with progress in sight; the worker answers with them later. */
"use strict";
(() => {
  if (!("serviceWorker" in navigator) || !globalThis.isSecureContext) return;
  if (document.body.dataset.person) navigator.serviceWorker.register("/worker.js").catch(() => {});
  const box = document.getElementById("take-along");
  if (!box || !("caches" in globalThis)) return;
  const job = box.dataset.job, button = box.querySelector("button"), state = box.querySelector("[role=status]"), bar = box.querySelector("progress");
  const KEY = "studbay-along";
  const along = () => { try { return JSON.parse(localStorage.getItem(KEY)) ?? {}; } catch { return {}; } };
  const remember = (value) => localStorage.setItem(KEY, JSON.stringify(value));
  box.hidden = false;
  tell();

  function tell() {
    const taken = along()[job];
    if (taken) {
      const fresh = String(taken.revision) === box.dataset.revision;
      state.textContent = `On this tablet since ${new Date(taken.at).toLocaleString(undefined, { weekday: "short", hour: "2-digit", minute: "2-digit" })}${fresh ? "" : ", changed since"}.`;
      button.textContent = fresh ? "Take it along again" : "Bring it up to date";
    }
  }

  button.addEventListener("click", async () => {
    button.disabled = true;
    bar.hidden = false;
    try {
      await navigator.serviceWorker.ready;
      const list = await (await fetch(`/jobs/${job}/take-along`, { headers: { Accept: "application/json" } })).json();
      const cache = await caches.open("studbay-pages");
      bar.max = list.pages.length;
      let done = 0;
      for (const path of list.pages) {
        const answer = await fetch(path, { headers: { Accept: "text/html" } });
        if (!answer.ok || answer.redirected) throw new Error(path);
        await cache.put(path, answer);
        bar.value = ++done;
        state.textContent = `${done} of ${list.pages.length} pages.`;
      }
      remember({ ...along(), [job]: { at: Date.now(), revision: list.revision, pages: list.pages.length } });
      const lasting = await navigator.storage?.persist?.();
      box.dataset.revision = String(list.revision);
      tell();
      if (lasting === false) state.textContent += " Put Studbay on the home screen: then the tablet does not clear it away.";
    } catch { state.textContent = "Not all of it came along. Try again where the signal is better."; }
    finally { button.disabled = false; bar.hidden = true; }
  });
})();
