// The lanes under the strip: each part on its way with its stages on the strip's own time axis, so
// that a cold night and a late demold are seen as one thing.
import { h, show } from "./dom.js";
import { forecastWords } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";
const ROW = 26;

/** The stages that a lane shows, by the kind of step whose newest cup they come from. */
const SHOWN = {
  "gel-coat": [["ready-to-laminate", "laminate"]],
  layer: [["green-trim", "trim"]],
  "finish-coat": [["film-gel", "set"]],
  join: [["film-gel", "set"]],
};

function svg(tag, attributes, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** What a part's lane shows: marks with earliest, likely and latest, in order of time. */
function marks(job) {
  const list = [];
  let demold = null;
  for (const step of job.steps) {
    const mix = step.mixes.at(-1);
    if (!mix) continue;
    list.push({ words: `${step.name} mixed`, likely: Date.parse(mix.time), done: true });
    for (const stage of mix.stages) {
      const shown = (SHOWN[step.kind] ?? []).find(([name]) => name === stage.stage);
      const times = stage.from;
      const mark = { earliest: Date.parse(times.earliest ?? ""), likely: Date.parse(times.likely ?? ""), latest: Date.parse(times.latest ?? "") };
      if (shown) list.push({ ...mark, words: shown[1] });
      if (stage.stage === "demold" && (!demold || mark.likely > demold.likely)) demold = { ...mark, words: "demold" };
    }
  }
  if (demold) list.push(demold);
  return list.filter((mark) => Number.isFinite(mark.likely)).sort((a, b) => a.likely - b.likely);
}

/** Draws the lanes; span is the strip's, in seconds. */
export function drawLanes(holder, jobs, span, now, zone, side) {
  const open = jobs.map((job) => ({ job, marks: marks(job) })).filter((lane) => lane.marks.length > 0);
  holder.hidden = open.length === 0;
  const width = holder.clientWidth;
  show(holder, JSON.stringify([open.map((lane) => [lane.job.part, lane.marks]), span, width, Math.floor(now / 60_000)]), () => open.map((lane) => draw(lane, span, now, zone, width, side)));
}

function draw({ job, marks: list }, span, now, zone, width, side) {
  const x = (millis) => side + ((millis / 1000 - span[0]) / (span[1] - span[0])) * (width - 2 * side);
  const inside = (at) => Math.max(side, Math.min(width - side, at));
  const rows = [];
  const place = (from, to) => {
    let row = rows.findIndex((end) => end < from);
    if (row === -1) row = rows.push(0) - 1;
    rows[row] = to;
    return row;
  };
  const shapes = [];
  for (const mark of list) {
    const at = x(mark.likely);
    if (at < side || at > width - side) continue;
    const left = inside(x(Number.isFinite(mark.earliest) ? mark.earliest : mark.likely));
    const right = inside(x(Number.isFinite(mark.latest) ? mark.latest : mark.likely));
    const text = mark.words;
    const turned = at + 8 + text.length * 7.5 > width - 4;
    const row = place(turned ? at - text.length * 7.5 - 8 : left, Math.max(right, turned ? at : at + 8 + text.length * 7.5));
    const y = row * ROW + 6;
    shapes.push(svg("rect", { class: "edge", x: left, y, width: Math.max(1, right - left), height: 12, rx: 3 }));
    shapes.push(mark.done ? svg("circle", { class: "mark", cx: at, cy: y + 6, r: 5 }) : svg("rect", { class: "mark", x: at - 1.5, y: y - 2, width: 3, height: 16 }));
    const label = svg("text", { x: turned ? at - 8 : at + 8, y: y + 11, "text-anchor": turned ? "end" : "start" });
    label.textContent = text;
    shapes.push(label);
  }
  const height = Math.max(1, rows.length) * ROW;
  const nowX = x(now);
  if (nowX > side && nowX < width - side) shapes.unshift(svg("line", { class: "now", x1: nowX, x2: nowX, y1: 0, y2: height }));
  const words = list
    .filter((mark) => !mark.done)
    .map((mark) => `${mark.words} likely ${forecastWords(mark.likely, zone)}${Number.isFinite(mark.earliest) && Number.isFinite(mark.latest) ? ` (${forecastWords(mark.earliest, zone)} to ${forecastWords(mark.latest, zone)})` : ""}`)
    .join("; ");
  return h(
    "div",
    { class: "lane" },
    h("h3", {}, job.part),
    svg("svg", { width, height, viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" }, ...shapes),
    h("p", { class: "hint" }, words ? `${words}.` : ""),
  );
}
