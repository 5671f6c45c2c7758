// The room's answer for across the room: verdict and three sentences fill a tablet on the wall, and what
// stands against them. The tablet remembers it; where the browser allows, its screen stays lit.

/** Ties the button that switches it on and off. */
export function startFar(button) {
  let lit = null;
  const show = (on) => {
    document.documentElement.classList.toggle("far", on);
    button.textContent = on ? "Leave wall view" : "Wall view";
  };
  const keepLit = async (on) => {
    if (!("wakeLock" in navigator)) return; // only on HTTPS or on this machine
    if (on) lit = await navigator.wakeLock.request("screen").catch(() => null);
    else await lit?.release();
  };
  button.onclick = () => {
    const on = !document.documentElement.classList.contains("far");
    localStorage.setItem("far", on ? "yes" : "no");
    show(on);
    keepLit(on);
    window.scrollTo(0, 0);
  };
  const on = localStorage.getItem("far") === "yes" && (location.hash === "" || location.hash === "#room");
  show(on);
  if (on) keepLit(true);
  window.addEventListener("hashchange", () => show(localStorage.getItem("far") === "yes" && location.hash === "#room"));
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden && document.documentElement.classList.contains("far")) keepLit(true);
  });
}
