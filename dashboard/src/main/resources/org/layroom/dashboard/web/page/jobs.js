// The parts on their way: what comes next and when, what to tap, and what should be heard now.
import { freshId, problemWords, query, read, tell } from "./api.js";
import { field, h, show, tick, writing } from "./dom.js";
import { drawGlyph } from "./glyph.js";
import { whenShown } from "./screens.js";
import { amount, typed, unit, us } from "./units.js";
import { Sound } from "./sound.js";
import { ageWords, clockWords, figure, forecastWords, NEVER } from "./words.js";

const STATE_WORDS = { waiting: "to do", running: "under way", done: "done", "left-out": "skipped" };
const STATE_GLYPH = { waiting: "todo", running: "wait", done: "ok", "left-out": "no" };
const PHASE_WORDS = { soon: "Soon", open: "Now", closing: "Hurry", past: "Missed", mind: "Check" };

const CAME_OUT = [["fine", "Came out fine"], ["soft", "Soft"], ["stuck", "Stuck"], ["warped", "Warped"]];

/** When a cup gelled: minutes ago, and how far that may be off (chosen: a third of it). */
const GELLED_AGO = [[5, 1.7], [10, 3.3], [20, 6.7]];

/** This one window, for the calendar of whoever taps it. */
function calendarLink(job, step) {
  return h("p", {}, h("a", { href: `api/calendar?${query({ window: `${job.id}-${step.id}` })}`, download: "layroom.ics" }, "Put it into my calendar"));
}

const CHAIN = [
  ["wax-coat", "wax coat", 2],
  ["release-mist", "fine release mist", 0],
  ["pva-coat", "PVA coat", 1],
  ["gel-coat", "gel coat", 1],
  ["layer", "layer", 2],
  ["finish-coat", "finish coat", 0],
  ["trim", "trim", 1],
  ["join", "joining parts", 0],
  ["demold", "demold", 1],
];

export class Jobs {
  constructor(root, notices, page) {
    this.root = root;
    this.notices = notices;
    this.page = page;
    this.list = [];
    this.heard = [];
    this.drafts = new Map(); // what is ticked and typed but not told yet, by job: a new picture keeps it
    this.sound = new Sound();
    this.cards = h("div", { class: "cards" });
    this.starter = h("div", { class: "starter" });
    root.append(h("h2", {}, "Parts in progress"), this.cards, this.starter);
    whenShown("jobs", () => {
      this.draw();
      this.load();
    });
    this.buildStarter();
  }

  /** Fetches the parts on their way and what is to be heard of them. */
  async load() {
    try {
      const { ok, body } = await read("jobs");
      if (!ok) return;
      this.list = body.jobs;
      this.heard = body.notices;
      this.draw();
    } catch {
      // the page already says that nobody answers
    }
  }

  draw() {
    this.drawNotices();
    const key = JSON.stringify(this.list);
    show(this.cards, key, () =>
      this.list.length === 0 ? h("p", { class: "hint" }, "No part is in progress.") : this.list.map((job) => this.card(job)),
    );
    this.tickAll();
  }

  drawNotices() {
    const fresh = this.sound.newOnes(this.heard);
    if (fresh.length > 0) this.sound.call(fresh);
    this.notices.hidden = this.heard.length === 0;
    show(this.notices, JSON.stringify([this.heard, this.sound.on]), () => [
      h(
        "ul",
        {},
        this.heard.map((notice) =>
          h("li", { "data-phase": notice.phase }, h("b", {}, `${PHASE_WORDS[notice.phase]}: ${notice.part}. `), notice.words),
        ),
      ),
      this.sound.button(() => this.drawNotices()),
    ]);
  }

  /** Moves every countdown on. */
  tickAll() {
    const now = this.page.now();
    for (const element of document.querySelectorAll("[data-until]")) {
      const seconds = (Date.parse(element.dataset.until) - now) / 1000;
      element.textContent = seconds >= 0 ? `in ${ageWords(seconds)}` : `${ageWords(-seconds)} ago`;
    }
  }

  when(times) {
    if (!times?.likely) return h("p", { class: "when" }, "Not at this temperature: warm it.");
    const zone = this.page.zone();
    const at = (time) => (time ? forecastWords(Date.parse(time), zone) : NEVER);
    return h(
      "p",
      { class: "when" },
      h("b", {}, at(times.likely)),
      " likely, ",
      h("span", { "data-until": times.likely }),
      times.earliest !== times.latest ? h("span", { class: "edges" }, ` (earliest ${at(times.earliest)}, latest ${at(times.latest)})`) : null,
    );
  }

  draft(job) {
    if (!this.drafts.has(job.id)) this.drafts.set(job.id, {});
    return this.drafts.get(job.id);
  }

  card(job) {
    const step = job.steps.find((one) => one.id === job.next?.step);
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const act = async (event, more = {}) => {
      const { ok, body } = await tell("job", { job: job.id }, { id: freshId(), seen: job.position, ...event, ...more });
      if (!ok) {
        said.hidden = false;
        said.textContent = problemWords(body);
      }
      document.activeElement?.blur?.();
      await this.load();
    };
    return h(
      "article",
      { class: "job", "aria-label": job.part },
      h("h3", {}, job.part, h("small", {}, ` in ${job.molds.join(", ")}`)),
      job.next
        ? h(
            "div",
            { class: "next" },
            h("p", { class: "what" }, `Next: ${step.name}`),
            h("p", {}, job.next.words),
            job.next.from ? this.when(job.next.from) : null,
            job.next.until ? h("p", { class: "when" }, "closes ", h("b", {}, job.next.until.likely ? forecastWords(Date.parse(job.next.until.likely), this.page.zone()) : NEVER)) : null,
            job.next.from?.earliest && !(step.state === "running" && step.mixes.length > 0) ? calendarLink(job, step) : null,
            this.actions(job, step, act),
          )
        : null,
      said,
      this.running(job, act),
      this.asked(job, act),
      h("ol", { class: "steps" }, job.steps.map((one) => this.stepLine(one))),
      this.more(job, act),
    );
  }

  actions(job, step, act) {
    const plain = (words, run, className) => h("button", { type: "button", class: className, "data-key": `${job.id}-${words}`, onclick: run }, words);
    const button = (words, run, className = "big") => writing(plain(words, run, className));
    const skip = step.state === "waiting" ? button("Skip step", () => act({ type: "skipped", step: step.id }), "small") : null;
    switch (step.kind) {
      case "wax-coat":
      case "release-mist":
      case "pva-coat":
        return h(
          "div",
          { class: "actions" },
          step.state === "waiting" ? button("Applied", () => act({ type: "applied", step: step.id })) : button("Dry", () => act({ type: "done", step: step.id })),
          skip,
        );
      case "trim":
        return h("div", { class: "actions" }, button("Trimmed", () => act({ type: "done", step: step.id })), skip);
      case "demold":
        return this.demold(job, step, act, button);
      default:
        return h(
          "div",
          { class: "actions" },
          plain(step.state === "waiting" ? `Mix for ${step.name}` : "Mix another cup", () => this.page.mix.forStep(job, step), step.state === "waiting" ? "big" : "small"),
          step.state === "running" ? button("Laid up", () => act({ type: "done", step: step.id })) : skip,
          step.kind === "gel-coat" && step.state === "running" ? writing(this.film(job, step, act)) : null,
        );
    }
  }

  film(job, step, act) {
    const draft = this.draft(job);
    const input = h("input", { type: "text", inputMode: "decimal", autocomplete: "off", value: draft.film ?? "", oninput: (event) => (draft.film = event.target.value) });
    return h(
      "div",
      { class: "inline" },
      field(`Wet film gauge, ${unit("millimeters")}`, input, `${us() ? "12 to 24 mil" : "0.30 to 0.61 mm"} is usual; thinner wrinkles.`),
      h("button", { type: "button", class: "small", onclick: () => act({ type: "film-read", step: step.id, millimeters: typed("millimeters", input.value) }) }, "Save"),
    );
  }

  demold(job, step, act, button) {
    const draft = this.draft(job);
    const kept = (words, name) => tick(words, { checked: draft[name] ?? false, onchange: (event) => (draft[name] = event.target.checked) });
    const nail = kept("a fingernail leaves no mark on the flange", "nail");
    const tap = kept("a tap sounds hard", "tap");
    const give = kept("no give under the thumb", "give");
    const hardness = h("input", { type: "text", autocomplete: "off", placeholder: "32 35 31 …", value: draft.hardness ?? "", oninput: (event) => (draft.hardness = event.target.value) });
    const check = () =>
      act({
        type: "checked",
        step: step.id,
        fingernail: nail.input.checked,
        tap: tap.input.checked,
        noGive: give.input.checked,
        hardness: hardness.value.split(/[\s;]+/).filter(Boolean).map((text) => Number(text.replace(",", "."))),
      });
    const checked = step.check;
    return h(
      "div",
      { class: "actions check" },
      checked
        ? h("p", {}, checked.hard ? "Checked by hand: hard." : "Checked by hand: not hard yet. Wait, and warm it.", checked.hardnessWords ? ` ${checked.hardnessWords}` : "")
        : null,
      checked?.hard ? h("p", {}, "Demolded: how did it come out?") : null,
      checked?.hard ? h("div", { class: "row" }, CAME_OUT.map(([how, words]) => button(words, () => act({ type: "done", step: step.id, cameOut: how }), how === "fine" ? "big" : "small"))) : null,
      writing(h(
        "details",
        { open: draft.checking ?? !checked, ontoggle: (event) => (draft.checking = event.target.open) },
        h("summary", {}, "Check by hand"),
        nail.row,
        tap.row,
        give.row,
        field("Barcol readings, if you have a tester", hardness, "Take 10 to 12 on the gel coat side."),
        button("Save the check", check, "small"),
      )),
    );
  }

  /** The cups that have not gelled, so that a gel can be told. */
  running(job, act) {
    const cups = job.steps.flatMap((step) => step.mixes.map((mix) => ({ step, mix }))).filter(({ mix }) => !mix.gelled);
    const over = (mix) => Date.parse(mix.stages.find((stage) => stage.stage === "gel")?.from.latest ?? mix.time) + 1800_000;
    const recent = cups.filter(({ mix }) => this.page.now() < over(mix)).slice(-3);
    if (recent.length === 0) return null;
    return h(
      "ul",
      { class: "cups-running" },
      recent.map(({ step, mix }) => {
        const stop = mix.stages.find((stage) => stage.stage === "stop-wetting-out");
        const gel = mix.stages.find((stage) => stage.stage === "gel");
        return h(
          "li",
          {},
          h("span", {}, `${step.name}: ${amount("grams", mix.materialGrams)} at ${figure(mix.doseByWeightPct, 2)} %, mixed ${clockWords(Date.parse(mix.time), this.page.zone())}. ${step.kind === "gel-coat" ? "Stop brushing" : "Stop wetting out"} `, stop?.from.likely ? h("b", { "data-until": stop.from.likely }) : NEVER, ", gel ", gel?.from.likely ? h("b", { "data-until": gel.from.likely }) : NEVER, "."),
          ...(mix.warned ?? []).map((words) => h("span", { class: "mind" }, words)),
          this.gelled(mix, act),
        );
      }),
    );
  }

  /** One tap tells when a cup gelled: a late tap must not teach a slow can. */
  gelled(mix, act) {
    const minutes = (this.page.now() - Date.parse(mix.time)) / 60_000;
    const button = (words, key, more) => writing(h("button", { type: "button", class: "small", "data-key": `${mix.id}-gel-${key}`, onclick: () => act({ type: "gelled", mix: mix.id, ...more }) }, words));
    return h(
      "span",
      { class: "row" },
      button("It gelled just now", "now", {}),
      GELLED_AGO.filter(([ago]) => ago < minutes).map(([ago, off]) => button(`${ago} min ago`, ago, { secondsAgo: ago * 60, offMinutes: off })),
      button("Don't know when", "unknown", { timeUnknown: true }),
    );
  }

  /** A gel that is hardly possible is asked about: it teaches nothing until it is confirmed. */
  asked(job, act) {
    const cups = job.steps.flatMap((step) => step.mixes.filter((mix) => mix.gelAsked).map((mix) => ({ step, mix })));
    if (cups.length === 0) return null;
    const confirm = async (mix) => {
      await tell("material", { material: mix.material }, { id: freshId(), type: "confirm-test", test: mix.gelAsked.test });
      await this.load();
    };
    const undo = (mix) => act({ type: "undone", event: mix.gelAsked.event });
    return h(
      "ul",
      { class: "cups-running" },
      cups.map(({ step, mix }) =>
        h(
          "li",
          { class: "mind" },
          h("span", {}, `${step.name}: ${mix.gelAsked.words} `),
          writing(h("button", { type: "button", class: "small", "data-key": `${mix.id}-gel-confirm`, onclick: () => confirm(mix) }, "It was in time")),
          writing(h("button", { type: "button", class: "small", "data-key": `${mix.id}-gel-undo`, onclick: () => undo(mix) }, "Undo the tap")),
        ),
      ),
    );
  }

  stepLine(step) {
    const glyph = h("span", { class: "glyph", "aria-hidden": "true" });
    drawGlyph(glyph, STATE_GLYPH[step.state]);
    const moved = step.mixes.at(-1)?.moved.filter((shift) => shift.stage === "demold") ?? [];
    const lines = [];
    if (step.film) lines.push(`Wet film ${step.film.words.replace(/\.$/, "")}`);
    if (step.mixes.length > 0) lines.push(`${step.mixes.length} cup${step.mixes.length > 1 ? "s" : ""}`);
    lines.push(...moved.map((shift) => shift.words.replace(/\.$/, "")));
    return h(
      "li",
      { "data-state": step.state === "done" ? "ok" : step.state === "running" ? "wait" : "todo" },
      glyph,
      h("span", {}, step.name),
      h("span", { class: "state" }, STATE_WORDS[step.state]),
      lines.length > 0 ? h("span", { class: "lines" }, lines.join(". ")) : null,
    );
  }

  more(job, act) {
    const draft = this.draft(job);
    const note = h("textarea", { rows: 2, value: draft.note ?? "", oninput: (event) => (draft.note = event.target.value) });
    const undo = async () => {
      const { ok, body } = await read("job", { job: job.id });
      if (!ok) return;
      const last = body.events.filter((one) => !one.undone && !["undone", "started"].includes(one.event.type)).at(-1);
      if (last) await act({ type: "undone", event: last.id });
    };
    return h(
      "details",
      { class: "more", open: draft.more ?? false, ontoggle: (event) => (draft.more = event.target.open) },
      h("summary", {}, "More", writing(h("span", {}, ": note, undo, add a layer, cancel"))),
      writing(h("button", { type: "button", class: "small", onclick: undo }, "Undo last")),
      writing(h("div", { class: "inline" }, field("Note", note), h("button", { type: "button", class: "small", onclick: () => {
        const words = note.value.trim();
        draft.note = "";
        if (words) act({ type: "noted", words });
      } }, "Save"))),
      writing(h(
        "button",
        {
          type: "button",
          class: "small",
          onclick: () => act({ type: "step-added", step: `s${job.steps.length + 1}-${freshId().slice(0, 6)}`, kind: "layer", name: "further layer", before: job.steps.find((one) => ["trim", "join", "demold"].includes(one.kind))?.id }),
        },
        "Add a layer",
      )),
      h("a", { class: "button small", href: `#log/${job.id}` }, "Job sheet"),
      writing(h("button", { type: "button", class: "small", onclick: () => act({ type: "removed" }) }, "Taken out of the room")),
      writing(h("button", { type: "button", class: "small", onclick: () => confirm(`Cancel "${job.part}"? Its record stays under Finished.`) && act({ type: "given-up" }) }, "Cancel part")),
    );
  }

  buildStarter() {
    const part = h("input", { type: "text", autocomplete: "off", maxLength: 80 });
    const molds = h("input", { type: "text", autocomplete: "off", placeholder: "left fender" });
    const counts = new Map(CHAIN.map(([kind, , count]) => [kind, count]));
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const rows = h(
      "div",
      { class: "chain" },
      CHAIN.map(([kind, words]) => {
        const shown = h("output", {}, String(counts.get(kind)));
        const step = (by) => () => {
          counts.set(kind, Math.min(kind === "demold" || kind === "trim" ? 1 : 9, Math.max(0, counts.get(kind) + by)));
          shown.textContent = String(counts.get(kind));
        };
        return h("div", {}, h("span", {}, words), h("button", { type: "button", "aria-label": `one ${words} fewer`, onclick: step(-1) }, "−"), shown, h("button", { type: "button", "aria-label": `one ${words} more`, onclick: step(1) }, "+"));
      }),
    );
    const materials = { "gel-coat": "", layer: "" };
    const pick = h("div", { class: "row" });
    this.offerMaterials = () => {
      const select = (kind, fits) => {
        const fitting = this.page.materials.filter((one) => fits(one.kind));
        materials[kind] ||= fitting[0]?.id ?? "";
        return h("select", { onchange: (event) => (materials[kind] = event.target.value) }, fitting.map((one) => h("option", { value: one.id, selected: one.id === materials[kind] }, one.name)));
      };
      pick.replaceChildren(field("Gel coat", select("gel-coat", (kind) => kind === "gel-coat")), field("Laminating resin", select("layer", (kind) => kind === "laminating-resin")));
    };
    let id = freshId();
    let jobId = freshId();
    const start = async () => {
      const released = ["wax-coat", "release-mist", "pva-coat"].some((kind) => counts.get(kind) > 0);
      if (!released && !confirm("No wax and no PVA: a part sticks in a mold without release. Is the mold released already?")) return;
      const steps = CHAIN.flatMap(([kind, words]) =>
        Array.from({ length: counts.get(kind) }, (_, i) => ({
          kind,
          name: counts.get(kind) > 1 ? `${words} ${i + 1}` : words,
          ...(kind === "gel-coat" ? { material: materials["gel-coat"] } : {}),
          ...(kind === "layer" || kind === "join" ? { material: materials.layer } : {}),
        })),
      );
      const { ok, status, body } = await tell("job", { job: jobId }, {
        type: "started",
        id,
        part: part.value.trim(),
        molds: (molds.value.trim() || part.value.trim()).split(/[,;]/).map((mold) => mold.trim()).filter(Boolean),
        steps,
        fanOn: false,
        respiratorOn: false,
      });
      said.hidden = ok;
      if (!ok) {
        said.textContent = problemWords(body);
        if (status === 409) id = freshId();
        return;
      }
      id = freshId();
      jobId = freshId();
      part.value = "";
      molds.value = "";
      details.open = false;
      await this.load();
      this.root.scrollIntoView();
    };
    const details = h(
      "details",
      { class: "start" },
      h("summary", {}, "Start a part"),
      field("Part", part),
      field("Mold", molds, "Separate several molds with commas. A mold holds one part at a time."),
      h("fieldset", {}, h("legend", {}, "Steps"), rows),
      pick,
      h("p", { class: "hint" }, "Fan and respirator are asked for at the first cup. Tilt a deep mold so that vapor drains out."),
      h("button", { type: "button", class: "big", onclick: start }, "Start"),
      said,
    );
    this.starter.replaceChildren(writing(details));
  }
}

