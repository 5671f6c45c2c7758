// The screens of the page and the way between them: one is shown at a time, named in the address.
const SCREENS = ["room", "mix", "air", "jobs", "log", "cans", "house"];
const shown = new Map(); // screen -> what to run when it comes into view

export function current() {
  const name = location.hash.slice(1).split("/")[0];
  return SCREENS.includes(name) ? name : "room";
}

/** What follows the screen in the address, as in #log/<job>. */
export function detail() {
  return decodeURIComponent(location.hash.split("/")[1] ?? "");
}

export function go(screen, more = "") {
  location.hash = more ? `${screen}/${encodeURIComponent(more)}` : screen;
}

/** Runs this each time the screen comes into view. */
export function whenShown(screen, run) {
  shown.set(screen, run);
}

function turn() {
  const name = current();
  for (const section of document.querySelectorAll("[data-screen]")) {
    section.hidden = !section.dataset.screen.split(" ").includes(name);
  }
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${name}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.title = name === "room" ? "Layroom" : `Layroom: ${name}`;
  shown.get(name)?.();
  window.dispatchEvent(new Event("resize"));
}

export function startScreens() {
  window.addEventListener("hashchange", () => {
    turn();
    window.scrollTo(0, 0);
  });
  turn();
}
