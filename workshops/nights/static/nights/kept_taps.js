// What is tapped at the door while the network is down: kept on this tablet with its time and a
// key of its own, and shared when the network is back. The server counts each key once.
import {newKey} from "../common/key.js";

window.wbKept = (function () {
  "use strict";

  const note = document.getElementById("wb-kept-taps");
  if (!note) { return null; }
  const name = "wb-door-" + note.dataset.night;
  const listeners = [];
  let isSharing = false;

  function all() {
    try { return JSON.parse(localStorage.getItem(name)) || []; } catch (error) { return []; }
  }

  function write(taps) {
    localStorage.setItem(name, JSON.stringify(taps));
    tell();
    listeners.forEach((listen) => listen());
  }

  function clock(iso) {
    return new Date(iso).toLocaleTimeString("en-GB", {hour: "2-digit", minute: "2-digit"});
  }

  function tell(words) {
    const taps = all();
    note.hidden = !taps.length && !words;
    const list = taps.map((tap) => tap.name + (tap.what === "out" ? " out " : " in ") + clock(tap.fields.at));
    note.textContent = (words || "") + (taps.length
      ? taps.length + " kept on this tablet, not yet shared: " + list.join(", ") + "." : "");
  }

  function add(what, who, fields) {
    const key = newKey();
    const whole = Object.assign({}, fields, {what: what, client_key: key, at: new Date().toISOString()});
    write(all().concat([{what: what, name: who, fields: whole}]));
  }

  async function share() {
    if (isSharing || !all().length || !navigator.onLine) { return; }
    isSharing = true;
    const refused = [];
    let shared = 0;
    try {
      while (all().length) {
        const tap = all()[0];
        const token = document.querySelector("[name=csrfmiddlewaretoken]");
        const answer = await fetch(note.dataset.url, {
          method: "POST", body: new URLSearchParams(tap.fields), redirect: "error",
          headers: {"X-CSRFToken": token ? token.value : ""},
        });
        if (!answer.ok) { throw new Error("not shared"); }
        const said = await answer.json();
        if (!said.is_kept) { refused.push(tap.name + ": " + said.says); }
        shared += 1;
        // Another page of this tablet may have added one meanwhile: only this one goes.
        write(all().filter((each) => each.fields.client_key !== tap.fields.client_key));
      }
    } catch (error) {
      tell();
    } finally {
      isSharing = false;
    }
    if (refused.length) { tell("Not kept, write it down: " + refused.join(" ") + " "); }
    else if (shared && !all().length) { document.dispatchEvent(new CustomEvent("wb:shared")); }
  }

  window.addEventListener("online", share);
  setInterval(share, 15000);
  tell();
  setTimeout(share, 0);
  return {all: all, add: add, share: share, onChange: (listen) => listeners.push(listen), clock: clock};
}());
