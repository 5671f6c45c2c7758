// The shapes that stand beside a state's word, so that color never speaks alone.
const SVG = "http://www.w3.org/2000/svg";

const PATHS = {
  // a disk with a tick cut out
  ok: [["path", { d: "M12 1a11 11 0 1 0 .001 0zM10.4 17.6 5.3 12.5l2.1-2.1 3 3 6.2-6.4 2.1 2.1z", fill: "currentColor", "fill-rule": "evenodd" }]],
  // an hourglass
  wait: [["path", { d: "M4 1h16v3l-6.2 8 6.2 8v3H4v-3l6.2-8L4 4z", fill: "currentColor" }]],
  // a triangle with a bar and a dot: good, with something to mind
  warn: [["path", { d: "M12 1 23 22H1zM10.7 8.5v7h2.6v-7zM10.7 17v2.6h2.6V17z", fill: "currentColor", "fill-rule": "evenodd" }]],
  // a square with a bar
  no: [["path", { d: "M1.5 1.5h21v21h-21zM5 10v4h14v-4z", fill: "currentColor", "fill-rule": "evenodd" }]],
  // a dashed ring with a question mark
  unknown: [
    ["circle", { cx: 12, cy: 12, r: 10, fill: "none", stroke: "currentColor", "stroke-width": 2.4, "stroke-dasharray": "4.2 2.8" }],
    ["path", { d: "M8.6 9.4a3.5 3.5 0 1 1 5 3.1c-1 .5-1.6 1-1.6 2", fill: "none", stroke: "currentColor", "stroke-width": 2.2 }],
    ["circle", { cx: 12, cy: 17.6, r: 1.5, fill: "currentColor" }],
  ],
};
// an empty ring: not begun
PATHS.todo = [["circle", { cx: 12, cy: 12, r: 9.5, fill: "none", stroke: "currentColor", "stroke-width": 2 }]];
PATHS.mix = PATHS.ok;

export function drawGlyph(holder, state) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", "0 0 24 24");
  for (const [tag, attributes] of PATHS[state] ?? PATHS.unknown) {
    const shape = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) shape.setAttribute(name, value);
    svg.append(shape);
  }
  holder.replaceChildren(svg);
}
