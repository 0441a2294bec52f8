// TTML read by imscJS: every paragraph with its time and text, and what stands on
// the screen in the middle of the first paragraphs.
// usage: node ttml.mjs FILE ...
// prints [{file, cues: [{id, start_ms, end_ms, text}], language, align, problems}]
import fs from 'node:fs';
import path from 'node:path';
import { answer, ms, need } from './need.mjs';

const doc = need('imsc/src/main/js/doc.js');
const isd = need('imsc/src/main/js/isd.js');
const screens = 100; // laying out takes time that grows with the whole file

const text = (node) => (node.kind === 'br' ? '\n' : node.text ?? (node.contents ?? []).map(text).join(''));
const paragraphs = (node) => (node.kind === 'p' ? [node] : (node.contents ?? []).flatMap(paragraphs));

answer(process.argv.slice(2).map((file) => {
  const problems = [];
  const say = (message) => void problems.push(message);
  const handler = { info: say, warn: say, error: say, fatal: say };
  const result = { file: path.basename(file), cues: [], problems };
  try {
    const tt = doc.fromXML(fs.readFileSync(file, 'utf8'), handler);
    const all = tt.body ? paragraphs(tt.body) : [];
    result.cues = all.map((p) => ({ id: p.id ?? '', start_ms: ms(p.begin), end_ms: ms(p.end), text: text(p) }));
    result.language = tt.lang;
    result.align = Object.values(tt.head.layout.regions).map((r) => r.styleAttrs['http://www.w3.org/ns/ttml#styling displayAlign']);
    const moments = tt.getMediaTimeEvents().length;
    if (all.length > 0 && moments < all.length) say(`${moments} moments for ${all.length} paragraphs`);
    for (const c of result.cues.slice(0, screens)) {
      const shown = text(isd.generateISD(tt, (c.start_ms + c.end_ms) / 2000, handler));
      if (shown !== c.text) say(`${c.id} shows ${JSON.stringify(shown)}`);
    }
  } catch (e) {
    say(`imscJS gave up: ${e.message}`);
  }
  return result;
}));
