// Stories of people working on a posture in a real browser: writing it, turning
// its dials, asking why, measuring it on the picture, comparing it.
// usage: node body.mjs STORY URL [FOLDER]
// prints {problems: [text], notes: {}}; no problem means that the story went well
import fs from 'node:fs';
import path from 'node:path';
import { need } from '../../testdata/peer/need.mjs';
import { desktop, phone, story, text } from './page.mjs';

const [name, url, folder] = process.argv.slice(2);
const said = (page) => page.inputValue('#mark-words');
const quantile = (list, part) => [...list].sort((a, b) => a - b)[Math.floor((list.length - 1) * part)];

const stories = {
  // Words set the dials, dials write the words; what is tried shows before it is
  // kept, and is gone when it is put back.
  async posture({ open, must, until }) {
    const page = await open();
    await page.keyboard.press(']');
    await until(page, 'the overhead reach', () => document.getElementById('phase-title').textContent === 'Overhead reach');
    await until(page, 'what is found of it', () => /has to|likely/.test(document.getElementById('say').innerText));
    const was = await text(page, '#say');
    await page.fill('#mark-words', 'standing on toes; shoulders flexed 120; kness flexed 20');
    await until(page, 'what is being written among the findings', () => document.querySelector('.trying'));
    await until(page, 'near matches', () => [...document.querySelectorAll('#reading .chips button')].some((b) => b.textContent === 'knees'));
    await page.click('#reading .chips button:text-is("knees")');
    await until(page, 'the words as meant', () => document.getElementById('mark-words').value.includes('knees flexed 20') && !document.querySelector('#reading mark'));
    must(was !== (await text(page, '#say')), 'the findings do not change with the words');
    await page.click('text=Dials');
    await page.click('.tabs >> text=Hips and knees');
    await until(page, 'the knee on its dial', () => document.getElementById('dial-knee_flexion_r')?.value === '20');
    await page.fill('#dial-knee_flexion_r', '35');
    await until(page, 'the dial in the words', () => /both knees flexed 35°/.test(document.getElementById('mark-words').value));
    must(/both shoulders flexed 120°/.test(await said(page)), `the rest of the words is lost: ${await said(page)}`);
    await page.uncheck('.dials .check input');
    await page.fill('#dial-knee_flexion_l', '50');
    await until(page, 'one knee alone', () => /right knee flexed 35°; left knee flexed 50°|left knee flexed 50°; right knee flexed 35°/.test(document.getElementById('mark-words').value));
    await page.click('text=Mirror');
    await until(page, 'left for right', () => document.getElementById('dial-knee_flexion_r')?.value === '50');
    await page.fill('#dial-knee_flexion_r', '150');
    await until(page, 'what is past the range', () => /past the published range/.test(document.querySelector('.board').innerText));
    await page.click('text=Supports, loads, cues');
    await page.click('[aria-label="Add this load"]');
    await until(page, 'the load in the words', () => /both hands together carry 2 kg/.test(document.getElementById('mark-words').value));
    await page.click('[aria-label^="Remove each palm"]');
    await until(page, 'the load gone', () => !/carry/.test(document.getElementById('mark-words').value));
    await page.click('text=put back');
    await until(page, 'the findings as saved', () => !document.querySelector('.trying'));
    await until(page, 'the same findings again', (was) => document.getElementById('say').innerText === was, was);
  },

  // A posture copied, kept by a name, used again, and undone like anything else.
  async kept({ open, must, until }) {
    const page = await open();
    await page.keyboard.press(']');
    await page.click('summary:text("Kept postures")');
    await page.fill('[aria-label="Name to keep this posture by"]', 'our reach');
    await page.click('text=Keep this one');
    await until(page, 'it among the kept ones', () => document.querySelector('.kept .rows')?.textContent.includes('our reach'));
    await page.keyboard.press('Escape');
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press(']');
    await page.keyboard.press(']');
    await until(page, 'the side reach', () => document.getElementById('mark-title').value.startsWith('Side reach'));
    await page.selectOption('[aria-label="Copy a posture"]', { label: 'our reach' });
    await until(page, 'its words here', () => document.getElementById('mark-words').value.startsWith('standing on toes; shoulders flexed 170'));
    await page.click('#desk button[type=submit]');
    await until(page, 'saved', () => document.querySelector('#desk button[type=submit]').disabled && !document.querySelector('.trying'));
    await page.click('#undo');
    await until(page, 'undone', () => document.getElementById('mark-words').value.startsWith('standing; right shoulder'));
    await page.click('#undo');
    await until(page, 'forgotten', () => !document.querySelector('.kept .rows')?.textContent.includes('our reach'));
    must((await page.locator('[aria-label="Copy a posture"] optgroup').count()) === 1, 'a group of nothing is offered');
  },

  // How long a dial takes to show on the findings, while it is turned without a
  // rest, and in single steps with the whole answer being worked out meanwhile.
  async quick({ open, must, notes }) {
    const page = await open();
    await page.keyboard.press(']');
    await page.click('text=Dials');
    await page.waitForSelector('#dial-shoulder_flexion_r');
    const measure = (rest) => page.evaluate(async (pause) => {
      const slider = document.getElementById('dial-shoulder_flexion_r');
      const times = [];
      for (let i = 0; i < 60; i++) {
        slider.value = String(30 + ((i * 7) % 130));
        const began = performance.now();
        const shown = new Promise((done) => {
          const o = new MutationObserver(() => {
            o.disconnect();
            requestAnimationFrame(() => setTimeout(() => done(performance.now()), 0));
          });
          o.observe(document.getElementById('say'), { childList: true });
        });
        slider.dispatchEvent(new Event('input'));
        times.push((await shown) - began);
        await new Promise((r) => setTimeout(r, pause));
      }
      return times;
    }, rest);
    for (const [how, rest] of [['turning', 0], ['steps', 240]]) {
      const times = await measure(rest);
      notes[`${how}_p50_ms`] = Math.round(quantile(times, 0.5));
      notes[`${how}_p95_ms`] = Math.round(quantile(times, 0.95));
      must(times.length === 60, 'a move was lost');
    }
  },

  // An angle on a known picture: the dots are found on the screen as an eye would
  // find them, clicked, read, kept, set on a joint, and moved by keys alone.
  async measure({ open, must, until, notes }) {
    const page = await open();
    await page.waitForFunction(() => document.getElementById('video').readyState >= 2);
    await page.click('text=Angle from the picture');
    await page.waitForSelector('.points');
    const dots = await page.evaluate(async (shot) => {
      const image = await createImageBitmap(new Blob([Uint8Array.from(atob(shot), (c) => c.charCodeAt(0))]));
      const canvas = new OffscreenCanvas(image.width, image.height);
      const ctx = canvas.getContext('2d');
      ctx.drawImage(image, 0, 0);
      const box = document.getElementById('screen').getBoundingClientRect();
      const d = ctx.getImageData(box.left, box.top, box.width, box.height);
      const found = [[], [], [], []];
      for (let i = 0; i < d.data.length; i += 4) {
        const [r, g, b] = [d.data[i] > 150, d.data[i + 1] > 150, d.data[i + 2] > 150];
        if (!r && !g && !b) continue;
        const which = r && !g && !b ? 0 : g && !r && !b ? 1 : b && !r && !g ? 2 : r && g && !b ? 3 : -1;
        if (which < 0) continue;
        const n = i / 4;
        found[which].push([n % d.width, Math.floor(n / d.width)]);
      }
      // The middle of each dot is the middle of its pixels: a stray one moves it by nothing.
      const middle = (list, k) => list.map((p) => p[k]).sort((a, b) => a - b)[list.length >> 1] + 0.5;
      return found.map((list) => ({ x: box.left + middle(list, 0), y: box.top + middle(list, 1), n: list.length }));
    }, (await page.screenshot()).toString('base64'));
    notes.dots = dots;
    must(dots.every((d) => d.n > 20), `the dots are not on the screen: ${JSON.stringify(dots)}`);
    for (const d of dots.slice(0, 3)) await page.mouse.click(d.x, d.y);
    const read = async () => Number.parseFloat(await text(page, '.reads'));
    notes.three = await read();
    await page.mouse.click(dots[3].x, dots[3].y);
    notes.four = await read();
    must(/adds up to/.test(await text(page, '.measure')), 'nothing is said about the camera');
    await page.selectOption('[aria-label="Joint"]', { label: 'right knee flexed' });
    await page.click('text=Set on the joint');
    await until(page, 'the knee in the words', () => /knees? flexed/.test(document.getElementById('mark-words').value));
    notes.words = await said(page);
    await until(page, 'the points kept', () => document.querySelectorAll('.measure .rows li').length === 1);
    notes.kept = await page.evaluate(async () => (await (await fetch('/api/report')).json()).angles);
    await page.click('text=start again');
    // By keys alone: three points are set and moved into place.
    const goals = [[80, 40], [160, 90], [160, 20]];
    for (const [x, y] of goals) {
      await page.focus('.measure button:text("Set the next point")');
      await page.keyboard.press('Enter');
      for (let i = 0; i < 400; i++) {
        const at = (await page.evaluate(() => document.activeElement.getAttribute('aria-label'))).match(/: (\d+) across, (\d+) down/).slice(1).map(Number);
        const [dx, dy] = [x - at[0], y - at[1]];
        if (!dx && !dy) break;
        const far = Math.max(Math.abs(dx), Math.abs(dy)) >= 10 ? 'Shift+' : '';
        await page.keyboard.press(far + (Math.abs(dx) >= Math.abs(dy) ? (dx > 0 ? 'ArrowRight' : 'ArrowLeft') : dy > 0 ? 'ArrowDown' : 'ArrowUp'));
      }
    }
    notes.keys = await read();
    await page.keyboard.press('Delete');
    must(/the other end/.test(await text(page, '.reads')), 'a point cannot be taken away by a key');
  },

  // A variation beside the posture: two bodies, what changes, and how much it is meant.
  async compare({ open, must, until }) {
    const page = await open();
    await page.keyboard.press(']');
    await until(page, 'the overhead reach', () => document.getElementById('phase-title').textContent === 'Overhead reach');
    await page.click('#phase-does button:text-is("Compare")');
    await page.click('.compare .chips button:text-is("heels down")');
    await until(page, 'the second body', () => document.getElementById('figure-2').dataset.shown > 1 && !document.getElementById('second').hidden);
    await until(page, 'what changes, in words and figures', () => /calf|sole/.test(document.querySelector('.compare .does').innerText) && document.querySelectorAll('.compare tbody tr').length > 2);
    must(/standing; both shoulders flexed 170/.test(await text(page, '.compare .canonical')), 'the variation is not said in canonical words');
    must(await page.isDisabled('#intent'), 'intent is offered where nothing is asked for');
    await page.fill('#vary', 'knees pulled straight lightly');
    await until(page, 'a cue to intend', () => !document.getElementById('intent').disabled && document.getElementById('intent').value === '10');
    const thigh = () => page.evaluate(() => [...document.querySelectorAll('.compare tbody tr')].filter((r) => /knee extensors/.test(r.textContent)).map((r) => Number.parseInt(r.querySelector('td:last-child').textContent)).at(0));
    await until(page, 'the thigh in the figures', () => /knee extensors/.test(document.querySelector('.compare tbody')?.textContent));
    const some = await thigh();
    await page.focus('#intent');
    await page.fill('#intent', '60');
    await until(page, 'strongly', () => /strongly/.test(document.getElementById('intent').getAttribute('aria-valuetext')));
    await page.waitForFunction((was) => [...document.querySelectorAll('.compare tbody tr')].some((r) => /knee extensors/.test(r.textContent) && Number.parseInt(r.querySelector('td:last-child').textContent) > was), some);
    await page.focus('#figure-2');
    await page.keyboard.press('ArrowRight');
    await until(page, 'both turned together', () => document.querySelector('[data-view="front"]').getAttribute('aria-pressed') === 'false');
    await page.click('.with >> text=Compare');
    must(await page.isHidden('#second'), 'the second body stays');
    must(!(await page.locator('.trying').count()), 'comparing leaves something unsaved behind');
  },

  // Asking why by keyboard alone: filter, sentence, reason, muscle, and back.
  async why({ open, must, until }) {
    const page = await open();
    await page.keyboard.press(']');
    await until(page, 'the overhead reach', () => document.getElementById('phase-title').textContent === 'Overhead reach');
    await until(page, 'its findings', () => document.getElementById('figure').getAttribute('aria-label').includes('Overhead reach'));
    const grades = () => page.evaluate(() => [...document.querySelectorAll('#say .statement')].map((s) => s.className));
    const all = (await grades()).length;
    await page.focus('[aria-label="Which findings"]');
    await page.keyboard.press('ArrowDown');
    must((await grades()).length < all && (await grades()).every((c) => c.includes('work')), 'what works is not alone');
    await page.selectOption('[aria-label="Which findings"]', 'doubt');
    must((await page.locator('#say .grade.must').count()) === 0, 'what is doubtful holds what is sure');
    await page.selectOption('[aria-label="Which findings"]', 'all');
    await page.selectOption('[aria-label="Part of the body"]', 'leg');
    must((await grades()).length < all && (await grades()).length > 0, 'one part of the body is as much as all');
    await page.focus('#say .statement summary');
    await page.keyboard.press('Enter');
    await until(page, 'reasons', () => document.querySelectorAll('.statement[open] .reasons li').length > 0);
    await page.focus('.statement[open] .chips button');
    await page.keyboard.press('Enter');
    await until(page, 'the muscle', () => document.querySelector('#muscle .latin'));
    for (const part of ['#muscle h3', '#muscle .latin', '#muscle .reasons li', '#muscle .span']) must((await page.locator(part).count()) > 0, `no ${part}`);
    await page.focus('#muscle .close');
    await page.keyboard.press('Enter');
    must(await page.isHidden('#muscle'), 'the muscle stays open');
    await page.focus('#figure');
    await page.keyboard.press('ArrowUp');
    for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowUp');
    must((await page.getAttribute('[data-view="above"]', 'aria-pressed')) === 'true', 'keys do not lead above the figure');
  },

  // No violation in any state of this work, at both widths, light and dark.
  async axe({ open, must, notes }) {
    const source = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    notes.passes = 0;
    for (const view of [['desktop', desktop], ['phone', phone]].flatMap(([n, viewport]) => ['light', 'dark'].map((colorScheme) => ({ name: `${n}-${colorScheme}`, viewport, colorScheme }))).concat({ name: 'forced', viewport: desktop, colorScheme: 'light', forcedColors: 'active' })) {
      const page = await open({ bypassCSP: true, colorScheme: view.colorScheme, viewport: view.viewport, forcedColors: view.forcedColors, reducedMotion: 'reduce' });
      await page.evaluate(source);
      await page.keyboard.press(']');
      const states = {
        dials: async () => {
          await page.click('text=Dials');
          await page.waitForSelector('#dial-shoulder_flexion_r');
          await page.fill('#dial-shoulder_flexion_r', '190');
          await page.waitForSelector('.trying');
        },
        bearing: async () => {
          await page.click('text=Supports, loads, cues');
          await page.click('[aria-label="Add this cue"]');
        },
        angle: async () => {
          await page.click('text=Angle from the picture');
          for (let i = 0; i < 4; i++) await page.click('.measure button:text("Set the next point")');
        },
        compare: async () => {
          await page.click('.with >> text=Compare');
          await page.click('.compare .chips button:text-is("heels down")');
          await page.waitForSelector('.compare tbody tr');
        },
        kept: async () => page.click('summary:text("Kept postures")'),
      };
      for (const [state, enter] of Object.entries(states)) {
        await enter();
        await page.waitForTimeout(300);
        if (folder) await page.screenshot({ path: path.join(folder, `body-${view.name}-${state}.png`) });
        // What has been scrolled under the figure on a phone is reached by scrolling back.
        await page.evaluate(() => scrollTo(0, 0));
        // In forced colours the browser chooses the colours, not the page.
        const rules = view.forcedColors ? { 'color-contrast': { enabled: false } } : {};
        const r = await page.evaluate(([runOnly, rules]) => window.axe.run({ runOnly, rules }), [tags, rules]);
        notes.passes += r.passes.length;
        for (const v of r.violations) must(false, `${view.name}, ${state}: ${v.id} ${v.nodes[0].html.slice(0, 120)} ${v.nodes[0].failureSummary.split('\n')[1] ?? ''}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        must(wide <= 0, `${view.name}, ${state}: the page is ${wide} px too wide`);
      }
    }
  },
};

await story(url, stories[name]);
