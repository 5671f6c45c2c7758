// Programs of the house, on the dashboard's own machine: tokens and calendars, readers at the broker, and
// the address that warnings are posted to. A token or password is shown once, here, and nowhere else.
import { problemWords, read, tell } from "./api.js";
import { h } from "./dom.js";
import { clockWords } from "./words.js";

const MAY = { full: "can read and change everything", "read-only": "can read everything", calendar: "can fetch calendars" };

let tokens = [];
let readers = [];
let announce = null;
let shown = null; // what was made just now
let said = "";
let redraw = () => {};
let places = []; // where others of the house reach this page

/** Asks anew; whoever shows this is told by `then`. */
export async function lookAtPrograms(then) {
  redraw = then;
  const [t, d, a] = await Promise.all(["tokens", "devices", "announce"].map((path) => read(path).catch(() => ({ ok: false }))));
  if (t.ok) tokens = t.body.tokens;
  if (d.ok) readers = d.body.readers;
  if (a.ok) announce = a.body;
}

/** Changes when there is something else to show. */
export function programsState() {
  return [tokens, readers, announce, shown, said];
}

async function change(path, body, made) {
  const answer = await tell(path, {}, body);
  said = answer.ok ? (answer.body.words ?? "") : problemWords(answer.body);
  shown = answer.ok ? made(answer.body) : null;
  await lookAtPrograms(redraw);
  redraw();
}

function row(name, words, remove) {
  return h(
    "li",
    {},
    h("span", {}, h("b", {}, name), h("small", { class: "hint" }, ` ${words}`)),
    h("button", { type: "button", class: "small", "data-key": `gone-${name}`, "aria-label": `Remove ${name}`, onclick: remove }, "Remove"),
  );
}

function form(id, label, kinds, make) {
  const name = h("input", { id: `${id}-name`, name: "name", "data-key": `${id}-name`, maxlength: 40, autocomplete: "off", required: true });
  const kind = kinds && h("select", { name: "kind", "data-key": `${id}-kind`, "aria-label": "What it may do" }, kinds.map(([value, words]) => h("option", { value }, words)));
  return h(
    "form",
    {
      class: "actions",
      onsubmit: (event) => {
        event.preventDefault();
        document.activeElement?.blur(); // what somebody types in is not drawn anew
        make(name.value.trim(), kind?.value);
      },
    },
    h("label", { for: `${id}-name` }, label),
    name,
    kind ?? null,
    h("button", { type: "submit", "data-key": `${id}-make` }, "Add"),
  );
}

function once() {
  return (
    shown &&
    h("div", { class: "code", role: "status" }, h("p", {}, shown.words), h("output", { class: "secret", "aria-label": "Shown once" }, shown.secret), h("p", { class: "hint" }, "It is shown only now."))
  );
}

function makeToken(name, role) {
  change("tokens", { action: "make", name, role }, (body) =>
    role === "calendar"
      ? { words: "Let the calendar subscribe to this address, with the name of a room in it:", secret: (places[0] ?? `${location.origin}/`) + body.calendarPath.slice(1) }
      : { words: "The program sends this in a header, Authorization: Bearer TOKEN:", secret: body.token },
  );
}

function makeReader(reader) {
  change("devices", { action: "pair-reader", reader }, (body) => ({ words: `Password of ${body.user} at the broker ${body.brokers.join(" or ")}:`, secret: body.password }));
}

function tried() {
  if (!announce?.on) {
    return h("p", {}, "Warnings are posted nowhere. To post them to a push server of the house, set announce.url in dashboard.properties and restart.");
  }
  return h(
    "div",
    {},
    h("p", {}, "Warnings and windows of parts are posted to ", h("code", {}, announce.url), "."),
    announce.trouble ? h("p", { class: "mind" }, announce.trouble) : null,
    h("div", { class: "actions" }, h("button", { type: "button", "data-key": "try-post", onclick: () => change("announce", { action: "test" }, () => null) }, "Send a test")),
  );
}

/** The part of the screen about programs. */
export function programs(reached) {
  places = reached;
  const used = (one) => `${MAY[one.role]}; made ${clockWords(Date.parse(one.made), undefined, true)}, last used ${clockWords(Date.parse(one.seen), undefined, true)}`;
  return [
    h("h3", {}, "Programs and calendars"),
    once(),
    h("p", { class: "refused", role: "status" }, said),
    tokens.length === 0 ? h("p", {}, "None.") : h("ul", { class: "tests" }, tokens.map((one) => row(one.name, used(one), () => change("tokens", { action: "revoke", name: one.id }, () => null)))),
    form("token", "Name", [["read-only", "reads"], ["full", "reads and changes"], ["calendar", "calendar"]], makeToken),
    h("h3", {}, "Hubs that listen at the broker"),
    readers.length === 0 ? h("p", {}, "None.") : h("ul", { class: "tests" }, readers.map((name) => row(name, "can listen, and say nothing", () => change("devices", { action: "revoke-reader", reader: name }, () => null)))),
    form("reader", "Name", null, makeReader),
    h("h3", {}, "Posts to the house"),
    tried(),
  ];
}
