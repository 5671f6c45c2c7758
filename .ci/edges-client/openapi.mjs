// What the linter says of the description of the API: no error and at most ten warnings.
import { readFileSync } from "node:fs";

const { problems } = JSON.parse(readFileSync(process.argv[2], "utf8"));
for (const one of problems) console.log(`${one.severity} ${one.ruleId} ${one.location[0]?.pointer ?? ""}: ${one.message}`);
const errors = problems.filter((one) => one.severity === "error").length;
const warnings = problems.length - errors;
console.log(`${errors} errors, ${warnings} warnings`);
if (errors > 0 || warnings > 10) process.exit(1);
