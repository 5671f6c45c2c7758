// Says that the store was damaged and mended, until somebody says to have read it.
import { problemWords, tell } from "./api.js";
import { h, writing } from "./dom.js";

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
