// Ticks at the meeting point, kept on this tablet alone, and what was tapped while offline.
(function () {
  "use strict";

  const list = () => document.getElementById("wb-muster");
  const name = "wb-seen-" + list().dataset.night;

  function seen() {
    try { return JSON.parse(localStorage.getItem(name)) || []; } catch (error) { return []; }
  }

  function merge() {
    list().querySelectorAll(".wb-kept-in").forEach((each) => each.remove());
    window.wbKept.all().forEach((tap) => {
      const person = tap.fields.person || tap.fields.client_key;
      const line = list().querySelector('[data-in="' + person + '"]');
      if (tap.what === "out" && line) { line.remove(); }
      if (tap.what !== "out" && !line) { list().append(added(person, tap.name)); }
    });
  }

  function added(person, who) {
    const item = document.createElement("li");
    item.className = "wb-kept-in";
    item.dataset.in = person;
    item.dataset.name = who;
    const label = document.createElement("label");
    const tick = document.createElement("input");
    const told = document.createElement("b");
    tick.type = "checkbox";
    told.textContent = who;
    label.append(tick, told);
    item.append(label);
    return item;
  }

  function tell() {
    const rows = [...list().querySelectorAll("[data-in]")];
    const kept = seen();
    rows.forEach((row) => { row.querySelector("input").checked = kept.includes(row.dataset.in); });
    const missing = rows.filter((row) => !kept.includes(row.dataset.in)).map((row) => row.dataset.name);
    document.getElementById("wb-count").textContent = rows.length + " in, " +
      (rows.length - missing.length) + " seen, " + missing.length + " missing" +
      (missing.length && missing.length < rows.length ? ": " + missing.join(", ") : "") + ".";
  }

  function show() { merge(); tell(); }

  document.addEventListener("change", (event) => {
    const row = event.target.closest("#wb-muster [data-in]");
    if (!row) { return; }
    const kept = seen().filter((each) => each !== row.dataset.in);
    if (event.target.checked) { kept.push(row.dataset.in); }
    localStorage.setItem(name, JSON.stringify(kept));
    tell();
  });
  document.getElementById("wb-anew").addEventListener("click", () => {
    localStorage.removeItem(name);
    tell();
  });
  document.addEventListener("htmx:afterSettle", show);
  document.addEventListener("wb:shared", () => location.reload());
  window.wbKept.onChange(show);
  show();
}());
