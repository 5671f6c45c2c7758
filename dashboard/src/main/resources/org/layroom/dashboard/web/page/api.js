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

/** The fields that the server names, as this page labels them. */
const LABELS = {
  amount: "Amount",
  area: "Area",
  doseByWeightPct: "Dose",
  "gel-time": "Gel time",
  layers: "Mat layers",
  millimeters: "Wet film",
  minutes: "Minutes until it gelled",
  "mold-temp": "Mold",
  molds: "Mold",
  part: "Part",
  reference: "The reference reads",
  resin: "Resin",
  "resin-temp": "Resin",
  setting: "Fan and door",
  steps: "Steps",
  styrene: "Styrene content",
  temperatureC: "Temperature",
  volume: "Room",
  volumeM3: "Room",
  who: "Your name",
  words: "Note",
  "working-time": "Working time",
};

/** One refused field in words: its label, and what to enter. */
function refusedField({ field, reason }, labels) {
  const label = labels[field] ?? LABELS[field];
  const said = label && (reason.startsWith(`${field}:`) || reason.startsWith(`${field} `)) ? label + reason.slice(field.length) : reason;
  return said.charAt(0).toUpperCase() + said.slice(1);
}

/** What a server's refusal says, as one text; labels name a form's own fields. */
export function problemWords(body, labels = {}) {
  const errors = (body?.errors ?? []).map((error) => refusedField(error, labels));
  return errors.length > 0 ? errors.join(" ") : (body?.title ?? "Layroom is not answering.");
}

/** Reads: resolves to { ok, status, body }; rejects only when nobody answers. */
export async function read(path, params = {}) {
  const response = await fetch(`api/${path}?${query(params)}`);
  return { ok: response.ok, status: response.status, body: answerInUnits(await response.json().catch(() => ({}))) };
}

const READER = "This device is read-only. To make changes, pair it again with a full-access code.";

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
  return { ok: false, status: 0, body: { title: "Layroom is not answering. Nothing was saved; tap again when it is back." } };
}
