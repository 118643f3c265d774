// Usage: node validate.mjs FILE.glb...
// Holds each file to the glTF 2.0 specification with the validator of the standard's authors (npm install brings it).
// Demands no error and no warning; infos and hints are shown but pass. Exit status 1 if a file falls short or cannot be
// read, 2 if no file was named.
import {readFile} from 'node:fs/promises';
import validator from 'gltf-validator';

const severities = ['error', 'warning', 'info', 'hint'];

async function check(file) {
  const bytes = new Uint8Array(await readFile(file));
  const {issues} = await validator.validateBytes(bytes, {maxIssues: 0, writeTimestamp: false});
  for (const m of issues.messages) {
    console.log(`${file}: ${severities[m.severity]} ${m.code} at ${m.pointer ?? `byte ${m.offset}`}: ${m.message}`);
  }
  return issues.numErrors === 0 && issues.numWarnings === 0;
}

const files = process.argv.slice(2);
if (files.length === 0) {
  console.error('usage: node validate.mjs FILE.glb...');
  process.exit(2);
}
let failed = 0;
for (const file of files) {
  const passed = await check(file).catch((e) => (console.log(`${file}: ${e}`), false));
  if (!passed) failed++;
}
console.log(`${files.length - failed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
