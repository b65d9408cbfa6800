// Sentences that a script has to say stand in words.json, so that none stands in a script.
import WORDS from "./words.json" with { type: "json" };

/**
 * A sentence by its name, with values in the places of the braces.
 * @param {keyof typeof WORDS} key
 * @param {Record<string, string | number>} [values]
 * @returns {string}
 */
export function say(key, values = {}) {
  return WORDS[key].replace(/\{(\w+)\}/g, (_, place) => String(values[place]));
}
