// The site's one service worker. The server writes VERSION, FILES and SIGN_OUT before it and
// serves it as /worker.js, so that a changed file changes this script and replaces it.
// It answers only when the network does not: everything else goes through untouched.
"use strict";

const SHELL = "wb-shell-" + VERSION;
const KEPT = "wb-kept";
// A tablet at the edge of the Wi-Fi waits this long for a page it could also show as kept.
const PATIENCE = 4000;

self.addEventListener("install", (event) => {
  const fresh = FILES.map((file) => new Request(file, {cache: "reload"}));
  event.waitUntil(
    caches.open(SHELL).then((shell) => shell.addAll(fresh)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  const isOld = (name) => name.startsWith("wb-shell-") && name !== SHELL;
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(names.filter(isOld).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const asked = event.request;
  const url = new URL(asked.url);
  if (url.origin !== self.location.origin) { return; }
  if (asked.mode === "navigate") {
    event.respondWith(asked.method === "GET" ? page(event) : sent(event, url));
  } else if (asked.method === "GET" && FILES.includes(url.pathname)) {
    event.respondWith(file(asked, url));
  }
});

self.addEventListener("message", (event) => {
  if (event.data && event.data.keep) { event.waitUntil(keepAgain(event.data.keep)); }
});

// A page as the server gives it; without the server as it was last seen.
async function page(event) {
  const url = event.request.url;
  const kept = await lastSeen(url);
  const asking = fetch(event.request);
  event.waitUntil(asking.then((answer) => keep(url, answer.clone())).catch(() => null));
  try {
    return await (kept ? within(PATIENCE, asking) : asking);
  } catch (error) {
    return kept || noNetwork();
  }
}

// A form. It is never kept and sent later by itself: whoever sent it is told that it did not go.
async function sent(event, url) {
  if (url.pathname === SIGN_OUT) { await caches.delete(KEPT); }
  return fetch(event.request).catch(noNetwork);
}

async function file(asked, url) {
  const shell = await caches.open(SHELL);
  const kept = await shell.match(url.pathname);
  const asking = fetch(asked);
  try {
    return await (kept ? within(PATIENCE, asking) : asking);
  } catch (error) {
    return kept || Response.error();
  }
}

function within(patience, promise) {
  const late = new Promise((_, refuse) => { setTimeout(refuse, patience, new Error("late")); });
  return Promise.race([promise, late]);
}

// Only what the server marks is kept: every other page may be private.
async function keep(url, answer) {
  const kept = await caches.open(KEPT);
  const mark = answer.headers.get("X-Keep-Offline");
  if (mark && answer.ok) {
    const seen = new Date().toISOString();
    const html = (await answer.text()).replace("<body", '<body data-kept-at="' + seen + '"');
    await kept.put(url, new Response(html, {headers: {
      "Content-Type": answer.headers.get("Content-Type"),
      "Content-Security-Policy": answer.headers.get("Content-Security-Policy"),
      "X-Keep-Offline": mark,
    }}));
  } else if (answer.type === "basic" && answer.status < 500) {
    await kept.delete(url);  // forbidden now, or gone
  }
}

async function keepAgain(url) {
  try {
    await keep(url, await fetch(url, {headers: {"X-By-Itself": "yes"}, redirect: "manual"}));
  } catch (error) {
    return;  // no network: what is kept stays as it was last seen
  }
}

async function lastSeen(url) {
  if (!await caches.has(KEPT)) { return null; }
  const kept = await caches.open(KEPT);
  const found = await kept.match(url);
  if (!found) { return null; }
  const until = Number(found.headers.get("X-Keep-Offline").split(" ")[1]);
  if (Date.now() / 1000 < until) { return found; }
  await kept.delete(url);
  return null;
}

async function noNetwork() {
  const shell = await caches.open(SHELL);
  return await shell.match(NO_NETWORK) || Response.error();
}
