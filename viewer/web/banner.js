// @ts-check
// What the page says when the server is gone, or refuses.

import { $ } from './dom.js';
import { Refused } from './api.js';

const patience = 900; // ms of silence before anything is said

export function makeBanner() {
  const box = $('banner');
  let timer = 0;
  const show = (/** @type {string} */ text) => {
    if (box.textContent !== text) box.textContent = text;
    box.hidden = false;
  };
  const gone = 'The program that serves this page does not answer. What you type is kept here; the page goes on by itself when it is back.';
  return {
    well() {
      clearTimeout(timer);
      timer = 0;
      box.hidden = true;
      box.textContent = '';
    },
    gone() {
      if (!timer) timer = setTimeout(() => show(gone), patience);
    },
    /** The study could not be had. @param {unknown} e */
    trouble(e) {
      if (!(e instanceof Refused)) throw e;
      if (e.status === 0) show(gone);
      else if (e.status === 403) show('The program was started anew and no longer knows this page. Open the address that it printed; what you typed is kept on this machine.');
      else show(`The study cannot be read: ${e.message}. ${e.hint}`);
    },
    /** A change was not made. @param {unknown} e */
    refused(e) {
      if (!(e instanceof Refused)) throw e;
      if (e.status === 0) show(gone);
      else {
        show(`Not done: ${e.message}. ${e.hint}`);
        clearTimeout(timer);
        timer = setTimeout(() => {
          timer = 0;
          box.hidden = true;
        }, 8000);
      }
    },
  };
}
