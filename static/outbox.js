/* The outbox: whatever is recorded on a walk is first written here, then sent, once, in order, photographs last.
   It is the written exception to "nothing personal in browser storage": least data, one database a person, emptied
   after sending and at signing out. */
"use strict";
globalThis.Studbay ??= {};
(() => {
  const person = document.body.dataset.person;
  const badge = document.getElementById("outbox");
  if (!person || !("indexedDB" in globalThis)) return;
  const RETRY_MS = [2000, 5000, 15000, 60000];
  const WARN_AFTER_MS = 2 * 24 * 3600 * 1000;
  let sending = false, retry = 0, timer = 0;

  const database = new Promise((resolve, reject) => {
    const open = indexedDB.open(`studbay-outbox-${person}`, 1);
    open.onupgradeneeded = () => { open.result.createObjectStore("entries", { keyPath: "order", autoIncrement: true }); };
    open.onsuccess = () => resolve(open.result);
    open.onerror = () => reject(open.error);
  });

  async function within(mode, work) {
    const db = await database;
    return new Promise((resolve, reject) => {
      const transaction = db.transaction("entries", mode, { durability: "strict" });
      let answer;
      const request = work(transaction.objectStore("entries"));
      request.onsuccess = () => { answer = request.result; };
      transaction.oncomplete = () => resolve(answer);
      transaction.onabort = transaction.onerror = () => reject(transaction.error);
    });
  }
  const all = () => within("readonly", (store) => store.getAll());
  const put = (entry) => within("readwrite", (store) => store.put(entry));
  const drop = (order) => within("readwrite", (store) => store.delete(order));

  /** Write an entry down; only when that is done has anything been recorded. */
  async function keep(entry) {
    const order = await put({ ...entry, person, createdAt: Date.now(), state: "waiting", tries: 0, message: "" });
    await show();
    return order;
  }

  const isPhoto = (entry) => entry.kind === "photo";
  /** Facts in the order in which they were recorded, then photographs. */
  const nextOf = (entries) => entries.find((e) => e.state === "waiting" && !isPhoto(e)) ?? entries.find((e) => e.state === "waiting");

  async function send(entry) {
    const body = isPhoto(entry) ? photoForm(entry) : entry.body;
    // the server refuses an entry whose owner is no longer the one who is signed in
    const headers = { "HX-Request": "true", Accept: "text/html", "Studbay-Person": person };
    if (!isPhoto(entry)) headers["Content-Type"] = "application/x-www-form-urlencoded";
    return fetch(entry.url, { method: "POST", body, headers, credentials: "same-origin", redirect: "manual", signal: AbortSignal.timeout(isPhoto(entry) ? 120000 : 20000) });
  }
  function photoForm(entry) {
    const form = new FormData();
    for (const [name, value] of Object.entries(entry.fields)) form.append(name, value);
    // an ArrayBuffer, not a Blob: Safari loses Blobs in its storage at times
    form.append("file", new File([entry.bytes], entry.name, { type: entry.type }));
    return form;
  }

  const BLOCKED = {
    403: "Your role does not include this. A foreman can record it, or change your role.",
    404: "What this was about is no longer there.",
    409: "This was recorded with another answer before. Look at it again and record it anew.",
    413: "This is larger than the server takes.",
    415: "The server does not take this kind of file.",
  };

  /** Send what waits, one after the other; a lock keeps two tabs from sending the same. */
  async function drain() {
    if (sending) return;
    sending = true;
    clearTimeout(timer);
    try {
      const work = async () => {
        for (let entry; (entry = nextOf(await all())); ) {
          if (!(await one(entry))) break;
          await show();
        }
      };
      if (navigator.locks) await navigator.locks.request(`studbay-outbox-${person}`, work); else await work();
    } finally { sending = false; await show(); }
  }

  async function one(entry) {
    let answer;
    try { answer = await send(entry); }
    catch { later(); return false; }
    if (answer.ok) {
      const text = isPhoto(entry) ? "" : await answer.text().catch(() => null);
      await drop(entry.order);
      retry = 0;
      if (text) document.dispatchEvent(new CustomEvent("studbay:sent", { detail: { entry, text } }));
      if (isPhoto(entry)) { const { id } = await answer.json().catch(() => ({ id: entry.fields.id })); document.dispatchEvent(new CustomEvent("studbay:photo-sent", { detail: { entry, id } })); }
      return true;
    }
    if (answer.status === 401 || answer.type === "opaqueredirect") { await setMessage(entry, "waiting", "You are signed out. Sign in, and this is sent."); signedOut = true; return false; }
    if (answer.status === 429 || answer.status >= 500) { later(Number(answer.headers.get("Retry-After")) * 1000 || 0); return false; }
    const said = await explain(answer);
    await setMessage(entry, "kept", BLOCKED[answer.status] ?? said ?? `The server refused this (${answer.status}).`);
    return true;
  }
  let signedOut = false;

  async function explain(answer) {
    const text = await answer.text().catch(() => "");
    if ((answer.headers.get("Content-Type") ?? "").includes("json")) { try { return JSON.parse(text).detail; } catch { return null; } }
    const found = new DOMParser().parseFromString(text, "text/html").querySelector(".error, h1");
    return found?.textContent?.trim() || null;
  }
  const setMessage = (entry, state, message) => put({ ...entry, state, message, tries: entry.tries + 1 });
  function later(atLeast = 0) {
    clearTimeout(timer);
    timer = setTimeout(drain, Math.max(atLeast, RETRY_MS[Math.min(retry++, RETRY_MS.length - 1)]));
  }

  function age(ms) {
    const minutes = Math.floor(ms / 60000);
    return minutes < 1 ? "just now" : minutes < 60 ? `${minutes} min` : minutes < 2880 ? `${Math.floor(minutes / 60)} h` : `${Math.floor(minutes / 1440)} days`;
  }

  /** How many wait and how long, on every page. */
  async function show() {
    const entries = await all();
    if (!badge) return;
    const waiting = entries.filter((e) => e.state === "waiting"), kept = entries.length - waiting.length;
    badge.hidden = entries.length === 0;
    badge.replaceChildren();
    if (entries.length) {
      const oldest = Math.max(...entries.map((e) => Date.now() - e.createdAt));
      const link = Object.assign(document.createElement("a"), { href: "/outbox", className: "outbox-link" });
      link.textContent = `${entries.length} not yet sent, oldest ${age(oldest)}${kept ? `, ${kept} refused` : ""}`;
      badge.append(link);
      badge.classList.toggle("outbox-old", oldest > WARN_AFTER_MS || kept > 0 || signedOut);
    }
    document.dispatchEvent(new CustomEvent("studbay:outbox", { detail: { entries } }));
  }

  addEventListener("online", () => { retry = 0; drain(); });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") drain(); });
  document.addEventListener("DOMContentLoaded", () => { show(); drain(); });

  // signing out with unsent work asks once more; then everything of this person leaves the tablet
  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.action?.endsWith("/sign-out") || form.dataset.cleared) return;
    event.preventDefault();
    const left = (await all()).length;
    if (left && form.dataset.sure !== "yes") {
      form.dataset.sure = "yes";
      const button = form.querySelector("button");
      button.textContent = `Sign out and lose ${left} not yet sent`;
      return;
    }
    await clear();
    form.dataset.cleared = "yes";
    form.submit();
  });
  async function clear() {
    await within("readwrite", (store) => store.clear());
    await caches.delete("studbay-pages");
    (await database).close();
    indexedDB.deleteDatabase(`studbay-outbox-${person}`);
    localStorage.removeItem("studbay-along");
  }

  Object.assign(globalThis.Studbay, { outbox: { keep, drain, all, drop, put, show, age } });
})();
