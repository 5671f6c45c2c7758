// The log: every part with the room as it was, what was predicted and what happened, and what its
// record says about what may have gone wrong. Prints as a job sheet.
import { freshId, problemWords, query, read, tell } from "./api.js";
import { field, h, writing } from "./dom.js";
import { detail, whenShown } from "./screens.js";
import { amount, celsius } from "./units.js";
import { clockWords, figure, NEVER } from "./words.js";

const SYMPTOMS = [
  ["tacky", "tacky surface"],
  ["soft", "soft after days"],
  ["wrinkled", "wrinkled gel coat"],
  ["stuck", "stuck in the mold"],
  ["warped", "warped"],
  ["cracked", "cracked"],
  ["pinholes", "pinholes"],
];

const EVENT_WORDS = {
  started: () => "Started",
  "step-added": (event) => `Step added: ${event.name}`,
  applied: (event, step) => `Applied: ${step}`,
  mixed: (event, step) => `Mixed for ${step}: ${amount("grams", event.cup.materialGrams)}, ${figure(event.cup.doseByWeightPct, 2)} %, resin ${celsius(event.cup.resinC)}, mold ${celsius(event.cup.moldC)}${event.cup.typed ? " (entered by hand)" : ""}`,
  gelled: (event) => (event.timeUnknown ? "The cup had gelled, nobody knows when" : event.offMinutes ? "The cup gelled at about this time" : "The cup gelled"),
  "film-read": (event, step) => `Wet film of ${step}: ${figure(event.millimeters, 2)} mm`,
  done: (event, step) => `Done: ${step}${event.cameOut ? `, came out ${event.cameOut}` : ""}`,
  skipped: (event, step) => `Skipped: ${step}`,
  checked: (event) => `Checked by hand: ${event.fingernail && event.tap && event.noGive ? "hard" : "not hard yet"}`,
  noted: (event) => `Note: ${event.words}`,
  removed: () => "Taken out of the room",
  seen: (event) => `Problem: ${event.symptom}`,
  "given-up": (event) => `Canceled: ${event.why}`,
  undone: () => "Undid the last entry",
};

function takeAway(what, format, words) {
  return h("a", { class: "button small", href: `api/export?${query({ what, format })}`, download: `layroom-${what === "jobs" ? "parts" : what}.${format}` }, words);
}

export class Log {
  constructor(root, page) {
    this.root = root;
    this.page = page;
    this.search = "";
    whenShown("log", () => (detail() ? this.sheet(detail()) : this.list()));
  }

  async list() {
    const input = h("input", { type: "search", value: this.search, autocomplete: "off" });
    const results = h("ul", { class: "log" });
    const find = async () => {
      this.search = input.value;
      const { ok, body } = await read("log", { search: this.search });
      if (!ok) {
        results.replaceChildren(h("li", { class: "refused" }, problemWords(body)));
        return;
      }
      results.replaceChildren(
        ...body.jobs.map((job) =>
          h(
            "li",
            {},
            h("a", { class: "button", href: `#log/${job.id}` }, h("b", {}, job.part), h("span", {}, `${clockWords(Date.parse(job.begun), this.page.zone(), true)}, ${job.stateWords}`), job.symptoms.length > 0 ? h("span", {}, job.symptoms.join(", ")) : null),
          ),
        ),
      );
      if (body.jobs.length === 0) results.append(h("li", { class: "hint" }, this.search ? "Nothing found." : "No part has been started yet."));
    };
    let soon = 0;
    input.oninput = () => {
      clearTimeout(soon);
      soon = setTimeout(find, 300);
    };
    this.root.replaceChildren(
      h("h2", {}, "Finished"),
      field("Search part, mold, note, material or problem", input),
      results,
      h("h3", {}, "Export"),
      h("p", { class: "actions" }, takeAway("jobs", "csv", "All parts as CSV"), takeAway("jobs", "json", "All parts as JSON"), takeAway("readings", "csv", "Readings of the last 7 days as CSV"), takeAway("readings", "json", "Readings of the last 7 days as JSON")),
    );
    await find().catch(() => results.replaceChildren(h("li", { class: "refused" }, "Layroom is not answering.")));
  }

  async sheet(id) {
    const { ok, body: job } = await read("job", { job: id }).catch(() => ({ ok: false, body: {} }));
    if (!ok) {
      this.root.replaceChildren(h("p", { class: "refused" }, problemWords(job)), h("a", { class: "button", href: "#log" }, "Back to finished parts"));
      return;
    }
    const zone = this.page.zone();
    const at = (time) => (time ? clockWords(Date.parse(time), zone, true) : NEVER);
    const steps = new Map(job.steps.map((step) => [step.id, step.name]));
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const seen = async (symptom) => {
      const { ok: kept, body } = await tell("job", { job: job.id }, { id: freshId(), type: "seen", symptom });
      if (kept) this.sheet(id);
      else {
        said.hidden = false;
        said.textContent = problemWords(body);
      }
    };
    this.root.replaceChildren(
      h("p", { class: "actions noprint" }, h("a", { class: "button small", href: "#log" }, "Back to finished parts"), h("button", { type: "button", class: "small", onclick: () => window.print() }, "Print this sheet"), h("a", { class: "button small", href: `api/job?${query({ job: id })}`, download: `layroom-${id}.json` }, "As JSON")),
      h("h2", {}, job.part),
      h("p", {}, `Mold ${job.molds.join(", ")}; begun ${at(job.begun)}; ${job.stateWords}${job.ended ? ` ${at(job.ended)}` : ""}. Fan ${job.fanOn ? "on" : "not confirmed"}, respirator ${job.respiratorOn ? "on" : "not confirmed"}.`),
      h("h3", {}, "The room during each step"),
      this.rooms(job, at),
      h("h3", {}, "Predicted and actual"),
      this.compared(job, at),
      h("h3", {}, "Entries"),
      h(
        "ol",
        { class: "events" },
        job.events.map((one) => h("li", { class: one.undone ? "undone" : null }, h("time", { dateTime: one.time }, at(one.time)), " ", EVENT_WORDS[one.event.type](one.event, steps.get(one.event.step) ?? ""), one.undone ? " (undone)" : "")),
      ),
      h("h3", {}, "What went wrong?"),
      writing(h("div", { class: "actions noprint" }, SYMPTOMS.filter(([symptom]) => !job.why.some((one) => one.symptom === symptom)).map(([symptom, words]) => h("button", { type: "button", class: "small", onclick: () => seen(symptom) }, words)))),
      said,
      job.why.length === 0 ? writing(h("p", { class: "hint" }, "Choose the problem. Layroom checks this part's record for its known causes.")) : h("div", {}, job.why.map((one) => this.why(one))),
    );
  }

  rooms(job, at) {
    if (job.rooms.length === 0) return h("p", { class: "hint" }, "No step has begun.");
    const span = (values, words) => (values ? words(values) : "not measured");
    const degrees = (v) => `${celsius(v.mean)} (${celsius(v.min)} to ${celsius(v.max)})`;
    return h(
      "div",
      { class: "wide", tabIndex: 0, role: "region", "aria-label": "The room during each step" },
      h(
        "table",
        {},
        h("thead", {}, h("tr", {}, ["step", "from", "mold", "air", "humidity", "vapor"].map((name) => h("th", { scope: "col" }, name)))),
        h(
          "tbody",
          {},
          job.rooms.map((room) =>
            h("tr", {}, h("th", { scope: "row" }, room.name), h("td", {}, at(room.from)), h("td", {}, span(room["mold-temperature"], degrees)), h("td", {}, span(room.temperature, degrees)), h("td", {}, span(room.humidity, (v) => `${figure(v.mean, 0)} % (to ${figure(v.max, 0)} %)`)), h("td", {}, span(room["voc-level"], (v) => `to ${figure(v.max, 1)} × clean air`))),
          ),
        ),
      ),
    );
  }

  compared(job, at) {
    if (job.compared.length === 0) return h("p", { class: "hint" }, "Nothing to compare yet. Tap \"It gelled\" and how the part came out when they happen.");
    return h(
      "ul",
      {},
      job.compared.map((one) => h("li", {}, `${one.what}: predicted ${at(one.predicted.earliest)} to ${at(one.predicted.latest)}, likely ${at(one.predicted.likely)}; actual ${at(one.happened)}.`)),
    );
  }

  why(one) {
    return h(
      "section",
      { class: "why" },
      h("h4", {}, one.words),
      h("p", { class: "hint" }, "Possible causes from this part's record. They are not proof."),
      h("ul", {}, one.possibilities.map((p) => h("li", { "data-found": p.found }, h("b", {}, `${p.what}: ${p.foundWords}. `), p.evidence))),
    );
  }
}

