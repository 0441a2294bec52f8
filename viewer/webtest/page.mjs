// What the browser stories share: a page that notes everything that goes wrong
// on it, and the waiting that a person does by looking.
import { answer, browser } from '../../testdata/peer/need.mjs';

export const desktop = { width: 1440, height: 900 };
export const phone = { width: 390, height: 844 };

// story runs one story in a fresh browser and prints what it found.
export async function story(url, tell) {
  const chrome = await browser();
  const problems = [];
  const notes = {};
  const open = async (options = {}) => {
    const context = await chrome.newContext({ viewport: desktop, ...options });
    const page = await context.newPage();
    const host = new URL(url).host;
    page.on('request', (r) => !/^(data|blob):/.test(r.url()) && new URL(r.url()).host !== host && problems.push(`a request to ${r.url()}`));
    page.on('console', (m) => m.type() === 'error' && !page.forgiving && problems.push(`console: ${m.text()}`));
    page.on('pageerror', (e) => problems.push(`error: ${e.message}`));
    await page.goto(url);
    await page.waitForFunction(() => Number(document.getElementById('strip').dataset.phases) > 0 && document.getElementById('figure').dataset.ms);
    return page;
  };
  const must = (ok, what) => ok || problems.push(what);
  // until looks again and again, as a person would, and tells what it waited for.
  const until = async (page, what, look, arg) => {
    try {
      await page.waitForFunction(look, arg, { timeout: 10000 });
      return true;
    } catch (e) {
      problems.push(`waited in vain: ${what} (${e.message.split('\n')[0]})`);
      return false;
    }
  };
  try {
    await tell({ open, must, until, notes, problems });
  } catch (e) {
    problems.push(`broke off: ${e.stack.split('\n').slice(0, 3).join(' ')}`);
  }
  await chrome.close();
  answer({ problems, notes });
}

// text of an element, as it is read.
export const text = (page, selector) => page.locator(selector).first().innerText();
export const title = (page) => text(page, '#phase-title');

// phases that the score shows, however narrow.
export const phases = (page) => page.evaluate(() => Number(document.getElementById('strip').dataset.phases));
