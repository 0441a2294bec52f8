// Two caption tracks over one recording in a real browser: pictures of the
// recording alone, with the first track, and with the second.
// usage: node share.mjs RECORDING FIRST.vtt SECOND.vtt SECONDS FOLDER
// writes none.png, first.png and second.png into FOLDER, prints []
import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { answer, browser } from './need.mjs';

const [recording, first, second, seconds, folder] = process.argv.slice(2);
const files = { '/first.vtt': ['text/vtt', first], '/second.vtt': ['text/vtt', second], '/recording': ['video/mp4', recording] };
const site = http.createServer((request, response) => {
  const [type, file] = files[request.url] ?? [];
  if (file) return response.writeHead(200, { 'content-type': type, 'accept-ranges': 'none' }).end(fs.readFileSync(file));
  return response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(
    '<!doctype html><html lang="en"><title>share</title><style>body{margin:0}</style><video muted preload="auto" width="854" height="480" src="/recording">' +
    '<track kind="captions" srclang="en" src="/first.vtt"><track kind="captions" srclang="en" src="/second.vtt"></video></html>');
});
await new Promise((ready) => site.listen(0, '127.0.0.1', ready));
const chromium = await browser();
const page = await chromium.newPage({ viewport: { width: 854, height: 480 } });
await page.goto(`http://127.0.0.1:${site.address().port}/`);
await page.evaluate(async (at) => {
  const video = document.querySelector('video');
  const loaded = [...document.querySelectorAll('track')].map((t) => new Promise((done) => {
    t.onload = t.onerror = done;
    t.track.mode = 'hidden';
  }));
  await Promise.all(loaded);
  const there = new Promise((done) => { video.onseeked = done; });
  video.currentTime = at;
  await there;
}, Number(seconds));
for (const [name, modes] of [['none', ['hidden', 'hidden']], ['first', ['showing', 'hidden']], ['second', ['hidden', 'showing']]]) {
  await page.evaluate((modes) => document.querySelectorAll('track').forEach((t, i) => { t.track.mode = modes[i]; }), modes);
  await page.waitForTimeout(400);
  await page.screenshot({ path: path.join(folder, `${name}.png`) });
}
await chromium.close();
site.close();
answer([]);
