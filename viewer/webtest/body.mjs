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
    must((await text(page, '#say')) === was, 'putting back does not bring the findings back');
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

  // No violation in any state of this work, at both widths, light and dark.
  async axe({ open, must, notes }) {
    const source = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    notes.passes = 0;
    for (const view of [['desktop', desktop], ['phone', phone]].flatMap(([n, viewport]) => ['light', 'dark'].map((colorScheme) => ({ name: `${n}-${colorScheme}`, viewport, colorScheme })))) {
      const page = await open({ bypassCSP: true, colorScheme: view.colorScheme, viewport: view.viewport, reducedMotion: 'reduce' });
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
        kept: async () => page.click('summary:text("Kept postures")'),
      };
      for (const [state, enter] of Object.entries(states)) {
        await enter();
        await page.waitForTimeout(300);
        if (folder) await page.screenshot({ path: path.join(folder, `body-${view.name}-${state}.png`) });
        const r = await page.evaluate((runOnly) => window.axe.run({ runOnly }), tags);
        notes.passes += r.passes.length;
        for (const v of r.violations) must(false, `${view.name}, ${state}: ${v.id} ${v.nodes[0].html.slice(0, 120)} ${v.nodes[0].failureSummary.split('\n')[1] ?? ''}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        must(wide <= 0, `${view.name}, ${state}: the page is ${wide} px too wide`);
      }
    }
  },
};

await story(url, stories[name]);
