// @ts-check
// What is to be played, or why there is nothing: a recording that was moved is
// looked for by its content, or dropped on the page. Without any, the page's own
// clock runs.

import { $, fill, h, say } from './dom.js';
import * as api from './api.js';
import { fingerprint } from './print.js';
import { set, state } from './state.js';

/**
 * @param {HTMLVideoElement} video @param {ReturnType<import('./player.js').makePlayer>} player
 * @param {(what: () => Promise<any>, done: string) => Promise<any>} change
 */
export function makeScreen(video, player, change) {
  const note = $('noscreen');
  const screen = $('screen');
  let shownFor = '';
  /** @type {any} */
  let table;
  /** A file that was dropped, played from here while the program cannot reach it. @type {{url: string, print: string, name: string}|null} */
  let dropped = null;
  let folder = '';

  /** @param {any} report */
  const show = async (report) => {
    const r = report.recording;
    if (dropped && r?.url) letGo();
    const own = !r?.url && dropped && (!r || dropped.print === r.fingerprint);
    const url = r?.url || (own && dropped ? dropped.url : '');
    if (url !== shownFor) {
      table = r?.url ? await api.frames() : own && r?.frames && !r.variable ? { count: r.frames, first_us: 0, period_us: 1e6 / r.frame_rate, end_us: (r.frames * 1e6) / r.frame_rate, times_us: [] } : undefined;
      shownFor = url;
    }
    player.load(url, report.end_ms, table);
    video.hidden = !url || r?.kind === 'audio';
    if (r?.width && r.height) screen.style.setProperty('--shape', `${r.width} / ${r.height}`);
    note.hidden = !video.hidden && !(r?.problem && !own);
    if (note.hidden) return;
    if (!r) fill(note, h('span', {}, 'This study has no recording yet. Its clock runs all the same: press play, and the figure follows. A recording can be dropped here.'), chooser());
    else if (!url) missing(r);
    else fill(note, r.problem && !own ? `${r.name}: ${r.problem}.` : `Sound only: ${r.name}`);
  };

  const chooser = () => {
    const file = h('input', { type: 'file', accept: 'video/*,audio/*', hidden: true, id: 'recording-file', 'aria-label': 'The recording', onchange: () => file.files?.[0] && take(file.files[0]) });
    return h('span', { class: 'line' }, h('button', { type: 'button', onclick: () => file.click() }, 'Choose the file …'), file);
  };

  /** The recording is not where it was. */
  const missing = (/** @type {any} */ r) => {
    if (note.querySelector('#recording-folder')) return; // someone may be typing
    const field = h('input', { type: 'text', id: 'recording-folder', value: folder, autocomplete: 'off', oninput: () => (folder = field.value) });
    field.placeholder = '~/Videos';
    fill(note,
      h('span', {}, `${r.name}: ${r.problem}. The score and the figure work without it. Drop the file here, or say where to look.`),
      h('form', { class: 'line', onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), look({ folder: field.value.trim() })) },
        h('label', { class: 'field' }, h('span', {}, 'Folder to look in'), field), h('button', { type: 'submit' }, 'Look there')),
      h('span', { class: 'line' }, h('button', { type: 'button', onclick: () => look({}) }, 'Look in my own folders'), chooser().firstChild, chooser().lastChild));
  };

  const look = async (/** @type {object} */ ask) => {
    say('Looking for the recording …');
    return change(() => api.findRecording(ask), 'Found:');
  };

  const letGo = () => {
    if (dropped) URL.revokeObjectURL(dropped.url);
    dropped = null;
  };

  /** A file that a person gave: played at once when it is the study's, and looked for so that the program can reach it too. */
  const take = async (/** @type {File} */ file) => {
    const r = state.report?.recording;
    const print = await fingerprint(file);
    if (r && r.fingerprint && print !== r.fingerprint) {
      say(`${file.name} is not the recording that this study was made with.`);
      fill(note, h('span', {}, `${file.name} is another file than the one that this study was made with, ${r.name}. Nothing was changed.`), chooser());
      note.hidden = false;
      return;
    }
    letGo();
    dropped = { url: URL.createObjectURL(file), print, name: file.name };
    if (!(await look({ fingerprint: print, bytes: file.size })) && state.report) {
      await show(state.report);
      say(`${file.name} plays from here; the program did not find where it lies.`);
    }
  };

  for (const name of ['dragover', 'drop']) {
    screen.addEventListener(name, (/** @type {DragEvent} */ e) => {
      const files = e.dataTransfer?.types.includes('Files');
      if (!files) return;
      e.preventDefault();
      screen.classList.toggle('dropping', name === 'dragover');
      const file = name === 'drop' ? e.dataTransfer?.files[0] : null;
      if (file) take(file);
    });
  }
  screen.addEventListener('dragleave', () => screen.classList.remove('dropping'));
  video.addEventListener('error', () => {
    if (!video.getAttribute('src')) return;
    player.load('', state.report?.end_ms ?? 0);
    video.hidden = true;
    note.hidden = false;
    fill(note, 'This browser cannot play the recording. The figure and the score work without it.');
    set({ at: player.at() });
  });
  return show;
}
