// Pages that work with the network down. A page opts in twice: its view wears @keep_offline
// (workshops/access/keeping.py), so that the worker may keep it as last seen, and somewhere in
// it stands data-offline="words", which the band shows after the time. data-offline-refresh="60"
// on the same element keeps it anew every minute while it lies open.
(function () {
  "use strict";

  const KEPT = "wb-kept";
  const SETTLED = 1500;  // a page that changes piece by piece is kept once it is quiet
  const page = document.body;
  const optedIn = document.querySelector("[data-offline]");

  function clock(date) {
    return date.toLocaleTimeString("en-GB", {hour: "2-digit", minute: "2-digit"});
  }

  // Kept pages are for the person who is signed in: anybody else, or nobody, clears them.
  async function forgetOthers() {
    if (!window.caches || page.dataset.who === undefined || !await caches.has(KEPT)) { return; }
    const kept = await caches.open(KEPT);
    for (const asked of await kept.keys()) {
      const answer = await kept.match(asked);
      const [who, until] = answer.headers.get("X-Keep-Offline").split(" ");
      if (who !== page.dataset.who || Date.now() / 1000 > Number(until)) {
        await kept.delete(asked);
      }
    }
  }

  async function listKept(list) {
    const kept = await caches.open(KEPT);
    const items = [];
    for (const asked of await kept.keys()) {
      const html = await (await kept.match(asked)).text();
      const link = document.createElement("a");
      const title = new DOMParser().parseFromString(html, "text/html").title;
      link.href = asked.url;
      link.textContent = title;
      const item = document.createElement("li");
      item.append(link);
      items.push(item);
    }
    if (items.length) { list.replaceChildren(...items); }
  }

  function band() {
    let found = document.getElementById("wb-band");
    if (!found) {
      found = document.createElement("p");
      found.id = "wb-band";
      found.className = "wb-note wb-note--warning";
      found.setAttribute("role", "status");
      document.getElementById("main").prepend(found);
    }
    return found;
  }

  function lookAgain() {
    const button = document.createElement("button");
    button.className = "wb-button wb-button--quiet";
    button.type = "button";
    button.textContent = "Look again";
    button.addEventListener("click", () => location.reload());
    return button;
  }

  // What the page shows is as old as its copy, also once the network is back.
  let downSince = page.dataset.keptAt ? new Date(page.dataset.keptAt) : null;
  function tell(isDown) {
    if (isDown && !downSince) { downSince = new Date(); }
    if (page.dataset.keptAt) {
      const words = isDown ? "No network: last seen " : "The network is back. This page was last seen ";
      band().replaceChildren(
        words + clock(downSince) + ". " + optedIn.dataset.offline + " ", lookAgain());
    } else if (isDown) {
      band().textContent =
        "No network: last seen " + clock(downSince) + ". " + optedIn.dataset.offline;
    } else if (downSince) {
      downSince = null;
      band().remove();
    }
  }

  function keepThis(registration) {
    const worker = registration.active;
    if (worker && navigator.onLine) { worker.postMessage({keep: location.href.split("#")[0]}); }
  }

  async function work() {
    // Asked first: a new worker takes the page over while we wait for it.
    const cameThroughIt = Boolean(navigator.serviceWorker.controller);
    const registration = await navigator.serviceWorker.register("/worker.js");
    await navigator.serviceWorker.ready;
    // Its first page came before the worker did; the worker keeps every later one on its way.
    if (!cameThroughIt && !page.dataset.keptAt) { keepThis(registration); }
    let quiet = 0;
    document.addEventListener("htmx:afterSettle", () => {
      clearTimeout(quiet);
      quiet = setTimeout(keepThis, SETTLED, registration);
    });
    const every = Number(optedIn.dataset.offlineRefresh || 0);
    if (every) { setInterval(keepThis, every * 1000, registration); }
  }

  forgetOthers();
  const list = document.getElementById("wb-kept-pages");
  if (list && window.caches) { listKept(list); }
  if (!optedIn) { return; }
  window.addEventListener("offline", () => tell(true));
  window.addEventListener("online", () => tell(false));
  // The Wi-Fi may be there and the shop's computer not: whoever asks it tells what came of it.
  document.addEventListener("wb:network", (event) => tell(event.detail.isDown));
  if (page.dataset.keptAt || !navigator.onLine) { tell(true); }
  // Browsers have workers on https and on this machine alone; elsewhere only the band works.
  if ("serviceWorker" in navigator) { work().catch(() => null); }
}());
