// What a real browser makes of WebVTT files on a <track>: ids, times and text.
// A browser forgives almost everything, so the test compares every cue.
// usage: node tracks.mjs KIND=FILE ...
// prints [{file, kind, cues: [{id, start_ms, end_ms, text}], problems: [text]}]
import fs from 'node:fs';
import http from 'node:http';
import { answer, browser, ms } from './need.mjs';

const wanted = process.argv.slice(2).map((argument) => {
  const cut = argument.indexOf('=');
  return { kind: argument.slice(0, cut), file: argument.slice(cut + 1) };
});
const site = http.createServer((request, response) => {
  const number = /^\/(\d+)\.vtt$/.exec(request.url)?.[1];
  if (number) return response.writeHead(200, { 'content-type': 'text/vtt; charset=utf-8' }).end(fs.readFileSync(wanted[number].file));
  return response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end('<!doctype html><html lang="en"><title>tracks</title><body></body></html>');
});
await new Promise((ready) => site.listen(0, '127.0.0.1', ready));
const chromium = await browser();
const page = await chromium.newPage();
await page.goto(`http://127.0.0.1:${site.address().port}/`);

const results = [];
for (const [i, { kind, file }] of wanted.entries()) {
  const { state, cues } = await page.evaluate(async ([kind, url]) => {
    const video = document.body.appendChild(document.createElement('video'));
    const track = document.createElement('track');
    const settled = new Promise((done) => {
      track.onload = track.onerror = done;
      setTimeout(done, 30000);
    });
    Object.assign(track, { kind, srclang: 'en', src: url });
    video.append(track);
    track.track.mode = 'hidden';
    await settled;
    const text = (cue) => (kind === 'metadata' ? cue.text : cue.getCueAsHTML().textContent);
    const cues = [...(track.track.cues ?? [])].map((c) => [c.id, c.startTime, c.endTime, text(c)]);
    video.remove();
    return { state: track.readyState, cues };
  }, [kind, `/${i}.vtt`]);
  results.push({
    file,
    kind,
    cues: cues.map(([id, start, end, text]) => ({ id, start_ms: ms(start), end_ms: ms(end), text })),
    problems: state === 2 ? [] : ['the browser could not load the track'],
  });
}
await chromium.close();
site.close();
answer(results);
