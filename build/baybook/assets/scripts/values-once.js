// Data in which a value that comes again stands once: it is put together when it is needed.

/**
 * A value with those in it that stand in the list of values, each as {at: its place there}.
 * @returns {any}
 */
export function whole(value, values) {
  if (Array.isArray(value)) return value.map((each) => whole(each, values));
  if (value === null || typeof value !== "object") return value;
  if ("at" in value) return whole(values[value.at], values);
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, whole(inner, values)]));
}
