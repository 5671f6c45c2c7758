// What can be heard: two tones for each piece of news, once, after the person has switched it on
// (browsers want a tap first), and the browser's own notification where it is allowed.
import { h } from "./dom.js";

export class Sound {
  constructor() {
    this.known = new Set(JSON.parse(sessionStorage.getItem("heard") ?? "[]"));
    this.on = false;
  }

  /** The notices that were not there before. */
  newOnes(notices) {
    const fresh = notices.filter((notice) => !this.known.has(notice.id));
    for (const notice of fresh) this.known.add(notice.id);
    sessionStorage.setItem("heard", JSON.stringify([...this.known].slice(-200)));
    return fresh;
  }

  button(changed) {
    return h(
      "button",
      {
        type: "button",
        class: "small",
        "aria-pressed": String(this.on),
        onclick: async () => {
          this.on = !this.on;
          if (this.on) {
            this.context ??= new AudioContext();
            await this.context.resume();
            this.tone();
            if ("Notification" in window && Notification.permission === "default") Notification.requestPermission();
          }
          changed();
        },
      },
      this.on ? "Sound is on" : "Turn sound on",
    );
  }

  call(notices) {
    if (this.on) this.tone();
    if ("Notification" in window && Notification.permission === "granted") {
      for (const notice of notices) new Notification(`Layroom: ${notice.part}`, { body: notice.words, tag: notice.id });
    }
  }

  tone() {
    const context = this.context;
    for (const [start, pitch] of [[0, 660], [0.25, 880]]) {
      const oscillator = context.createOscillator();
      const gain = context.createGain();
      oscillator.frequency.value = pitch;
      gain.gain.setValueAtTime(0.25, context.currentTime + start);
      gain.gain.exponentialRampToValueAtTime(0.001, context.currentTime + start + 0.22);
      oscillator.connect(gain).connect(context.destination);
      oscillator.start(context.currentTime + start);
      oscillator.stop(context.currentTime + start + 0.24);
    }
  }
}
