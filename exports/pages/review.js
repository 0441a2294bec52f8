'use strict';
// The review page: one playhead for the recording, the score, the figure and the
// findings. Everything it shows stands in this file.
(() => {
  const $ = (id) => document.getElementById(id);
  const study = JSON.parse($('study').textContent);
  const { phases, postures, end_ms: end, words } = study;
  const video = document.querySelector('video');
  const scrub = $('scrub');
  let at = 0;
  let shown = -1;
  let drawn = '';
  let view = '';
  let timer = 0;

  const el = (name, props, ...inside) => {
    const e = document.createElement(name);
    for (const [k, v] of Object.entries(props)) if (v) e.setAttribute(k, v);
    e.append(...inside);
    return e;
  };
  const clock = (ms) => {
    const s = Math.floor(ms / 1000);
    const two = (n) => String(n).padStart(2, '0');
    return s >= 3600 ? `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
  };
  const phaseAt = (ms) => {
    let [low, high] = [-1, phases.length - 1];
    while (low < high) {
      const mid = (low + high + 1) >> 1;
      if (phases[mid].from_ms <= ms) low = mid;
      else high = mid - 1;
    }
    return low;
  };

  const list = (title, items, name) => (items.length ? [el('h3', { class: name }, title), el('ul', {}, ...items)] : []);
  const said = (s) => {
    const li = el('li', { class: `statement ${s.kind}` }, s.text, ' ');
    if (s.figures) li.append(el('span', { class: 'grade' }, `(${s.figures})`));
    if (s.why.length) li.append(el('details', {}, el('summary', {}, words.why), el('ul', {}, ...s.why.map((w) => el('li', {}, w)))));
    return li;
  };
  const tell = () => {
    const p = phases[shown];
    const box = $('findings');
    if (!p) {
      box.replaceChildren(el('p', {}, words.before));
      return;
    }
    const f = postures[p.posture];
    const of = (kind) => f.said.filter((s) => s.kind === kind).map(said);
    box.replaceChildren(
      el('h2', {}, p.title), el('p', { class: 'quiet' }, p.span), ...(p.note ? [el('p', {}, p.note)] : []), el('p', {}, p.words),
      ...list(words.care, f.care.map((c) => el('li', { class: 'statement' }, c)), 'care'),
      ...list(words.work, of('work'), 'work'), ...list(words.long, of('long'), 'long'), ...list(words.short, of('short'), ''),
      ...list(words.untold, of('untold'), ''), ...list(words.pulls, f.pulls.map((t) => el('li', { class: 'statement' }, t)), ''),
      ...list(p.moves_to, p.moves.map((t) => el('li', { class: 'statement' }, t)), ''),
      ...list(words.doubts, f.doubts.map((t) => el('li', { class: 'statement' }, t)), ''));
  };
  const picture = () => {
    const p = phases[shown] ?? phases[0];
    if (!p) return;
    const f = postures[p.posture];
    const name = f.views.includes(view) ? view : f.views[0] ?? '';
    const key = `${p.posture} ${name}`;
    if (key === drawn) return;
    drawn = key;
    const from = $(`picture-${p.posture}-${name}`);
    $('figure').replaceChildren(from ? from.content.cloneNode(true) : el('p', {}, words.nothing));
    for (const b of document.querySelectorAll('#views button')) {
      b.setAttribute('aria-pressed', String(b.value === name));
      b.hidden = !f.views.includes(b.value);
    }
  };
  const show = (user) => {
    const i = phaseAt(at);
    if (i !== shown || drawn === '') {
      shown = i;
      tell();
      picture();
      document.querySelectorAll('.marks button').forEach((b, k) => (k === i ? b.setAttribute('aria-current', 'true') : b.removeAttribute('aria-current')));
      if (user) $('said').textContent = phases[i]?.title ?? '';
    }
    if (document.activeElement !== scrub || !user) scrub.value = String(at);
    scrub.setAttribute('aria-valuetext', `${clock(at)}${phases[i] ? `, ${phases[i].title}` : ''}`);
    $('time').textContent = `${clock(at)} / ${clock(end)}`;
    const { left, right } = study.score;
    $('head').style.left = `${100 * (left + (right - left) * (at / Math.max(1, end)))}%`;
    document.querySelector('main').dataset.now = `${i + 1} ${Math.round(at)}`;
  };
  const go = (ms, user = true) => {
    at = Math.min(end, Math.max(0, ms));
    if (video && Math.abs(video.currentTime * 1000 - at) > 40) video.currentTime = at / 1000;
    show(user);
  };
  const step = (by) => {
    const i = Math.min(phases.length - 1, Math.max(0, phaseAt(at) + by));
    if (phases[i]) go(phases[i].from_ms);
  };

  // The time runs with the recording where there is one, else by itself.
  const playing = () => (video && !video.error ? !video.paused : timer !== 0);
  const mark = () => {
    $('play').textContent = playing() ? words.stop : words.play;
  };
  const play = () => {
    if (video && !video.error) {
      if (video.paused) video.play().catch(() => {});
      else video.pause();
      return;
    }
    if (timer) {
      cancelAnimationFrame(timer);
      timer = 0;
      mark();
      return;
    }
    if (at >= end) go(0);
    let last = performance.now();
    const tick = (now) => {
      go(at + now - last, false);
      last = now;
      timer = at < end ? requestAnimationFrame(tick) : 0;
      if (!timer) mark();
    };
    timer = requestAnimationFrame(tick);
    mark();
  };
  if (video) {
    for (const e of ['play', 'pause', 'ended']) video.addEventListener(e, mark);
    video.addEventListener('timeupdate', () => {
      at = Math.min(end, video.currentTime * 1000);
      show(false);
    });
    video.addEventListener('error', () => {
      video.hidden = true;
      $('missing').hidden = false;
    }, true);
  }

  scrub.addEventListener('input', () => go(Number(scrub.value)));
  $('play').addEventListener('click', play);
  $('before').addEventListener('click', () => step(at > (phases[phaseAt(at)]?.from_ms ?? 0) + 500 ? 0 : -1));
  $('after').addEventListener('click', () => step(1));
  $('views').addEventListener('click', (e) => {
    const b = e.target.closest('button');
    if (!b) return;
    view = b.value;
    picture();
  });
  $('marks').addEventListener('click', (e) => {
    const b = e.target.closest('button');
    if (b) go(Number(b.value));
  });
  $('score').addEventListener('click', (e) => {
    const box = $('score').getBoundingClientRect();
    const { left, right } = study.score;
    go(((e.clientX - box.left) / box.width - left) / (right - left) * end);
  });
  addEventListener('keydown', (e) => {
    if (e.ctrlKey || e.altKey || e.metaKey) return;
    const typing = e.target.closest?.('input, video, summary');
    const keys = {
      '[': () => step(at > (phases[phaseAt(at)]?.from_ms ?? 0) + 500 ? 0 : -1), ']': () => step(1),
      ...(typing ? {} : { ArrowLeft: () => go(at - 1000), ArrowRight: () => go(at + 1000), Home: () => go(0), End: () => go(end) }),
      ...(typing || e.target.closest?.('button') ? {} : { ' ': play }),
    };
    if (!keys[e.key]) return;
    e.preventDefault();
    keys[e.key]();
  });
  go(0, false);
  mark();
})();
