// The first start: five steps that end in a working check, each ticked by what is really there. It goes
// away by itself when all are done, or when the person puts it away.
import { read } from "./api.js";
import { h, show } from "./dom.js";
import { drawGlyph } from "./glyph.js";

export class FirstSteps {
  constructor(section, page) {
    this.section = section;
    this.page = page;
    this.volume = undefined;
    this.asked = -Infinity;
  }

  /** Looks again at most every five seconds, and not at all once it is put away. */
  async look(picture) {
    if (localStorage.getItem("first-steps") === "done") {
      this.section.classList.add("read");
      return;
    }
    if (performance.now() - this.asked > 5000) {
      this.asked = performance.now();
      const { ok, body } = await read("air").catch(() => ({ ok: false }));
      if (ok) this.volume = body.volumeM3;
    }
    const series = picture.series;
    const good = (name) => Object.entries(series).some(([key, reading]) => key.split("/")[0] === name && reading.quality === "good" && reading.ageSeconds < 600);
    const missing = [["temperature", "air"], ["humidity", "humidity"], ["mold-temperature", "mold"], ["voc-raw", "vapor"]].filter(([name]) => !good(name)).map(([, words]) => words);
    const steps = [
      [localStorage.getItem("cautions-read") !== null, "Read the cautions", "#air", ""],
      [missing.length === 0, "Sensors report", "#room", missing.length === 0 ? "" : `No good reading yet of: ${missing.join(", ")}.`],
      [good("voc-level") || good("styrene-estimate"), "Clean-air reading of the vapor sensor", "#air", "Air the room, nothing open, then take it."],
      [this.volume !== undefined, "Size of the room", "#air", "Under \"What measures the air\": it tells the air before a layup."],
      [localStorage.getItem("material") !== null, "Your can", "#cans", "Choose it above, or make your own from its data sheet."],
      [picture.verdict.verdict !== "unknown", "A working check", "#room", ""],
    ];
    if (steps.every(([done]) => done)) this.putAway();
    show(this.section, JSON.stringify(steps), () => [
      h("h2", { id: "first-title" }, "First steps"),
      h("p", {}, "Styrene vapor, catalyst and heat can hurt you and the household. Keep the safety data sheets at hand."),
      h("ol", { class: "steps" }, steps.map((step) => this.step(step))),
      h("button", { type: "button", class: "small", onclick: () => this.putAway() }, "Put this away"),
    ]);
  }

  step([done, words, where, hint]) {
    const glyph = h("span", { class: "glyph", "aria-hidden": "true" });
    drawGlyph(glyph, done ? "ok" : "todo");
    return h("li", { "data-state": done ? "ok" : "todo" }, glyph, h("span", {}, words, done || !hint ? null : h("small", { class: "hint" }, ` ${hint}`)), done ? h("span", { class: "state" }, "done") : h("a", { class: "button small", href: where }, "Go there"));
  }

  putAway() {
    localStorage.setItem("first-steps", "done");
    this.section.classList.add("read");
  }
}
