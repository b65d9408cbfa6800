// The few words by which the scripts touch a page.

/**
 * The elements that a selector names, in the order of the page.
 * @param {string} selector
 * @param {ParentNode} [root]
 * @returns {any[]}
 */
export function all(selector, root = document) {
  return [...root.querySelectorAll(selector)];
}

/**
 * The first element that a selector names, or null.
 * @param {string} selector
 * @param {ParentNode} [root]
 * @returns {any}
 */
export function one(selector, root = document) {
  return root.querySelector(selector);
}

/**
 * A new element with a text.
 * @param {string} tag
 * @param {string} [text]
 * @param {string} [className]
 * @returns {any}
 */
export function element(tag, text = "", className = "") {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  if (className) made.className = className;
  return made;
}

/**
 * A new button that does something.
 * @param {string} text
 * @param {() => void} action
 * @param {string} [className]
 * @returns {HTMLButtonElement}
 */
export function button(text, action, className = "") {
  const made = element("button", text, className);
  made.type = "button";
  made.addEventListener("click", action);
  return made;
}
