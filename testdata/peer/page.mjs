// What a real browser makes of self-contained pages: problems that axe-core and
// the console find at desktop and phone width, light and dark, what the page asks
// for besides its own file, its headings, and how the keys move it.
// usage: node page.mjs FILE ...
// prints [{file, problems: [text], asked: [url], headings: [text], keys: {KEY: text}}]
import fs from 'node:fs';
import { pathToFileURL } from 'node:url';
import { answer, browser, need } from './need.mjs';

const axe = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const chromium = await browser();
const results = [];
for (const file of process.argv.slice(2)) {
  const own = pathToFileURL(file).href;
  const result = { file, problems: [], asked: [], headings: [], keys: {} };
  for (const [colorScheme, width] of [['light', 1280], ['dark', 390]]) {
    // bypassCSP lets the checker in; the page's own policy is tried without it below.
    const page = await chromium.newPage({ bypassCSP: true, colorScheme, reducedMotion: 'reduce', viewport: { width, height: 800 } });
    await page.goto(own);
    await page.evaluate(axe);
    const found = await page.evaluate((runOnly) => window.axe.run({ runOnly }), tags);
    for (const v of found.violations) for (const n of v.nodes) result.problems.push(`${colorScheme} ${width}px ${v.id}: ${n.html.slice(0, 160)}`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (wide > 1) result.problems.push(`${width}px: the page is ${wide}px too wide`);
    await page.close();
  }
  const page = await chromium.newPage();
  page.on('console', (m) => m.type() === 'error' && !/ERR_FILE_NOT_FOUND/.test(m.text()) && result.problems.push(m.text()));
  page.on('pageerror', (e) => result.problems.push(e.message));
  page.on('request', (r) => r.url().split('#')[0] !== own && !r.url().startsWith('data:') && result.asked.push(r.url()));
  await page.goto(own);
  result.headings = await page.$$eval('h1, h2', (all) => all.map((h) => h.textContent));
  const now = await page.$('[data-now]');
  if (now) {
    for (const key of ['End', 'Home', ']', '[', 'ArrowRight']) {
      await page.keyboard.press(key);
      result.keys[key] = await page.$eval('[data-now]', (e) => e.dataset.now);
    }
  }
  await page.close();
  results.push(result);
}
await chromium.close();
answer(results);
