// Whether the address asks for an exercise: then no job is begun or shown on this page.
const MARK = "#exercise=";

/** The token of the exercise that the address names; empty where it names none. */
export function exerciseToken() {
  return location.hash.startsWith(MARK) ? location.hash.slice(MARK.length) : "";
}
