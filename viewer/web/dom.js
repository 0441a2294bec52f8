// @ts-check
// Elements made and found. Text always goes in as text, never as markup.

/** @param {string} id @returns {any} the element with this id */
export const $ = (id) => document.getElementById(id);

/**
 * Makes an element. Properties that start with "on" are listeners, "class" and
 * "data-…", "aria-…" are attributes, the rest are set as properties.
 * @param {string} tag
 * @param {Record<string, any>} [props]
 * @param {...(Node|string|null|undefined|false)} children
 * @returns {any}
 */
export function h(tag, props = {}, ...children) {
  /** @type {any} */
  const el = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith('on')) el.addEventListener(key.slice(2), value);
    else if (key === 'class' || key.includes('-') || key === 'role' || key === 'for') el.setAttribute(key, value);
    else el[key] = value;
  }
  for (const child of children) if (child !== null && child !== undefined && child !== false) el.append(child);
  return el;
}

/** Replaces what an element holds. @param {Element} el @param {...(Node|string|null|false)} children */
export function fill(el, ...children) {
  el.replaceChildren(...children.filter((c) => c !== null && c !== false && c !== undefined));
}

/** Puts a symbol of the sprite into a button. @param {Element} button @param {string} name @param {string} label */
export function icon(button, name, label) {
  button.querySelector('use')?.setAttribute('href', `#i-${name}`);
  const text = button.querySelector('.sr');
  if (text && text.textContent !== label) text.textContent = label;
}

/** Says something to people who listen. @param {string} text */
export function say(text) {
  $('status').textContent = text;
}

/** @returns {boolean} whether the person asked for less motion */
export const still = () => matchMedia('(prefers-reduced-motion: reduce)').matches;
