// Builds elements without markup in strings: text stays text, whatever is in it.

/** An element with properties (an "on…" function listens, "data-…" and "aria-…" are attributes) and children. */
export function h(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "class") element.className = value;
    else if (name in element && !name.includes("-") && name !== "list" && name !== "form") element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** Marks what would change something when it is pressed: a device that only reads is not shown it. */
export function writing(element) {
  element.dataset.writes = "";
  return element;
}

let made = 0;

/** A label above a field, tied together. */
export function field(label, input, hint) {
  const id = `field-${++made}`;
  input.id = id;
  const said = hint ? h("span", { class: "hint", id: `${id}-hint` }, hint) : null;
  if (said) input.setAttribute("aria-describedby", said.id);
  return h("div", { class: "field" }, h("label", { htmlFor: id }, label), input, said);
}

/** A box to tick, with its words beside it. */
export function tick(label, properties = {}) {
  const input = h("input", { type: "checkbox", ...properties });
  return { input, row: h("label", { class: "tick" }, input, h("span", {}, label)) };
}

/** A choice of a few, as buttons of which one is pressed in. */
export function choice(label, options, chosen, onchange) {
  const name = `choice-${++made}`;
  const group = h("fieldset", { class: "choice" }, h("legend", {}, label));
  for (const [value, words] of options) {
    const input = h("input", { type: "radio", name, value, checked: value === chosen, onchange: () => onchange(value) });
    group.append(h("label", {}, input, h("span", {}, words)));
  }
  return group;
}

/** Replaces what is in an element unless the same picture is there, or somebody is typing in it. */
export function show(holder, key, build) {
  if (holder.dataset.shown === key) return;
  const active = document.activeElement;
  if (active && holder.contains(active) && /^(INPUT|TEXTAREA|SELECT)$/.test(active.tagName) && active.type !== "checkbox") return;
  const focused = active && holder.contains(active) ? active.dataset.key : undefined;
  holder.dataset.shown = key;
  holder.replaceChildren(...[build()].flat().filter(Boolean));
  if (focused) holder.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus();
}
