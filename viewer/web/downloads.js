// @ts-check
// What leaves the study: every file that can be written, to keep, and the
// captions shown over the picture as players would show them.

import { $, fill, h, say } from './dom.js';
import * as api from './api.js';
import { keep, on, state } from './state.js';

/** @param {HTMLVideoElement} video @param {{trouble: (e: unknown) => void}} banner */
export function makeDownloads(video, banner) {
  const dialog = $('downloads');
  const list = $('export-list');
  const shown = $('captions');
  const share = $('captions-top');

  const save = async (/** @type {{name: string, file: string}} */ f, /** @type {HTMLElement} */ told) => {
    try {
      const { blob, notes } = await api.file(f.name, state.voice);
      const url = URL.createObjectURL(blob);
      h('a', { href: url, download: f.file }).click();
      setTimeout(() => URL.revokeObjectURL(url), 60000);
      fill(told, `${f.file}: ${Math.max(1, Math.round(blob.size / 1000))} kB. ${notes.join(' ')}`);
    } catch (e) {
      fill(told, e instanceof api.Refused ? e.message : 'It could not be kept.');
    }
    say(told.textContent ?? '');
  };

  const open = async () => {
    dialog.showModal();
    try {
      /** @type {{name: string, file: string, help: string}[]} */
      const formats = await api.formats();
      fill(list, ...formats.map((f) => {
        const told = h('p', { class: 'quiet told' });
        return h('li', {}, h('button', { type: 'button', onclick: () => save(f, told), 'aria-describedby': `export-${f.name}` }, f.file),
          h('span', { id: `export-${f.name}` }, f.help), told);
      }));
    } catch (e) {
      dialog.close();
      banner.trouble(e);
    }
  };
  $('export').addEventListener('click', open);

  // A track is put in anew when the study, the voice or the place changes.
  const captions = () => {
    video.querySelectorAll('track').forEach((t) => t.remove());
    if (!shown.checked || !state.report || video.hidden) return;
    const src = `/api/exports/captions?show&voice=${state.voice}${share.checked ? '&share' : ''}&r=${state.report.revision}`;
    const track = h('track', { kind: 'captions', label: 'Captions of this study', srclang: state.report.study.language, src });
    video.append(track);
    track.track.mode = 'showing';
  };
  shown.checked = keep('captions') ?? false;
  share.checked = keep('captions-top') ?? false;
  const changed = () => {
    keep('captions', shown.checked);
    keep('captions-top', share.checked);
    captions();
  };
  shown.addEventListener('change', changed);
  share.addEventListener('change', changed);
  on(['report', 'voice'], captions);
}
