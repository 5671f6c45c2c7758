// The shop's cans: what each says, what its gel tests taught, and a form to make one's own; and the
// page's own settings.
import { freshId, problemWords, read, tell } from "./api.js";
import { choice, field, h, tick, writing } from "./dom.js";
import { detail, go, whenShown } from "./screens.js";
import { celsius, plainDegrees, setUs, typed, unit, us } from "./units.js";
import { clock24, clockWords, figure, setClock24 } from "./words.js";

const KINDS = [["laminating-resin", "laminating resin"], ["gel-coat", "gel coat"], ["finish-coat", "finish coat"]];

/** The numbers of a material file: path, label, hint. */
const NUMBERS = [
  ["gel.minutes", "Gel time on the data sheet, minutes"],
  ["gel.temperatureC", () => `Temperature of that gel time, ${unit("celsius")}`],
  ["gel.doseByWeightPct", "Dose of that gel time, % by weight"],
  ["doseByWeightPct.min", "Lowest dose the can allows, %"],
  ["doseByWeightPct.max", "Highest dose the can allows, %"],
  ["densityKgPerL", "Density, kg/l", "1.10 to 1.13 for resin, 1.25 to 1.32 for gel coat"],
  ["catalystDensityKgPerL", "Density of the catalyst, kg/l", "Leave it empty to weigh the catalyst. 1.18 is common; 1.02 also exists."],
  ["demoldHoursAt20C", () => `Hours at ${celsius(20, 0)} until demold`, "about 24; 41 for a part that carries load"],
  ["styrenePct", "Styrene, % of weight"],
];

/** How the form names the fields of a material file. */
function labels() {
  return { id: "Short name for files", name: "Name", kind: "Kind", ...Object.fromEntries(NUMBERS.map(([path, label]) => [path, label instanceof Function ? label() : label])) };
}

export class Cans {
  constructor(root, page) {
    this.root = root;
    this.page = page;
    whenShown("cans", () => (detail() ? this.can(detail()) : this.shelf()));
  }

  shelf() {
    this.root.replaceChildren(
      h("h2", {}, "Materials"),
      h("ul", { class: "log" }, this.page.materials.map((one) => h("li", {}, h("a", { class: "button", href: `#cans/${one.id}` }, h("b", {}, one.name), h("span", {}, one.typical ? "typical, not yet tested with your can" : "yours"))))),
      writing(h("p", { class: "actions" }, h("button", { type: "button", onclick: () => this.form({ kind: "laminating-resin", gel: {}, doseByWeightPct: {} }) }, "Add your own material"))),
      h("h2", {}, "This page"),
      choice("Units", [["metric", "metric"], ["us", "US (°F, oz, fl oz)"]], us() ? "us" : "metric", (value) => {
        setUs(value === "us");
        this.page.redraw();
      }),
      choice("Clock", [["12", "7:44 PM"], ["24", "19:44"]], clock24() ? "24" : "12", (value) => {
        setClock24(value === "24");
        this.page.redraw();
      }),
      h("p", { class: "hint" }, "Catalyst is always in milliliters and grams: that is what syringes and scales show."),
    );
  }

  async can(id) {
    const { ok, body: can } = await read("material", { material: id }).catch(() => ({ ok: false, body: {} }));
    if (!ok) {
      this.root.replaceChildren(h("p", { class: "refused" }, problemWords(can)), h("a", { class: "button", href: "#cans" }, "Back to materials"));
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
      h("p", { class: "actions" }, h("a", { class: "button small", href: "#cans" }, "Back to materials")),
      h("h2", {}, can.label),
      h("p", {}, `Gel ${figure(file.gel.minutes, 1)} min at ${celsius(file.gel.temperatureC, 0)} with ${figure(file.gel.doseByWeightPct, 2)} %. Dose ${figure(file.doseByWeightPct.min, 2)} to ${figure(file.doseByWeightPct.max, 2)} %.`),
      h("p", {}, `How sure: ${can.confidence}.`),
      ...(can.drift ? [h("p", { class: "mind" }, can.drift)] : []),
      ...(can.contradiction ? [h("p", { class: "mind" }, can.contradiction)] : []),
      ...(can.nextTest ? [h("p", { class: "hint" }, can.nextTest)] : []),
      h("h3", {}, "Gel tests"),
      can.tests.length === 0 ? h("p", { class: "hint" }, "None yet. Each test narrows the band. Tapping \"It gelled\" in a part adds one.") : h("ul", { class: "tests" }, can.tests.map((test) => h("li", {}, h("span", {}, `${clockWords(Date.parse(test.time), this.page.zone(), true)}: ${test.words} (${test.from})`), writing(h("button", { type: "button", class: "small", onclick: () => change({ type: "drop-test", test: test.id }) }, "Exclude"))))),
      can.asked.length === 0 ? null : h("p", { class: "mind" }, "Hardly possible, so not counted until you confirm it:"),
      can.asked.length === 0 ? null : h("ul", { class: "tests" }, can.asked.map((test) => h("li", {}, h("span", {}, `${clockWords(Date.parse(test.time), this.page.zone(), true)}: ${test.words} (${test.from})`), writing(h("button", { type: "button", class: "small", onclick: () => change({ type: "confirm-test", test: test.id }) }, "It was in time")), writing(h("button", { type: "button", class: "small", onclick: () => change({ type: "drop-test", test: test.id }) }, "Exclude"))))),
      writing(this.testForm(change)),
      said,
      writing(h(
        "p",
        { class: "actions" },
        h("button", { type: "button", class: "small", onclick: () => this.form(can.typical ? { ...file, id: `my-${file.id}`.slice(0, 64), name: `My ${file.name}` } : file) }, can.typical ? "Copy as your own" : "Edit"),
        can.tests.length > 0 ? h("button", { type: "button", class: "small", onclick: () => confirm("New resin or new catalyst? Earlier tests will no longer count.") && change({ type: "start-anew" }) }, "New batch") : null,
        can.typical ? null : h("button", { type: "button", class: "small", onclick: () => confirm(`Archive "${file.name}"?`) && change({ type: "remove" }) }, "Archive"),
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
      h("summary", {}, "Add a gel test"),
      choice("Where?", [["cup", "in a cup"], ["layer", "in a thin layer on scrap"]], where, (chosen) => (where = chosen)),
      h("div", { class: "row" }, field(`Temperature, ${unit("celsius")}`, degrees), field("Dose, % by weight", dose), field("Minutes until it gelled", minutes)),
      h("button", { type: "button", class: "small", onclick: () => change({ type: "gel-test", where, temperatureC: typed("celsius", degrees.value), doseByWeightPct: value(dose), minutes: value(minutes) }) }, "Save"),
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
    const waxed = tick("it contains wax: it dries tack-free, and nothing bonds to it", { checked: draft.waxed ?? false, onchange: (event) => (draft.waxed = event.target.checked) });
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    this.root.replaceChildren(
      h("h2", {}, "Your own material"),
      h("p", { class: "hint" }, "Copy these from the can and its data sheet. Only for polyester with cobalt and MEKP: vinyl ester and BPO systems cure differently."),
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
                said.textContent = problemWords(body, labels());
                return;
              }
              await this.page.loadMaterials();
              go("cans", body.id);
              this.can(body.id);
            },
          },
          "Save",
        ),
        h("button", { type: "button", class: "small", onclick: () => this.shelf() }, "Cancel"),
      ),
      said,
    );
  }
}
