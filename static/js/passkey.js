// Passkeys: asks the server for a question, the browser for its answer, and
// sends that back. Without this module, or without passkeys in the browser, the
// password is the way in and nothing of this shows.

// The server writes bytes as base64url, the browser wants them raw, and back.
const raw = (text) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
const text = (bytes) => btoa(String.fromCharCode(...new Uint8Array(bytes))).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");

class Refused extends Error {}

// post sends and reads JSON; a refusal carries the server's sentence.
async function post(url, body, type) {
  const r = await fetch(url, { method: "POST", body, headers: type ? { "Content-Type": type } : {}, redirect: "manual" });
  if (!r.headers.get("Content-Type")?.startsWith("application/json")) throw new Refused("Load the page again and try once more.");
  const answer = await r.json();
  if (!r.ok) throw new Refused(answer.fault);
  return answer;
}

const list = (all) => (all ?? []).map((c) => ({ ...c, id: raw(c.id) }));

async function make(form) {
  const { publicKey: o } = await post(form.action, new URLSearchParams(new FormData(form)));
  const c = await navigator.credentials.create({
    publicKey: { ...o, challenge: raw(o.challenge), user: { ...o.user, id: raw(o.user.id) }, excludeCredentials: list(o.excludeCredentials) },
  });
  const a = c.response;
  return post("/account/passkeys", JSON.stringify({
    id: c.id, rawId: text(c.rawId), type: c.type,
    response: { clientDataJSON: text(a.clientDataJSON), attestationObject: text(a.attestationObject), transports: a.getTransports?.() ?? [] },
  }), "application/json");
}

async function enter(to) {
  const { publicKey: o } = await post("/sign-in/passkey");
  const c = await navigator.credentials.get({ publicKey: { ...o, challenge: raw(o.challenge), allowCredentials: list(o.allowCredentials) } });
  const a = c.response;
  return post(`/sign-in/passkey/answer?to=${encodeURIComponent(to)}`, JSON.stringify({
    id: c.id, rawId: text(c.rawId), type: c.type,
    response: { clientDataJSON: text(a.clientDataJSON), authenticatorData: text(a.authenticatorData), signature: text(a.signature), userHandle: text(a.userHandle) },
  }), "application/json");
}

// go runs a ceremony, shows what went wrong beside its button, and moves on
// when all went well.
async function go(box, ceremony) {
  const says = box.querySelector("[data-passkey-says]"), button = box.querySelector("button");
  says.textContent = "";
  button.disabled = true;
  try {
    location.assign((await ceremony()).to);
    return;
  } catch (e) {
    if (e instanceof Refused) says.textContent = e.message;
    else if (e.name === "InvalidStateError") says.textContent = "This device has a passkey of your account already.";
    else if (e.name === "NotAllowedError" || e.name === "AbortError") says.textContent = "No passkey was used. Try again, or use your password.";
    else says.textContent = "The passkey did not work here. Use your password.";
  }
  button.disabled = false;
}

export function showPasskeys() {
  const way = document.querySelector("[data-passkey-enter]"), form = document.querySelector("form[data-passkey-make]");
  if (way) {
    way.hidden = false;
    way.querySelector("button").addEventListener("click", () => go(way, () => enter(way.dataset.passkeyEnter)));
  }
  if (form) {
    form.hidden = false;
    form.addEventListener("submit", (e) => { e.preventDefault(); go(form, () => make(form)); });
  }
}
