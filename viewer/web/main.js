// @ts-check
// The page: one state, one player, and the panels around them.

import { $, icon, say } from './dom.js';
import * as api from './api.js';
import { clock } from './times.js';
import { here, keep, on, phaseAt, set, state } from './state.js';
import { connect } from './live.js';
import { makePlayer } from './player.js';
import { makeScore } from './score.js';
import { makeFigure } from './figure.js';
import { makeFindings } from './findings.js';
import { makeMuscle } from './muscle.js';
import { makeDesk } from './desk.js';
import { makeKeys } from './keys.js';
import { makeBanner } from './banner.js';
import { makeBody } from './body.js';
import { makeViews } from './views.js';

const banner = makeBanner();
const video = $('video');
const player = makePlayer(video, (at, playing) => {
  set({ at, playing, phase: phaseAt(state.report?.phases ?? [], at + 0.5) });
});
const go = (/** @type {number} */ t) => player.go(t);
const score = makeScore({ go, nudge: (by) => go(player.at() + by), at: player.at });
const figure = makeFigure($('figure'), $('tip'), { tapped: (muscle) => set({ muscle }), viewed: (name) => seen.viewed(name) });
const seen = makeViews(figure);
makeBody(figure);
const desk = makeDesk({ change, at: () => player.exact(), go });
makeFindings({
  ring: (muscles) => figure.choose(muscles.length ? muscles : state.muscle >= 0 ? [state.muscle] : []),
  ask: (muscle) => set({ muscle }),
  use: desk.use,
});
makeMuscle();
on(['muscle'], () => figure.choose(state.muscle >= 0 ? [state.muscle] : []));

let again = false;
let loading = false;
let newest = 0; // the latest revision that was heard of
/** Asks for the study anew. */
async function load() {
  if (loading) {
    again = true;
    return;
  }
  loading = true;
  try {
    const report = await api.report();
    if (!state.model || state.report?.figures_of !== report.figures_of) set({ model: await api.model() });
    const phases = report.phases;
    $('title').textContent = report.study.title || 'Untitled study';
    document.title = `${report.study.title || 'Untitled study'} · tautline`;
    $('about').textContent = report.recording ? report.recording.name : 'no recording yet';
    await screen(report);
    set({ report, phase: phaseAt(phases, player.at() + 0.5) });
    for (const [id, label, does] of [['undo', report.undo, 'Undo'], ['redo', report.redo, 'Redo']]) {
      $(id).disabled = !label;
      $(id).title = label ? `${does}: ${label}` : '';
    }
    banner.well();
  } catch (e) {
    banner.trouble(e);
  }
  loading = false;
  const behind = again && (state.report?.revision ?? 0) < newest;
  again = false;
  if (behind) load();
}

/** Shows the recording, or why there is none. @param {any} report */
let framesOf = '';
/** @type {any} */
let table;
async function screen(report) {
  const r = report.recording;
  const url = r?.url ?? '';
  if (url !== framesOf) {
    table = url ? await api.frames() : undefined;
    framesOf = url;
  }
  player.load(url, report.end_ms, table);
  video.hidden = !url || r.kind !== 'video';
  if (r?.width && r.height) $('screen').style.setProperty('--shape', `${r.width} / ${r.height}`);
  const note = $('noscreen');
  note.hidden = !video.hidden && !r?.problem;
  note.textContent = !r ? 'This study has no recording yet. Its clock runs all the same: press play, and the figure follows.'
    : r.problem ? `${r.name}: ${r.problem}.` : `Sound only: ${r.name}`;
}
video.addEventListener('error', () => {
  if (!video.getAttribute('src')) return;
  player.load('', state.report?.end_ms ?? 0);
  video.hidden = true;
  $('noscreen').hidden = false;
  $('noscreen').textContent = 'This browser cannot play the recording. The figure and the score work without it.';
});

/** Makes a change and says how it went; true when it was made. @param {() => Promise<any>} what @param {string} done */
async function change(what, done) {
  try {
    const answer = await what();
    say(answer.label ? `${done} ${answer.label}` : done);
    await load();
    return answer;
  } catch (e) {
    banner.refused(e);
    return null;
  }
}

async function add() {
  const playing = player.playing();
  const at = player.exact();
  const added = await change(() => api.addMark({ at_ms: at }), `Mark set at ${clock(at, 1)}.`);
  if (added && !playing) {
    go(at);
    desk.write();
  }
}
const toMark = (/** @type {number} */ by) => {
  const phases = state.report?.phases ?? [];
  const now = phaseAt(phases, player.at() + 0.5);
  // Going back from well inside a phase leads to its own beginning first.
  const own = by < 0 && now >= 0 && player.at() - phases[now].from_ms > 700 ? 0 : by;
  const p = phases[Math.max(0, now + own)] ?? phases[phases.length - 1];
  if (p) go(p.from_ms);
  score.tell();
};
const undo = () => change(api.undo, 'Undone:');
const redo = () => change(api.redo, 'Done again:');
const loop = () => {
  const on = $('loop').getAttribute('aria-pressed') !== 'true';
  $('loop').setAttribute('aria-pressed', String(on));
  repeat();
};
const repeat = () => {
  const p = here();
  player.repeat(p && $('loop').getAttribute('aria-pressed') === 'true' ? { from: p.from_ms, to: p.to_ms } : null);
};

/** @type {Record<string, () => void>} */
const buttons = {
  play: player.toggle, 'prev-mark': () => toMark(-1), 'next-mark': () => toMark(1),
  'frame-back': () => player.step(-1), 'frame-next': () => player.step(1),
  add, undo, redo, loop,
  mute: () => (video.muted = !video.muted),
};
for (const [id, act] of Object.entries(buttons)) $(id).addEventListener('click', act);
video.addEventListener('click', player.toggle);
video.addEventListener('volumechange', () => {
  $('mute').setAttribute('aria-pressed', String(video.muted));
  icon($('mute'), video.muted ? 'mute' : 'sound', 'Mute');
});
$('speed').addEventListener('change', () => player.speed(Number($('speed').value)));
set({ voice: keep('voice') ?? 'plain' });
$('voice').value = state.voice;
$('voice').addEventListener('change', () => {
  set({ voice: $('voice').value });
  keep('voice', state.voice);
});

makeKeys([
  { keys: [' ', 'k'], shown: 'space', does: 'play and pause', act: player.toggle },
  { keys: ['ArrowLeft'], shown: '←', does: 'one second back', act: () => go(player.at() - 1000) },
  { keys: ['ArrowRight'], shown: '→', does: 'one second on', act: () => go(player.at() + 1000) },
  { keys: [','], shown: ',', does: 'one frame back', act: () => player.step(-1) },
  { keys: ['.'], shown: '.', does: 'one frame on', act: () => player.step(1) },
  { keys: ['['], shown: '[', does: 'previous mark', act: () => toMark(-1) },
  { keys: [']'], shown: ']', does: 'next mark', act: () => toMark(1) },
  { keys: ['m', 'M'], shown: 'M', does: 'set a mark here', act: add },
  { keys: ['r', 'R'], shown: 'R', does: 'repeat this phase', act: loop },
  { keys: ['v', 'V'], shown: 'V', does: 'see the figure from the next side', act: seen.next },
  { keys: ['z'], shown: 'Ctrl Z', does: 'undo, the last change of whoever made it', act: undo, command: true },
  { keys: ['Shift+z', 'y'], shown: 'Ctrl Shift Z', does: 'do it again', act: redo, command: true },
  { keys: [], shown: '?', does: 'this list', act: () => {} },
]);

on(['at'], () => ($('clock').textContent = clock(state.at)));
on(['playing'], () => {
  icon($('play'), state.playing ? 'pause' : 'play', state.playing ? 'Pause' : 'Play');
  live.playhead(state.at, state.playing);
});
let heard = 0; // when another window last led, so that this one does not lead back
on(['at'], () => {
  if (state.follow && !state.playing && performance.now() - heard > 400) live.playhead(state.at, false);
});
on(['phase', 'report'], () => {
  if (!state.playing) repeat();
});
const live = connect(
  (m) => {
    if (m.kind === 'playhead') {
      if (!state.follow) return;
      heard = performance.now();
      go(m.at_ms ?? 0);
      if (!!m.playing !== player.playing()) player.toggle();
    } else if (m.kind === 'trouble') load();
    else {
      newest = m.revision ?? 0;
      if (newest > (state.report?.revision ?? 0)) load();
    }
  },
  (up) => {
    if (!up) banner.gone();
    else if (!state.online) load();
    set({ online: up });
  },
);
load();
