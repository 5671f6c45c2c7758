// The page of one room: listens to the room's events, shows three sentences with their reasons, and
// keeps saying how old its numbers are, even when nobody answers any more.
import { AirSection } from "./air.js";
import { query, read } from "./api.js";
import { Cans } from "./cans.js";
import { startFar } from "./far.js";
import { FirstSteps } from "./first.js";
import { drawGlyph } from "./glyph.js";
import { lookAtDoor } from "./house.js";
import { Jobs } from "./jobs.js";
import { showKept, showTold } from "./kept.js";
import { Log } from "./log.js";
import { Mix } from "./mix.js";
import { startScreens } from "./screens.js";
import { seriesLine } from "./series.js";
import { answerInUnits } from "./units.js";
import { ageWords, clockWords, tellTimesBy } from "./words.js";

const $ = (id) => document.getElementById(id);
/** Real seconds without any word from the server after which the page stops believing its numbers. */
const SILENCE_SECONDS = 20;

/** The same when the connection has broken off: the time for one quick reconnection. */
const BROKEN_OFF_SECONDS = 7;

let last = null; // the newest room picture
let lastHeard = 0; // performance.now() of the newest word from the server
let strip = null;
let brokenOff = false;
let begunDrawing = false;
const air = new AirSection($("air"), $("air-news"));

/** What the screens know of each other. */
const page = {
  materials: [],
  now: roomNow,
  zone: () => last?.zone,
  material: () => $("material").value,
  temperatures() {
    const good = (reading) => (reading && reading.quality === "good" && reading.ageSeconds < 1800 ? reading.value : undefined);
    const series = last?.series ?? {};
    const molds = Object.entries(series).filter(([name]) => name.split("/")[0] === "mold-temperature").map(([, reading]) => good(reading)).filter((value) => value !== undefined);
    return { mold: molds.length > 0 ? Math.min(...molds) : undefined, resin: good(series["resin-temperature"]) };
  },
  loadMaterials,
  redraw() {
    connectedTo = "";
    listen();
    strip?.load();
    page.jobs.cards.dataset.shown = "";
    page.jobs.draw();
    page.mix.values = {};
  },
};
tellTimesBy(roomNow);
page.jobs = new Jobs($("jobs"), $("notices"), page);
page.mix = new Mix($("mix"), page);
page.log = new Log($("log"), page);
page.cans = new Cans($("cans"), page);
const first = new FirstSteps($("first"), page);

/** The room's own time now: the server's time carried on at the room's pace. */
function roomNow() {
  if (!last) return Date.now();
  return Date.parse(last.time) + (performance.now() - last.receivedAt) * last.paceFactor;
}

function silentSeconds() {
  return (performance.now() - lastHeard) / 1000;
}

function setStated(element, state) {
  const glyph = element.querySelector(".glyph");
  if (element.dataset.state === state && glyph.childElementCount > 0) return;
  element.dataset.state = state;
  drawGlyph(glyph, state);
}

function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

function gone() {
  return last === null || silentSeconds() > (brokenOff ? BROKEN_OFF_SECONDS : SILENCE_SECONDS);
}

function showVerdict() {
  const stale = gone() || roomNow() > Date.parse(last.verdict.validUntil);
  const verdict = $("verdict");
  setStated(verdict, stale ? "unknown" : last.verdict.verdict);
  const words = stale ? "Unknown" : last.verdict.words;
  setText(verdict.querySelector(".words"), words.charAt(0).toUpperCase() + words.slice(1));
  const sentences = stale
    ? ["warm", "dry", "air"].map((about) => ({
        about,
        state: "unknown",
        head: { warm: "Warm enough?", dry: "Dry enough?", air: "Air?" }[about] + " Unknown",
        detail: last ? "The readings are too old." : "No readings yet.",
      }))
    : last.verdict.sentences;
  const list = $("sentences");
  while (list.children.length < sentences.length) list.append(sentenceItem());
  sentences.forEach((sentence, i) => {
    const item = list.children[i];
    item.dataset.about = sentence.about;
    setStated(item, sentence.state);
    setText(item.querySelector(".head"), sentence.head);
    item.classList.toggle("long", sentence.head.length > 12);
    setText(item.querySelector(".detail"), sentence.detail);
  });
  const reasons = stale ? [] : last.verdict.reasons;
  $("why").hidden = reasons.length === 0;
  const shown = reasons.map((r) => r.words).join("\n");
  if ($("reasons").dataset.shown !== shown) {
    $("reasons").dataset.shown = shown;
    $("reasons").replaceChildren(
      ...reasons.map((reason) => {
        const li = document.createElement("li");
        li.textContent = reason.words;
        return li;
      }),
    );
  }
}

function sentenceItem() {
  const item = document.createElement("li");
  for (const name of ["glyph", "head", "detail"]) {
    const span = document.createElement("span");
    span.className = name;
    item.append(span);
  }
  item.querySelector(".glyph").setAttribute("aria-hidden", "true");
  return item;
}

function showLinks() {
  const link = $("link");
  const now = roomNow();
  let problem = "";
  if (last === null) {
    problem = lastHeard === 0 && performance.now() < 4000 ? "" : "No answer from Layroom yet.";
  } else if (gone()) {
    problem = `No answer from Layroom since ${clockWords(Date.parse(last.time), last.zone)}, ${ageWords(silentSeconds())} ago. The readings below are old.`;
  } else if (!last.links.broker) {
    problem = `The connection to the message broker is lost: no new readings. ${last.links.trouble ?? ""}`;
  } else if (last.devices.length === 0) {
    problem = "No device has reported from this room yet. Each one needs to be paired once.";
  } else if (last.devices.some((device) => device.state !== "online")) {
    const away = last.devices.filter((device) => device.state !== "online");
    problem = `The device "${away.map((device) => device.name).join(", ")}" is offline: it sends no new readings.`;
  } else if (last.newest && now - Date.parse(last.newest) > 120_000) {
    problem = `No reading since ${clockWords(Date.parse(last.newest), last.zone)}.`;
  }
  link.dataset.state = problem ? "gone" : "here";
  const aside = problem && last ? "Offline." : problem;
  setText(link, aside || (last ? `Connected. Newest reading ${newestAge(now)} ago.` : "Connecting …"));
  $("alarm").hidden = problem === "" || last === null;
  if (!$("alarm").hidden) setText($("alarm"), problem);
  if (last) {
    setText($("room-name"), last.room);
    setText($("room-clock"), clockWords(now, last.zone));
    $("demo-note").hidden = !last.demo;
  }
}

function newestAge(now) {
  return last.newest ? ageWords(Math.max(0, (now - Date.parse(last.newest)) / 1000)) : "long";
}

function showParts() {
  if (!last) return;
  const now = roomNow();
  const items = Object.entries(last.series).map(([name, reading]) => {
    const li = document.createElement("li");
    const { label, value } = seriesLine(name, reading);
    const title = document.createElement("span");
    title.textContent = label;
    const figure = document.createElement("b");
    figure.textContent = value;
    const age = document.createElement("span");
    age.className = "age";
    age.textContent = `${ageWords(Math.max(0, (now - Date.parse(reading.time)) / 1000))} ago`;
    li.append(title, figure);
    if (reading.quality !== "good") {
      const quality = document.createElement("span");
      quality.className = reading.quality.startsWith("fault") ? "fault" : "suspect";
      quality.textContent = reading.quality;
      li.append(quality);
    }
    li.append(age);
    return li;
  });
  for (const fault of last.devices.flatMap((device) => device.faults)) {
    const li = document.createElement("li");
    const words = document.createElement("span");
    words.className = "fault";
    words.textContent = `${fault.part}: ${fault.reason}`;
    li.append(words);
    items.push(li);
  }
  $("parts").replaceChildren(...items);
}

function show() {
  showVerdict();
  showLinks();
  showParts();
  air.show(last, gone(), roomNow());
  showKept($("kept"), last?.storeMended);
  showTold($("told"), last?.notices);
  if (last) first.look(last);
  if (strip && last) strip.now(roomNow());
}

function take(picture) {
  lastHeard = performance.now();
  last = { ...picture, receivedAt: lastHeard };
  show();
  if (strip) strip.live();
  else if (!begunDrawing) requestAnimationFrame(() => setTimeout(startDrawing));
}

/** What is not needed for the first three sentences comes after them. */
async function startDrawing() {
  if (begunDrawing) return;
  begunDrawing = true;
  try {
    await plotter();
    const { Strip } = await import("./strip.js");
    strip = new Strip(document, () => last, roomNow, () => page.jobs.list);
    strip.live();
    await import("./plan.js");
  } catch {
    begunDrawing = strip !== null; // the next picture tries again
  }
}

/** The plotter is no module: a script of its own, once. */
function plotter() {
  return new Promise((done, failed) => {
    if (globalThis.uPlot) done();
    else document.head.append(Object.assign(document.createElement("script"), { src: "lib/uPlot.iife.min.js", onload: done, onerror: failed }));
  });
}

async function loadMaterials() {
  const select = $("material");
  const { ok, body } = await read("materials");
  if (!ok) return;
  const { materials, chosen } = body;
  page.materials = materials;
  if (!materials.some((material) => material.id === localStorage.getItem("material"))) localStorage.removeItem("material");
  page.jobs.offerMaterials();
  select.replaceChildren(
    ...materials.map((material) => {
      const option = document.createElement("option");
      option.value = material.id;
      option.textContent = material.name;
      option.selected = material.id === (localStorage.getItem("material") ?? chosen);
      return option;
    }),
  );
  const typical = new Map(materials.map((material) => [material.id, material.typical]));
  const mark = () => setText($("typical"), typical.get(select.value) ? "Typical values, not yet tested with your can." : "");
  mark();
  select.onchange = () => {
    mark();
    localStorage.setItem("material", select.value);
    listen();
  };
}

let source = null;
let connectedTo = "";

function listen() {
  const url = `api/events?${query({ material: localStorage.getItem("material") })}`;
  if (source && connectedTo === url && source.readyState !== EventSource.CLOSED) return;
  source?.close();
  connectedTo = url;
  source = new EventSource(url);
  source.onopen = () => {
    brokenOff = false;
  };
  source.onerror = () => {
    brokenOff = true;
    lookAtDoor();
  };
  source.addEventListener("room", (event) => take(answerInUnits(JSON.parse(event.data))));
  source.addEventListener("alive", () => {
    lastHeard = performance.now();
  });
}

// A page that was left may be kept by the browser for going back. Its stream would hold one of the six connections that a
// browser makes to one server, and the seventh page would wait for ever.
addEventListener("pagehide", () => source?.close());
addEventListener("pageshow", (event) => {
  if (event.persisted) listen();
});

async function begin() {
  listen();
  for (;;) {
    try {
      await loadMaterials();
      break;
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 2000));
    }
  }
  listen();
  startScreens();
  page.jobs.load();
}

setInterval(show, 1000);
setInterval(() => page.jobs.tickAll(), 1000);
setInterval(() => {
  if (!document.hidden && !gone()) page.jobs.load();
}, 3000);
setInterval(() => {
  if (silentSeconds() > SILENCE_SECONDS) {
    connectedTo = "";
    listen();
  }
}, 5000);
startFar($("far"));
show();
begin();
