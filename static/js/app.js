// Small helps on top of pages that work without them.

import { showBothUnits } from "./lengths.js";

showBothUnits(document);
document.addEventListener("htmx:load", (e) => showBothUnits(e.detail.elt));

// A refused form: take the reader to the summary of what needs another look.
document.querySelector("[data-testid=faults]")?.focus();

// A strip of pages that is longer than the screen begins at this page's name.
for (const here of document.querySelectorAll(".tabs [aria-current]")) {
  const strip = here.parentElement;
  strip.scrollLeft = here.offsetLeft - strip.offsetLeft - (strip.clientWidth - here.offsetWidth) / 2;
}

// The board of a line-up can be taken hold of.
if (document.getElementById("line-up")) import("./board.js");

// So can the duties of a roster.
if (document.getElementById("roster")) import("./roster.js");

// A plan of the ground, and the places on it.
if (document.querySelector("#field-plan, .ground-form")) import("./plan.js");

// Cloud can be drawn on a round sky.
if (document.querySelector("svg.cloud-sky")) import("./clouds.js");

// Pages for the field: ticks stay on the phone, and so does the page.
const keep = document.querySelector("[data-keep]");
const ticks = document.querySelectorAll("[data-ticks]");
if (keep || ticks.length) {
  import("./keep.js").then(({ keepTicks, keepPage }) => {
    ticks.forEach(keepTicks);
    if (keep) keepPage(keep);
  });
}

// A button that prints the page.
document.addEventListener("click", (e) => { if (e.target.closest("[data-print]")) window.print(); });

// Sign in with a passkey, where the browser has them.
if (window.PublicKeyCredential && document.querySelector("[data-passkey-enter], [data-passkey-make]")) {
  import("./passkey.js").then(({ showPasskeys }) => showPasskeys());
}
