// The room strip: one time axis for temperature, moisture and vapor; lanes of jobs and the forecast
// find their place on the same axis.
import { read } from "./api.js";
import { h } from "./dom.js";
import { drawLanes } from "./lanes.js";
import { Sight } from "./sight.js";
import { celsius, kelvins, us } from "./units.js";
import { ageWords, axisTimeWords, clockWords, figure } from "./words.js";

const { uPlot } = globalThis; // lib/uPlot.iife.min.js

const POINTS = 576; // five minutes each over 48 hours
export const SIDE = 46; // px on either side, so that all panels share one time axis

const PANELS = [
  {
    id: "temperature",
    lines: [
      { series: "temperature", label: "air", key: "air", digits: 1, unit: "°C", ahead: "air" },
      { series: "mold-temperature", label: "mold", key: "mold", digits: 1, unit: "°C", dash: [7, 4], width: 2.5, ahead: "mold" },
    ],
    least: 4,
    limits: [[15, () => celsius(15, 0)], [18, () => celsius(18, 0)]],
  },
  {
    id: "moisture",
    lines: [
      { series: "humidity", label: "humidity", key: "moist", digits: 0, unit: "%", ahead: "humidity" },
      { series: "dew-point-margin", label: "mold above dew point", key: "margin", digits: 1, unit: "K", dash: [7, 4], width: 2.5, scale: "K" },
    ],
    least: 20,
    limits: [[80, () => "80 %"]],
  },
  {
    id: "vapor",
    lines: [{ series: "voc-level", label: "vapor, times clean air, not a styrene measurement", key: "vapor", digits: 1, unit: "×" }],
    least: 3,
    floor: 0,
    limits: [[3, () => "ventilate"]],
  },
];

const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();

export class Strip {
  constructor(document, picture, roomNow, jobs) {
    this.jobs = jobs;
    this.sight = new Sight({
      now: () => roomNow(),
      lastDemold: () => this.lastDemold(),
      moved: () => this.move(),
      settled: () => this.load(),
    });
    this.document = document;
    this.picture = picture;
    this.roomNow = roomNow;
    this.panels = PANELS.map((panel) => ({ ...panel, plot: null, data: null }));
    this.loading = false;
    this.loadedAt = -Infinity;
    this.known = 0;
    this.aheadWords = "";
    this.growing = true; // while a backlog comes in, more than now and then a point
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.redraw());
    document.getElementById("strip-view").replaceChildren(...this.sight.controls());
    this.reader = this.reading(document.getElementById("strip-read"));
    for (const { id } of PANELS) this.sight.listen(document.getElementById(`plot-${id}`), SIDE);
    new ResizeObserver(() => this.resize()).observe(document.getElementById("strip"));
  }

  /** New numbers have come: load the history again when the newest bucket has filled up. */
  live() {
    const factor = this.picture().paceFactor;
    const everyMillis = this.growing ? 2500 : Math.max(4000, Math.min(60_000, 300_000 / factor));
    if (performance.now() - this.loadedAt >= everyMillis) this.load();
  }

  /** When the last demold of the parts on their way is in sight at the latest. */
  lastDemold() {
    const stages = this.jobs().flatMap((job) => job.steps.flatMap((step) => step.mixes.flatMap((mix) => mix.stages)));
    const ends = stages.filter((stage) => stage.stage === "demold").map((stage) => Date.parse(stage.from.latest ?? stage.from.likely ?? ""));
    return ends.filter(Number.isFinite).reduce((latest, end) => Math.max(latest ?? end, end), undefined);
  }

  now() {
    this.lanes();
    for (const panel of this.panels) if (panel.data) this.caption(panel, panel.plot?.cursor.idx);
  }

  lanes() {
    if (this.panels[0].span) drawLanes(this.document.getElementById("lanes"), this.jobs(), this.panels[0].span, this.roomNow(), this.picture().zone, SIDE);
  }

  /** The time in sight has moved: the plots follow at once with what they have. */
  move() {
    const span = this.sight.span().map((millis) => millis / 1000);
    for (const panel of this.panels) {
      if (!panel.plot) continue;
      panel.span = span;
      panel.plot.setScale("x", { min: span[0], max: span[1] });
    }
    this.say(span);
    this.lanes();
  }

  /** Says which time is in sight. */
  say([from, to]) {
    const inSight = this.document.getElementById("strip-span");
    inSight.dataset.from = Math.round(from);
    inSight.dataset.to = Math.round(to);
    inSight.textContent = [from, to].map((seconds) => clockWords(seconds * 1000, this.picture().zone, true)).join(" to ");
  }

  /** A slider that reads the strip without a pointer. */
  reading(holder) {
    const slider = h("input", { type: "range", id: "strip-reader", min: 0, max: 1000, step: 1, value: 0 });
    const said = h("output", { for: "strip-reader" });
    slider.oninput = () => {
      const plots = this.panels.filter((panel) => panel.plot);
      if (plots.length === 0) return;
      const [from, to] = plots[0].span;
      const at = from + (slider.value / 1000) * (to - from);
      for (const { plot } of plots) plot.setCursor({ left: plot.valToPos(at, "x"), top: plot.bbox.height / devicePixelRatio / 2 }, false);
      for (const panel of plots) this.caption(panel, panel.plot.cursor.idx);
      slider.setAttribute("aria-valuetext", plots.map((panel) => this.document.getElementById(`cap-${panel.id}`).textContent).join("; "));
      said.textContent = clockWords(at * 1000, this.picture().zone, true);
    };
    holder.replaceChildren(h("label", { htmlFor: "strip-reader" }, "Read at"), slider, said);
    return slider;
  }

  async load() {
    if (this.loading) return;
    this.loading = true;
    this.loadedAt = performance.now();
    const [begin, end] = this.sight.span();
    const now = this.roomNow();
    const to = new Date(Math.min(now, Math.max(end, begin + 60_000)));
    const from = new Date(Math.min(begin, to.getTime() - 60_000));
    try {
      const wanted = this.panels.flatMap((panel) => panel.lines.map((line) => line.series));
      const answers = await Promise.all(
        wanted.map(async (series) => {
          const { ok, status, body } = await read("history", { series, from: from.toISOString(), to: to.toISOString(), points: POINTS });
          if (!ok) throw new Error(`history ${status}`);
          return [series, body];
        }),
      );
      const bySeries = new Map(answers);
      const ahead = end > now ? await this.loadAhead((end - now) / 3600_000) : null;
      for (const panel of this.panels) this.fill(panel, bySeries, ahead, now);
      this.say(this.panels[0].span);
      const known = answers.reduce((sum, [, answer]) => sum + answer.time.length, 0);
      this.growing = known > this.known + 2 * wanted.length;
      this.known = known;
      this.note(bySeries, (to - from) / 1000);
    } catch {
      this.loadedAt = performance.now() - 50_000; // try again soon; the link line says what is wrong
    } finally {
      this.loading = false;
    }
  }

  /** The room's forecast, or null where there is none: then the strip ends with now. */
  async loadAhead(hours) {
    const { ok, body: answer } = await read("forecast", { hours: Math.ceil(hours) });
    if (!ok) return null;
    this.aheadWords = answer.words ?? "";
    if (answer.refused.length > 0) return null;
    this.aheadWords += " The dotted line is the likely course. Four times in five the room stays inside the band.";
    return answer;
  }

  fill(panel, bySeries, ahead, millis) {
    const times = new Set();
    for (const line of panel.lines) for (const t of bySeries.get(line.series).time) times.add(t);
    const now = millis / 1000;
    const courses = new Map();
    for (const line of panel.lines.filter((each) => each.ahead)) {
      const later = (ahead?.[line.ahead] ?? []).map((point) => [Date.parse(point.time) / 1000, point]).filter(([t]) => t > now);
      for (const [t] of later) times.add(t);
      courses.set(line, new Map(later));
    }
    const axis = [...times].sort((a, b) => a - b);
    const data = [axis];
    for (const line of panel.lines) {
      const answer = bySeries.get(line.series);
      const means = new Map(answer.time.map((t, i) => [t, answer.mean[i]]));
      data.push(axis.map((t) => means.get(t) ?? null));
    }
    for (const line of panel.lines.filter((each) => each.ahead)) {
      const points = courses.get(line);
      for (const edge of ["p90", "p10", "p50"]) data.push(axis.map((t) => points.get(t)?.[edge] ?? null));
    }
    panel.data = data;
    panel.nowAt = now;
    const [begin, end] = this.sight.span().map((each) => each / 1000);
    panel.span = [begin, ahead || this.sight.free ? end : Math.min(end, now)];
    if (panel.plot) {
      panel.plot.setData(data, false);
      panel.plot.setScale("x", { min: panel.span[0], max: panel.span[1] });
    } else {
      this.draw(panel);
    }
    this.caption(panel, panel.plot.cursor.idx);
  }

  draw(panel) {
    const holder = this.document.getElementById(`plot-${panel.id}`);
    const ink = css("soft");
    const grid = { stroke: css("line"), width: 1 };
    const zone = this.picture().zone;
    const hasSecond = panel.lines.some((line) => line.scale);
    const options = {
      width: holder.clientWidth,
      height: holder.clientHeight,
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), zone),
      legend: { show: false },
      cursor: { sync: { key: "strip" }, drag: { x: false, y: false }, points: { size: 8 } },
      scales: {
        x: { time: true, auto: false, min: panel.span[0], max: panel.span[1], range: () => panel.span },
        y: { range: (_, low, high) => roomy(low, high, panel.least, panel.floor) },
        K: { range: (_, low, high) => roomy(low, high, 6, undefined) },
      },
      axes: [
        { stroke: ink, grid, ticks: grid, size: 34, space: 70, values: (_, splits) => splits.map((s) => axisTimeWords(s * 1000, zone)) },
        { stroke: ink, grid, ticks: grid, size: SIDE, values: (_, v) => v.map((n) => axisWords(panel.lines[0].unit, n)) },
        { scale: "K", side: 1, stroke: ink, grid: { show: false }, ticks: grid, size: SIDE, show: hasSecond, values: (_, v) => v.map((n) => axisWords("K", n)) },
      ],
      series: [
        {},
        ...panel.lines.map((line) => ({
          scale: line.scale ?? "y",
          label: line.label,
          stroke: css(line.key),
          width: line.width ?? 2,
          dash: line.dash,
          points: { show: false },
          spanGaps: false,
        })),
        ...panel.lines
          .filter((line) => line.ahead)
          .flatMap((line) => [
            { stroke: "transparent", points: { show: false } },
            { stroke: "transparent", points: { show: false } },
            { stroke: css(line.key), width: 1.5, dash: [2, 4], points: { show: false } },
          ]),
      ],
      bands: panel.lines
        .filter((line) => line.ahead)
        .map((line, i) => {
          const first = panel.lines.length + 1 + 3 * i;
          return { series: [first, first + 1], fill: `${css(line.key)}33` };
        }),
      padding: [8, hasSecond ? 0 : SIDE, 0, 0],
      hooks: { draw: [(plot) => drawNow(plot, panel, css("soft"))], setCursor: [(plot) => this.caption(panel, plot.cursor.idx)] },
    };
    holder.replaceChildren();
    panel.plot = new uPlot(options, panel.data, holder);
  }

  /** The caption above a panel: what is drawn, and its value under the cursor or now. */
  caption(panel, index) {
    const caption = this.document.getElementById(`cap-${panel.id}`);
    const times = panel.data[0];
    const paths = panel.lines.filter((line) => line.ahead);
    const future = index !== null && index !== undefined && times[index] > panel.nowAt;
    const parts = panel.lines.map((line, i) => {
      const first = panel.lines.length + 1 + 3 * paths.indexOf(line);
      if (future && line.ahead) return this.aheadParts(panel, line, first, index);
      const values = panel.data[i + 1];
      const at = index ?? lastWith(values);
      const value = at === -1 || at === undefined ? null : values[at];
      const key = this.document.createElement("span");
      key.className = `key ${line.key}${line.dash ? " dashed" : ""}`;
      const figureText = this.document.createElement("b");
      figureText.textContent = value === null || value === undefined ? "no value" : lineFigure(line, value);
      return [key, `${line.label} `, figureText];
    });
    const when =
      index === null || index === undefined || times[index] === undefined
        ? ""
        : ` at ${clockWords(times[index] * 1000, this.picture().zone)}`;
    caption.replaceChildren(...parts.flat(), when);
  }

  /** Likely value and its earliest-to-latest range at a moment to come. */
  aheadParts(panel, line, first, index) {
    const [high, low, likely] = [0, 1, 2].map((offset) => panel.data[first + offset][index]);
    const key = this.document.createElement("span");
    key.className = `key ${line.key}${line.dash ? " dashed" : ""}`;
    const text = this.document.createElement("b");
    text.textContent =
      likely === null || likely === undefined
        ? "no value"
        : `likely ${lineFigure(line, likely)} (${lineFigure(line, low)} to ${lineFigure(line, high)})`;
    return [key, `${line.label} `, text];
  }

  note(bySeries, seconds) {
    const answer = bySeries.get("temperature");
    const known = answer.time.length * answer.bucketSeconds;
    const words =
      answer.time.length === 0
        ? "Nothing was recorded in this range."
        : known < seconds * 0.98
          ? `Recorded: ${ageWords(known)} of ${ageWords(seconds)}. Gaps are not drawn.`
          : "";
    this.document.getElementById("strip-note").textContent = words;
    this.document.getElementById("strip-ahead").textContent = this.aheadWords;
  }

  resize() {
    for (const panel of this.panels) {
      if (!panel.plot) continue;
      const holder = this.document.getElementById(`plot-${panel.id}`);
      if (holder.clientWidth !== panel.plot.width) panel.plot.setSize({ width: holder.clientWidth, height: holder.clientHeight });
    }
  }

  redraw() {
    for (const panel of this.panels) {
      if (!panel.plot) continue;
      panel.plot.destroy();
      this.draw(panel);
    }
  }
}

/** A line where measured turns into forecast. */
function drawNow(plot, panel, color) {
  drawLimits(plot, panel, color);
  if (panel.span[1] <= panel.nowAt) return;
  const x = Math.round(plot.valToPos(panel.nowAt, "x", true));
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = color;
  ctx.fillStyle = color;
  ctx.lineWidth = devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(x, bbox.top);
  ctx.lineTo(x, bbox.top + bbox.height);
  ctx.stroke();
  ctx.textAlign = "left";
  ctx.fillText(" now", x, bbox.top + 10 * devicePixelRatio);
  ctx.restore();
}

function lineFigure(line, value) {
  if (line.unit === "°C") return celsius(value, line.digits);
  if (line.unit === "K") return kelvins(value, line.digits);
  return `${figure(value, line.digits)} ${line.unit}`;
}

/** A figure beside an axis: short, so that it has room there. */
function axisWords(unit, value) {
  if (unit === "°C") return `${us() ? Math.round(value * 1.8 + 32) : value}°`;
  if (unit === "K") return us() ? `${Math.round(value * 1.8)} °F` : `${value} °C`;
  return `${value}${unit}`;
}

/** The limits that count, as quiet lines with their words. */
function drawLimits(plot, panel, color) {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = color;
  ctx.fillStyle = color;
  ctx.globalAlpha = 0.6;
  ctx.lineWidth = devicePixelRatio;
  ctx.setLineDash([2 * devicePixelRatio, 6 * devicePixelRatio]);
  for (const [value, words] of panel.limits ?? []) {
    const y = Math.round(plot.valToPos(value, "y", true));
    if (y < bbox.top || y > bbox.top + bbox.height) continue;
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    ctx.textAlign = "left";
    ctx.fillText(words(), bbox.left + 4 * devicePixelRatio, y - 3 * devicePixelRatio);
  }
  ctx.restore();
}

function lastWith(values) {
  for (let i = values.length - 1; i >= 0; i--) if (values[i] !== null && values[i] !== undefined) return i;
  return -1;
}

/** A scale with room around the data, at least so wide that noise does not look like weather. */
function roomy(low, high, least, floor) {
  if (low === null || high === null || low === undefined || high === undefined) return [floor ?? 0, (floor ?? 0) + least];
  const missing = Math.max(0, least - (high - low)) / 2;
  const margin = Math.max(0.05 * (high - low), missing);
  const bottom = low - margin;
  return [floor === undefined ? bottom : Math.max(floor, Math.min(floor, bottom)), high + margin];
}
