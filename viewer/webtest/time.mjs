// Stories of the time side: the score, remarks, windows in step, the recording
// that moved, what is taken out, frames, and how fast it all is.
// usage: node time.mjs STORY URL [FOLDER]
import fs from 'node:fs';
import path from 'node:path';
import { need } from '../../testdata/peer/need.mjs';
import { desktop, phone, story, text, title } from './page.mjs';

const [name, url, folder] = process.argv.slice(2);
const sleep = (ms) => new Promise((done) => setTimeout(done, ms));
const ready = (page) => page.waitForFunction(() => document.querySelectorAll('#score-tree li').length > 0 && document.getElementById('score-canvas').dataset.ms);
const active = (page, read) => page.evaluate((what) => document.activeElement?.getAttribute(what) ?? '', read);
const ask = (page, path) => page.evaluate(async (p) => (await fetch(p)).json(), path);

const stories = {
  // The score by keys alone: regions open, muscles are asked about, time is
  // zoomed and moved, and it is said in words.
  async score({ open, must, until }) {
    const page = await open();
    await ready(page);
    const ink = () => page.evaluate(() => {
      const c = document.getElementById('score-canvas');
      const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
      let [plum, green] = [0, 0];
      for (let i = 0; i < d.length; i += 4) {
        if (d[i] > d[i + 1] + 40 && d[i + 2] > d[i + 1] + 30) plum++;
        if (d[i + 1] > d[i] + 40 && d[i + 2] > d[i] + 20) green++;
      }
      return { plum, green };
    });
    const seen = await ink();
    must(seen.plum > 400 && seen.green > 100, `the ribbons show ${JSON.stringify(seen)}`);
    must((await page.locator('#score-tree [role=treeitem]').count()) === 11, 'not eleven regions');
    await page.focus('#score-tree [tabindex="0"]');
    for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowDown');
    must((await active(page, 'aria-label')).startsWith('thigh: '), `the ninth region is ${await active(page, 'aria-label')}`);
    await page.keyboard.press('ArrowRight');
    await until(page, 'an open region', () => document.querySelectorAll('#score-tree [aria-level="2"]').length > 5);
    must((await active(page, 'aria-expanded')) === 'true', 'the region does not say that it is open');
    await page.keyboard.press('ArrowRight');
    must((await active(page, 'aria-level')) === '2', 'no way from a region to its muscles');
    await page.keyboard.press('Enter');
    await page.waitForSelector('#muscle h3');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    must((await page.locator('#score-tree [aria-level="2"]').count()) === 0, 'the region does not close');
    await page.focus('#strip');
    await page.keyboard.press('End');
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    await until(page, 'less time', () => document.getElementById('score-span').textContent.endsWith('0:23.0'));
    await page.keyboard.press('Shift+ArrowLeft');
    await until(page, 'an earlier time', () => !document.getElementById('score-span').textContent.endsWith('0:23.0'));
    await page.keyboard.press('Home');
    await page.keyboard.press('0');
    await until(page, 'the whole', () => document.getElementById('score-span').textContent === '');
    await page.locator('#score-words summary').press('Enter');
    await until(page, 'the score in words', () => document.querySelectorAll('#score-table tbody tr').length === 4);
    must(/has to work|likely works/.test(await text(page, '#score-table')), 'the words do not say what works');
    // By pointer: a wheel zooms only with the key that says so.
    const at = await page.locator('#score-canvas').boundingBox();
    await page.mouse.move(at.x + 200, at.y + 60);
    await page.mouse.wheel(0, 200);
    must((await text(page, '#score-span')) === '', 'a wheel alone zooms instead of scrolling');
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -300);
    await page.keyboard.up('Control');
    await until(page, 'zoomed by wheel', () => document.getElementById('score-span').textContent !== '');
  },

  // By finding and by remark; a remark is written, answered, settled, taken back.
  async remarks({ open, must, until }) {
    const page = await open();
    const other = await open();
    await ready(page);
    await page.keyboard.press('f');
    await until(page, 'the next finding', () => document.getElementById('phase-title').textContent === 'Overhead reach');
    await page.keyboard.press('f');
    await until(page, 'the finding after', () => document.getElementById('phase-title').textContent.startsWith('Side reach'));
    await page.keyboard.press('Shift+F');
    await until(page, 'back', () => document.getElementById('phase-title').textContent === 'Overhead reach');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('t');
    await page.keyboard.type('Are the ribs <b>down</b>?');
    await page.fill('#remark-by', 'Ana');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await until(other, 'the remark in the other window', () => document.querySelector('.remark-list .said')?.textContent === 'Are the ribs <b>down</b>?');
    await page.check('#remark-phase');
    await page.fill('#remark-text', 'Hold this one longer.');
    await page.locator('#remark-text').press('Control+Enter');
    await until(page, 'two pins', () => document.querySelectorAll('#strip .pin').length === 2);
    must((await page.inputValue('#remark-by')) === 'Ana', 'the name has to be typed again');
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('Home');
    await page.locator('#strip').press('Home');
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('c');
    must((await text(page, '#clock')) === '0:04.000', `the first remark stands at ${await text(page, '#clock')}`);
    await page.keyboard.press('c');
    must((await text(page, '#clock')) === '0:05.000', `the second stands at ${await text(page, '#clock')}`);
    await page.selectOption('#jump-by', 'remark');
    await page.click('#prev-mark');
    must((await text(page, '#clock')) === '0:04.000', 'the buttons do not jump by remark');
    await other.fill('#remark-by', 'Ben');
    await other.locator('#remark-1 button', { hasText: 'Answer' }).click();
    await other.keyboard.type('They are, since this morning.');
    await other.reload();
    await other.waitForSelector('#answer-1');
    must((await other.inputValue('#answer-1')) === 'They are, since this morning.', 'the answer that was being written is lost by reloading');
    await other.locator('.answering button', { hasText: 'Answer and settle' }).click();
    await until(page, 'the answer, settled', () => document.querySelector('#remark-1.settled .answer')?.textContent.includes('since this morning'));
    const [remark] = (await ask(page, '/api/report')).remarks.filter((r) => r.id === 1);
    must(remark.by === 'Ana' && remark.at_ms === 5000 && remark.settled, `it is kept as ${JSON.stringify(remark)}`);
    await page.check('#remarks-open');
    must((await page.locator('.remark-list li').count()) === 1, 'settled remarks are not left out');
    await page.click('#undo');
    await until(other, 'open again in the other window', () => document.querySelector('#remark-1') && !document.querySelector('#remark-1.settled'));
  },

  // Two windows in step, by choice; a remark that is written waits out a restart.
  async step({ open, must, until }) {
    const page = await open();
    const other = await open();
    await page.locator('#strip').press('PageUp');
    await sleep(300);
    must((await text(other, '#clock')).startsWith('0:00'), 'a window follows that was not told to');
    for (const p of [page, other]) await p.check('#follow');
    await page.locator('#strip').press('ArrowRight');
    await until(other, 'the other window at the same moment', () => document.getElementById('clock').textContent === '0:11.000');
    await sleep(500);
    await other.locator('#strip').press('Home');
    await until(page, 'this window at the same moment', () => document.getElementById('clock').textContent.startsWith('0:00'));
    await sleep(500);
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press(' ');
    await until(other, 'playing there too', () => document.querySelector('#play .sr').textContent === 'Pause');
    await sleep(2500);
    const clocks = await Promise.all([page, other].map((p) => p.evaluate(() => Number(document.getElementById('clock').textContent.split(':')[1]))));
    must(Math.abs(clocks[0] - clocks[1]) < 0.35 && clocks[0] > 1.5, `while playing they stand at ${clocks}`);
    await page.keyboard.press(' ');
    await until(other, 'paused there too', () => document.querySelector('#play .sr').textContent === 'Play');
  },

  // The recording is gone: said, looked for, dropped; the rest of the page works.
  async moved({ open, must, until, notes }) {
    const page = await open();
    await page.waitForSelector('#recording-folder');
    must((await text(page, '#noscreen')).includes('not where it was'), 'the page does not say what is wrong');
    await page.locator('#strip').press('PageUp');
    must((await title(page)) === 'Holding it', 'the playhead needs the recording');
    page.forgiving = true; // a folder that does not hold it is answered with 404
    await page.setInputFiles('#recording-file', path.join(folder, 'other.mp4'));
    await until(page, 'that it is another file', () => document.getElementById('noscreen').textContent.includes('another file'));
    must(await page.locator('#video').isHidden(), 'another file is played');
    await page.reload();
    await page.waitForSelector('#recording-folder');
    await page.setInputFiles('#recording-file', path.join(folder, 'hidden', 'warm-up.mp4'));
    await until(page, 'the dropped recording', () => !document.getElementById('video').hidden && document.getElementById('video').readyState >= 2);
    notes.played = await page.evaluate(() => document.getElementById('video').src.split(':')[0]);
    must(notes.played === 'blob', `it plays from ${notes.played}`);
    await page.reload();
    await page.fill('#recording-folder', path.join(folder, 'hidden'));
    await page.click('#noscreen form button');
    await until(page, 'the recording that was found', () => document.getElementById('video').src.includes('/media/') && document.getElementById('video').readyState >= 2);
    must((await page.evaluate(() => document.getElementById('clock').textContent)) !== '', 'no clock');
  },

  // Every file can be kept; captions stand over the picture as they are written.
  async downloads({ open, must, until, notes }) {
    const page = await open({ acceptDownloads: true });
    await page.waitForFunction(() => document.getElementById('video').readyState >= 2);
    await page.click('#export');
    await page.waitForSelector('#export-list li');
    const formats = await ask(page, '/api/exports');
    must((await page.locator('#export-list li').count()) === formats.length, 'not every format is offered');
    notes.kept = 0;
    page.forgiving = true; // a format whose rules this study does not meet is refused
    for (const [i, f] of formats.entries()) {
      const gets = page.waitForEvent('download', { timeout: 5000 }).catch(() => null);
      await page.locator('#export-list button').nth(i).click();
      const got = await gets;
      if (!got) {
        const told = await page.locator('#export-list .told').nth(i).innerText();
        must(told.length > 10, `${f.name} is neither kept nor is it said why`);
        continue;
      }
      notes.kept++;
      must(got.suggestedFilename() === f.file, `${f.name} is kept as ${got.suggestedFilename()}`);
      must(fs.statSync(await got.path()).size > 10, `${f.name} is empty`);
    }
    await page.keyboard.press('Escape');
    await page.check('#captions');
    await until(page, 'captions over the picture', () => document.getElementById('video').textTracks[0]?.mode === 'showing' && document.getElementById('video').textTracks[0].cues?.length > 2);
    const cues = await page.evaluate(() => [...document.getElementById('video').textTracks[0].cues].map((c) => c.text));
    const file = await page.evaluate(async () => (await fetch('/api/exports/captions')).text());
    notes.cues = cues.length;
    must(cues.every((c) => file.includes(c.split('\n')[0])), 'the captions shown are not those that are written');
    await page.uncheck('#captions');
    must((await page.locator('track').count()) === 0, 'captions cannot be taken away');
  },

  // 200 frames in no order, by the page's own stepping and jumping.
  async seek({ open, must, notes }) {
    const page = await open();
    await page.waitForFunction(() => document.getElementById('video').readyState >= 2);
    const found = await page.evaluate(async () => {
      const { seekTime, frameTime } = await import('/web/frames.js');
      const f = await (await fetch('/api/frames')).json();
      const v = document.getElementById('video');
      const wrong = [];
      let silent = 0;
      let n = 0;
      for (let i = 0; i < 200; i++) {
        let next = (n * 7919 + i * 104729 + 31) % f.count;
        if (next === n) next = (next + 1) % f.count; // the browser shows no frame anew
        n = next;
        const shown = new Promise((done) => v.requestVideoFrameCallback((_, m) => done(m.mediaTime)));
        v.currentTime = seekTime(f, n) / 1000;
        const t = await Promise.race([shown, new Promise((done) => setTimeout(done, 2500, -1))]);
        if (t < 0) silent++;
        else if (Math.abs(t * 1e6 - frameTime(f, n)) > 1500) wrong.push(`frame ${n} at ${frameTime(f, n)} µs shows ${Math.round(t * 1e6)}`);
      }
      return { wrong, silent, count: f.count, variable: f.times_us.length > 0 };
    });
    Object.assign(notes, { ...found, wrong: found.wrong.length });
    must(!found.wrong.length, `${found.wrong.length} of 200 wrong: ${found.wrong.slice(0, 4).join('; ')}`);
    must(found.silent < 10, `${found.silent} of 200 frames were not confirmed by the browser`);
  },

  // A thousand phases: how long the score takes to draw, and frames while scrubbing.
  async speed({ open, must, notes }) {
    const page = await open();
    await ready(page);
    await page.waitForSelector('.statement');
    Object.assign(notes, await page.evaluate(async () => {
      const paint = performance.getEntriesByName('first-contentful-paint')[0];
      const score = document.getElementById('score-canvas');
      const strip = document.getElementById('strip');
      const sorted = (list) => [...list].sort((a, b) => a - b);
      const part = (list, p) => Math.round(sorted(list)[Math.floor(p * (list.length - 1))] * 10) / 10;
      const box = strip.getBoundingClientRect();
      const point = (kind, share) => strip.dispatchEvent(new PointerEvent(kind, { button: 0, buttons: 1, pointerId: 1, bubbles: true, clientX: box.left + share * box.width, clientY: box.top + 40 }));
      strip.setPointerCapture = () => {};
      const frames = (seconds, act) => new Promise((done) => {
        const gaps = [];
        const work = [];
        const from = performance.now();
        let last = 0;
        const tick = (now) => {
          if (last) gaps.push(now - last);
          last = now;
          const began = performance.now();
          act((performance.now() - from) / (seconds * 1000));
          setTimeout(() => work.push(performance.now() - began));
          if (performance.now() - from < seconds * 1000) requestAnimationFrame(tick);
          else done({ p50: part(gaps, 0.5), p95: part(gaps, 0.95), under17: Math.round((gaps.filter((g) => g < 17.2).length / gaps.length) * 1000) / 10, frames: gaps.length, work95: part(work, 0.95) });
        };
        requestAnimationFrame(tick);
      });
      const idle = await frames(2, () => {});
      point('pointerdown', 0);
      // A hand that goes over the whole study and back.
      const scrub = await frames(8, (t) => point('pointermove', 0.5 - 0.5 * Math.cos(t * Math.PI * 2)));
      point('pointerup', 0);
      const draw = [];
      for (const [i, id] of ['zoom-in', 'zoom-in', 'pan-right', 'pan-right', 'pan-left', 'zoom-in', 'zoom-out', 'zoom-whole'].entries()) {
        document.getElementById(id).click();
        await new Promise((d) => requestAnimationFrame(() => requestAnimationFrame(d)));
        draw.push([`${i} ${id}`, Number(score.dataset.ms)]);
      }
      return { phases: Number(strip.dataset.phases), paint_ms: Math.round(paint?.startTime), idle, scrub, figure_ms: Number(document.getElementById('figure').dataset.ms), draw };
    }));
    must(notes.phases === 1000, `${notes.phases} phases`);
    const middle = notes.draw.map(([, ms]) => ms).sort((a, b) => a - b)[notes.draw.length >> 1];
    must(middle < 50, `the score takes ${middle} ms to draw`); // a few on an idle machine; others may be busy on this one
  },

  // Scrubbing leaves nothing behind.
  async memory({ open, must, notes }) {
    const page = await open();
    await ready(page);
    const cdp = await page.context().newCDPSession(page);
    await cdp.send('HeapProfiler.enable');
    const used = async () => {
      await cdp.send('HeapProfiler.collectGarbage');
      return (await cdp.send('Runtime.getHeapUsage')).usedSize / 1e6;
    };
    const nodes = async () => (await cdp.send('Memory.getDOMCounters'));
    const scrub = (seconds) => page.evaluate((s) => new Promise((done) => {
      const strip = document.getElementById('strip');
      strip.setPointerCapture = () => {};
      const box = strip.getBoundingClientRect();
      const point = (kind, share) => strip.dispatchEvent(new PointerEvent(kind, { button: 0, pointerId: 1, bubbles: true, clientX: box.left + share * box.width, clientY: box.top + 40 }));
      const from = performance.now();
      point('pointerdown', 0);
      const tick = () => {
        const t = (performance.now() - from) / 1000;
        point('pointermove', 0.5 - 0.5 * Math.cos(t));
        if (t < s) requestAnimationFrame(tick);
        else done(point('pointerup', 0));
      };
      tick();
    }), seconds);
    const seconds = Number(process.env.TAUTLINE_SCRUB_S ?? 12);
    await scrub(seconds / 2); // caches fill
    const [before, had] = [await used(), await nodes()];
    await scrub(seconds);
    const [after, has] = [await used(), await nodes()];
    Object.assign(notes, { seconds, before_mb: before, after_mb: after, nodes: [had.nodes, has.nodes], listeners: [had.jsEventListeners, has.jsEventListeners] });
    must(after - before < 4, `the heap grew from ${before.toFixed(1)} to ${after.toFixed(1)} MB`);
    must(has.nodes < had.nodes * 1.3 + 500, `elements grew from ${had.nodes} to ${has.nodes}`);
  },

  // No violation in the states of the time side; nothing cut off at 200 % and in
  // forced colours.
  async axe({ open, must, notes }) {
    const source = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    notes.passes = 0;
    const zoomed = { width: desktop.width / 2, height: desktop.height / 2 };
    for (const [view, options] of Object.entries({
      light: { viewport: desktop }, dark: { viewport: desktop, colorScheme: 'dark' }, phone: { viewport: phone }, zoomed: { viewport: zoomed, deviceScaleFactor: 2 }, forced: { viewport: desktop, forcedColors: 'active' },
    })) {
      const page = await open({ bypassCSP: true, reducedMotion: 'reduce', ...options });
      await ready(page);
      await page.evaluate(source);
      const states = {
        muscles: async () => (await page.click('#rows-all'), await page.click('#zoom-in')),
        words: async () => page.click('#score-words summary'),
        remark: async () => {
          await page.fill('#remark-text', 'Slower here?');
          await page.click('.remark-form button[type=submit]');
          await page.waitForSelector('.remark-list li');
        },
        answer: async () => page.locator('.remark-list button', { hasText: 'Answer' }).first().click(),
        'take out': async () => (await page.click('#export'), await page.waitForSelector('#export-list li')),
      };
      for (const [state, enter] of Object.entries(states)) {
        await enter();
        await page.waitForTimeout(150);
        if (folder) await page.screenshot({ path: path.join(folder, `time-${view}-${state.replace(' ', '-')}.png`) });
        // Forced colours are put in when the page is painted; styles still tell the page's own, so their contrast says nothing.
        const r = await page.evaluate(([runOnly, contrast]) => window.axe.run({ runOnly, rules: { 'color-contrast': { enabled: contrast } } }), [tags, view !== 'forced']);
        notes.passes += r.passes.length;
        for (const v of r.violations) must(false, `${view}, ${state}: ${v.id} ${v.nodes[0].html.slice(0, 140)} ${v.nodes[0].failureSummary.split('\n')[1] ?? ''}`);
      }
      await page.keyboard.press('Escape');
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      must(wide <= 0, `${view}: the page is ${wide} px too wide`);
      const small = await page.evaluate(() => [...document.querySelectorAll('.time button, .time select, .time input, .time summary, .talk button, .talk input, [role=treeitem]')]
        .filter((e) => e.checkVisibility()).map((e) => [e.id || e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])
        .filter(([, r]) => r.width < 24 || r.height < 24).map(([n, r]) => `${n} ${Math.round(r.width)}x${Math.round(r.height)}`));
      must(!small.length, `${view}: targets under 24 px: ${small.join(', ')}`);
    }
  },
};

await story(url, stories[name]);
