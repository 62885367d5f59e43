// The countdown goes on by the tablet's own clock, so it runs with the network down as well.
// The server's moment beside the page's own puts a tablet right whose clock is wrong; a page
// kept from earlier cannot tell how old it is, and trusts the tablet.
(() => {
  "use strict";
  const clock = document.querySelector("[data-until]");
  if (!clock) return;
  const shown = clock.querySelector("b");
  const until = Number(clock.dataset.until) * 1000;
  const loaded = Date.now();
  const isKept = !navigator.onLine || Boolean(document.body.dataset.keptAt);
  const drift = isKept ? 0 : Number(clock.dataset.now) * 1000 - loaded;
  const show = () => {
    const left = Math.ceil((until - Date.now() - drift) / 1000);
    const minutes = Math.floor(Math.max(0, left) / 60);
    const seconds = String(Math.max(0, left) % 60).padStart(2, "0");
    shown.textContent = minutes >= 60
      ? `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}:${seconds}`
      : `${minutes}:${seconds}`;
    clock.classList.toggle("is-over", left <= 0);
    if (left <= 0) shown.textContent = clock.dataset.over;
  };
  show();
  setInterval(show, 1000);
})();
