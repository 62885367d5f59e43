// The roll: finds names as they are typed, also with the network down, and keeps taps then.
(function () {
  "use strict";

  const SPELT = {"ø": "o", "đ": "d", "ł": "l", "ß": "ss", "æ": "ae", "œ": "oe", "þ": "th"};
  const SHOWN = 8;
  const box = document.getElementById("id_q");

  function folded(text) {
    return text.toLowerCase().replace(/[øđłßæœþ]/g, (letter) => SPELT[letter])
      .normalize("NFKD").replace(/\p{M}/gu, "");
  }

  function isIn(person) {
    return document.querySelector('#wb-inside [data-in="' + person + '"]:not(.wb-kept-out)');
  }

  function row(person, name) {
    const item = document.createElement("li");
    const told = document.createElement("span");
    told.textContent = name;
    item.append(told);
    const button = document.createElement(isIn(person) ? "span" : "button");
    button.textContent = isIn(person) ? "is in" : "In";
    if (button.tagName === "BUTTON") {
      button.className = "wb-button";
      // Written out: htmx looks for it, or sends the form without whose button it was.
      button.setAttribute("type", "submit");
      button.setAttribute("form", "wb-in");
      button.setAttribute("aria-label", name + " comes in");
      button.name = "person";
      button.value = person;
    }
    item.append(button);
    return item;
  }

  function find() {
    const list = document.getElementById("wb-found");
    const words = folded(box.value).split(/\s+/).filter(Boolean);
    list.hidden = !words.length;
    if (!words.length) { return; }
    const people = JSON.parse(document.getElementById("wb-people").textContent);
    const fit = people.filter((each) => {
      const parts = each[2].split(/[\s-]+/);
      return words.every((word) => parts.some((part) => part.startsWith(word)));
    });
    const rows = fit.slice(0, SHOWN).map((each) => row(each[0], each[1]));
    if (!rows.length) {
      rows.push(document.createElement("li"));
      rows[0].textContent = "Nobody on the list is called that. A walk-in?";
    }
    list.replaceChildren(...rows);
    htmx.process(list);
  }

  function nameOf(person) {
    const line = document.querySelector('[data-in="' + person + '"]');
    if (line) { return line.dataset.name; }
    const button = document.querySelector('#wb-in button[value="' + person + '"]');
    if (button) { return button.textContent.trim(); }
    const people = JSON.parse(document.getElementById("wb-people").textContent);
    const one = people.find((each) => String(each[0]) === String(person));
    return one ? one[1] : "somebody";
  }

  // The page as it will be once what is kept here is shared.
  function show() {
    const inside = document.getElementById("wb-inside");
    inside.querySelectorAll(".wb-kept-in").forEach((each) => each.remove());
    inside.querySelectorAll(".wb-kept-out").forEach((each) => each.classList.remove("wb-kept-out"));
    document.querySelectorAll("#wb-in button").forEach((each) => { each.hidden = false; });
    window.wbKept.all().forEach((tap) => {
      const person = tap.fields.person || tap.fields.client_key;
      const line = inside.querySelector('[data-in="' + person + '"]');
      if (tap.what === "out") {
        if (line && line.classList.contains("wb-kept-in")) { line.remove(); }
        else if (line) { line.classList.add("wb-kept-out"); }
        return;
      }
      document.querySelectorAll('#wb-in button[value="' + person + '"]')
        .forEach((each) => { each.hidden = true; });
      if (line) { line.classList.remove("wb-kept-out"); return; }
      const kept = keptLine(tap, person);
      inside.append(kept);
      htmx.process(kept);
    });
    const count = document.querySelector("[data-count]");
    count.textContent = inside.querySelectorAll("[data-in]:not(.wb-kept-out)").length + " in now";
  }

  function keptLine(tap, person) {
    const item = document.createElement("li");
    item.className = "wb-kept-in";
    item.dataset.in = person;
    item.dataset.name = tap.name;
    const told = document.createElement("b");
    told.textContent = tap.name;
    item.append(told);
    if (tap.what === "in") {
      const out = document.createElement("button");
      out.className = "wb-button wb-button--quiet";
      out.setAttribute("type", "submit");
      out.setAttribute("form", "wb-out");
      out.name = "person";
      out.value = person;
      out.textContent = "Out";
      item.append(out);
    }
    return item;
  }

  function keep(form, submitter) {
    const fields = {};
    new FormData(form).forEach((value, key) => { if (key !== "csrfmiddlewaretoken") { fields[key] = value; } });
    if (submitter && submitter.name) { fields[submitter.name] = submitter.value; }
    if (submitter && submitter.name === "collected_by") { delete fields.collected_word; }
    const what = form.dataset.door;
    const who = what === "walk-in" ? (fields.first_name + " " + fields.last_name).trim() : nameOf(fields.person);
    window.wbKept.add(what, who, fields);
    if (what === "walk-in") { form.reset(); }
    box.value = "";
    find();
  }

  function isDoor(form, submitter) {
    return form && form.dataset && form.dataset.door && !(submitter && submitter.hasAttribute("formaction"));
  }

  // A quick thumb is faster than the page: what it taps while an answer is on its way is kept
  // and shared right after, and nothing is exchanged under a finger that lies on a name.
  const QUIET = 400;
  let last = null, isBusy = false, isPressed = false, isStale = false, waits = 0;

  function refresh() {
    clearTimeout(waits);
    waits = setTimeout(() => {
      if (isBusy || isPressed || window.wbKept.all().length) { return; }
      isStale = false;
      htmx.ajax("GET", location.href, {
        target: "#wb-roll", select: "#wb-roll", swap: "outerHTML show:none",
      });
    }, QUIET);
  }

  document.addEventListener("htmx:beforeRequest", () => { isBusy = true; });
  document.addEventListener("htmx:afterRequest", () => { isBusy = false; window.wbKept.share(); });
  document.addEventListener("pointerdown", (event) => {
    isPressed = Boolean(event.target.closest && event.target.closest("#wb-roll button"));
  }, true);
  ["pointerup", "pointercancel"].forEach((name) => document.addEventListener(name, () => {
    isPressed = false;
    if (isStale) { refresh(); }
  }, true));
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (isPressed) { event.detail.shouldSwap = false; isStale = true; }
  });

  document.addEventListener("submit", (event) => {
    last = {form: event.target, submitter: event.submitter};
    if ((!navigator.onLine || isBusy) && isDoor(event.target, event.submitter)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      keep(event.target, event.submitter);
    }
  }, true);

  // The Wi-Fi is there and the shop's computer is not: the tap is kept all the same.
  document.addEventListener("htmx:sendError", () => {
    if (last && isDoor(last.form, last.submitter)) {
      keep(last.form, last.submitter);
      const said = document.getElementById("wb-messages");
      if (said) { said.replaceChildren(); }
      document.dispatchEvent(new CustomEvent("wb:network", {detail: {isDown: true}}));
    }
  });

  // Whoever comes in stands on the evacuation list too, should the network go the next moment.
  function keepEvacuationList() {
    const link = document.getElementById("wb-evacuation");
    if (!navigator.onLine || !("serviceWorker" in navigator)) { return; }
    navigator.serviceWorker.ready.then((ready) => ready.active.postMessage({keep: link.href}));
  }

  document.addEventListener("htmx:afterSettle", () => {
    box.value = "";
    find();
    show();
    keepEvacuationList();
  });
  document.addEventListener("wb:shared", refresh);
  box.addEventListener("input", find);
  box.form.addEventListener("submit", (event) => {
    const first = document.querySelector("#wb-found button");
    event.preventDefault();
    if (first) { first.focus(); }
  });
  window.wbKept.onChange(show);
  show();
  find();
  keepEvacuationList();
}());
