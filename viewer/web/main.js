// @ts-check
// The page: one state, one player, and the panels around them.

import { $, icon, say } from './dom.js';
import * as api from './api.js';
import { clock } from './times.js';
import { here, keep, on, phaseAt, set, state } from './state.js';
import { connect } from './live.js';
import { makePlayer } from './player.js';
import { makeScore } from './score.js';
import { makeScreen } from './screen.js';
import { makeJump } from './jump.js';
import { makeFollow } from './follow.js';
import { makeRemarks } from './remarks.js';
import { makeDownloads } from './downloads.js';
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
const figure = makeFigure($('figure'), $('tip'), { tapped: (muscle) => set({ muscle, muscleOf: '' }), viewed: (name) => seen.viewed(name), turned: (...looked) => set({ looked }) });
const seen = makeViews(figure);
makeBody(figure);
const desk = makeDesk({ change, at: () => player.exact(), go, pause: player.pause, figure });
makeFindings({
  ring: (muscles) => figure.choose(muscles.length ? muscles : state.muscle >= 0 ? [state.muscle] : []),
  ask: (muscle) => set({ muscle, muscleOf: '' }),
  use: desk.use,
});
makeMuscle();
const remarks = makeRemarks({ change, at: () => player.exact(), go });
const jump = makeJump({ at: player.at, go, tell: score.tell, show: remarks.show });
const screen = makeScreen(video, player, change);
makeDownloads(video, banner);
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
  play: player.toggle, 'prev-mark': () => jump.by(-1), 'next-mark': () => jump.by(1),
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
  { keys: ['['], shown: '[', does: 'back by mark, or by what “Jump by” says', act: () => jump.by(-1) },
  { keys: [']'], shown: ']', does: 'on, likewise', act: () => jump.by(1) },
  { keys: ['f'], shown: 'F', does: 'next finding (of the muscle asked about, if there is one); with Shift the one before', act: () => jump.finding(1) },
  { keys: ['F'], shown: '', does: '', act: () => jump.finding(-1) },
  { keys: ['c'], shown: 'C', does: 'next remark; with Shift the one before', act: () => jump.remark(1) },
  { keys: ['C'], shown: '', does: '', act: () => jump.remark(-1) },
  { keys: ['t', 'T'], shown: 'T', does: 'write a remark about this moment', act: remarks.write },
  { keys: ['+', '='], shown: '+ −', does: 'less or more time on the score; 0 for the whole', act: () => score.zoom(1.6) },
  { keys: ['-'], shown: '', does: '', act: () => score.zoom(1 / 1.6) },
  { keys: ['0'], shown: '', does: '', act: score.whole },
  { keys: ['m', 'M'], shown: 'M', does: 'set a mark here', act: add },
  { keys: ['r', 'R'], shown: 'R', does: 'repeat this phase', act: loop },
  { keys: ['v', 'V'], shown: 'V', does: 'see the figure from the next side', act: seen.next },
  { keys: ['z'], shown: 'Ctrl Z', does: 'undo, the last change of whoever made it', act: undo, command: true },
  { keys: ['Shift+z', 'y'], shown: 'Ctrl Shift Z', does: 'do it again', act: redo, command: true },
  { keys: [], shown: '?', does: 'this list', act: () => {} },
]);

on(['at'], () => ($('clock').textContent = clock(state.at)));
on(['playing'], () => icon($('play'), state.playing ? 'pause' : 'play', state.playing ? 'Pause' : 'Play'));
on(['phase', 'report'], () => {
  if (!state.playing) repeat();
});
const live = connect(
  (m) => {
    if (m.kind === 'playhead') {
      follow.heard(m.at_ms ?? 0, !!m.playing);
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
const follow = makeFollow(player, live.playhead);
load();
