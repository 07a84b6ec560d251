// Small helps on top of pages that work without them.

import { showBothUnits } from "./lengths.js";

showBothUnits(document);
document.addEventListener("htmx:load", (e) => showBothUnits(e.detail.elt));

// A refused form: take the reader to the summary of what needs another look.
document.querySelector("[data-testid=faults]")?.focus();

// The board of a line-up can be taken hold of.
if (document.getElementById("line-up")) import("./board.js");
