// The shop's cans: what each says, what its gel tests taught, and a form to make one's own; and the
// page's own settings.
import { freshId, problemWords, read, tell } from "./api.js";
import { choice, field, h, tick, writing } from "./dom.js";
import { detail, go, whenShown } from "./screens.js";
import { celsius, plainDegrees, setUs, typed, unit, us } from "./units.js";
import { clockWords, figure } from "./words.js";

const KINDS = [["laminating-resin", "laminating resin"], ["gel-coat", "gel coat"], ["finish-coat", "finish coat"]];

/** The numbers of a material file: path, label, hint. */
const NUMBERS = [
  ["gel.minutes", "Gel time on the data sheet, minutes"],
  ["gel.temperatureC", () => `at temperature, ${unit("celsius")}`],
  ["gel.doseByWeightPct", "at dose, % by weight"],
  ["doseByWeightPct.min", "Lowest dose the can allows, %"],
  ["doseByWeightPct.max", "Highest dose the can allows, %"],
  ["densityKgPerL", "Density, kg/l", "1.10 to 1.13 for resin, 1.25 to 1.32 for gel coat"],
  ["catalystDensityKgPerL", "Density of the catalyst, kg/l", "Without it the catalyst is weighed. 1.18 is common, 1.02 exists too."],
  ["demoldHoursAt20C", () => `Hours at ${celsius(20, 0)} until demold`, "about 24; 41 for a part that carries load"],
  ["styrenePct", "Styrene, % of weight"],
];

export class Cans {
  constructor(root, page) {
    this.root = root;
    this.page = page;
    whenShown("cans", () => (detail() ? this.can(detail()) : this.shelf()));
  }

  shelf() {
    this.root.replaceChildren(
      h("h2", {}, "Cans"),
      h("ul", { class: "log" }, this.page.materials.map((one) => h("li", {}, h("a", { class: "button", href: `#cans/${one.id}` }, h("b", {}, one.name), h("span", {}, one.typical ? "typical, not yet tested with your can" : "yours"))))),
      writing(h("p", { class: "actions" }, h("button", { type: "button", onclick: () => this.form({ kind: "laminating-resin", gel: {}, doseByWeightPct: {} }) }, "Add a can of my own"))),
      h("h2", {}, "This page"),
      choice("Units", [["metric", "metric"], ["us", "US (°F, oz, fl oz)"]], us() ? "us" : "metric", (value) => {
        setUs(value === "us");
        this.page.redraw();
      }),
      h("p", { class: "hint" }, "Catalyst is always in milliliters and grams: that is what syringes and scales show. Numbers and dates follow the browser's language."),
    );
  }

  async can(id) {
    const { ok, body: can } = await read("material", { material: id }).catch(() => ({ ok: false, body: {} }));
    if (!ok) {
      this.root.replaceChildren(h("p", { class: "refused" }, problemWords(can)), h("a", { class: "button", href: "#cans" }, "Back to the cans"));
      return;
    }
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const change = async (event) => {
      const { ok: done, body } = await tell("material", { material: id }, { id: freshId(), ...event });
      if (!done) {
        said.hidden = false;
        said.textContent = problemWords(body);
        return;
      }
      await this.page.loadMaterials();
      if (event.type === "remove") go("cans");
      else this.can(id);
    };
    const file = can.file;
    this.root.replaceChildren(
      h("p", { class: "actions" }, h("a", { class: "button small", href: "#cans" }, "Back to the cans")),
      h("h2", {}, can.label),
      h("p", {}, `Gel ${figure(file.gel.minutes, 1)} min at ${celsius(file.gel.temperatureC, 0)} with ${figure(file.gel.doseByWeightPct, 2)} %. Dose ${figure(file.doseByWeightPct.min, 2)} to ${figure(file.doseByWeightPct.max, 2)} %.`),
      h("p", {}, `How sure: ${can.confidence}.`),
      can.drift ? h("p", { class: "mind" }, can.drift) : null,
      can.nextTest ? h("p", { class: "hint" }, can.nextTest) : null,
      h("h3", {}, "Gel tests"),
      can.tests.length === 0 ? h("p", { class: "hint" }, "None yet. Each one narrows the band. \"The cup gelled now\" in a part makes one.") : h("ul", { class: "tests" }, can.tests.map((test) => h("li", {}, h("span", {}, `${clockWords(Date.parse(test.time), this.page.zone(), true)}: ${test.words} (${test.from})`), writing(h("button", { type: "button", class: "small", onclick: () => change({ type: "drop-test", test: test.id }) }, "Leave it out"))))),
      writing(this.testForm(change)),
      said,
      writing(h(
        "p",
        { class: "actions" },
        h("button", { type: "button", class: "small", onclick: () => this.form(can.typical ? { ...file, id: `my-${file.id}`.slice(0, 64), name: `My ${file.name}` } : file) }, can.typical ? "Make it a can of my own" : "Edit"),
        can.tests.length > 0 ? h("button", { type: "button", class: "small", onclick: () => confirm("New resin or new catalyst: earlier tests count no more?") && change({ type: "start-anew" }) }, "New batch: start the tests anew") : null,
        can.typical ? null : h("button", { type: "button", class: "small", onclick: () => confirm(`Take "${file.name}" off the shelf?`) && change({ type: "remove" }) }, "Take it off the shelf"),
      )),
    );
  }

  testForm(change) {
    const number = () => h("input", { type: "text", inputMode: "decimal", autocomplete: "off" });
    const [degrees, dose, minutes] = [number(), number(), number()];
    let where = "cup";
    const value = (input) => Number(input.value.replace(",", "."));
    return h(
      "details",
      {},
      h("summary", {}, "Write a gel test down"),
      choice("Where?", [["cup", "in a cup"], ["layer", "in a thin layer on scrap"]], where, (chosen) => (where = chosen)),
      h("div", { class: "row" }, field(`Temperature, ${unit("celsius")}`, degrees), field("Dose, % by weight", dose), field("Minutes until it gelled", minutes)),
      h("button", { type: "button", class: "small", onclick: () => change({ type: "gel-test", where, temperatureC: typed("celsius", degrees.value), doseByWeightPct: value(dose), minutes: value(minutes) }) }, "Write down"),
    );
  }

  form(file) {
    const draft = structuredClone(file);
    const get = (path) => path.split(".").reduce((node, key) => node?.[key], draft);
    const set = (path, value) => {
      const keys = path.split(".");
      const node = keys.slice(0, -1).reduce((at, key) => (at[key] ??= {}), draft);
      if (value === undefined) delete node[keys.at(-1)];
      else node[keys.at(-1)] = value;
    };
    const text = (path, label, hint) => field(label, h("input", { type: "text", autocomplete: "off", value: get(path) ?? "", oninput: (event) => set(path, event.target.value.trim() || undefined) }), hint);
    const number = ([path, label, hint]) =>
      field(
        label instanceof Function ? label() : label,
        h("input", {
          type: "text",
          inputMode: "decimal",
          autocomplete: "off",
          value: path.endsWith("temperatureC") ? plainDegrees(get(path)) : (get(path) ?? ""),
          oninput: (event) => {
            const said = event.target.value.trim().replace(",", ".");
            const value = path.endsWith("temperatureC") ? typed("celsius", said) : Number(said);
            set(path, said === "" ? undefined : Number.isFinite(value) ? value : said);
          },
        }),
        hint,
      );
    const structural = tick("the part carries load", { checked: draft.structural ?? false, onchange: (event) => (draft.structural = event.target.checked) });
    const waxed = tick("it holds wax: nothing bonds to it, and it dries without tack", { checked: draft.waxed ?? false, onchange: (event) => (draft.waxed = event.target.checked) });
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    this.root.replaceChildren(
      h("h2", {}, "A can of my own"),
      h("p", { class: "hint" }, "From the can and its data sheet. Polyester with cobalt and MEKP only: vinyl ester and BPO systems follow other laws."),
      text("id", "Short name for files", "lower-case letters, digits, hyphens"),
      text("name", "Name"),
      choice("Kind", KINDS, draft.kind, (kind) => (draft.kind = kind)),
      h("div", { class: "row" }, NUMBERS.map(number)),
      structural.row,
      waxed.row,
      h(
        "p",
        { class: "actions" },
        h(
          "button",
          {
            type: "button",
            class: "big",
            onclick: async () => {
              const { ok, body } = await tell("materials", {}, draft);
              if (!ok) {
                said.hidden = false;
                said.textContent = problemWords(body);
                return;
              }
              await this.page.loadMaterials();
              go("cans", body.id);
              this.can(body.id);
            },
          },
          "Keep it",
        ),
        h("button", { type: "button", class: "small", onclick: () => this.shelf() }, "Leave it as it was"),
      ),
      said,
    );
  }
}
