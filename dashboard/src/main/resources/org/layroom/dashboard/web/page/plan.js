// "When to start": starts in the next three days for the chosen material, ranked, what goes wrong at
// the others, what heating buys and what airing costs.
import { read } from "./api.js";
import { h } from "./dom.js";

const section = document.getElementById("plan");
const material = document.getElementById("material");

/** Real seconds after which the plan is asked for again: its forecast has moved on. */
const AGAIN_SECONDS = 60;

/** The same while there is none yet: the room is still being learned. */
const NONE_YET_SECONDS = 5;

/** Choices are kept on this tablet. */
const CHOICES = "plan";

const title = h("h2", { id: "plan-title", textContent: "When to start" });
const gelCoat = h("select", { id: "plan-gel-coat" }, [h("option", { value: "", textContent: "no gel coat first" })]);
const from = h("input", { id: "plan-from", type: "time", value: "07:00" });
const until = h("input", { id: "plan-until", type: "time", value: "22:00" });
const answer = h("div", { id: "plan-answer" });
answer.setAttribute("aria-live", "polite");

function labeled(input, text) {
  return h("p", {}, [h("label", { htmlFor: input.id, textContent: text }), input]);
}

section.append(
  title,
  h("div", { id: "plan-choices" }, [
    labeled(gelCoat, "Gel coat"),
    labeled(from, "Someone is in the shop from"),
    labeled(until, "until"),
  ]),
  answer,
);

let kinds = new Map();
let known = false;

async function loadGelCoats() {
  const { ok, status, body } = await read("materials");
  if (!ok) throw new Error(`materials ${status}`);
  const { materials } = body;
  kinds = new Map(materials.map((each) => [each.id, each.kind]));
  for (const each of materials.filter((one) => one.kind === "gel-coat")) {
    gelCoat.append(h("option", { value: each.id, textContent: each.name }));
  }
  const kept = JSON.parse(localStorage.getItem(CHOICES) ?? "{}");
  gelCoat.value = kinds.has(kept.gelCoat) ? kept.gelCoat : "";
  from.value = kept.from ?? from.value;
  until.value = kept.until ?? until.value;
}

function paragraphs(list) {
  return list.map((words) => h("p", { textContent: words }));
}

function show(plan) {
  if (plan.refused.length > 0) {
    answer.replaceChildren(...paragraphs(plan.refused.map((each) => each.reason)));
    return;
  }
  const starts = plan.proposed.slice(0, 5).map((start) =>
    h("li", {}, [h("b", { textContent: start.when }), ` ${start.words}`]),
  );
  const best = starts.length > 0 ? [h("ol", {}, starts)] : [h("p", { className: "none", textContent: "No good start in the next three days." })];
  const others = h("details", {}, [
    h("summary", { textContent: "Why other times do not suit" }),
    h("ul", {}, plan.othersWords.map((words) => h("li", { textContent: words }))),
  ]);
  answer.replaceChildren(
    ...best,
    ...paragraphs(plan.heatedWords),
    h("p", {}, [h("b", { textContent: "Heating: " }), plan.preheat.words]),
    h("p", {}, [h("b", { textContent: "Airing: " }), plan.airing.words]),
    ...(plan.othersWords.length > 0 ? [others] : []),
  );
}

async function ask() {
  if (!material.value) return;
  const materials = [material.value];
  if (gelCoat.value && kinds.get(material.value) !== "gel-coat") materials.push(gelCoat.value);
  try {
    const { ok, body } = await read("plan", { material: materials, waking: `${from.value}-${until.value}` });
    known = ok && body.refused.length === 0;
    if (ok) show(body);
    else answer.replaceChildren(...paragraphs((body.errors ?? []).map((error) => error.reason)));
  } catch {
    answer.replaceChildren(...paragraphs(["Layroom is not answering, so there is no plan."]));
  }
}

function chosen() {
  localStorage.setItem(CHOICES, JSON.stringify({ gelCoat: gelCoat.value, from: from.value, until: until.value }));
  ask();
}

for (const input of [gelCoat, from, until]) input.addEventListener("change", chosen);
material.addEventListener("change", ask);

async function begin() {
  while (!material.value || kinds.size === 0) {
    try {
      if (kinds.size === 0) await loadGelCoats();
    } catch {
      // the page says that nobody answers; try again
    }
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
  for (;;) {
    await ask();
    await new Promise((resolve) => setTimeout(resolve, (known ? AGAIN_SECONDS : NONE_YET_SECONDS) * 1000));
  }
}

begin();
