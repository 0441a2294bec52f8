// @ts-check
// The names beside the score's rows: regions that open into their muscles, as a
// tree that keys can walk, each saying what it does in the phase that is shown.

import { fill, h } from './dom.js';

/**
 * @param {HTMLElement} tree
 * @param {{toggle: (region: string) => void, ask: (muscle: number) => void, say: (row: import('./scoredata.js').Row) => string}} act
 */
export function makeTree(tree, act) {
  /** @type {import('./scoredata.js').Row[]} */
  let rows = [];
  /** @type {HTMLElement[]} */
  let items = [];
  let focus = 0;

  const isRegion = (/** @type {number} */ i) => rows[i]?.closed !== undefined;
  const side = (/** @type {string} */ s) => (s === 'right' ? 'right' : s === 'left' ? 'left' : '');

  /** Lets one item be reached by the tab key. @param {number} i @param {boolean} go */
  const stand = (i, go) => {
    items[focus]?.setAttribute('tabindex', '-1');
    focus = Math.max(0, Math.min(items.length - 1, i));
    items[focus]?.setAttribute('tabindex', '0');
    if (go) items[focus]?.focus();
  };
  const enter = (/** @type {number} */ i) => (isRegion(i) ? act.toggle(rows[i].region) : act.ask(rows[i].muscles[0]));
  const own = (/** @type {number} */ i) => rows.findIndex((r, k) => r.closed !== undefined && r.region === rows[i].region && k <= i);

  tree.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (e.ctrlKey || e.altKey || e.metaKey) return;
    const r = rows[focus];
    /** @type {Record<string, () => void>} */
    const keys = {
      ArrowDown: () => stand(focus + 1, true),
      ArrowUp: () => stand(focus - 1, true),
      Home: () => stand(0, true),
      End: () => stand(items.length - 1, true),
      ArrowRight: () => (isRegion(focus) && r.closed ? act.toggle(r.region) : isRegion(focus) && stand(focus + 1, true)),
      ArrowLeft: () => (isRegion(focus) ? !r.closed && act.toggle(r.region) : stand(own(focus), true)),
      Enter: () => enter(focus),
      ' ': () => enter(focus),
    };
    const does = keys[e.key];
    if (!does || !r) return;
    e.preventDefault();
    e.stopPropagation();
    does();
  });
  tree.addEventListener('click', (e) => {
    const item = /** @type {Element} */ (e.target).closest('[role=treeitem]');
    const i = items.indexOf(/** @type {HTMLElement} */ (item));
    if (i < 0) return;
    stand(i, true);
    enter(i);
  });
  tree.addEventListener('focusin', (e) => {
    const i = items.indexOf(/** @type {HTMLElement} */ (e.target));
    if (i >= 0) stand(i, false);
  });

  return {
    /** @param {import('./scoredata.js').Row[]} now */
    rows(now) {
      const had = tree.contains(document.activeElement);
      const old = rows[focus];
      rows = now;
      items = rows.map((r) => h('li', { role: 'treeitem', class: r.closed === undefined ? 'part' : 'region', 'aria-level': r.closed === undefined ? '2' : '1', 'aria-expanded': r.closed === undefined ? undefined : String(!r.closed), tabindex: -1 },
        h('span', { class: 'name', title: r.name }, r.name), ' ', side(r.side) && h('span', { class: 'side' }, side(r.side))));
      fill(tree, ...items);
      const same = old ? rows.findIndex((r) => r.region === old.region && r.name === old.name && r.side === old.side && (r.closed === undefined) === (old.closed === undefined)) : 0;
      stand(same >= 0 ? same : 0, had);
      this.say();
    },
    /** Says anew what each row does. */
    say() {
      rows.forEach((r, i) => items[i].setAttribute('aria-label', `${r.name}${side(r.side) && ` ${side(r.side)}`}: ${act.say(r)}`));
    },
    /** Shows which muscles were asked about. @param {number} muscle */
    mark(muscle) {
      rows.forEach((r, i) => items[i].classList.toggle('asked', r.closed === undefined && r.muscles.includes(muscle)));
    },
  };
}
