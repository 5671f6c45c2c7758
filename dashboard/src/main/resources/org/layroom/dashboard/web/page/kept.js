// Says that the store was damaged and mended, until somebody says to have read it; and what else the
// dashboard has to tell: a material that was left out, a certificate that ends.
import { problemWords, tell } from "./api.js";
import { h, writing } from "./dom.js";

/** What else the dashboard has to tell its owner, as long as it holds. */
export function showTold(section, words) {
  const key = JSON.stringify(words ?? []);
  if (section.dataset.shown === key) return;
  section.dataset.shown = key;
  section.hidden = !words?.length;
  section.replaceChildren(...(words ?? []).map((one) => h("p", {}, one)));
}

/** Shows or hides the notice; the words come from the server. */
export function showKept(section, words) {
  if (section.dataset.shown === (words ?? "")) return;
  section.dataset.shown = words ?? "";
  section.hidden = !words;
  if (!words) return;
  const said = h("p", { role: "status" });
  const button = h(
    "button",
    {
      type: "button",
      onclick: async () => {
        const answer = await tell("store", {}, { action: "seen", who: "page" });
        if (answer.ok) section.hidden = true;
        else said.textContent = problemWords(answer.body);
      },
    },
    "I have read this",
  );
  section.replaceChildren(h("p", {}, words), writing(button), said);
}
