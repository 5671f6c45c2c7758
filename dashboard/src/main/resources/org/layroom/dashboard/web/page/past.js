// The warnings so far: what was said, since when, who has seen it, and when it ended.
import { read } from "./api.js";
import { h } from "./dom.js";
import { clockWords } from "./words.js";

/** The log's entries, newest first, as one line for each warning; one that was raised before the log's end is left out. */
function warnings(log) {
  const byId = new Map();
  for (const entry of [...log].reverse()) {
    if (entry.event === "raised") byId.set(entry.warning, { ...entry });
    const one = byId.get(entry.warning);
    if (one && entry.event === "acknowledged") one.seen ??= entry;
    if (one && entry.event === "ended") one.ended = entry.time;
  }
  return [...byId.values()].reverse();
}

/** The fold "Warning log"; it is asked anew each time it is opened. */
export function pastFold(marked, zone) {
  const list = h("ol", { class: "past" });
  const said = h("p", { role: "status" });
  const at = (time) => clockWords(Date.parse(time), zone(), true);
  const look = async () => {
    const { ok, body } = await read("warnings").catch(() => ({ ok: false }));
    const past = ok ? warnings(body.log) : [];
    said.textContent = ok ? (past.length === 0 ? "None yet." : "") : "Layroom is not answering.";
    list.replaceChildren(
      ...past.map((one) =>
        h(
          "li",
          {},
          marked(one.state, one.device),
          h("p", {}, `${at(one.since)} to ${one.ended ? at(one.ended) : "now"}. ${one.why.join(" ")}`),
          h("p", { class: "seen" }, one.seen ? `Acknowledged by ${one.seen.who}, ${at(one.seen.when)}.` : "Not acknowledged."),
        ),
      ),
    );
  };
  const fold = h("details", {}, h("summary", {}, "Warning log"), said, list);
  fold.ontoggle = () => fold.open && look();
  return fold;
}
