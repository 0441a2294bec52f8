// @ts-check
// A posture while it is being written: asked about at every change, at a glance
// first and whole once the hand rests. What is asked anew overtakes what was
// asked before; nothing is kept.

import * as api from './api.js';
import { unpack } from './scene.js';
import { on, set, state } from './state.js';

const rest = 160; // ms without a change until the whole answer is asked for

/**
 * @param {(asked: any, answer: any) => void} told every answer that is not overtaken
 * @param {() => void} failed
 */
export function makeTrial(told, failed) {
  /** @type {any} */
  let want = null; // what to ask next
  /** @type {any} */
  let now = null; // what the posture is at present
  let busy = false;
  let timer = 0;
  /** @type {AbortController|null} */
  let under = null;

  const publish = (/** @type {any} */ asked, /** @type {any} */ answer) => {
    if (now === null) return;
    if (asked === now) told(asked, answer);
    if (asked.show) set({ trial: { mark: asked.mark, answer, scene: unpack({ samples: [answer.sample] }) } });
  };
  const body = (/** @type {any} */ asked, /** @type {boolean} */ glance) => ({ ...asked.request, glance, voice: state.voice });

  const glance = async () => {
    if (busy) return;
    busy = true;
    while (want) {
      const asked = want;
      want = null;
      try {
        publish(asked, await api.tryOut(body(asked, true)));
      } catch {
        if (asked === now) failed();
      }
    }
    busy = false;
  };
  const whole = async () => {
    const asked = now;
    if (!asked?.whole) return;
    const mine = new AbortController();
    under = mine;
    try {
      const answer = await api.tryOut(body(asked, false), mine.signal);
      if (asked === now) publish(asked, answer);
    } catch {
      // Overtaken, or the banner says it.
    }
  };
  const ask = (/** @type {any} */ asked) => {
    now = want = asked;
    under?.abort();
    clearTimeout(timer);
    timer = setTimeout(whole, rest);
    glance();
  };
  on(['voice'], () => {
    if (now) ask({ ...now });
  });
  return {
    /** @param {{mark: number, request: object, show: boolean, whole: boolean}} asked show: on the figure and in the findings too; whole: once the hand rests */
    ask,
    /** Nothing is asked about any more. */
    end() {
      now = want = null;
      under?.abort();
      clearTimeout(timer);
    },
  };
}
