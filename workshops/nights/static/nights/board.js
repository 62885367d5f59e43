// Moving people on the board: drag, tap and tap, or keys. Without this file the names are
// links to a page that does the same. Every question is answered by the shop's computer.
(function () {
  "use strict";

  var root = document.getElementById("placing");
  if (!root) { return; }
  var base = root.dataset.base;
  var said = document.getElementById("said");
  var bar = document.getElementById("pick");
  var toEnd = document.getElementById("pick-end");
  var held = null;        // {person, block, name, cells}: whoever is picked up
  var press = null;       // a finger or a mouse that is down on a name
  var wasDragged = false; // the click that ends a drag means nothing
  var asked = 0;          // of two answers the later question counts

  var WORDS = {here: "Here now", yes: "Put here", but: "Put here, then mend", no: "Not here"};
  var SHAPES = {here: "●", yes: "✓", but: "◐", no: "✕"};

  function board() { return document.getElementById("night-board"); }
  function all(selector) { return Array.from(board().querySelectorAll(selector)); }
  function seatOf(person, block) {
    return board().querySelector('td[data-at="' + block + '"] .wb-seat[data-person="' + person + '"]');
  }
  function tell(words, isDone) {
    said.textContent = words;
    said.classList.toggle("wb-said--no", isDone === false);
  }
  var isNarrow = window.matchMedia("(max-width: 47.99rem)");
  function see(element) {
    var box = element.getBoundingClientRect();
    if (box.top < 0 || box.bottom > window.innerHeight * 0.6) {
      element.scrollIntoView({block: "center", behavior: "instant"});
    }
  }
  function isToEnd() { return toEnd.getAttribute("aria-pressed") === "true"; }
  function setToEnd(is) { toEnd.setAttribute("aria-pressed", String(is)); }
  function url(kind, person, block) { return base + kind + "/" + block + "/" + person + "/"; }
  function token() { return root.querySelector("[name=csrfmiddlewaretoken]").value; }

  // ---- picking up and putting back -------------------------------------------------------

  function pick(seat, block) {
    var person = seat.dataset.person;
    letGo();
    held = {person: person, block: block, name: name(seat), cells: {}};
    seat.classList.add("wb-seat--held");
    document.body.classList.add("wb-placing");
    all("td[data-at]").forEach(function (cell) {
      cell.classList.toggle("wb-other", cell.dataset.at !== block);
    });
    show(seat);
    ask();
  }

  function name(seat) { return (seat.querySelector("span") || seat).firstChild.textContent.trim(); }

  function show(seat) {
    document.getElementById("pick-name").textContent = held.name;
    // The sentence begins with the name, which stands large before it.
    document.getElementById("pick-why").textContent = seat.title.replace(held.name, "").trim();
    document.getElementById("pick-page").href = url("move", held.person, held.block);
    var lock = document.getElementById("pick-lock");
    lock.hidden = !seat.dataset.placing;
    lock.action = base + "lock/" + (seat.dataset.placing || 0) + "/";
    document.getElementById("pick-lock-word").textContent =
      "locked" in seat.dataset ? "Let the plan move" : "Keep here";
    bar.hidden = false;
  }

  function ask() {
    var mine = asked += 1;
    var question = url("places", held.person, held.block) + (isToEnd() ? "?to_end=yes" : "");
    fetch(question, {headers: {Accept: "application/json"}}).then(function (answer) {
      if (!answer.ok) { throw new Error(String(answer.status)); }
      return answer.json();
    }).then(function (found) {
      if (!held || mine !== asked) { return; }
      found.cells.forEach(function (each) { held.cells[each.station] = each; });
      mark();
      tell(found.name + " is picked up. " + count() + " places may be taken.");
    }).catch(lost);
  }

  function count() {
    return Object.values(held.cells).filter(function (each) { return !each.no && !each.is_here; }).length;
  }

  function lost() {
    tell("The shop's computer did not answer. Nobody was moved: try again in a moment.", false);
  }

  function mark() {
    all(".wb-drop").forEach(function (button) { button.remove(); });
    var first = null;
    all('td[data-at="' + held.block + '"]').forEach(function (cell) {
      var found = held.cells[cell.dataset.station];
      var may = cell.dataset.station === "none" ? "yes"
        : !found ? "no" : found.no ? "no" : found.is_here ? "here" : found.but ? "but" : "yes";
      cell.dataset.may = may;
      var row = cell.parentNode;
      if (row.classList.contains("wb-spare")) { row.hidden = may === "no"; }
      if (row.classList.contains("wb-spare") && may === "no") { return; }
      var button = drop(cell, may, found);
      cell.appendChild(button);
      if (!first && (may === "yes" || may === "but")) { first = button; }
    });
    if (held.byKey && first) { first.focus(); }
    held.byKey = false;
    // On a phone only the stations that may take them are left: show where these begin.
    if (first && isNarrow.matches && !(press && press.ghost)) { see(first); }
  }

  function drop(cell, may, found) {
    var button = document.createElement("button");
    var head = cell.parentNode.querySelector("th");
    var where = (head.querySelector(".wb-at > span") || head).firstChild.textContent.trim();
    button.type = "button";
    button.className = "wb-drop wb-drop--" + may;
    button.textContent = SHAPES[may] + " " + (cell.dataset.station === "none" ? "No place" : WORDS[may]);
    button.setAttribute("aria-label", where + ": " + WORDS[may]
      + (found && (found.no || found.but) ? ". " + (found.no || found.but) : ""));
    if (found && (found.no || found.but)) { button.title = found.no || found.but; }
    return button;
  }

  function letGo(isSaid) {
    if (!held) { return; }
    all(".wb-drop").forEach(function (button) { button.remove(); });
    all(".wb-spare").forEach(function (row) { row.hidden = true; });
    all("td[data-at]").forEach(function (cell) {
      cell.classList.remove("wb-other", "wb-over");
      delete cell.dataset.may;
    });
    all(".wb-seat--held").forEach(function (seat) { seat.classList.remove("wb-seat--held"); });
    document.body.classList.remove("wb-placing");
    bar.hidden = true;
    if (isSaid) {
      tell(held.name + " was put back.");
      var seat = seatOf(held.person, held.block);
      if (seat) { seat.focus({preventScroll: true}); see(seat); }
    }
    held = null;
  }

  // ---- putting down ------------------------------------------------------------------------

  function put(station, block) {
    var found = block === held.block ? held.cells[station] : null;
    if (found && found.no) {
      tell(held.name + " stays where they were. " + found.no, false);
      return;
    }
    if (found && found.is_here) { letGo(true); return; }
    var person = held.person;
    var given = new URLSearchParams({station: station, seen: board().dataset.seen});
    if (isToEnd()) { given.set("to_end", "yes"); }
    send(url("move", person, block), given, function () {
      var seat = seatOf(person, block);
      if (seat) { seat.focus({preventScroll: true}); see(seat); }
    });
  }

  function send(address, given, then) {
    given.set("csrfmiddlewaretoken", token());
    fetch(address, {method: "POST", headers: {"HX-Request": "true"}, body: given})
      .then(function (answer) {
        if (answer.status !== 200 && answer.status !== 422) { throw new Error(String(answer.status)); }
        return answer.text();
      })
      .then(function (text) {
        var fresh = new DOMParser().parseFromString(text, "text/html").getElementById("night-board");
        if (!fresh) { throw new Error("no board"); }
        letGo();
        board().replaceWith(document.importNode(fresh, true));
        setToEnd(false);
        tell(fresh.dataset.said || "", fresh.dataset.done !== "no");
        if (then) { then(); }
      })
      .catch(lost);
  }

  // ---- taps, keys, forms ---------------------------------------------------------------------

  document.addEventListener("click", function (event) {
    if (wasDragged) { wasDragged = false; event.preventDefault(); return; }
    var seat = event.target.closest("#night-board .wb-seat[data-person]");
    var cell = event.target.closest("#night-board td[data-at]");
    if (held && cell && cell.dataset.at === held.block && (!seat || seat.dataset.person !== held.person)) {
      event.preventDefault();
      put(cell.dataset.station, held.block);
    } else if (seat && !event.metaKey && !event.ctrlKey) {
      event.preventDefault();
      if (held && held.person === seat.dataset.person && held.block === cell.dataset.at) {
        letGo(true);
      } else {
        pick(seat, cell.dataset.at);
        held.byKey = event.detail === 0; // Enter on a link is a click that nothing pointed at
      }
    }
  });

  document.addEventListener("keydown", function (event) {
    if (!held) { return; }
    if (event.key === "Escape") { event.preventDefault(); letGo(true); return; }
    var step = {ArrowDown: 1, ArrowUp: -1}[event.key];
    var aside = {ArrowRight: 1, ArrowLeft: -1}[event.key];
    if (step) {
      event.preventDefault();
      var buttons = all(".wb-drop");
      var at = buttons.indexOf(document.activeElement);
      var next = buttons[(at + step + buttons.length) % buttons.length];
      if (next) { next.focus(); }
    } else if (aside) {
      event.preventDefault();
      other(aside);
    }
  });

  // The same person in the block before or after, wherever they stand in it.
  function other(aside) {
    var blocks = all(".wb-idle td[data-at]").map(function (cell) { return cell.dataset.at; });
    var block = blocks[blocks.indexOf(held.block) + aside];
    var seat = block && seatOf(held.person, block);
    if (seat) { pick(seat, block); held.byKey = true; }
  }

  document.addEventListener("submit", function (event) {
    var form = event.target;
    if (!form.matches("form[data-board]")) { return; }
    event.preventDefault();
    send(form.action, new URLSearchParams(new FormData(form)), null);
  });

  document.getElementById("pick-off").addEventListener("click", function () { letGo(true); });
  toEnd.addEventListener("click", function () { setToEnd(!isToEnd()); if (held) { ask(); } });

  // ---- dragging: at once with a mouse, after a moment's rest with a finger ---------------------

  document.addEventListener("pointerdown", function (event) {
    wasDragged = false;
    var seat = event.target.closest("#night-board .wb-seat[data-person]");
    if (!seat || event.button !== 0) { return; }
    press = {seat: seat, x: event.clientX, y: event.clientY, id: event.pointerId, ghost: null,
             isRested: event.pointerType === "mouse", cell: seat.closest("td")};
    if (!press.isRested) {
      press.timer = setTimeout(function () {
        if (press) { press.isRested = true; lift(); }
      }, 300);
    }
  });

  function lift() {
    pick(press.seat, press.cell.dataset.at);
    press.ghost = document.createElement("div");
    press.ghost.className = "wb-ghost";
    press.ghost.setAttribute("aria-hidden", "true");
    press.ghost.textContent = held.name;
    document.body.appendChild(press.ghost);
    document.body.classList.add("wb-dragging");
    follow(press.x, press.y);
  }

  function follow(x, y) {
    // The board is longer than the screen: at its edges it moves under the finger.
    if (y < 90) { window.scrollBy({top: -24, behavior: "instant"}); }
    if (y > window.innerHeight - 90) { window.scrollBy({top: 24, behavior: "instant"}); }
    press.ghost.style.transform = "translate(" + x + "px, " + y + "px)";
    var under = document.elementFromPoint(x, y);
    var cell = under && under.closest("#night-board td[data-at]");
    if (cell === press.over) { return; }
    if (press.over) { press.over.classList.remove("wb-over"); }
    if (cell) { cell.classList.add("wb-over"); }
    press.over = cell;
  }

  document.addEventListener("pointermove", function (event) {
    if (!press || event.pointerId !== press.id) { return; }
    var far = Math.abs(event.clientX - press.x) + Math.abs(event.clientY - press.y);
    if (!press.ghost && far < 8) { return; }
    if (!press.ghost && !press.isRested) { endPress(); return; }
    if (!press.ghost) { lift(); }
    follow(event.clientX, event.clientY);
  });

  function endPress() {
    if (!press) { return; }
    clearTimeout(press.timer);
    if (press.ghost) { press.ghost.remove(); }
    document.body.classList.remove("wb-dragging");
    if (press.over) { press.over.classList.remove("wb-over"); }
    press = null;
  }

  document.addEventListener("pointerup", function (event) {
    if (!press || event.pointerId !== press.id) { return; }
    var isDrag = Boolean(press.ghost), cell = press.over;
    endPress();
    if (!isDrag || !held) { return; }
    wasDragged = true;
    setTimeout(function () { wasDragged = false; }, 0);
    if (cell) { put(cell.dataset.station, cell.dataset.at); } else { letGo(true); }
  });
  document.addEventListener("pointercancel", endPress);
  document.addEventListener("dragstart", function (event) {
    if (event.target.closest && event.target.closest(".wb-seat")) { event.preventDefault(); }
  });
  document.addEventListener("contextmenu", function (event) {
    if (press && press.ghost) { event.preventDefault(); }
  });
  // The page scrolls under a finger until somebody is lifted.
  document.addEventListener("touchmove", function (event) {
    if (press && press.ghost) { event.preventDefault(); }
  }, {passive: false});
}());
