// The time that the strip has in sight: one of three lengths that follow the clock, or what a person
// has dragged, pinched or stepped to, which stays where it is until they go back to now.
import { choice, h } from "./dom.js";

const HOUR = 3600_000;
const NARROWEST = 0.5 * HOUR;
const WIDEST = 31 * 24 * HOUR;
const FARTHEST_BACK = 31 * 24 * HOUR;
const FARTHEST_AHEAD = 72 * HOUR;
const DRAGGED_PX = 8; // less is a tap, which reads a value
const SETTLED_MILLIS = 250;

/** Hours back and hours ahead; the longest reaches to the last demold. */
const LENGTHS = {
  near: { words: "12 h", back: 4, ahead: 8 },
  day: { words: "2 days", back: 24, ahead: 24 },
  all: { words: "To demold", back: 48, ahead: 36, most: 72 },
};

export class Sight {
  /**
   * now() and lastDemold() are in milliseconds, lastDemold() may be undefined; moved() runs while the
   * time in sight moves, settled() when it has stopped.
   */
  constructor({ now, lastDemold, moved, settled }) {
    this.now = now;
    this.lastDemold = lastDemold;
    this.moved = moved;
    this.settled = settled;
    this.length = LENGTHS.all;
    this.free = null;
    this.settling = 0;
  }

  /** From and to in milliseconds. */
  span() {
    if (this.free) return this.free;
    const { back, ahead, most } = this.length;
    const needed = most ? (((this.lastDemold() ?? -Infinity) - this.now()) / HOUR + 2) : ahead;
    const hours = most ? Math.min(most, Math.max(ahead, needed)) : ahead;
    return [this.now() - back * HOUR, this.now() + hours * HOUR];
  }

  /** The choice of lengths and the steps, for fingers that cannot drag and for the keyboard. */
  controls() {
    const lengths = choice("Range", Object.entries(LENGTHS).map(([name, length]) => [name, length.words]), "all", (name) => {
      this.length = LENGTHS[name];
      this.follow();
    });
    const step = (words, run) => h("button", { type: "button", class: "small", onclick: run }, words);
    this.back = h("button", { type: "button", class: "small", hidden: true, onclick: () => this.follow() }, "Now");
    return [
      lengths,
      h("p", { class: "actions" }, step("Back", () => this.pan(-0.5)), step("Forward", () => this.pan(0.5)), step("Zoom in", () => this.zoom(0.5)), step("Zoom out", () => this.zoom(2)), this.back),
    ];
  }

  /** Lets go of what was dragged to: the clock is followed again. */
  follow() {
    this.free = null;
    this.back.hidden = true;
    this.moved();
    this.settle();
  }

  /** Moves by a share of what is in sight; to earlier where it is negative. */
  pan(share) {
    const [from, to] = this.span();
    this.set(from + share * (to - from), to + share * (to - from));
  }

  /** Widens (factor above 1) or narrows around a place, told as a share of what is in sight. */
  zoom(factor, place = 0.5) {
    const [from, to] = this.span();
    const width = Math.max(NARROWEST, Math.min(WIDEST, (to - from) * factor));
    const held = from + place * (to - from);
    this.set(held - place * width, held + (1 - place) * width);
  }

  set(from, to) {
    const width = to - from;
    const least = this.now() - FARTHEST_BACK;
    const most = this.now() + FARTHEST_AHEAD;
    const begin = Math.max(least, Math.min(most - width, from));
    this.free = [begin, Math.min(most, begin + width)];
    this.back.hidden = false;
    this.moved();
    this.settle();
  }

  settle() {
    clearTimeout(this.settling);
    this.settling = setTimeout(this.settled, SETTLED_MILLIS);
  }

  /** Lets an element be dragged, pinched and wheeled; side is the margin in px beside its time axis. */
  listen(element, side) {
    const fingers = new Map();
    let dragging = false;
    const inner = () => Math.max(1, element.clientWidth - 2 * side);
    const place = (x) => (x - element.getBoundingClientRect().left - side) / inner();
    const spread = () => {
      const [one, other] = [...fingers.values()];
      return { middle: place((one + other) / 2), width: Math.max(20, Math.abs(one - other)) };
    };
    element.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      fingers.set(event.pointerId, event.clientX);
      dragging = fingers.size > 1;
    });
    element.addEventListener("pointermove", (event) => {
      const before = fingers.get(event.pointerId);
      if (before === undefined) return;
      if (!dragging && Math.abs(event.clientX - before) < DRAGGED_PX) return;
      if (!dragging) element.setPointerCapture(event.pointerId);
      dragging = true;
      if (fingers.size === 2) {
        const was = spread();
        fingers.set(event.pointerId, event.clientX);
        const is = spread();
        this.zoom(was.width / is.width, was.middle);
        this.pan(was.middle - is.middle);
      } else {
        fingers.set(event.pointerId, event.clientX);
        this.pan((before - event.clientX) / inner());
      }
    });
    const lift = (event) => fingers.delete(event.pointerId);
    for (const end of ["pointerup", "pointercancel", "lostpointercapture"]) element.addEventListener(end, lift);
    element.addEventListener(
      "wheel",
      (event) => {
        const aside = event.shiftKey ? event.deltaX || event.deltaY : event.deltaX;
        if (event.ctrlKey) this.zoom(Math.exp(event.deltaY / 200), place(event.clientX));
        else if (Math.abs(aside) > Math.abs(event.shiftKey ? 0 : event.deltaY)) this.pan(aside / inner());
        else return;
        event.preventDefault();
      },
      { passive: false },
    );
  }
}
