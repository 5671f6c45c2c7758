// The mix: how much, of what, for how long; the dose to be read at arm's length; then "mixed now".
import { problemWords, read, tell, freshId } from "./api.js";
import { choice, field, h, show, tick, writing } from "./dom.js";
import { current, go, whenShown } from "./screens.js";
import { amount, celsius, plain, typed, unit } from "./units.js";
import { clockWords, figure, forecastWords, NEVER } from "./words.js";

const ASK_AGAIN_MS = 10_000;
const MAT_UNIT = "g/m²";
const MOLD_KINDS = [["grp", "fiberglass"], ["wood", "wood"], ["foam", "foam"]];

export class Mix {
  /** What the page knows: materials, the open jobs, the room's newest picture and its clock. */
  constructor(root, page) {
    this.root = root;
    this.page = page;
    this.how = "milliliters";
    this.values = {};
    this.cup = 0;
    this.on = { fan: false, respirator: false };
    this.sayAgain = false;
    this.asked = 0;
    this.readOf = "";
    whenShown("mix", () => this.begin());
    setInterval(() => {
      if (current() === "mix" && !document.hidden) this.ask();
    }, ASK_AGAIN_MS);
  }

  begin() {
    this.build();
    this.ask();
  }

  /** Chooses the step that the mix is for, from a job's own button. */
  forStep(job, step) {
    this.target = `${job.id}/${step.id}`;
    if (step.material) this.material = step.material;
    this.cup = 0;
    go("mix");
  }

  targets() {
    return this.page.jobs.list.flatMap((job) =>
      job.steps
        .filter((step) => ["gel-coat", "layer", "finish-coat", "join"].includes(step.kind) && !["done", "left-out"].includes(step.state))
        .map((step) => ({ value: `${job.id}/${step.id}`, words: `${job.part}: ${step.name}`, job, step })),
    );
  }

  build() {
    const targets = this.targets();
    if (!targets.some((target) => target.value === this.target)) this.target = targets[0]?.value ?? "";
    const chosen = targets.find((target) => target.value === this.target);
    if (chosen?.step.material && !this.materialTouched) this.material = chosen.step.material;
    this.material ??= this.page.material();
    const input = (name, properties = {}) =>
      h("input", {
        type: "text",
        inputMode: "decimal",
        autocomplete: "off",
        value: this.values[name] ?? "",
        oninput: (event) => {
          this.values[name] = event.target.value;
          this.askSoon();
        },
        ...properties,
      });
    const material = h(
      "select",
      {
        onchange: (event) => {
          this.material = event.target.value;
          this.materialTouched = true;
          this.ask();
        },
      },
      this.page.materials.map((one) => h("option", { value: one.id, selected: one.id === this.material }, one.name)),
    );
    const target = h(
      "select",
      {
        onchange: (event) => {
          this.target = event.target.value;
          this.materialTouched = false;
          this.build();
          this.ask();
        },
      },
      targets.map((one) => h("option", { value: one.value, selected: one.value === this.target }, one.words)),
      h("option", { value: "", selected: this.target === "" }, targets.length > 0 ? "something else: dose only" : "no part in progress: dose only"),
    );
    const coat = this.page.materials.find((one) => one.id === this.material)?.kind !== "laminating-resin";
    const how = choice(
      "How much?",
      [["milliliters", `by volume (${unit("milliliters")})`], ["grams", `by weight (${unit("grams")})`], ["area", `by area (${unit("squareMeters")})`]],
      this.how,
      (value) => {
        this.how = value;
        this.build();
        this.ask();
      },
    );
    const amounts =
      this.how === "area"
        ? [
            field(`Area, ${unit("squareMeters")}`, input("area")),
          ]
        : [field(`Amount, ${unit(this.how)}`, input(this.how))];
    const laid = coat
      ? null
      : h(
          "div",
          { class: "row" },
          field("Mat layers in this pass", input("layers", { value: this.values.layers ?? "2" })),
          field(`Mat weight, ${MAT_UNIT}`, input("mat", { value: this.values.mat ?? "450" })),
          field(
            "Mold",
            h(
              "select",
              {
                onchange: (event) => {
                  this.moldKind = event.target.value;
                  this.ask();
                },
              },
              MOLD_KINDS.map(([id, words]) => h("option", { value: id, selected: id === (this.moldKind ?? "grp") }, words)),
            ),
          ),
        );
    const temperatures = h(
      "details",
      { class: "typed", open: Boolean(this.values.mold || this.values.resin || this.typeOpen) },
      h("summary", {}, "Enter temperatures by hand"),
      h("p", { class: "hint" }, "Use this only when a sensor is wrong or missing. The record says that you entered them."),
      field(`Mold, ${unit("celsius")}`, input("mold")),
      field(`Resin, ${unit("celsius")}`, input("resin")),
    );
    this.result = h("div", { class: "result", "aria-live": "polite" });
    this.root.replaceChildren(
      h("h2", {}, "Mix"),
      h(
        "div",
        { class: "ask" },
        field("For", target),
        field("Material", material),
        how,
        h("div", { class: "row" }, ...amounts.filter(Boolean)),
        laid,
        field("Working time, minutes", input("time", { placeholder: "as the data sheet" }), "Leave empty to use the gel time of the data sheet."),
        temperatures,
      ),
      this.result,
      writing(this.ownMix(input)),
    );
  }

  /** Whatever was mixed is recorded, also too cold or outside the can's limits: the log explains by it. */
  ownMix(input) {
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const say = (words) => {
      said.hidden = false;
      said.textContent = words;
    };
    const quiet = (name) => input(name, { oninput: (event) => (this.values[name] = event.target.value) });
    this.ownUnit ??= "ml";
    const mixed = async () => {
      const target = this.targets().find((one) => one.value === this.target);
      const { mold, resin, byHand } = this.temperatures();
      const grams = typed("grams", this.values.ownGrams ?? "");
      const catalyst = Number((this.values.ownCatalyst ?? "").replace(",", "."));
      const density = this.page.materials.find((one) => one.id === this.material)?.catalystDensityKgPerL ?? 1.18;
      if (!target) return say("To time this cup, start a part first.");
      if (!Number.isFinite(mold) || !Number.isFinite(resin)) return say("Enter the temperatures by hand.");
      if (!(grams > 0) || !(catalyst > 0)) return say("Enter how much resin and how much catalyst.");
      const pct = this.ownUnit === "%" ? catalyst : ((this.ownUnit === "ml" ? catalyst * density : catalyst) / grams) * 100;
      const { ok, body } = await tell("job", { job: target.job.id }, {
        type: "mixed",
        id: freshId(),
        seen: target.job.position,
        step: target.step.id,
        cup: { material: this.material, materialGrams: grams, doseByWeightPct: pct, catalystMl: this.ownUnit === "ml" ? catalyst : undefined, resinC: resin, moldC: mold, typed: byHand, goneOn: ["The person's own dose."] },
      });
      if (!ok) return say(problemWords(body));
      this.values.ownGrams = "";
      this.values.ownCatalyst = "";
      this.ownOpen = false;
      await this.page.jobs.load();
      go("jobs");
    };
    return h(
      "details",
      { class: "own", open: this.ownOpen ?? false, ontoggle: (event) => (this.ownOpen = event.target.open) },
      h("summary", {}, "I mixed something else"),
      h("p", { class: "hint" }, "Enter what is in the cup. Layroom times it and keeps it in the record, also outside the can's limits."),
      h("div", { class: "row" }, field(`Resin or gel coat, ${unit("grams")}`, quiet("ownGrams")), field("Catalyst in it", quiet("ownCatalyst"))),
      choice("Catalyst in", [["ml", "ml"], ["g", "g"], ["%", "% by weight"]], this.ownUnit, (value) => (this.ownUnit = value)),
      h("button", { type: "button", onclick: mixed }, "Record this cup"),
      said,
    );
  }

  askSoon() {
    clearTimeout(this.soon);
    this.soon = setTimeout(() => this.ask(), 300);
  }

  fields() {
    const fields = { material: this.material };
    if (this.saying() ? this.on.fan : this.answer?.protection?.fanOn) fields["fan-on"] = "true";
    const number = (name, kind, key, suffix) => {
      const value = kind ? typed(kind, this.values[name] ?? "") : Number(this.values[name]);
      if ((this.values[name] ?? "").trim() !== "") fields[key] = Number.isFinite(value) ? `${value}${suffix}` : this.values[name];
    };
    if (this.how === "area") {
      number("area", "squareMeters", "area", "m2");
    } else {
      number(this.how, this.how, "amount", this.how === "grams" ? "g" : "ml");
    }
    if (this.page.materials.find((one) => one.id === this.material)?.kind === "laminating-resin") {
      fields.layers = `${this.values.layers || "2"}x${this.values.mat || "450"}g/m2`;
      fields["mold-kind"] = this.moldKind ?? "grp";
    }
    number("time", null, "working-time", "min");
    number("mold", "celsius", "mold-temp", "C");
    number("resin", "celsius", "resin-temp", "C");
    return fields;
  }

  async ask() {
    const fields = this.fields();
    if (!fields.amount && !fields.area) {
      this.answer = null;
      show(this.result, "empty", () => h("p", { class: "hint" }, "Enter an amount to see the dose."));
      return;
    }
    const turn = ++this.asked;
    try {
      const { ok, body } = await read("mix", fields);
      if (turn !== this.asked) return;
      this.answer = ok ? body : null;
      show(this.result, ok ? this.picture(body) : problemWords(body), () => (ok ? this.answered(body) : [h("p", { class: "refused" }, problemWords(body))]));
    } catch {
      if (turn === this.asked) show(this.result, "gone", () => h("p", { class: "refused" }, "Layroom is not answering, so there is no dose."));
    }
  }

  /** What a person would see change; the room drifts by less all the time. */
  picture(mix) {
    const { cups, refused, warnings, stages, doseByWeightPct } = mix;
    const minutes = (stage) => Math.round(stage.fromMinutes.p50 ?? -1);
    return JSON.stringify([this.target, this.material, this.cup, cups, refused, warnings, doseByWeightPct, stages.map(minutes), this.temperatures(), mix.peakC, mix.vapor?.doseBehindChoice, this.vaporChoice, mix.protection, this.on, this.sayAgain, Math.floor(this.page.now() / 300_000)]);
  }

  answered(mix) {
    const parts = [];
    for (const refusal of mix.refused) parts.push(h("p", { class: "refused" }, `No dose: ${refusal.reason}`));
    if (mix.refused.some((refusal) => /mold|resin|temperature/i.test(refusal.field)) && !this.typeOpen) {
      this.typeOpen = true;
      this.root.querySelector("details.typed").open = true;
    }
    const danger = mix.catalystGrams !== undefined && this.danger(mix);
    if (danger) return [...parts, this.choices(mix)];
    if (this.vaporChoice) parts.push(h("p", { class: "mind" }, this.vaporChoice.words));
    if (mix.catalystGrams !== undefined) parts.push(...this.dose(mix), this.goesBy());
    for (const warning of mix.warnings) parts.push(h("p", { class: "mind" }, warning.reason));
    if (mix.layup) {
      parts.push(
        h("p", {}, `For the area, including waste: gel coat ${amount("grams", mix.layup.gelCoatGrams)}, mat ${amount("grams", mix.layup.matGrams)}, resin ${amount("grams", mix.layup.resinGrams)}; about ${figure(mix.layup.thicknessMm, 1)} mm.`),
      );
    }
    if (mix.peakC) parts.push(h("p", {}, `${figure(mix.thicknessMm, 1)} mm in this pass: hottest likely ${celsius(mix.peakC.p50, 0)} about ${figure(mix.peakMinutes, 0)} min after mixing, at worst ${celsius(mix.peakC.p90, 0)}.`));
    if (mix.outlook) parts.push(h("p", {}, mix.outlook));
    if (mix.stages.length > 0) parts.push(this.stages(mix));
    if (mix.catalystGrams !== undefined) parts.push(this.air(mix));
    parts.push(h("p", { class: "hint" }, `How sure: ${mix.confidence}.`));
    if (mix.catalystGrams !== undefined && mix.refused.length === 0) parts.push(this.button(mix));
    return parts;
  }

  dose(mix) {
    const cups = mix.cups.length;
    const cup = mix.cups[Math.min(this.cup, cups - 1)];
    const catalyst = cup.catalystMl === null ? `${figure(cup.catalystGrams, 1)} g` : `${figure(cup.catalystMl, 1)} ml`;
    const parts = [
      h(
        "dl",
        { class: "dose" },
        h("div", {}, h("dt", {}, cups > 1 ? `Cup ${cup.number} of ${cups}` : "Resin in the cup"), h("dd", {}, amount("grams", cup.materialGrams), h("small", {}, ` ${amount("milliliters", cup.materialMl)}`))),
        h("div", {}, h("dt", {}, "Catalyst"), h("dd", {}, catalyst, cup.catalystMl === null ? null : h("small", {}, ` ${figure(cup.catalystGrams, 1)} g`), h("small", {}, ` ${figure(mix.doseByWeightPct, 2)} % by weight`))),
        mix.workingMinutes === undefined
          ? null
          : h("div", {}, h("dt", {}, "Working time"), h("dd", {}, `${figure(mix.workingMinutes, 0)} min`, h("small", {}, ` gels ${figure(mix.gelMinutes.p10, 0)} to ${figure(mix.gelMinutes.p90, 0)} min`))),
      ),
    ];
    if (cups > 1) {
      parts.push(
        h(
          "ol",
          { class: "cups" },
          mix.cups.map((one) =>
            h("li", { "aria-current": one === cup ? "step" : null }, `${amount("grams", one.materialGrams)} with ${one.catalystMl === null ? `${figure(one.catalystGrams, 1)} g` : `${figure(one.catalystMl, 1)} ml`}, ${one.mixAtMinutes === 0 ? "first" : `mix ${figure(one.mixAtMinutes, 0)} min after the first`}`),
          ),
        ),
      );
    }
    return parts;
  }

  stages(mix) {
    const zone = this.page.zone();
    const at = (minutes) => (minutes === null ? NEVER : forecastWords(this.page.now() + minutes * 60_000, zone));
    return h(
      "table",
      { class: "stages" },
      h("caption", {}, "Times if you mix now. They are a forecast: the finger test decides."),
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "stage"), h("th", { scope: "col" }, "earliest"), h("th", { scope: "col" }, "likely"), h("th", { scope: "col" }, "latest"))),
      h(
        "tbody",
        {},
        mix.stages.map((stage) => h("tr", {}, h("th", { scope: "row" }, stage.name), h("td", {}, at(stage.fromMinutes.p10)), h("td", {}, h("b", {}, at(stage.fromMinutes.p50))), h("td", {}, at(stage.fromMinutes.p90)))),
      ),
    );
  }

  /** The air of this mix before it is made, where the room's size is known. */
  air(mix) {
    const air = mix.vapor;
    if (!air) return h("p", { class: "air-ahead" }, "Vapor cannot be predicted yet. ", h("a", { class: "button small", href: "#air" }, "Enter the room size"));
    const known = air.airChanges.known;
    return h("p", { class: "air-ahead" }, `Air expected near the work (ventilation ${known}): up to ${figure(air.breathingZone.peakPpm, 0)} ppm of styrene, ${figure(air.breathingZone.twa8hPpm, 0)} ppm as eight-hour average (limit: ${figure(air.limit.eightHourPpm, 0)} ppm). ${air.uncertainty}`, air.doseBehindChoice || air.breathingZone.peakPpm <= air.limit.eightHourPpm ? null : h("b", {}, ` ${air.respirator.words}`));
  }

  /** Whether the dose waits for a choice, because no cartridge covers the air that it makes. */
  danger(mix) {
    if (mix.vapor?.doseBehindChoice !== true) {
      if (this.vaporChoice?.id !== "less-resin") this.vaporChoice = null;
      return false;
    }
    return !this.vaporChoice || this.vaporChoice.for !== this.vaporKey();
  }

  vaporKey() {
    return JSON.stringify([this.material, this.fields()]);
  }

  choices(mix) {
    const air = mix.vapor;
    const words = `About ${figure(air.breathingZone.peakPpm, 0)} ppm of styrene is expected near the work; 700 ppm is immediately dangerous. The estimate may be off by two.`;
    return h(
      "section",
      { class: "danger", role: "alert" },
      h("h3", {}, "Dangerous vapor expected"),
      h("p", {}, words),
      h("p", {}, air.respirator.words),
      ...air.alternatives.map((one) =>
        writing(h("button", { type: "button", class: "big", onclick: () => this.choose(mix, one) }, `${one.words} About ${figure(one.peakPpm, 0)} ppm: ${one.respirator}.`)),
      ),
      air.alternatives.length === 0 ? h("p", {}, "Do not start it this way.") : null,
    );
  }

  /** Less resin changes the amount; anything else shows the dose. The record says what was chosen. */
  choose(mix, one) {
    const said = `Dangerous vapor expected, about ${figure(mix.vapor.breathingZone.peakPpm, 0)} ppm near the work. Chosen: ${one.words}`;
    if (one.id === "less-resin") {
      this.how = "grams";
      this.values.grams = plain("grams", one.resinGrams);
      this.vaporChoice = { id: one.id, words: said, for: "" };
      this.build();
    } else {
      this.vaporChoice = { id: one.id, words: said, for: this.vaporKey() };
    }
    this.ask();
  }

  /** Whether what is on is asked for at this cup. */
  saying() {
    return this.sayAgain || this.answer?.protection?.asked !== undefined;
  }

  /** Fan and respirator, asked at the first cup of an evening and not at each; the server says when. */
  protection(mix) {
    const known = mix.protection;
    if (!known) return null;
    if (!this.saying()) {
      const words = `Fan ${known.fanOn ? "on" : "off"}, respirator ${known.respiratorOn ? "on" : "off"}, said ${clockWords(Date.parse(known.said), this.page.zone())}.`;
      const change = () => {
        this.on = { fan: known.fanOn, respirator: known.respiratorOn };
        this.sayAgain = true;
        this.ask();
      };
      return h("p", { class: "row" }, words, " ", writing(h("button", { type: "button", class: "small", onclick: change }, "Change")));
    }
    const fan = tick("the fan is on", { checked: this.on.fan });
    const respirator = tick("the respirator is on", { checked: this.on.respirator });
    fan.input.onchange = () => {
      this.on.fan = fan.input.checked;
      this.ask();
    };
    respirator.input.onchange = () => (this.on.respirator = respirator.input.checked);
    return writing(h("fieldset", {}, h("legend", {}, "Before cans are open"), h("p", { class: "hint" }, `${known.asked ?? ""}${known.maskWords ? ` Mask for this cup: ${known.maskWords}.` : ""}`), fan.row, respirator.row));
  }

  button(mix) {
    const target = this.targets().find((one) => one.value === this.target);
    const caution = h("p", { class: "caution" }, "Put on goggles before you open the catalyst: MEKP in the eye can blind. Turn on the fan and wear the respirator. Tilt a deep mold so that vapor drains out. The safety data sheet and local rules come first.");
    if (!target) {
      return h("div", { class: "go" }, caution, writing(h("p", {}, "To time this cup, start a part first.")), writing(h("a", { class: "button", href: "#jobs" }, "Start a part")));
    }
    const waits = mix.warnings.map((warning) => warning.reason).filter((reason) => reason.startsWith("Wait"));
    const anyway = tick("I have read this. Mix anyway.", { checked: waits.length > 0 && this.readOf === waits.join() });
    const said = h("p", { class: "refused", role: "alert", hidden: true });
    const id = freshId();
    const button = h(
      "button",
      {
        type: "button",
        class: "big",
        disabled: waits.length > 0 && !anyway.input.checked,
        onclick: async () => {
          button.disabled = true;
          const { ok, body } = await this.mixed(target, mix, waits, id);
          if (ok) {
            this.on = { fan: false, respirator: false };
            this.sayAgain = false;
            this.cup = this.cup + 1 < mix.cups.length ? this.cup + 1 : 0;
            await this.page.jobs.load();
            go("jobs");
            return;
          }
          button.disabled = false;
          said.hidden = false;
          said.textContent = problemWords(body);
          this.page.jobs.load();
        },
      },
      "Mixed now",
    );
    anyway.input.onchange = () => {
      this.readOf = anyway.input.checked ? waits.join() : "";
      button.disabled = !anyway.input.checked;
    };
    return h("div", { class: "go" }, this.protection(mix), caution, waits.length > 0 ? writing(anyway.row) : null, writing(button), said);
  }

  /** What the dose goes by: what was typed, else what is measured. */
  temperatures() {
    const live = this.page.temperatures();
    const moldTyped = typed("celsius", this.values.mold ?? "");
    const resinTyped = typed("celsius", this.values.resin ?? "");
    const mold = Number.isFinite(moldTyped) ? moldTyped : (live.mold ?? resinTyped);
    const resin = Number.isFinite(resinTyped) ? resinTyped : Number.isFinite(moldTyped) ? moldTyped : (live.resin ?? mold);
    return { mold, resin, byHand: Number.isFinite(moldTyped) || Number.isFinite(resinTyped) };
  }

  /** Says by which temperatures the dose goes, and whether somebody typed them. */
  goesBy() {
    const { mold, resin, byHand } = this.temperatures();
    if (!Number.isFinite(mold)) return null;
    const words = `mold ${celsius(mold)}, resin ${celsius(resin)}`;
    return byHand ? h("p", { class: "mind" }, `Temperatures entered by hand: ${words}.`) : h("p", { class: "hint" }, `Measured: ${words}.`);
  }

  mixed(target, mix, waits, id) {
    const cup = mix.cups[Math.min(this.cup, mix.cups.length - 1)];
    const { mold, resin, byHand } = this.temperatures();
    return tell("job", { job: target.job.id }, {
      type: "mixed",
      id,
      seen: target.job.position,
      step: target.step.id,
      ...(this.saying() && mix.protection ? { fanOn: this.on.fan, respiratorOn: this.on.respirator, mask: mix.protection.mask } : {}),
      cup: {
        material: this.material,
        materialGrams: cup.materialGrams,
        doseByWeightPct: mix.doseByWeightPct,
        catalystMl: cup.catalystMl ?? undefined,
        ...(mix.thicknessMm === undefined ? {} : { thicknessMm: mix.thicknessMm, moldKind: this.moldKind ?? "grp" }),
        resinC: resin,
        moldC: mold,
        typed: byHand,
        goneOn: [...waits, ...(this.vaporChoice ? [this.vaporChoice.words] : [])].map((reason) => reason.slice(0, 400)),
      },
    });
  }
}
