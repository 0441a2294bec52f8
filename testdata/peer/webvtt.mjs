// The W3C validator's reading of WebVTT files.
// usage: node webvtt.mjs KIND=FILE ...   KIND: captions, chapters or metadata
// prints [{file, kind, cues: [{id, start_ms, end_ms, text}], problems: [text]}]
import fs from 'node:fs';
import { answer, ms, need } from './need.mjs';

const { WebVTTParser } = need('webvtt-parser');
const entities = need('webvtt-parser/html-entities.json');

// plain joins the text nodes of the parsed cue, in order.
const plain = (node) => (node.type === 'text' ? node.value : (node.children ?? []).map(plain).join(''));

answer(process.argv.slice(2).map((argument) => {
  const cut = argument.indexOf('=');
  const kind = argument.slice(0, cut);
  const file = argument.slice(cut + 1);
  const { cues, errors } = new WebVTTParser(entities).parse(fs.readFileSync(file, 'utf8'), kind);
  return {
    file,
    kind,
    cues: cues.map((c) => ({
      id: c.id,
      start_ms: ms(c.startTime),
      end_ms: ms(c.endTime),
      text: kind === 'metadata' ? c.text : plain(c.tree),
    })),
    problems: errors.map((e) => `line ${e.line}: ${e.message}`),
  };
}));
