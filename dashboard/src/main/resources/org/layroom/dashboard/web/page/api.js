// Asks and tells the server. What is told carries an id made here, so that it can be told again
// after a broken connection and still counts once.
import { answerInUnits } from "./units.js";

const room = new URLSearchParams(location.search).get("room") ?? "";

/** The query of a request, with the room that this page shows; a list gives a parameter several times. */
export function query(more = {}) {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries(more)) {
    for (const one of [value].flat()) {
      if (one !== undefined && one !== null && one !== "") params.append(name, one);
    }
  }
  if (room) params.set("room", room);
  return params;
}

export function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** What a server's refusal says, as one text. */
export function problemWords(body) {
  const errors = (body?.errors ?? []).map((error) => error.reason.charAt(0).toUpperCase() + error.reason.slice(1));
  return errors.length > 0 ? errors.join(" ") : (body?.title ?? "Layroom did not answer.");
}

/** Reads: resolves to { ok, status, body }; rejects only when nobody answers. */
export async function read(path, params = {}) {
  const response = await fetch(`api/${path}?${query(params)}`);
  return { ok: response.ok, status: response.status, body: answerInUnits(await response.json().catch(() => ({}))) };
}

const READER = "This device reads only. To change something, pair it anew with a code for reading and writing.";

/** Tells: tries again while nobody answers, four times in all; then resolves with status 0. */
export async function tell(path, params, body) {
  if (document.body.dataset.may === "read" && path !== "leave") return { ok: false, status: 403, body: { title: READER } };
  for (let attempt = 0; attempt < 4; attempt++) {
    try {
      const response = await fetch(`api/${path}?${query(params)}`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(body),
      });
      return { ok: response.ok, status: response.status, body: answerInUnits(await response.json().catch(() => ({}))) };
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 500 * 2 ** attempt));
    }
  }
  return { ok: false, status: 0, body: { title: "Layroom does not answer. Nothing was written down; tap again when it is back." } };
}
