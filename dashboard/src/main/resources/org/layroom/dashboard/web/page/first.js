// The first start: six steps that end in a working check, each ticked by what is really there. The room's
// screen lists them; the screens where they are done lead on to the next. They go away by themselves when
// all are done, or when the person puts them away.
import { read } from "./api.js";
import { h, show } from "./dom.js";
import { drawGlyph } from "./glyph.js";
import { current } from "./screens.js";

const ASK_AGAIN_MS = 2000;
const NEEDED = [["temperature", "air"], ["humidity", "humidity"], ["mold-temperature", "mold"], ["voc-raw", "vapor"]];

export class FirstSteps {
  constructor(section, page) {
    this.section = section;
    this.page = page;
    this.volume = undefined;
    this.asked = -Infinity;
    window.addEventListener("hashchange", () => this.draw());
  }

  /** Looks again at what is there, and not at all once the steps are put away. */
  async look(picture) {
    this.picture = picture;
    if (localStorage.getItem("first-steps") !== "done" && performance.now() - this.asked > ASK_AGAIN_MS) {
      this.asked = performance.now();
      const { ok, body } = await read("air").catch(() => ({ ok: false }));
      if (ok) this.volume = body.limitChosen ? body.volumeM3 : undefined;
    }
    this.draw();
  }

  draw() {
    if (localStorage.getItem("first-steps") === "done") {
      this.section.classList.add("read");
      return;
    }
    if (!this.picture) return;
    const steps = this.steps();
    if (steps.every((step) => step.done)) this.putAway();
    const here = `#${current()}`;
    show(this.section, JSON.stringify([here, steps]), () => (here === "#room" ? this.list(steps) : this.guide(steps, here)));
  }

  steps() {
    const series = Object.entries(this.picture.series);
    const good = (name) => series.some(([key, reading]) => key.split("/")[0] === name && reading.quality === "good" && reading.ageSeconds < 600);
    const missing = NEEDED.filter(([name]) => !good(name)).map(([, words]) => words);
    const can = this.page.materials.find((one) => one.id === this.page.material())?.name;
    return [
      { words: "Read the cautions", where: "#air", done: localStorage.getItem("cautions-read") !== null },
      { words: "Sensors report", where: "#room", done: missing.length === 0, hint: `No good reading yet for: ${missing.join(", ")}.` },
      { words: "Clean-air reading of the vapor sensor", where: "#air", done: good("voc-level") || good("styrene-estimate"), hint: "Air the room with every can shut, then take the reading.", fold: "#air-clean" },
      { words: "Limit. Room size", where: "#air", done: this.volume !== undefined, hint: "The limit for your country, and the volume, or length x width x height. They are used to predict vapor before a layup.", fold: "#air-measuring" },
      { words: "Your material", where: "#cans", done: localStorage.getItem("material") !== null, hint: `Now ${can ?? "none"}. Add your own from its data sheet.`, can },
      { words: "A mix check with current readings", where: "#room", done: this.picture.verdict.verdict !== "unknown" },
    ];
  }

  list(steps) {
    return [
      h("h2", { id: "first-title" }, "First steps"),
      h("p", {}, "Styrene vapor, catalyst and heat can hurt you and others in the building. Keep the safety data sheets at hand."),
      h("ol", { class: "steps" }, steps.map((step) => this.step(step))),
      h("button", { type: "button", class: "small", onclick: () => this.putAway() }, "Hide"),
    ];
  }

  step(step) {
    const glyph = h("span", { class: "glyph", "aria-hidden": "true" });
    drawGlyph(glyph, step.done ? "ok" : "todo");
    return h(
      "li",
      { "data-state": step.done ? "ok" : "todo" },
      glyph,
      h("span", {}, step.words),
      step.done ? h("span", { class: "state" }, "done") : step.where === "#room" ? h("span", { class: "state" }, "not yet") : h("a", { class: "button small", href: step.where }, "Set up"),
      step.done || !step.hint ? null : h("small", { class: "lines" }, step.hint),
      step.done ? null : this.usual(step),
    );
  }

  /** The can that is chosen already needs one tap alone. */
  usual(step) {
    if (!step.can) return null;
    const keep = () => {
      localStorage.setItem("material", this.page.material());
      this.draw();
    };
    return h("button", { type: "button", class: "small lines", onclick: keep }, "Use this material");
  }

  /** On another screen: what is to be done there, or where to go on. */
  guide(steps, here) {
    const open = steps.filter((step) => !step.done);
    const next = open.find((step) => step.where === here) ?? open[0];
    if (!next) return [];
    const number = `First steps, ${steps.indexOf(next) + 1} of ${steps.length}: `;
    return [
      h("h2", { id: "first-title" }, number, next.words),
      next.where === here
        ? h("p", {}, next.hint ?? "You are on the right screen.")
        : h("p", { class: "actions" }, "This step is done. ", h("a", { class: "button", href: next.where }, "Next step")),
      next.where === here && next.fold ? h("button", { type: "button", onclick: () => this.open(next.fold) }, "Show") : null,
      next.where === here ? this.usual(next) : null,
    ];
  }

  open(selector) {
    const fold = document.querySelector(selector);
    fold.open = true;
    fold.querySelector("input,button").focus();
  }

  putAway() {
    localStorage.setItem("first-steps", "done");
    this.section.classList.add("read");
  }
}
