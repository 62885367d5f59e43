// Pages work without this file. It only tells when the shop's network lets us down, so
// that nobody believes a press was kept that never arrived.
(function () {
  "use strict";

  function tell(words) {
    var box = document.getElementById("wb-messages");
    if (!box) { return; }
    var note = document.createElement("p");
    note.className = "wb-note wb-note--error";
    note.textContent = words;
    box.replaceChildren(note);
    note.scrollIntoView({block: "nearest"});
  }

  document.addEventListener("htmx:sendError", function () {
    tell("The shop's computer did not answer. Nothing was saved: try again in a moment.");
  });
  document.addEventListener("htmx:responseError", function (event) {
    var status = event.detail.xhr.status;
    tell(status === 403 || status === 404
      ? "That is not allowed from here. Nothing was saved."
      : "Something broke on our side. Nothing was saved: try once more, then use paper.");
  });

  // On a phone the line of a room's pages is wider than the screen: show where we are in it.
  var corner = document.querySelector(".wb-corners [aria-current]");
  if (corner) { corner.parentNode.parentNode.parentNode.scrollLeft = corner.offsetLeft - 48; }

  // "More" closes when somebody looks elsewhere or presses Escape.
  document.addEventListener("click", function (event) {
    document.querySelectorAll(".wb-more details[open]").forEach(function (open) {
      if (!open.contains(event.target)) { open.open = false; }
    });
  });
  document.addEventListener("keydown", function (event) {
    if (event.key !== "Escape") { return; }
    document.querySelectorAll(".wb-more details[open]").forEach(function (open) {
      open.open = false;
      open.querySelector("summary").focus();
    });
  });
}());
