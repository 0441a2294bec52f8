// @ts-check
// Reasons and sources, as every panel shows them.

import { h } from './dom.js';

/** @typedef {{key: string, text: string, grade: string}} Source */

/**
 * Reasons in the order of the argument, each with how its figures are known.
 * @param {{text: string, source: string}[]} list @param {Source[]} sources
 */
export function reasonList(list, sources) {
  return h('ul', { class: 'reasons' }, ...list.map((r) => {
    const known = sources.find((s) => s.key === r.source);
    const text = r.source ? r.text.replace(` [${r.source}]`, '') : r.text;
    return h('li', {}, text, r.source && h('span', { class: 'source' }, ` ${known ? known.grade : 'source'}: ${r.source.replaceAll('_', ' ')}`));
  }));
}

/** Sources behind a title; nothing when there are none. @param {string} title @param {Source[]} sources */
export function sourceList(title, sources) {
  return sources.length > 0 && h('details', { class: 'more' }, h('summary', {}, title),
    h('ul', {}, ...sources.map((s) => h('li', {}, `${s.text}. `, h('span', { class: 'source' }, `${s.grade}, ${s.key}`)))));
}
