// @ts-check
// Where the figure is seen from, how near, and which second body it shows.

import { $ } from './dom.js';
import { views } from './camera.js';
import { keep, set, state } from './state.js';

/** @param {{view: (name: string) => void, turn: (n: number) => void, close: (name: string) => void}} figure */
export function makeViews(figure) {
  const names = Object.keys(views);
  let at = 0;
  $('turn-left').addEventListener('click', () => figure.turn(-1));
  $('turn-right').addEventListener('click', () => figure.turn(1));
  const buttons = [...document.querySelectorAll('[data-view]')].map((b) => /** @type {HTMLElement} */ (b));
  for (const b of buttons) b.addEventListener('click', () => go(b.dataset.view ?? 'front'));
  const go = (/** @type {string} */ name) => {
    at = names.indexOf(name);
    figure.view(name);
  };
  $('close-up').addEventListener('change', () => figure.close($('close-up').value));
  set({ ghost: keep('ghost') ?? 'none' });
  $('ghost').value = state.ghost;
  $('ghost').addEventListener('change', () => {
    set({ ghost: $('ghost').value });
    keep('ghost', state.ghost);
  });
  return {
    next: () => go(names[(at + 1) % names.length]),
    /** @param {string} name of the view as it is now, or "" */
    viewed: (name) => buttons.forEach((b) => b.setAttribute('aria-pressed', String(b.dataset.view === name))),
  };
}
