// Stories of people using the page, in a real browser.
// usage: node stories.mjs STORY URL [FOLDER]
// prints {problems: [text], notes: {}}; no problem means that the story went well
import fs from 'node:fs';
import path from 'node:path';
import { need } from '../../testdata/peer/need.mjs';
import { desktop, phases, phone, story, text, title } from './page.mjs';

const [name, url, folder] = process.argv.slice(2);
const views = [['desktop', desktop], ['phone', phone]].flatMap(([n, viewport]) => ['light', 'dark'].map((colorScheme) => ({ name: `${n}-${colorScheme}`, viewport, colorScheme })));

const stories = {
  // Opening: nothing from outside, no error, something to see and to read.
  async open({ open, must, notes }) {
    const page = await open();
    await page.waitForSelector('.statement');
    const t = await page.evaluate(() => {
      const paint = performance.getEntriesByName('first-contentful-paint')[0];
      return {
        paint_ms: paint?.startTime, load_ms: performance.timing.loadEventEnd - performance.timing.navigationStart,
        files: performance.getEntriesByType('resource').filter((r) => r.name.includes('/web/')).length,
        bytes: performance.getEntriesByType('resource').filter((r) => r.name.includes('/web/')).reduce((n, r) => n + r.decodedBodySize, 0),
        figure_ms: Number(document.getElementById('figure').dataset.ms),
      };
    });
    Object.assign(notes, t);
    const drawn = await page.evaluate(() => {
      const c = document.getElementById('figure');
      const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
      let opaque = 0;
      const tones = new Set();
      for (let i = 0; i < d.length; i += 4) if (d[i + 3] > 200) opaque++, tones.add((d[i] >> 4) * 256 + (d[i + 1] >> 4) * 16 + (d[i + 2] >> 4));
      return { part: opaque / (d.length / 4), tones: tones.size };
    });
    must(drawn.part > 0.03 && drawn.part < 0.6, `the figure covers ${drawn.part} of its canvas`);
    must(drawn.tones > 20, `the figure has ${drawn.tones} tones`);
    must(!page.url().includes('token'), 'the secret stays in the address bar');
    must((await phases(page)) === 4, 'not four phases on the strip');
    await page.click('.statement summary');
    must((await page.locator('.statement[open] .reasons li').count()) > 0, 'a statement opens into no reason');
    const chip = page.locator('.statement[open] .chips button').first();
    await chip.click();
    await page.waitForSelector('#muscle h3');
    must((await text(page, '#muscle')).includes('span') || (await page.locator('#muscle .span').count()) === 1, 'the muscle does not say where it stands');
    must((await page.locator('#care summary').isVisible()), 'care cannot be reached');
  },

  // A mark set here reaches the store; one set elsewhere appears here. Two windows agree.
  async marks({ open, must, until }) {
    const page = await open();
    const other = await open();
    for (const p of [page, other]) await p.click('#marks summary');
    await page.keyboard.press('m');
    await until(page, 'the new mark on the strip', () => Number(document.getElementById('strip').dataset.phases) === 5);
    await page.fill('#mark-title', 'From the page');
    await page.fill('#mark-words', 'standing; kness flexed 40');
    await until(page, 'what was not understood', () => document.querySelector('#reading mark'));
    await page.fill('#mark-words', 'standing; knees flexed 40');
    await until(page, 'the words as understood', () => document.getElementById('reading').innerText.includes('40°') && !document.querySelector('#reading mark'));
    await page.click('#desk button[type=submit]');
    await until(other, 'the mark in the other window', () => document.getElementById('mark-list').textContent.includes('From the page'));
    // The test now adds a mark by another way than this server.
    for (const p of [page, other]) await until(p, 'a mark from outside', () => document.getElementById('mark-list').textContent.includes('From outside'));
    const count = await phases(page);
    await page.click('#undo');
    await until(other, 'undo in the other window', (n) => Number(document.getElementById('strip').dataset.phases) === n - 1, count);
    await page.keyboard.press('Control+Shift+z');
    await until(other, 'done again', (n) => Number(document.getElementById('strip').dataset.phases) === n, count);
    must(await page.isDisabled('#redo'), 'redo is still offered');
  },

  // By keyboard alone, and with single keys switched off.
  async keyboard({ open, must, until }) {
    const page = await open();
    await page.focus('#strip');
    await page.keyboard.press('End');
    await page.keyboard.press('Home');
    await page.keyboard.press('PageUp');
    await page.keyboard.press('ArrowRight');
    const spoken = await page.getAttribute('#strip', 'aria-valuetext');
    must(/^11 seconds, Holding it, moving$/.test(spoken), `the place is spoken as “${spoken}”`);
    await page.keyboard.press('[');
    await until(page, 'back to the phase before', () => document.getElementById('phase-title').textContent === 'Holding it' && document.getElementById('clock').textContent === '0:09.000');
    await page.keyboard.press(']');
    await until(page, 'on to the next mark', () => document.getElementById('phase-title').textContent.startsWith('Side reach'));
    must((await title(page)) === 'Side reach <b>&', 'markup in a title is not shown as text');
    await page.keyboard.press('?');
    must(await page.locator('#keys').evaluate((d) => d.open), 'help does not open');
    await page.uncheck('#keys-on');
    await page.keyboard.press('Escape');
    const before = await text(page, '#clock');
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('[');
    must((await text(page, '#clock')) === before, 'a single key works although switched off');
    await page.keyboard.press('?');
    must(!(await page.locator('#keys').evaluate((d) => d.open)), 'a single key opens help although switched off');
    await page.click('#help');
    await page.check('#keys-on');
    await page.keyboard.press('Escape');
    await page.focus('#mark-title');
    await page.keyboard.type('m[]');
    must((await phases(page)) === 4, 'typing in a field sets marks');
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('v');
    must((await page.getAttribute('[data-view="left"]', 'aria-pressed')) === 'true', 'V does not turn the figure');
    await page.keyboard.press(' ');
    await until(page, 'its own clock running', () => document.querySelector('#play .sr').textContent === 'Pause');
    const from = await text(page, '#clock');
    await page.waitForTimeout(400);
    must((await text(page, '#clock')) !== from, 'the clock stands');
    await page.keyboard.press(' ');
    // Every stop of the tab key can be seen and is large enough to hit.
    const small = await page.evaluate(() => [...document.querySelectorAll('button, select, input, summary, a[href], [tabindex="0"]')]
      .filter((e) => e.checkVisibility() && e.closest('dialog') === null && !e.classList.contains('skip'))
      .map((e) => [e.id || e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])
      .filter(([, r]) => r.width < 24 || r.height < 24).map(([n, r]) => `${n} ${Math.round(r.width)}x${Math.round(r.height)}`));
    must(!small.length, `targets under 24 px: ${small.join(', ')}`);
  },

  // The program goes away in the middle of typing and comes back.
  async gone({ open, must, until }) {
    const page = await open();
    await page.fill('#mark-title', 'Typed and not saved');
    page.forgiving = true; // refused connections are what this is about
    fs.writeFileSync(path.join(folder, 'typed'), '');
    await until(page, 'the banner', () => !document.getElementById('banner').hidden);
    must((await text(page, '#banner')).includes('kept'), 'the banner does not say that what is typed is kept');
    await page.fill('#mark-words', 'standing; typed while it was gone');
    await page.click('#desk button[type=submit]');
    must((await page.inputValue('#mark-title')) === 'Typed and not saved', 'what was typed is lost');
    fs.writeFileSync(path.join(folder, 'typed-more'), '');
    await until(page, 'the end of the banner', () => document.getElementById('banner').hidden);
    must((await page.inputValue('#mark-title')) === 'Typed and not saved', 'what was typed is lost when it comes back');
    await page.reload();
    await page.waitForSelector('.statement');
    must((await page.inputValue('#mark-words')) === 'standing; typed while it was gone', 'what was typed is lost by reloading');
    await page.click('#desk button[type=submit]');
    await until(page, 'saved', () => document.querySelector('#desk button[type=submit]').disabled && document.getElementById('phase-title').textContent === 'Typed and not saved');
  },

  // Every frame is reached by stepping, and the figure follows.
  async frames({ open, must, notes }) {
    const page = await open();
    await page.waitForFunction(() => document.getElementById('video').readyState >= 2);
    const shown = () => page.evaluate(() => new Promise((done) => {
      const v = document.getElementById('video');
      const timer = setTimeout(() => done(-1), 1500);
      v.requestVideoFrameCallback((_, m) => (clearTimeout(timer), done(m.mediaTime)));
    }));
    const wrong = [];
    const press = async (key, n) => {
      const seen = shown();
      await page.keyboard.press(key);
      let t = await seen;
      if (t < 0) {
        // The browser may leave a call back out; then the player's clock must
        // stand within the frame.
        unconfirmed++;
        t = Math.floor((await page.evaluate(() => document.getElementById('video').currentTime)) * 25) / 25;
      }
      if (Math.round(t * 25) !== n) wrong.push(`${key} to ${n}: ${t}`);
    };
    let unconfirmed = 0;
    for (let n = 1; n <= 12; n++) await press('.', n);
    for (let n = 11; n >= 8; n--) await press(',', n);
    must(unconfirmed < 5, `${unconfirmed} frames were not confirmed by the browser`);
    must(!wrong.length, wrong.join('; '));
    await page.keyboard.press('m');
    await page.waitForFunction(() => Number(document.getElementById('strip').dataset.phases) === 5);
    notes.mark_ms = await page.evaluate(async () => (await (await fetch('/api/report')).json()).phases.map((p) => p.from_ms));
    must(notes.mark_ms.includes(320), `the mark at frame 8 stands at ${notes.mark_ms}`);
  },

  // No violation in any state, at both widths, light and dark; nothing sticks out.
  async axe({ open, must, notes }) {
    const source = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    notes.passes = 0;
    for (const view of views) {
      const page = await open({ bypassCSP: true, colorScheme: view.colorScheme, viewport: view.viewport, reducedMotion: 'reduce' });
      await page.evaluate(source);
      const states = {
        start: async () => {},
        why: async () => page.click('.statement summary'),
        muscle: async () => page.locator('.statement[open] .chips button').first().click(),
        doubt: async () => page.locator('#strip').press('End'),
        help: async () => page.click('#help'),
      };
      for (const [state, enter] of Object.entries(states)) {
        await enter();
        await page.waitForTimeout(250);
        if (folder) await page.screenshot({ path: path.join(folder, `${view.name}-${state}.png`) });
        const r = await page.evaluate((runOnly) => window.axe.run({ runOnly }), tags);
        notes.passes += r.passes.length;
        for (const v of r.violations) must(false, `${view.name}, ${state}: ${v.id} ${v.nodes[0].html.slice(0, 120)} ${v.nodes[0].failureSummary.split('\n')[1] ?? ''}`);
      }
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      must(wide <= 0, `${view.name}: the page is ${wide} px too wide`);
    }
  },
};

await story(url, stories[name]);
