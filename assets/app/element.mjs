/** Parts of a page, made so that nothing a person typed is ever read as markup. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @template {keyof HTMLElementTagNameMap} Name
 * @param {Name} name
 * @param {Object<string, string|number|boolean|null|Function>} [given] attributes; a function listens for that event;
 *   null and false leave the attribute out
 * @param {...(Node|string|null|undefined)} inside
 * @returns {HTMLElementTagNameMap[Name]}
 */
export function element(name, given = {}, ...inside) {
  return filled(document.createElement(name), given, inside);
}

/** The same for a drawing. @returns {SVGElement} */
export function drawn(name, given = {}, ...inside) {
  return filled(document.createElementNS(SVG, name), given, inside);
}

function filled(node, given, inside) {
  for (const [key, value] of Object.entries(given)) {
    if (typeof value === "function") node.addEventListener(key, value);
    else if (value !== null && value !== false && value !== undefined) node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...inside.filter((part) => part !== null && part !== undefined));
  return node;
}

/**
 * The place in a page that the template left to be filled in.
 * @param {ParentNode} root @param {string} name @returns {any}
 */
export function part(root, name) {
  return root.querySelector(`[data-part="${name}"]`);
}

/** @param {ParentNode} root @param {string} selector @returns {any[]} */
export function all(root, selector) {
  return [...root.querySelectorAll(selector)];
}

/** Sets or takes away a data attribute that stands for a fact by being there. */
export function mark(node, name, holds) {
  if (holds) node.dataset[name] = "";
  else delete node.dataset[name];
}
