// @ts-check
// Single keys, and the dialog that lists them. They rest while something is
// typed, and can be switched off altogether.

import { $, fill, h } from './dom.js';
import { keep, set, state } from './state.js';

/**
 * @typedef {{keys: string[], shown: string, does: string, act: () => void, command?: boolean}} Binding
 *   command: with Ctrl or ⌘ held; those are never switched off
 */

/** @param {Binding[]} table */
export function makeKeys(table) {
  const dialog = $('keys');
  const onBox = $('keys-on');
  set({ keys: keep('keys') ?? true });
  onBox.checked = state.keys;
  onBox.addEventListener('change', () => {
    set({ keys: onBox.checked });
    keep('keys', onBox.checked);
  });
  fill($('key-list'), ...table.filter((b) => b.shown).flatMap((b) => [h('dt', {}, h('kbd', {}, b.shown)), h('dd', {}, b.does)]));
  const help = () => (dialog.open ? dialog.close() : dialog.showModal());
  $('help').addEventListener('click', help);

  document.addEventListener('keydown', (e) => {
    if (e.defaultPrevented || e.altKey || e.isComposing) return;
    const command = e.ctrlKey || e.metaKey;
    const typing = isTyping(/** @type {Element} */ (e.target));
    if (typing || document.querySelector('dialog[open]')) return;
    const name = command && e.shiftKey ? `Shift+${e.key.toLowerCase()}` : command ? e.key.toLowerCase() : e.key;
    if (!command && !state.keys) return;
    // A focused button or summary keeps its own space and enter.
    if (e.key === ' ' && /** @type {Element} */ (e.target).closest('button, summary, select, a')) return;
    if (!command && e.key === '?') {
      e.preventDefault();
      help();
      return;
    }
    for (const b of table) {
      if (!!b.command !== command || !b.keys.includes(name)) continue;
      e.preventDefault();
      b.act();
      return;
    }
  });
}

/** Whether keys belong to what has the focus. @param {Element} el */
function isTyping(el) {
  return el.matches?.('input:not([type=checkbox]), textarea, select, [contenteditable]') ?? false;
}
