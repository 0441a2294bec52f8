// What the scripts share: the npm packages, milliseconds, and the way a result
// is handed back: one JSON value on standard output.
import { createRequire } from 'node:module';
import path from 'node:path';

const modules = process.env.TAUTLINE_PEER_MODULES ?? path.join(import.meta.dirname, 'node_modules');

// need loads an npm package from the folder that the test named.
export const need = createRequire(path.join(modules, '..', 'anchor.cjs'));

// ms turns a parser's seconds into whole milliseconds.
export const ms = (seconds) => Math.round(seconds * 1000);

export const answer = (value) => process.stdout.write(JSON.stringify(value) + '\n');

// browser starts the Chromium that $CHROMIUM names. As root it has no sandbox.
export async function browser(...extra) {
  const root = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return need('playwright-core').chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [...root, ...extra],
  });
}
