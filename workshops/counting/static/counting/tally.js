// The page of buttons. Without this file every button is a form that is sent at once; with it a
// press is kept on the tablet, shown, and shared in the background, in order.

import {
  KINDS, asSent, countsOf, heard, leftOut, newTap, nextBatch, pieces, takenBack, unshared,
} from "./outbox.js";
import {openStore} from "./store.js";

const QUIET = 400;         // presses that follow one another go together
const EVERY = 15000;       // how often the others' counts are asked for
const LONGEST_WAIT = 30000;
const ANSWER_WITHIN = 15000;
const LISTED = 20;

const page = document.getElementById("wb-tally");
const night = page.dataset.night;
const rows = new Map(
  [...page.querySelectorAll("[data-operation]")].map((row) => [row.dataset.operation, row]));

const taps = new Map();
let store, tablet, totals = {}, own = {};
let state = "ok";          // ok, down, signin, refused
let told = "";
let isSharing = false, timer = 0, wait = 1000;

function all() { return [...taps.values()]; }

function nameOf(operation) {
  const row = rows.get(String(operation));
  return row ? row.dataset.name : "an operation of another page";
}

function inWords(tap) {
  return KINDS.filter((kind) => tap[kind])
    .map((kind) => "+" + tap[kind] + (kind === "good" ? "" : " " + kind)).join(", ");
}

function clock(at) {
  return new Date(at).toLocaleTimeString("en-GB", {hour: "2-digit", minute: "2-digit"});
}

// ---- what is shown

function show() {
  const counts = countsOf(all(), night, totals, own);
  rows.forEach((row, operation) => {
    const count = counts[operation] || {good: 0, hold: 0, scrap: 0, own: 0, waiting: 0};
    KINDS.forEach((kind) => {
      row.querySelector('[data-show="' + kind + '"]').textContent = count[kind];
    });
    row.querySelector('[data-show="own"]').textContent = "this tablet: " + count.own;
    row.querySelector('[data-show="waiting"]').textContent =
      count.waiting ? count.waiting + " not yet shared" : "";
  });
  showState();
  showTaps();
}

function showState() {
  const left = unshared(all());
  const words = {
    ok: left ? left + " not yet shared" : "All counts are shared.",
    down: left ? left + " not yet shared: no network. They are kept on this tablet."
      : "No network. Counts are kept on this tablet.",
    signin: "Sign in again to share; nothing is lost. " + left + " not yet shared.",
    refused: told + " " + left + " not yet shared.",
  }[state];
  const box = document.getElementById("wb-share-state");
  if (box.textContent !== words) { box.textContent = words; }
  box.dataset.state = state === "ok" ? (left ? "waiting" : "ok") : state;
  document.getElementById("wb-sign-in").hidden = state !== "signin";
}

function showTaps() {
  const mine = all().filter((tap) => tap.night === night && pieces(tap))
    .sort((a, b) => b.number - a.number);
  const last = mine.find((tap) => !tap.back);
  const undo = document.getElementById("wb-undo-last");
  undo.disabled = !last;
  undo.dataset.key = last ? last.key : "";
  document.getElementById("wb-last").textContent =
    last ? "Last: " + inWords(last) + " " + nameOf(last.operation) + ", " + clock(last.at) : "";
  document.getElementById("wb-taps").replaceChildren(...mine.slice(0, LISTED).map(line));
}

function line(tap) {
  const item = document.createElement("li");
  const words = document.createElement("span");
  const small = document.createElement("small");
  words.textContent = inWords(tap) + " " + nameOf(tap.operation);
  small.textContent = clock(tap.at) + (tap.state === "waiting" ? " · not yet shared" : "")
    + (tap.back ? " · taken back" : "") + (tap.says ? " · not in the book: " + tap.says : "");
  words.append(small);
  item.append(words);
  if (!tap.back) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "wb-button wb-button--quiet";
    button.textContent = "Take back";
    button.setAttribute("aria-label", "Take back " + words.textContent);
    button.dataset.key = tap.key;
    item.append(button);
  }
  return item;
}

// ---- what is pressed

async function keep(make) {
  const records = await store.add(make);
  records.forEach((record) => taps.set(record.key, record));
  show();
  shareSoon(QUIET);
}

function press(operation, counted) {
  const at = new Date().toISOString();
  return keep((next) => [newTap(next(), night, Number(operation), counted, at)]);
}

function back(key) {
  const tap = taps.get(key);
  if (!tap || tap.back) { return Promise.resolve(); }
  tap.back = true;  // a second press in the meantime takes nothing more back
  return keep((next) => takenBack(tap, next, new Date().toISOString()));
}

function countedIn(form, button) {
  const counted = {good: 0, hold: 0, scrap: 0};
  new FormData(form).forEach((value, name) => {
    if (KINDS.includes(name)) { counted[name] += Number(value) || 0; }
  });
  if (button && button.name === "add") { counted.good += Number(button.value); }
  if (button && KINDS.includes(button.name)) { counted[button.name] += Number(button.value); }
  return counted;
}

function listen() {
  page.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-tap]");
    if (!form) { return; }
    event.preventDefault();
    const counted = countedIn(form, event.submitter);
    if (!KINDS.some((kind) => counted[kind])) { return; }
    press(form.closest("[data-operation]").dataset.operation, counted).then(() => form.reset());
  });
  document.getElementById("wb-taps").addEventListener("click", (event) => {
    const button = event.target.closest("button[data-key]");
    if (button) { back(button.dataset.key); }
  });
  document.getElementById("wb-undo-last").addEventListener("click", (event) => {
    back(event.currentTarget.dataset.key);
  });
  document.getElementById("wb-tablet-name").addEventListener("submit", (event) => {
    event.preventDefault();
    const name = event.target.elements.name.value.trim();
    if (!name) { return; }
    tablet.name = name;
    store.rename(name).then(showName).then(() => shareSoon(0));
  });
  window.addEventListener("online", () => shareSoon(0));
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { shareSoon(0); } });
}

function showName() {
  document.getElementById("wb-tablet-name").hidden = Boolean(tablet.name);
  document.getElementById("wb-tablet").textContent = tablet.name ? "This is “" + tablet.name + "”." : "";
}

// ---- what is shared

function shareSoon(after) {
  clearTimeout(timer);
  timer = setTimeout(share, after);
}

function token() {
  const cookie = document.cookie.split("; ").find((each) => each.startsWith("csrftoken="));
  return cookie ? cookie.split("=")[1] : page.querySelector("[name=csrfmiddlewaretoken]").value;
}

async function ask(batch) {
  const url = page.dataset.share.replace(night, batch.length ? batch[0].night : night);
  const tooLong = new AbortController();
  const late = setTimeout(() => tooLong.abort(), ANSWER_WITHIN);
  const headers = {"Content-Type": "application/json", "X-CSRFToken": token()};
  // Asked without a press, it must not keep a tablet left lying signed in.
  if (!batch.length) { headers["X-By-Itself"] = "yes"; }
  try {
    return await fetch(url, {
      method: "POST", headers, redirect: "manual", signal: tooLong.signal,
      body: JSON.stringify({
        tablet: tablet.key, name: tablet.name, now: new Date().toISOString(),
        told: Math.max(0, ...all().map((tap) => tap.number)),
        waiting: leftOut(all(), batch), taps: batch.map(asSent),
      }),
    });
  } finally {
    clearTimeout(late);
  }
}

async function share() {
  if (isSharing) { return; }
  isSharing = true;
  const batch = nextBatch(all());
  try {
    batch.forEach((tap) => { tap.tried = true; });
    await store.put(batch);
    await hear(await ask(batch), batch);
  } catch (error) {
    turn("down");
  }
  isSharing = false;
  show();
  const left = nextBatch(all()).length;
  if (state === "ok") { wait = 1000; } else { wait = Math.min(2 * wait, LONGEST_WAIT); }
  shareSoon(state !== "ok" ? wait : left ? 0 : EVERY);
}

async function hear(answer, batch) {
  if (answer.type === "opaqueredirect" || answer.status === 403) { return turn("signin"); }
  if (answer.status >= 500) { return turn("down"); }
  if (!answer.ok) {
    told = (await answer.json().catch(() => ({}))).says || "The shop’s computer refused them.";
    return turn("refused");
  }
  const said = await answer.json();
  const changed = heard(all(), said);
  await store.put(changed);
  changed.forEach((tap) => taps.set(tap.key, tap));
  if (said.name !== tablet.name && tablet.name) {
    tablet.name = said.name;
    await store.rename(said.name);
    showName();
  }
  if (!batch.length || batch[0].night === night) {
    totals = said.totals;
    own = said.own;
    await store.keepTotals(night, totals, own);
  }
  return turn("ok");
}

function turn(now) {
  state = now;
  document.dispatchEvent(new CustomEvent("wb:network", {detail: {isDown: now === "down"}}));
}

// ---- the beginning

async function begin() {
  store = await openStore(page.dataset.shop);
  tablet = await store.tablet();
  (await store.taps()).forEach((tap) => taps.set(tap.key, tap));
  const kept = await store.totals(night);
  own = kept ? kept.own : {};
  // A page kept from before knows less than what the server said last.
  if (kept && document.body.dataset.keptAt) {
    totals = kept.totals;
  } else {
    rows.forEach((row, key) => {
      totals[key] = KINDS.map((kind) => Number(row.querySelector('[data-show="' + kind + '"]').textContent));
    });
  }
  // Or the browser may clear it when the tablet runs full.
  if (navigator.storage && navigator.storage.persist) { navigator.storage.persist(); }
  listen();
  showName();
  page.classList.add("wb-tally--live");
  show();
  shareSoon(0);
}

// Where a browser keeps nothing, the forms go on working as they are.
begin().catch(() => null);
