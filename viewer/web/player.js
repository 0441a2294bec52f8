// @ts-check
// One playhead: the recording's own clock when there is one to play, else a
// clock of ours. Times are ms.

import { frameShown, seekTime, stepped } from './frames.js';

const noFrames = { count: 0, first_us: 0, period_us: 0, end_us: 0, times_us: /** @type {number[]} */ ([]) };
const blindStep = 40; // ms, a frame where there are none

/**
 * @param {HTMLVideoElement} video
 * @param {(at: number, playing: boolean) => void} tell called on every change, and on every frame while playing
 */
export function makePlayer(video, tell) {
  let frames = noFrames;
  let end = 0;
  let real = false; // the video element keeps the time
  let rate = 1;
  let own = 0; // our clock
  let ownPlaying = false;
  let started = 0; // performance.now() at own
  let seeking = false; // one seek in flight; the latest target waits
  /** @type {number|null} */
  let wanted = null;
  let ticking = 0;
  /** @type {{from: number, to: number}|null} */
  let loop = null;

  const playing = () => (real ? !video.paused && !video.ended : ownPlaying);
  const at = () => {
    if (wanted !== null) return wanted;
    if (real) return video.currentTime * 1000;
    return ownPlaying ? Math.min(end, own + (performance.now() - started) * rate) : own;
  };

  const go = (/** @type {number} */ t) => {
    const target = Math.min(end, Math.max(0, t));
    if (!real) {
      own = target;
      started = performance.now();
    } else {
      wanted = target;
      if (!seeking) {
        seeking = true;
        video.currentTime = target / 1000;
      }
    }
    tell(target, playing());
  };
  video.addEventListener('seeked', () => {
    seeking = false;
    const target = wanted;
    if (target !== null && Math.abs(video.currentTime * 1000 - target) > 0.5 && target / 1000 < video.duration) {
      seeking = true;
      video.currentTime = target / 1000;
      return;
    }
    wanted = null;
    tell(at(), playing());
  });

  const tick = () => {
    ticking = 0;
    const t = at();
    if (loop && playing() && (t >= loop.to - 15 || t < loop.from - 400)) {
      go(loop.from);
    } else if (!real && ownPlaying && t >= end) {
      pause();
    }
    tell(at(), playing());
    if (playing()) ticking = requestAnimationFrame(tick);
  };
  const run = () => {
    if (!ticking) ticking = requestAnimationFrame(tick);
  };
  const play = () => {
    if (at() >= end - 20) go(0);
    if (real) video.play().catch(() => tell(at(), false));
    else {
      started = performance.now();
      ownPlaying = true;
      run();
      tell(at(), true);
    }
  };
  const pause = () => {
    if (real) video.pause();
    else {
      own = at();
      ownPlaying = false;
      tell(own, false);
    }
  };
  for (const name of ['play', 'playing']) video.addEventListener(name, run);
  for (const name of ['pause', 'ended', 'loadedmetadata']) video.addEventListener(name, () => tell(at(), playing()));

  return {
    at,
    playing,
    go,
    play,
    pause,
    toggle: () => (playing() ? pause() : play()),
    /** Moves by whole frames, to the middle of a frame's stay. @param {number} by */
    step(by) {
      pause();
      go(frames.count && real ? seekTime(frames, stepped(frames, at(), by)) : at() + by * blindStep);
    },
    /** The time to write down for what is on screen: the frame's own, rounded up to a whole ms so that it shows. */
    exact() {
      if (!real || !frames.count) return Math.round(at());
      const n = frameShown(frames, at());
      const us = frames.times_us.length ? frames.times_us[n] : frames.first_us + n * frames.period_us;
      return Math.max(0, Math.ceil(us / 1000 - 1e-6));
    },
    /** @param {number} r */
    speed(r) {
      own = at();
      started = performance.now();
      rate = r;
      video.playbackRate = r;
    },
    /** @param {{from: number, to: number}|null} span */
    repeat(span) {
      loop = span;
    },
    /** What there is to play. @param {string} url empty for none @param {number} ms length of the study @param {typeof noFrames} [table] */
    load(url, ms, table) {
      end = ms;
      frames = table ?? noFrames;
      if ((video.getAttribute('src') ?? '') === url) return;
      const keepAt = at();
      video.pause();
      if (url) video.src = url;
      else video.removeAttribute('src');
      video.playbackRate = rate;
      real = !!url;
      own = keepAt;
      wanted = null;
      seeking = false;
      if (real && keepAt > 0) go(keepAt);
    },
    end: () => end,
  };
}
