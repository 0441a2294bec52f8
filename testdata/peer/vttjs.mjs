// A second reader of WebVTT, of the kind that sits inside web players; stricter
// than most: it refuses a byte order mark, STYLE and REGION.
// usage: node vttjs.mjs KIND=FILE ...
// prints [{file, kind, cues: [{id, start_ms, end_ms, text}], problems: [text]}]
import fs from 'node:fs';
import { answer, ms, need } from './need.mjs';

Object.defineProperty(globalThis, 'navigator', { value: { userAgent: 'node' }, configurable: true });
const { WebVTT, VTTCue, VTTRegion } = need('vtt.js');

const entities = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&lrm;': '\u200e', '&rlm;': '\u200f', '&nbsp;': '\u00a0' };

answer(process.argv.slice(2).map((argument) => {
  const cut = argument.indexOf('=');
  const cues = [];
  const problems = [];
  const parser = new WebVTT.Parser({ VTTCue, VTTRegion }, WebVTT.StringDecoder());
  parser.oncue = (c) => cues.push({
    id: c.id,
    start_ms: ms(c.startTime),
    end_ms: ms(c.endTime),
    text: c.text.replace(/&(amp|lt|gt|lrm|rlm|nbsp);/g, (entity) => entities[entity]),
  });
  parser.onregion = () => problems.push('a region');
  parser.onparsingerror = (e) => problems.push(e.message ?? String(e));
  parser.onflush = () => {};
  parser.parse(fs.readFileSync(argument.slice(cut + 1), 'utf8'));
  parser.flush();
  return { file: argument.slice(cut + 1), kind: argument.slice(0, cut), cues, problems };
}));
