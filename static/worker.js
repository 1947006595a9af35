/* The worker: answers for pages that were taken along when there is no signal. Nothing is kept that nobody asked for. */
"use strict";
const VERSION = "/*VERSION*/";
const SHELL = [/*SHELL*/];
const SHELL_CACHE = `studbay-shell-${VERSION}`;
const PAGES = "studbay-pages";
const PATIENCE_MS = 6000, WITHOUT_KEPT_MS = 60000;
const WITHOUT_SIGNAL = "/without-signal";

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(SHELL_CACHE);
    await cache.addAll([...SHELL, WITHOUT_SIGNAL]);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("studbay-shell-") && name !== SHELL_CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

/** The network, but not for ever: one bar of signal is worse than none. Where nothing was kept, a slow answer is better. */
function fromNetwork(request, patienceMs) {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error("no answer")), patienceMs);
    fetch(request).then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

async function page(request) {
  const path = new URL(request.url).pathname;
  const kept = await caches.open(PAGES);
  try {
    const answer = await fromNetwork(request, (await kept.match(path)) ? PATIENCE_MS : WITHOUT_KEPT_MS);
    // a page that was taken along is kept fresh; no other page is ever kept
    if (answer.ok && !answer.redirected && (await kept.match(path))) await kept.put(path, answer.clone());
    return answer;
  } catch (error) {
    const found = (await kept.match(path)) ?? (await caches.match(WITHOUT_SIGNAL));
    if (!found) throw error;
    // re-wrapped: Safari refuses an answer to a navigation that remembers a redirect
    return new Response(await found.blob(), { status: 200, headers: found.headers });
  }
}

self.addEventListener("fetch", (event) => {
  const request = event.request;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/static/")) {
    event.respondWith((async () => (await caches.match(request, { cacheName: SHELL_CACHE })) ?? fetch(request))());
    return;
  }
  // signing in and out is between the browser and the server alone
  if (/^\/(sign-in|sign-out|first-account|join|demo|account|guest|worker\.js|api)\b/.test(url.pathname)) return;
  if (request.mode === "navigate") event.respondWith(page(request));
});
