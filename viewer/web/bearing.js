// @ts-check
// What a posture rests on, bears, and is asked for beside its joints: stance,
// supports, loads and cues, each added, changed and removed by itself.

import { fill, h } from './dom.js';

const cueWords = { pull: 'pull into', brace: 'brace', 'push away': 'push away', 'pull in': 'pull in' };
const strength = (/** @type {number} */ x) => (x === 0.1 ? 'lightly' : x === 0.3 ? 'firmly' : x === 0.6 ? 'strongly' : `at ${Math.round(x * 100)}%`);

/**
 * Things of both sides as one choice before each of its sides.
 * @param {{key: string, name: string}[]} patches @returns {[string, string][]} keys with their names, "both:" before a pair
 */
export function choices(patches) {
  /** @type {[string, string][]} */
  const list = [];
  for (const p of patches) {
    if (p.key.endsWith('_r')) list.push([`both:${p.key.slice(0, -2)}`, p.name.replace('right', 'each')]);
    list.push([p.key, p.name]);
  }
  return list;
}

/** The keys that a choice means. @param {string} choice */
export const keysOf = (choice) => (choice.startsWith('both:') ? ['_r', '_l'].map((s) => choice.slice(5) + s) : [choice]);

/**
 * Items that are the same on both sides, together.
 * @template {{patch?: string, movement?: string}} T @param {T[]} list @returns {T[][]}
 */
export function pairs(list) {
  const bare = (/** @type {T} */ x) => JSON.stringify({ ...x, patch: x.patch?.replace(/_[rl]$/, ''), movement: x.movement?.replace(/_[rl]$/, '') });
  /** @type {Map<string, T[]>} */
  const found = new Map();
  for (const x of list) found.set(bare(x), [...(found.get(bare(x)) ?? []), x]);
  return [...found.values()];
}

/**
 * @param {any} words the vocabulary
 * @param {(state: any) => void} changed
 */
export function makeBearing(words, changed) {
  /** @type {any} */
  let state = { stance: '', positions: [], supports: [], loads: [], cues: [] };
  const pick = (/** @type {string} */ label, /** @type {[string, string][]} */ options, props = {}) =>
    h('select', { 'aria-label': label, ...props }, ...options.map(([value, text]) => h('option', { value }, text)));
  const same = (/** @type {string[]} */ list) => /** @type {[string, string][]} */ (list.map((x) => [x, x]));
  const parts = choices(words.patches);
  const nameOf = (/** @type {any[]} */ group) => {
    const name = words.patches.find((/** @type {any} */ p) => p.key === group[0].patch)?.name ?? group[0].patch;
    return group.length > 1 ? name.replace(/^(right|left)/, 'each') : name;
  };
  const dialOf = (/** @type {string} */ key) => words.movements.find((/** @type {any} */ d) => d.key === key);
  const put = (/** @type {any} */ change) => {
    state = { ...state, ...change };
    draw();
    changed(state);
  };
  const without = (/** @type {any[]} */ list, /** @type {any[]} */ group) => list.filter((y) => !group.includes(y));
  const row = (/** @type {string} */ text, /** @type {() => void} */ drop, /** @type {any} */ more = null) =>
    h('li', {}, h('span', {}, text), h('button', { type: 'button', class: 'plain', onclick: drop, 'aria-label': `Remove ${text}` }, '×'), more);

  const stance = pick('Stance', [['', 'no stance said'], ...words.stances.map((/** @type {any} */ s) => [s.key, s.name])], { id: 'stance', onchange: () => put({ stance: stance.value }) });
  const supports = h('ul', { class: 'rows' });
  const loads = h('ul', { class: 'rows' });
  const cues = h('ul', { class: 'rows' });

  const rests = pick('What rests', parts);
  const on = pick('On what', same(words.surfaces));
  const addSupport = () => {
    const keys = keysOf(rests.value);
    put({ supports: [...state.supports.filter((/** @type {any} */ s) => !keys.includes(s.patch)), ...keys.map((patch) => ({ patch, on: on.value }))] });
  };
  const kind = pick('Load', [['carry', 'carries'], ['push', 'pushes'], ['pull', 'pulls']], { onchange: () => kinds() });
  const where = pick('Where', parts);
  const much = h('input', { type: 'number', min: 0.5, step: 0.5, value: '2', 'aria-label': 'How much' });
  const unit = h('span', {}, 'kg');
  const way = pick('Which way', same(words.ways));
  const kinds = () => {
    unit.textContent = kind.value === 'carry' ? 'kg' : 'N';
    way.hidden = kind.value === 'carry';
  };
  where.value = 'both:palm';
  const addLoad = () => {
    const keys = keysOf(where.value);
    const each = Number(much.value) / keys.length;
    if (!(each > 0)) return much.focus();
    const carried = kind.value === 'carry';
    put({ loads: [...state.loads.filter((/** @type {any} */ l) => !(keys.includes(l.patch) && l.kind === kind.value)),
      ...keys.map((patch) => ({ kind: kind.value, patch, mass_kg: carried ? each : 0, force_n: carried ? 0 : each, direction: carried ? '' : way.value }))] });
  };
  /** @type {[string, string][]} */
  const targets = words.movements.filter((/** @type {any} */ d) => d.side !== 'left').flatMap((/** @type {any} */ d) => [
    [`${d.key}>1`, `${d.joint}, ${d.toward}`], [`${d.key}>0`, `${d.joint}, ${d.away}`]]);
  const asks = pick('Cue', Object.entries(cueWords), { onchange: () => what() });
  const target = pick('Of what', targets);
  const what = () => {
    const touch = asks.value.includes(' ') ? parts : targets;
    fill(target, ...touch.map(([value, text]) => h('option', { value }, text)));
  };
  const addCue = () => {
    const touch = asks.value.includes(' ');
    const [key, toward] = target.value.split('>');
    const d = touch ? null : dialOf(key);
    const more = touch ? keysOf(key).map((patch) => ({ kind: asks.value, movement: '', toward: false, patch, intensity: 0.3 }))
      : [...new Set([key, words.movements[d.other].key])].map((movement) => ({ kind: asks.value, movement, toward: toward === '1' && asks.value === 'pull', patch: '', intensity: 0.3 }));
    const again = (/** @type {any} */ c) => more.some((m) => m.kind === c.kind && m.movement === c.movement && m.patch === c.patch);
    put({ cues: [...state.cues.filter((/** @type {any} */ c) => !again(c)), ...more] });
  };

  const cueText = (/** @type {any[]} */ group) => {
    const c = group[0];
    const d = dialOf(c.movement);
    if (!d) return `${nameOf(group)}: ${cueWords[/** @type {'pull'} */ (c.kind)]}`;
    const who = group.length > 1 ? `each ${d.joint}` : d.name;
    return c.kind === 'brace' ? `${who}: brace` : `${who}: pull into ${c.toward ? d.toward : d.away}`;
  };
  const loadText = (/** @type {any[]} */ group) => {
    const [l, n] = [group[0], (/** @type {number} */ x) => +x.toFixed(2)];
    return `${nameOf(group)} ` + (l.kind === 'carry' ? `carries ${n(l.mass_kg)} kg` : `${l.kind === 'push' ? 'pushes' : 'pulls'} ${l.direction} ${n(l.force_n)} N`);
  };
  const intent = (/** @type {any[]} */ group) => {
    const shown = h('output', {}, strength(group[0].intensity));
    const slider = h('input', { type: 'range', min: 5, max: 100, step: 5, value: String(group[0].intensity * 100), 'aria-label': `How strongly: ${cueText(group)}`, 'aria-valuetext': strength(group[0].intensity), oninput: () => {
      for (const c of group) c.intensity = Number(slider.value) / 100;
      shown.textContent = strength(group[0].intensity);
      slider.setAttribute('aria-valuetext', strength(group[0].intensity));
      changed(state);
    } });
    return h('span', { class: 'intent' }, slider, shown);
  };
  const draw = () => {
    stance.value = state.stance;
    fill(supports, ...pairs(state.supports).map((g) => row(`${nameOf(g)} on the ${/** @type {any} */ (g[0]).on}`, () => put({ supports: without(state.supports, g) }))));
    fill(loads, ...pairs(state.loads).map((g) => row(loadText(g), () => put({ loads: without(state.loads, g) }))));
    fill(cues, ...pairs(state.cues).map((g) => row(cueText(g), () => put({ cues: without(state.cues, g) }), intent(g))));
  };
  const add = (/** @type {string} */ label, /** @type {() => void} */ does) => h('button', { type: 'button', onclick: does, 'aria-label': label }, 'Add');
  const part = (/** @type {string} */ title, /** @type {any} */ list, /** @type {any[]} */ ...fields) =>
    h('section', {}, h('h3', {}, title), list, fields.length > 0 && h('div', { class: 'fields' }, ...fields));
  const el = h('div', { class: 'bearing' },
    part('Stance', stance),
    part('Rests on, besides', supports, rests, on, add('Add this support', addSupport)),
    part('Bears', loads, where, kind, much, unit, way, add('Add this load', addLoad)),
    part('Is asked for', cues, asks, target, add('Add this cue', addCue)));
  kinds();
  draw();
  return {
    el,
    /** @param {any} s */
    show(s) {
      const focused = el.contains(document.activeElement) && document.activeElement?.getAttribute('type') === 'range';
      state = structuredClone(s);
      if (!focused) draw(); // a slider under the hand stays the same slider
      else stance.value = state.stance;
    },
  };
}
