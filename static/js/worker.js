// Keeps pages that asked for it on the phone, so that they open on a field
// without a network. Only those are kept; every other request passes by.
//
// A kept page comes from the network when that answers in time, and is then
// kept anew; else the copy is shown. Files under /static/ never change under
// their address, so a copy of them is as good as the network's.

const SHELF = "duskboard-kept-1";
const PATIENCE = 4000; // ms, before a weak network counts as none

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("duskboard-kept-") && name !== SHELF) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

// A page asks to be kept, with the files that it is made of.
self.addEventListener("message", (event) => {
  if (!event.data?.keep) return;
  event.waitUntil((async () => {
    const shelf = await caches.open(SHELF);
    let kept = true;
    for (const address of event.data.keep) {
      try {
        if (address.startsWith("/static/") && (await shelf.match(address, { ignoreVary: true }))) continue;
        const answer = await fetch(address, { credentials: "same-origin" });
        if (answer.ok && !answer.redirected) await shelf.put(address, answer);
        else kept = false;
      } catch {
        kept = false;
      }
    }
    event.source?.postMessage({ kept });
  })());
});

self.addEventListener("fetch", (event) => {
  const request = event.request;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(fromShelf(request, url.pathname));
  else if (request.mode === "navigate") event.respondWith(fromNetwork(request, url.pathname));
});

async function fromShelf(request, path) {
  const shelf = await caches.open(SHELF);
  return (await shelf.match(path, { ignoreVary: true })) ?? fetch(request);
}

async function fromNetwork(request, path) {
  const shelf = await caches.open(SHELF);
  const copy = await shelf.match(path, { ignoreVary: true });
  if (!copy) return fetch(request);
  try {
    const answer = await Promise.race([
      fetch(request),
      new Promise((_, reject) => setTimeout(() => reject(new Error("slow")), PATIENCE)),
    ]);
    if (answer.ok && !answer.redirected) await shelf.put(path, answer.clone());
    return answer.status >= 500 ? copy : answer;
  } catch {
    return copy;
  }
}
