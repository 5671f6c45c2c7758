// The air of the room: which warnings stand and who has seen them, the clean-air reading, figures
// before a layup, how well the room airs, and the cautions. Everything is asked of the server.
import { freshId, problemWords, read, tell } from "./api.js";
import { bumpFold } from "./bump.js";
import { h, writing } from "./dom.js";
import { drawGlyph } from "./glyph.js";
import { pastFold } from "./past.js";
import { sensorFold } from "./sensors.js";
import { celsius, typedVolume, unit, us } from "./units.js";
import { ageWords, clockWords, dayWords, figure } from "./words.js";

const WORDS = { ok: "No rise seen", ventilate: "Ventilate", leave: "Leave the room", unknown: "Air unknown" };
const GLYPHS = { ok: "ok", ventilate: "warn", leave: "no", unknown: "unknown" };
const PROMISES = [
  ["airedToOutdoors", "The room is open to the outdoors or the fan runs, and stays so."],
  ["noOpenResin", "No can, cup, solvent or rag is open in the room."],
  ["nothingCuring", "No part laid up in the last three days is in the room."],
];

// The limit that is proposed for a country: never the laxest by itself. Whoever saves it has chosen it.
const COUNTRIES = [
  ["US", "United States", "niosh"],
  ["US-CA", "California", "cal-osha"],
  ["DE", "Germany", "germany"],
  ["SE", "Sweden", "sweden"],
  ["GB", "United Kingdom", "acgih-1997"],
  ["", "another country", "acgih-1997"],
];

/** The country of this browser's language, as a first proposal. */
function country() {
  const region = (navigator.language ?? "").split("-")[1] ?? "";
  return COUNTRIES.some(([id]) => id === region) ? region : "";
}

function marked(tag, state, words) {
  const glyph = h("span", { className: "glyph", "aria-hidden": "true" });
  drawGlyph(glyph, GLYPHS[state] ?? "unknown");
  return h(tag, { "data-state": GLYPHS[state] ?? "unknown" }, glyph, h("span", { className: "words" }, words));
}

function folded(title, ...children) {
  return h("details", {}, h("summary", {}, title), ...children);
}

/** What several devices say in the same words is said once, with their names.
 * @param {any[]} warnings
 * @returns {[any, string[]][]} */
function onceEach(warnings) {
  const said = new Map();
  for (const warning of warnings) {
    const words = `${warning.state} ${warning.whatToDo}`;
    said.set(words, [said.get(words)?.[0] ?? warning, [...(said.get(words)?.[1] ?? []), warning.device]]);
  }
  return [...said.values()];
}

/** The section of the page about the air. */
export class AirSection {
  constructor(section, news) {
    this.section = section;
    this.newsHolder = news;
    this.shown = "";
    this.zone = undefined;
    this.acknowledging = new Map();
    this.build();
  }

  build() {
    this.title = h("h2", { id: "air-title" }, "Air");
    this.state = h("p", { className: "air-state" });
    this.note = h("p", { className: "air-note" });
    this.list = h("ul", { className: "warnings", "aria-live": "polite" });
    this.who = h("input", { id: "air-who", type: "text", maxLength: 60, autocomplete: "name", value: localStorage.getItem("who") ?? "" });
    this.who.onchange = () => localStorage.setItem("who", this.who.value.trim());
    this.whoRow = h("p", { className: "row", hidden: true }, h("label", { htmlFor: "air-who" }, "Your name"), this.who);
    this.said = h("p", { className: "said", role: "status" });
    this.wipe = writing(h("button", { type: "button" }, "Wiping with solvent"));
    this.wipe.onclick = () => this.wipeNow();
    this.wiping = h("p", { className: "hint" });
    this.section.replaceChildren(
      this.title, this.state, this.note, this.list, this.whoRow, this.wipe, this.wiping, this.said,
      pastFold((state, device) => marked("h3", state, `${WORDS[state]} (${device})`), () => this.zone),
      this.cleanAir(), bumpFold(this), this.beforeALayup(), this.airing(), sensorFold(this), this.measuring(), this.cautions(),
    );
  }

  /** Shows the newest picture; an old one is unknown, whatever it says. */
  show(picture, stale, now) {
    const old = stale || !picture?.air || now > Date.parse(picture.air.validUntil);
    const air = old ? { air: "unknown", warnings: [], devices: [] } : picture.air;
    this.zone = picture?.zone;
    this.mode = picture?.air?.mode;
    const key = JSON.stringify([old, air.air, air.wiping, air.warnings, air.devices.map((one) => [one.cleanAirAsked, one.sensor, one.words]), Math.floor(now / 60000)]);
    if (key === this.shown) return;
    this.shown = key;
    const proven = air.devices.length > 0 && air.devices.every((one) => one.sensor?.proven);
    this.state.replaceChildren(...marked("span", air.air, air.air === "ok" && proven ? "Vapor low" : WORDS[air.air]).childNodes);
    this.state.dataset.state = GLYPHS[air.air];
    const asked = air.devices.flatMap((one) => [one.cleanAirAsked, one.sensor?.fault ? undefined : one.sensor?.bumpTestAsked].filter(Boolean).map((why) => `${one.device}: ${why}`));
    const calm = air.warnings.length === 0 ? air.devices.flatMap((one) => one.words) : [];
    this.note.textContent = old
      ? "The readings are too old. Ventilate as if the air were bad."
      : [...calm, ...asked].join(" ") || (air.devices.length === 0 ? "No vapor sensor in this room." : "");
    this.list.replaceChildren(...air.warnings.map((warning) => this.warning(warning, now)));
    this.wipe.hidden = air.devices.length === 0;
    const wiping = air.wiping ?? {};
    this.wipe.disabled = Boolean(wiping.refused) || Boolean(wiping.until);
    this.wiping.textContent = wiping.until ? `${wiping.caution} Ventilate makes no sound until ${clockWords(Date.parse(wiping.until), this.zone)}; lamp and fan stay on, and Leave sounds.` : "";
    this.whoRow.hidden = !air.warnings.some((warning) => !warning.acknowledged);
    this.news(air.warnings);
  }

  /** What stands is said on every screen. */
  news(warnings) {
    const news = this.newsHolder;
    news.hidden = warnings.length === 0;
    news.replaceChildren(
      ...onceEach(warnings).map(([warning, devices]) =>
        h("p", {}, marked("span", warning.state, `${WORDS[warning.state]}${devices.length > 1 ? ` (${devices.join(", ")})` : ""}. `), h("span", {}, `${warning.whatToDo} `), h("a", { className: "button", href: "#air" }, "Details")),
      ),
    );
  }

  warning(warning, now) {
    const place = warning.houseSide ? `${warning.device}, full warnings` : warning.device;
    const since = Date.parse(warning.since);
    const item = h(
      "li", {},
      marked("h3", warning.state, `${WORDS[warning.state]} (${place})`),
      h("p", {}, `Since ${clockWords(since, this.zone)}, ${ageWords(Math.max(0, (now - since) / 1000))} ago.`),
      h("p", {}, warning.why.join(" ")),
      h("p", { className: "do" }, warning.whatToDo),
      h("p", { className: "ends" }, warning.endsWhen),
    );
    if (warning.acknowledged) {
      item.append(h("p", { className: "seen" }, `Acknowledged by ${warning.acknowledged.who}, ${clockWords(Date.parse(warning.acknowledged.when), this.zone)}.`));
    } else {
      const button = writing(h("button", { type: "button" }, "Acknowledge"));
      button.onclick = () => this.acknowledge(warning, button);
      item.append(button);
    }
    return item;
  }

  /** Said again after a lost answer, it has the same id and counts once. */
  async acknowledge(warning, button) {
    const who = this.who.value.trim();
    if (!who) {
      this.say("Enter your name first. The record shows who acknowledged.");
      this.who.focus();
      return;
    }
    localStorage.setItem("who", who);
    const id = this.acknowledging.get(warning.id) ?? freshId();
    this.acknowledging.set(warning.id, id);
    button.disabled = true;
    if (!(await this.post("warnings", { id, warning: warning.id, who }))) button.disabled = false;
  }

  /** Silences the sound of ventilate alone, for a quarter of an hour, once an hour. */
  async wipeNow() {
    const who = this.who.value.trim() || localStorage.getItem("who") || "page";
    if (await this.post("wiping", { id: freshId(), who })) this.shown = "";
  }

  say(words) {
    this.said.textContent = words;
  }

  async get(path, more) {
    try {
      const { ok, body } = await read(path, more);
      if (ok) return body;
      this.say(problemWords(body));
    } catch {
      this.say("Layroom is not answering.");
    }
    return null;
  }

  async post(path, body) {
    const { ok, body: answer } = await tell(path, {}, body);
    this.say(ok ? "" : problemWords(answer));
    return ok ? answer : null;
  }

  cleanAir() {
    const boxes = PROMISES.map(([name, words]) => {
      const box = h("input", { type: "checkbox", name });
      return { name, box, row: h("label", { className: "check" }, box, words) };
    });
    const start = writing(h("button", { type: "button" }, "Start"));
    const take = writing(h("button", { type: "button", hidden: true }, "Take reading"));
    const progress = h("p", { role: "status" });
    const kept = h("p");
    let confirm = false;
    let watching = 0;
    const look = async () => {
      const state = await this.get("clean-air");
      if (!state) return;
      const readings = state.devices.filter((one) => one.cleanAir);
      kept.textContent = readings
        .map((one) => `${one.device}: taken ${dayWords(Date.parse(one.cleanAir.taken), this.zone)}, at ${celsius(one.cleanAir.temperatureC ?? NaN, 0)} and ${figure(one.cleanAir.humidityPct ?? NaN, 0)} %.`)
        .join(" ");
      confirm = state.step === "confirm";
      take.hidden = !state.going || !(state.step === "take" || confirm);
      take.textContent = confirm ? "Take it anyway" : "Take reading";
      progress.textContent = state.going
        ? state.words.join(" ") + (state.leftSeconds > 0 ? ` ${ageWords(state.leftSeconds)} to go.` : "")
        : "";
    };
    start.onclick = async () => {
      const body = { action: "start" };
      for (const { name, box } of boxes) body[name] = box.checked;
      if (await this.post("clean-air", body)) await look();
    };
    take.onclick = async () => {
      const who = this.who.value.trim() || "page";
      if (await this.post("clean-air", { action: "take", id: freshId(), who, confirm })) {
        progress.textContent = "Clean-air reading saved.";
        take.hidden = true;
      }
    };
    const fold = folded(
      "Clean-air reading",
      h("p", {}, "This is what the vapor sensor reads in clean air. You take it yourself; Layroom asks for a new one after 7 days and never learns it on its own."),
      kept, ...boxes.map((one) => one.row), h("p", { className: "row" }, start, take), progress,
    );
    fold.ontoggle = () => {
      clearInterval(watching);
      if (fold.open) {
        look();
        watching = setInterval(look, 5000);
      }
    };
    fold.id = "air-clean";
    return fold;
  }

  beforeALayup() {
    const fields = [
      ["resin", "Resin", "1kg"], ["styrene", "Styrene in it", "42%"], ["volume", "Room", "40m3"],
      ["working-time", "Working time", "30min"], ["gel-time", "Gel time from the start", "75min"],
    ].map(([name, label, value]) => ({ name, input: h("input", { id: `fumes-${name}`, type: "text", value: localStorage.getItem(`fumes-${name}`) ?? value }), label }));
    const door = h("select", { id: "fumes-door" }, ...[["shut", "shut"], ["ajar", "ajar"], ["open", "open"], ["fan", "fan running"]].map(([value, words]) => h("option", { value }, words)));
    door.value = "ajar";
    const ask = h("button", { type: "button" }, "Estimate");
    const answer = h("pre", { className: "answer", tabIndex: 0, "aria-label": "Estimate of the air", hidden: true });
    ask.onclick = async () => {
      const parameters = { door: door.value };
      for (const { name, input } of fields) {
        parameters[name] = input.value;
        localStorage.setItem(`fumes-${name}`, input.value);
      }
      const json = await this.get("fumes", parameters);
      answer.hidden = !json;
      if (json) {
        this.say("");
        answer.textContent = json.lines.join("\n");
      }
    };
    return folded(
      "Before a layup",
      h("p", {}, "Estimated vapor. The real figure can be half or twice this, or further off."),
      h(
        "div", { className: "fields" },
        ...fields.map(({ name, input, label }) => h("p", {}, h("label", { htmlFor: `fumes-${name}` }, label), input)),
        h("p", {}, h("label", { htmlFor: "fumes-door" }, "Door or window"), door),
      ),
      h("p", { className: "row" }, ask), answer,
    );
  }

  airing() {
    const newest = h("p", { role: "status" });
    const setting = h("input", { id: "airing-setting", type: "text", maxLength: 60, placeholder: "fan on, door shut" });
    const keep = writing(h("button", { type: "button", hidden: true }, "Save: all resin had gelled, door and fan were left alone"));
    const kept = h("ul");
    let fall = null;
    const look = async () => {
      const json = await this.get("airing");
      if (!json) return;
      fall = json.newestFall ?? null;
      const accepted = fall && !fall.notAccepted;
      newest.textContent = !fall
        ? "Vapor has not risen and fallen in the last 12 hours."
        : `${clockWords(Date.parse(fall.from), this.zone)} to ${clockWords(Date.parse(fall.to), this.zone)}: ${accepted ? fall.words : fall.notAccepted.join(" ")}`;
      keep.hidden = !accepted;
      kept.replaceChildren(
        ...json.kept.map((one) => h("li", {}, `${dayWords(Date.parse(one.to), this.zone)}${one.setting ? `, ${one.setting}` : ""}: half is gone after ${figure(one.halfTimeMinutes, 0)} min`)),
      );
    };
    keep.onclick = async () => {
      const body = { id: freshId(), from: fall.from, to: fall.to, sourceStopped: true, leftAlone: true, setting: setting.value.trim() };
      if (await this.post("airing", body)) await look();
    };
    const fold = folded(
      "Ventilation", newest,
      writing(h("p", { className: "row" }, h("label", { htmlFor: "airing-setting" }, "Fan and door during this time"), setting)), keep, kept,
    );
    fold.ontoggle = () => fold.open && look();
    return fold;
  }

  measuring() {
    const mode = h("select", { id: "air-mode" }, h("option", { value: "chip" }, "metal-oxide sensor"), h("option", { value: "pid" }, "calibrated detector (PID)"));
    const where = h("select", { id: "air-country" }, ...COUNTRIES.map(([id, words]) => h("option", { value: id }, words)));
    where.value = country();
    const limit = h("select", { id: "air-limit" });
    const volume = h("input", { id: "air-volume", type: "text" });
    const roomLabel = h("label", { htmlFor: "air-volume" }, `Room, ${unit("cubicMeters")}`);
    const source = h("p");
    const save = writing(h("button", { type: "button" }, "Save"));
    let limits = [];
    const touched = new Set(); // what somebody has typed is not overwritten by an answer that comes late
    for (const one of [mode, limit, volume]) one.oninput = () => touched.add(one);
    const put = (one, value) => {
      if (!touched.has(one)) one.value = value;
    };
    const sourced = () => {
      const one = limits.find((candidate) => candidate.id === limit.value);
      source.textContent = one ? `${one.source}${one.verified ? "" : " (not verified)"}. ${one.caution}` : "";
    };
    limit.onchange = sourced;
    const propose = () => {
      limit.value = COUNTRIES.find(([id]) => id === where.value)[2];
      sourced();
    };
    where.onchange = propose;
    const look = async () => {
      const json = await this.get("air");
      if (!json) return;
      limits = json.limits;
      const chosen = limit.value;
      limit.replaceChildren(...limits.map((one) => h("option", { value: one.id }, `${one.setBy}: ${one.eightHourPpm} / ${one.shortTermPpm} ppm`)));
      limit.value = chosen;
      if (json.limitChosen) put(limit, json.limit.id);
      else if (!touched.has(limit)) propose();
      put(mode, json.mode);
      put(volume, json.volumeM3 === undefined ? "" : String(Math.round((json.volumeM3 / typedVolume("1")) * 10) / 10));
      roomLabel.textContent = `Room, ${unit("cubicMeters")}`;
      volume.placeholder = us() ? "20 x 20 x 8" : "6 x 6 x 2.5";
      sourced();
    };
    save.onclick = async () => {
      const known = limits.length > 0 ? { mode: mode.value, limit: limit.value } : {};
      const body = { who: this.who.value.trim() || "page", ...known };
      const cubicMeters = typedVolume(volume.value);
      if (volume.value.trim()) body.volumeM3 = cubicMeters;
      if (volume.value.trim() && !(cubicMeters > 0)) this.say(`Enter the room's volume in ${unit("cubicMeters")}, or length x width x height, such as ${us() ? "20 x 20 x 8" : "6 x 6 x 2.5"}.`);
      else if (await this.post("air", body)) {
        touched.clear();
        this.say("Saved and sent to the devices.");
      }
    };
    const fold = folded(
      "Vapor sensor and limit",
      h("p", {}, "The limit applies to predictions and to a calibrated detector (PID). A metal-oxide sensor shows times clean air, never ppm."),
      h(
        "div", { className: "fields" },
        h("p", {}, h("label", { htmlFor: "air-mode" }, "Sensor"), mode),
        h("p", {}, h("label", { htmlFor: "air-country" }, "Country"), where),
        h("p", {}, h("label", { htmlFor: "air-limit" }, "Limit: eight-hour average / short term"), limit),
        h("p", {}, roomLabel, volume),
      ),
      source, h("p", { className: "row" }, save),
    );
    fold.ontoggle = () => fold.open && look();
    fold.id = "air-measuring";
    return fold;
  }

  /** Open at the first start, until somebody has read them. */
  cautions() {
    const list = h("ul");
    const deference = h("p");
    const read = h("button", { type: "button" }, "I have read this");
    const fold = folded("Cautions", list, deference, h("p", { className: "row" }, read));
    const load = async () => {
      if (list.childElementCount > 0) return;
      const json = await this.get("air");
      if (!json) return;
      list.replaceChildren(...json.cautions.map((caution) => h("li", {}, caution.words)));
      deference.textContent = json.deference;
    };
    read.onclick = () => {
      localStorage.setItem("cautions-read", "yes");
      fold.open = false;
    };
    fold.ontoggle = () => fold.open && load();
    fold.open = localStorage.getItem("cautions-read") === null;
    return fold;
  }
}
