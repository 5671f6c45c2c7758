// A calendar, read by a third library.
import ICAL from "ical.js";
import { readFileSync } from "node:fs";

const calendar = new ICAL.Component(ICAL.parse(readFileSync(process.argv[2], "utf8")));
const events = calendar.getAllSubcomponents("vevent").map((one) => new ICAL.Event(one));
for (const one of events) console.log(`${one.startDate} to ${one.endDate}: ${one.summary}`);
console.log(`${events.length} events`);
