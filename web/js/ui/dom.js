/** Making and finding elements: text and attributes only, never markup from strings. */

/**
 * Each takes the event that its name stands for.
 * @typedef {(event: never) => void} Listener
 */

/**
 * @typedef {Record<string, string | number | boolean | undefined | Listener>} Props
 * Attributes; `true` sets an empty one, `false` and `undefined` none; `onclick` and the like listen.
 */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Props} [props]
 * @param {...(Node | string)} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, props = {}, ...children) {
  return dress(document.createElement(tag), props, children);
}

/**
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Props} [props]
 * @param {...(Node | string)} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, props = {}, ...children) {
  return dress(document.createElementNS(SVG, tag), props, children);
}

/**
 * @template {Element} E
 * @param {E} element
 * @param {Props} props
 * @param {(Node | string)[]} children
 * @returns {E}
 */
function dress(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (typeof value === "function") element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    else attribute(element, name, value);
  }
  element.append(...children);
  return element;
}

/**
 * Sets, empties or removes an attribute, if it isn't so already.
 * @param {Element} element
 * @param {string} name
 * @param {string | number | boolean | undefined} value
 */
export function attribute(element, name, value) {
  if (value === undefined || value === false) element.removeAttribute(name);
  else {
    const text = value === true ? "" : String(value);
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
}

/**
 * @param {Element} element
 * @param {string} content
 */
export function text(element, content) {
  if (element.textContent !== content) element.textContent = content;
}

/**
 * @template {Element} E
 * @param {string} selector
 * @param {new (...args: never[]) => E} type
 * @returns {E}
 */
export function find(selector, type) {
  const found = document.querySelector(selector);
  if (!(found instanceof type)) throw new Error(`the page has no ${selector}`);
  return found;
}

let lastId = 0;

/** @returns {string} an id that no other element has */
export function newId() {
  lastId += 1;
  return `part-${lastId}`;
}
