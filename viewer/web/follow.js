// @ts-check
// Windows in step: when this window follows, it goes where another one goes, and
// tells others where it is. While both play it only mends what has drifted.

import { $ } from './dom.js';
import { keep, on, set, state } from './state.js';

const hush = 400; // ms after hearing in which a window does not tell, so that two do not lead each other in turn
const beat = 1000; // ms between tellings while playing
const drift = 150; // ms that two playing windows may lie apart

/**
 * @param {{at: () => number, go: (t: number) => void, playing: () => boolean, toggle: () => void}} player
 * @param {(at: number, playing: boolean) => void} tell
 */
export function makeFollow(player, tell) {
  const box = $('follow');
  set({ follow: keep('follow') ?? false });
  box.checked = state.follow;
  box.addEventListener('change', () => {
    set({ follow: box.checked });
    keep('follow', box.checked);
  });
  let heard = -hush;
  let heardPlaying = false;
  let told = 0;
  const quiet = () => performance.now() - heard < hush;
  // What was heard comes back as a change of this window; any other change is its own.
  on(['playing'], () => state.follow && !(quiet() && state.playing === heardPlaying) && tell(state.at, state.playing));
  on(['at'], () => {
    if (!state.follow || quiet()) return;
    const now = performance.now();
    if (state.playing && now - told < beat) return;
    told = now;
    tell(state.at, state.playing);
  });
  return {
    /** What another window told. @param {number} at @param {boolean} playing */
    heard(at, playing) {
      if (!state.follow) return;
      heard = performance.now();
      heardPlaying = playing;
      if (!(playing && player.playing() && Math.abs(player.at() - at) < drift)) player.go(at);
      if (playing !== player.playing()) player.toggle();
    },
  };
}
