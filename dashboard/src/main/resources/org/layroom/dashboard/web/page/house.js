// Access from other devices: on the dashboard's own machine, pairing codes and the list of
// paired devices; for a paired device, who it is and the way out. Sends a device that was put out to the
// pairing screen.
import { problemWords, read, tell } from "./api.js";
import { h, show } from "./dom.js";
import { lookAtPrograms, programs, programsState } from "./programs.js";
import { whenShown } from "./screens.js";
import { clockWords } from "./words.js";

const ROLES = { full: "full access", "read-only": "read-only" };

let me = null; // what the server says of whoever looks at this page
let code = null; // the code made on this page, until it is used or too old
let said = "";

/** Asks who this is; whoever is nobody any more goes to the pairing screen. */
export async function lookAtDoor() {
  const { ok, body } = await read("door").catch(() => ({ ok: false }));
  if (!ok) return;
  if (body.you === "stranger") {
    location.reload();
    return;
  }
  me = body;
  document.body.dataset.may = me.mayWrite ? "write" : "read";
  if (me.you === "here" && location.hash === "#house") await lookAtPrograms(draw);
  draw();
}

async function change(body) {
  const answer = await tell("door", {}, body);
  said = answer.ok ? "" : problemWords(answer.body);
  if (answer.ok && body.action === "code") code = { ...answer.body, until: Date.now() + answer.body.minutes * 60_000 };
  if (answer.ok && body.action === "withdraw") code = null;
  await lookAtDoor();
}

async function leave() {
  const answer = await tell("leave", {}, {});
  if (answer.ok) location.replace("./");
  said = problemWords(answer.body);
  draw();
}

function places() {
  if (me.places.length === 0) {
    return h("p", { class: "mind" }, "The page is open on this machine only. To open it to other devices, set http.address=0.0.0.0 in dashboard.properties and restart.");
  }
  return h("div", {}, h("p", {}, "On the other device, open:"), h("ul", { class: "places" }, me.places.map((place) => h("li", {}, h("code", {}, place)))));
}

function codeNow() {
  if (!code || !me.code) {
    return null;
  }
  return h(
    "div",
    { class: "code", role: "status" },
    h("p", {}, `Enter this code on the other device (${ROLES[code.role]}).`),
    h("output", { "aria-label": "Pairing code" }, code.shownCode),
    h("p", { class: "hint" }, `Valid for ${Math.max(1, Math.ceil(me.code.secondsLeft / 60))} more min, for one device; ${me.code.guessesLeft} tries left.`),
    h("button", { type: "button", "data-key": "withdraw", onclick: () => change({ action: "withdraw" }) }, "Cancel code"),
  );
}

function pairedRow(session) {
  const words = `${ROLES[session.role]}; paired ${when(session.made)}, last used ${when(session.seen)}`;
  return h(
    "li",
    {},
    h("span", {}, h("b", {}, session.name), h("small", { class: "hint" }, ` ${words}`)),
    h("button", { type: "button", class: "small", "data-key": session.id, "aria-label": `Remove ${session.name}`, onclick: () => change({ action: "revoke", id: session.id }) }, "Remove"),
  );
}

function when(time) {
  return clockWords(Date.parse(time), undefined, true);
}

function here() {
  return [
    h("h2", { id: "house-title" }, "Access"),
    h("p", {}, "Anyone at this machine can use the page. Other devices on the network must be paired."),
    codeNow(),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", "data-key": "full", onclick: () => change({ action: "code", role: "full" }) }, "Code for full access"),
      h("button", { type: "button", "data-key": "read", onclick: () => change({ action: "code", role: "read-only" }) }, "Read-only code"),
    ),
    h("p", { class: "refused", role: "alert" }, said),
    places(),
    h("h3", {}, "Paired devices"),
    me.paired.length === 0 ? h("p", {}, "None.") : h("ul", { class: "tests" }, me.paired.map(pairedRow)),
    ...programs(me.places),
  ];
}

function paired() {
  return [
    h("h2", { id: "house-title" }, "This device"),
    h("p", {}, h("b", {}, me.name), `: ${ROLES[me.you]}.`),
    me.mayWrite ? null : h("p", {}, "This device cannot change anything. For full access, pair it again with a full-access code."),
    h("p", { class: "refused", role: "alert" }, said),
    h("div", { class: "actions" }, h("a", { class: "button", href: "pair.html" }, "Pair again"), h("button", { type: "button", "data-key": "leave", onclick: leave }, "Log out (you must pair again)")),
  ];
}

function draw() {
  if (!me) return;
  const banner = document.getElementById("reader-note");
  banner.hidden = me.mayWrite;
  const link = document.getElementById("house-link");
  link.textContent = me.you === "here" ? "Access" : `This device: ${me.name}`;
  const section = document.getElementById("house");
  const minutes = me.code ? { ...me.code, secondsLeft: Math.ceil(me.code.secondsLeft / 60) } : undefined;
  show(section, JSON.stringify([{ ...me, code: minutes }, code?.shownCode, said, programsState()]), () => (me.you === "here" ? here() : paired()));
}

whenShown("house", lookAtDoor);
setInterval(() => {
  if (location.hash === "#house" && !document.hidden) lookAtDoor();
}, 3000);
lookAtDoor();
