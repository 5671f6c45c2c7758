// A sensor compared with a reference thermometer or hygrometer: what it reads now, what the reference
// reads, and what is added to it from then on; and, where several devices measure the same, which of
// them counts. The server works it out and the device applies it.
import { h, writing } from "./dom.js";
import { seriesLine } from "./series.js";
import { plainDegrees, typed, unit, us } from "./units.js";
import { ageWords, figure } from "./words.js";

function reads(sensor) {
  if (sensor.value === undefined) return "no value";
  return sensor.series === "humidity" ? `${figure(sensor.value, 1)} %` : `${us() ? figure(plainDegrees(sensor.value), 1) : figure(sensor.value, 2)} ${unit("celsius")}`;
}

/** The fold "Correct a sensor"; asks and tells as its section does. */
export function sensorFold(section) {
  const choice = h("select", { id: "sensor-series" });
  const speaker = h("select", { id: "sensor-speaker" });
  const speakers = writing(h("p", { className: "row" }, h("label", { htmlFor: "sensor-speaker" }, "Device that counts"), speaker));
  const whose = h("p", { role: "status" });
  const now = h("p", { role: "status" });
  const label = h("label", { htmlFor: "sensor-reference" }, "The reference reads");
  const reference = h("input", { id: "sensor-reference", type: "text", inputMode: "decimal", autocomplete: "off" });
  const correct = h("button", { type: "button" }, "Correct");
  const remove = h("button", { type: "button" }, "Clear correction");
  const said = h("p", { className: "said", role: "status" });
  let sensors = [];
  let watching = 0;
  const chosen = () => sensors.find((one) => one.series === choice.value);
  const tell = () => {
    const one = chosen();
    label.textContent = `The reference reads, ${one?.series === "humidity" ? "%" : unit("celsius")}`;
    correct.disabled = !one || !one.fresh || one.waiting;
    remove.hidden = !one || (one.added === 0 && !one.waiting);
    const several = one ? one.devices : [];
    speakers.hidden = several.length < 2;
    whose.hidden = several.length < 2;
    whose.textContent = one?.speaker ?? "";
    if (several.join() !== [...speaker.options].map((option) => option.value).join()) {
      speaker.replaceChildren(...several.map((name) => h("option", { value: name }, name)));
    }
    if (one && document.activeElement !== speaker) speaker.value = one.device;
    now.textContent = !one
      ? "No sensor has reported yet."
      : `${one.device} reads ${reads(one)}, ${ageWords(one.ageSeconds)} ago. ${one.words}${one.fresh ? "" : " Wait for a good reading before you compare."}`;
  };
  const list = (json) => {
    sensors = json.sensors;
    const names = sensors.map((one) => one.series);
    if (names.join() !== [...choice.options].map((option) => option.value).join()) {
      const before = choice.value;
      choice.replaceChildren(...names.map((one) => h("option", { value: one }, seriesLine(one, {}).label)));
      if (names.includes(before)) choice.value = before;
    }
    tell();
  };
  const look = async () => {
    const json = await section.get("offsets");
    if (json) list(json);
  };
  const decide = async (body) => {
    said.textContent = "";
    const json = await section.post("offsets", { series: choice.value, who: section.who.value.trim() || "page", ...body });
    if (!json) return;
    said.textContent = json.words;
    reference.value = "";
    list(json);
  };
  choice.onchange = () => {
    said.textContent = "";
    tell();
  };
  speaker.onchange = () => decide({ speaker: speaker.value });
  correct.onclick = async () => {
    const value = choice.value === "humidity" ? Number(reference.value.trim().replace(",", ".") || NaN) : typed("celsius", reference.value);
    if (Number.isFinite(value)) await decide({ reference: value });
    else section.say("Enter what the reference reads, such as 19.4.");
  };
  remove.onclick = () => decide({ remove: true });
  const fold = h(
    "details", { className: "sensors" }, h("summary", {}, "Correct a sensor"),
    h("p", {}, "Put a trusted thermometer beside the sensor, both out of sun and drafts. Wait 15 minutes, until neither changes. Stored readings stay as measured."),
    h("p", { className: "row" }, h("label", { htmlFor: "sensor-series" }, "Sensor"), choice), speakers, whose, now,
    writing(h("p", { className: "row" }, label, reference)), writing(h("p", { className: "row" }, correct, remove)), said,
  );
  fold.ontoggle = () => {
    clearInterval(watching);
    if (fold.open) {
      look();
      watching = setInterval(look, 3000);
    }
  };
  return fold;
}
