// The bump test: a known vapor is held to the vapor sensor, to see that it still senses vapor, and
// how old each sensor is. Steps, results and cautions are the server's.
import { freshId } from "./api.js";
import { h, writing } from "./dom.js";
import { ageWords, clockWords, dayWords, figure } from "./words.js";

/** A sensor in a line: age, hours on, last test. */
function sensorLine(device, zone) {
  const sensor = device.sensor;
  const age = sensor.ageDays < 1 ? (sensor.fitted ? "fitted today" : "first heard today") : `${sensor.ageDays === 1 ? "1 day" : `${sensor.ageDays} days`} old (since ${dayWords(Date.parse(sensor.since), zone)})`;
  const test = sensor.lastTest ? `last bump test ${clockWords(Date.parse(sensor.lastTest.time), zone, true)}: ${sensor.lastTest.words}` : "no bump test yet.";
  const rise = sensor.lastRise ? ` Last rise in a job ${clockWords(Date.parse(sensor.lastRise), zone, true)}.` : "";
  return `${device.device}: ${age}, ${figure(sensor.hoursOn, 0)} h on, ${test}${rise}`;
}

/** The fold "Bump test"; asks and tells as its section does. */
export function bumpFold(section) {
  const sensors = h("ul");
  const steps = h("ol");
  const caution = h("p", { className: "do" });
  const source = h("p", { className: "hint" });
  const choice = h("select", { id: "bump-device" });
  const which = h("p", { className: "row", hidden: true }, h("label", { htmlFor: "bump-device" }, "Sensor"), choice);
  const begin = writing(h("button", { type: "button" }, "Begin bump test"));
  const progress = h("p", { className: "bump-now", role: "status" });
  const yes = writing(h("button", { type: "button" }, "Lamp, buzzer and fan came on"));
  const no = writing(h("button", { type: "button" }, "One stayed off"));
  const seen = h("p", { className: "row", hidden: true }, yes, no);
  const fit = writing(h("button", { type: "button" }, "New sensor"));
  const sure = writing(h("button", { type: "button" }, "A new sensor is in: forget the old one"));
  const fitted = h(
    "p", { className: "row", hidden: true },
    "Age, hours and last test begin again. The old sensor's clean-air reading and what jobs taught of it are forgotten: the air is unknown until you take a clean-air reading. ",
    sure,
  );
  let watching = 0;
  let begun = "";
  let last = null;

  const chosen = () => last?.devices.find((one) => one.device === choice.value) ?? last?.devices[0];
  const tell = () => {
    const device = chosen();
    begin.disabled = !device || device.going;
    const test = device?.sensor.lastTest;
    const through = test?.id && test.id === begun;
    if (device?.going) progress.textContent = `${device.words} ${ageWords(device.leftSeconds)} left.`;
    else if (through) {
      progress.textContent = test.words + (test.alarmSeen === undefined ? (test.passed ? " Take the swab outdoors. Did lamp, buzzer and fan come on?" : ` ${device.sensor.fault ?? ""}`) : test.alarmSeen ? " Lamp, buzzer and fan came on." : ` ${device.sensor.bumpTestAsked ?? ""}`);
    } else progress.textContent = device?.sensor.bumpTestAsked ?? "";
    seen.hidden = !through || !test.passed || test.alarmSeen !== undefined;
  };
  const show = (json) => {
    last = json;
    sensors.replaceChildren(...json.devices.map((one) => h("li", {}, sensorLine(one, section.zone))));
    steps.replaceChildren(...json.steps.map((words) => h("li", {}, words)));
    caution.textContent = json.caution;
    source.textContent = json.source;
    const names = json.devices.map((one) => one.device);
    if (names.join() !== [...choice.options].map((option) => option.value).join()) choice.replaceChildren(...names.map((name) => h("option", { value: name }, name)));
    which.hidden = names.length < 2;
    tell();
  };
  const look = async () => {
    const json = await section.get("bump-test");
    if (json) show(json);
  };
  const post = async (body) => {
    const who = section.who.value.trim() || localStorage.getItem("who") || "page";
    const json = await section.post("bump-test", { who, ...(chosen() ? { device: chosen().device } : {}), ...body });
    if (json) show(json);
    return json;
  };
  begin.onclick = async () => {
    const id = freshId();
    if (await post({ action: "start", id })) begun = id;
    tell();
  };
  yes.onclick = () => post({ action: "seen", id: freshId(), alarmSeen: true });
  no.onclick = () => post({ action: "seen", id: freshId(), alarmSeen: false });
  fit.onclick = () => {
    fitted.hidden = !fitted.hidden;
  };
  sure.onclick = async () => {
    if (await post({ action: "new-sensor", id: freshId() })) fitted.hidden = true;
  };
  choice.onchange = tell;

  const fold = h(
    "details", { id: "air-bump" }, h("summary", {}, "Bump test"),
    h("p", {}, "A worn or poisoned vapor sensor reads like clean air. A bump test shows that it still senses vapor."),
    sensors, steps, caution, source, which, h("p", { className: "row" }, begin), progress, seen,
    h("p", { className: "row" }, fit), fitted,
  );
  fold.ontoggle = () => {
    clearInterval(watching);
    if (fold.open) {
      look();
      watching = setInterval(look, 2000);
    }
  };
  return fold;
}
