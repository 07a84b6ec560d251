// While a length is typed in millimetres or inches, say it in the other unit.
// The server reads the same notations (internal/kit) and has the last word.

const IN = 25.4;

// both returns "203 mm, 8 in" for "8 in", "8\"", "203" or "203 mm", or "" for
// anything that is not a positive length.
export function both(text) {
  const m = /^\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|m|in|inch|inches|"|″|)\s*$/i.exec(text);
  if (!m) return "";
  const n = parseFloat(m[1].replace(",", "."));
  const unit = m[2].toLowerCase();
  const inches = unit === "in" || unit.startsWith("inch") || unit === '"' || unit === "″";
  const mm = inches ? n * IN : n * ({ cm: 10, m: 1000 }[unit] ?? 1);
  if (!(mm > 0)) return "";
  return `= ${trim(mm, mm < 100 ? 1 : 0)} mm, ${trim(mm / IN, mm / IN < 20 ? 1 : 0)} in`;
}

function trim(x, digits) {
  return String(Number(x.toFixed(digits)));
}

export function showBothUnits(root) {
  for (const input of root.querySelectorAll("input[data-convert=length]")) {
    const out = input.closest(".box")?.querySelector("output");
    if (!out) continue;
    input.addEventListener("input", () => { out.textContent = both(input.value); });
  }
}
