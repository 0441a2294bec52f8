// JSON Schema 2020-12 by ajv, strict, formats asserted: first the schema itself,
// then each document.
// usage: node schema.mjs SCHEMA FILE ...
// prints [problem, ...]
import fs from 'node:fs';
import path from 'node:path';
import { answer, need } from './need.mjs';

const { default: Ajv } = need('ajv/dist/2020');
const { default: addFormats } = need('ajv-formats');
const read = (file) => JSON.parse(fs.readFileSync(file, 'utf8'));

const [schema, ...files] = process.argv.slice(2);
const problems = [];
try {
  const validate = addFormats(new Ajv({ strict: true, allErrors: true })).compile(read(schema));
  for (const file of files) {
    if (!validate(read(file))) {
      problems.push(...validate.errors.map((e) => `${path.basename(file)} ${e.instancePath || '/'} ${e.message} ${JSON.stringify(e.params)}`));
    }
  }
} catch (e) {
  problems.push(`${path.basename(schema)}: ${e.message}`);
}
answer(problems);
