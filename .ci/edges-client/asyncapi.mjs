// The description of the topics, read by the parser of the AsyncAPI project: no error, no warning.
import { Parser } from "@asyncapi/parser";
import { readFileSync } from "node:fs";

const { document, diagnostics } = await new Parser().parse(readFileSync(process.argv[2], "utf8"));
const bad = diagnostics.filter((one) => one.severity <= 1);
for (const one of bad) console.error(`${one.code} ${one.path.join(".")}: ${one.message}`);
if (!document || bad.length > 0) process.exit(1);
console.log(`${document.channels().all().length} topics, ${document.operations().all().length} operations`);
