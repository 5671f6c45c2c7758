// "When to start": starts in the next three days for the chosen material, ranked, what goes wrong at
// the others, what heating buys and what airing costs.
const room = new URLSearchParams(location.search).get("room") ?? "";
const section = document.getElementById("plan");
const material = document.getElementById("material");

/** Real seconds after which the plan is asked for again: its forecast has moved on. */
const AGAIN_SECONDS = 60;

/** The same while there is none yet: the room is still being learned. */
const NONE_YET_SECONDS = 5;

/** Choices are kept on this tablet. */
const CHOICES = "plan";

function element(name, properties = {}, children = []) {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
}

const title = element("h2", { id: "plan-title", textContent: "When to start" });
const gelCoat = element("select", { id: "plan-gel-coat" }, [element("option", { value: "", textContent: "no gel coat before it" })]);
const from = element("input", { id: "plan-from", type: "time", value: "07:00" });
const until = element("input", { id: "plan-until", type: "time", value: "22:00" });
const answer = element("div", { id: "plan-answer" });
answer.setAttribute("aria-live", "polite");

function labeled(input, text) {
  return element("p", {}, [element("label", { htmlFor: input.id, textContent: text }), input]);
}

section.append(
  title,
  element("div", { id: "plan-choices" }, [
    labeled(gelCoat, "Gel coat"),
    labeled(from, "Someone is there from"),
    labeled(until, "until"),
  ]),
  answer,
);

let kinds = new Map();
let known = false;

async function loadGelCoats() {
  const response = await fetch("api/materials");
  if (!response.ok) throw new Error(`materials ${response.status}`);
  const { materials } = await response.json();
  kinds = new Map(materials.map((each) => [each.id, each.kind]));
  for (const each of materials.filter((one) => one.kind === "gel-coat")) {
    gelCoat.append(element("option", { value: each.id, textContent: each.name }));
  }
  const kept = JSON.parse(localStorage.getItem(CHOICES) ?? "{}");
  gelCoat.value = kinds.has(kept.gelCoat) ? kept.gelCoat : "";
  from.value = kept.from ?? from.value;
  until.value = kept.until ?? until.value;
}

function paragraphs(list) {
  return list.map((words) => element("p", { textContent: words }));
}

function show(plan) {
  if (plan.refused.length > 0) {
    answer.replaceChildren(...paragraphs(plan.refused.map((each) => each.reason)));
    return;
  }
  const starts = plan.proposed.slice(0, 5).map((start) =>
    element("li", {}, [element("b", { textContent: start.when }), ` ${start.words}`]),
  );
  const best = starts.length > 0 ? [element("ol", {}, starts)] : [element("p", { className: "none", textContent: "No start in the next three days suits." })];
  const others = element("details", {}, [
    element("summary", { textContent: "What goes wrong at other times" }),
    element("ul", {}, plan.othersWords.map((words) => element("li", { textContent: words }))),
  ]);
  answer.replaceChildren(
    ...best,
    ...paragraphs(plan.heatedWords),
    element("p", {}, [element("b", { textContent: "Heating: " }), plan.preheat.words]),
    element("p", {}, [element("b", { textContent: "Airing: " }), plan.airing.words]),
    ...(plan.othersWords.length > 0 ? [others] : []),
  );
}

async function ask() {
  if (!material.value) return;
  const params = new URLSearchParams({ material: material.value, waking: `${from.value}-${until.value}` });
  if (gelCoat.value && kinds.get(material.value) !== "gel-coat") params.append("material", gelCoat.value);
  if (room) params.set("room", room);
  try {
    const response = await fetch(`api/plan?${params}`);
    const body = await response.json();
    known = response.ok && body.refused.length === 0;
    if (response.ok) show(body);
    else answer.replaceChildren(...paragraphs((body.errors ?? []).map((error) => error.reason)));
  } catch {
    answer.replaceChildren(...paragraphs(["Layroom does not answer: no plan."]));
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
