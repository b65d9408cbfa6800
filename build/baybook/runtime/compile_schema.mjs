// Compiles the schema of bench sheets into a check that needs nothing else.
// Usage: node compile_schema.mjs NODE_MODULES SCHEMA OUTPUT
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";

const [modules, schema, output] = process.argv.slice(2);
const require = createRequire(`${modules}/`);
const Ajv = require("ajv/dist/2020").default;
const standalone = require("ajv/dist/standalone").default;

const ajv = new Ajv({ code: { source: true }, discriminator: true, strict: "log", strictRequired: false, strictTypes: false, unicode: false, inlineRefs: false });
const check = ajv.compile(JSON.parse(readFileSync(schema, "utf8")));
const text = standalone(ajv, check);
if (/\brequire\(/.test(text)) throw new Error("the check of the schema needs a module beside it");
writeFileSync(output, text);
