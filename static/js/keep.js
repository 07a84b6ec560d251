// Pages for the field: what is ticked stays on this phone, and the page itself
// can be opened without a network.

const prefix = "duskboard:ticks:";

/** Remembers the ticks of a list under its name. */
export function keepTicks(list) {
  const name = prefix + list.dataset.ticks;
  const boxes = [...list.querySelectorAll("[data-tick]")];
  const count = list.querySelector("[data-tick-count]");
  const read = () => {
    try {
      return new Set(JSON.parse(localStorage.getItem(name)) ?? []);
    } catch {
      return new Set(); // storage is off or holds something else: ticks last as long as the page
    }
  };
  const show = () => {
    const ticked = read();
    for (const box of boxes) box.checked = ticked.has(box.dataset.tick);
    tell();
  };
  const tell = () => {
    if (!count) return;
    const things = boxes.filter((b) => !b.dataset.tick.startsWith("home-"));
    const done = things.filter((b) => b.checked).length;
    count.textContent = done === things.length ? `All ${done} things are packed.` : `${done} of ${things.length} packed. Ticks stay on this phone.`;
  };
  list.addEventListener("change", (event) => {
    if (!event.target.dataset?.tick) return;
    try {
      localStorage.setItem(name, JSON.stringify(boxes.filter((b) => b.checked).map((b) => b.dataset.tick)));
    } catch { /* as above */ }
    tell();
  });
  window.addEventListener("storage", (event) => { if (event.key === name) show(); });
  show();
}

/** Asks the worker to keep this page with its files; says so once it has. */
export async function keepPage(part) {
  const word = document.querySelector("[data-kept-word]");
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/worker.js");
    const { active } = await navigator.serviceWorker.ready;
    navigator.serviceWorker.addEventListener("message", (event) => {
      if (!word || event.data?.kept === undefined) return;
      word.hidden = false;
      word.textContent = event.data.kept
        ? "Kept on this phone: it opens without a network."
        : "Not kept: open it again with a good network before you leave.";
    });
    const files = performance.getEntriesByType("resource").map((e) => new URL(e.name)).filter((u) => u.origin === location.origin && u.pathname.startsWith("/static/")).map((u) => u.pathname);
    active.postMessage({ keep: [location.pathname, ...new Set(files)] });
  } catch { /* no secure address, or storage is off: the page still works with a network */ }
}
