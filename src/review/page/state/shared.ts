/**
 * What `next` says, made of the parts of `before` wherever they say the same: what did not change stays the same object,
 * so that only what did is drawn anew. Plain data, as it comes out of JSON.
 */
export function shared<T>(before: unknown, next: T): T {
  if (before === next || !isHolder(before) || !isHolder(next) || Array.isArray(before) !== Array.isArray(next))
    return next;
  const keys = Object.keys(next);
  const parts = keys.map((key) => shared(before[key], next[key]));
  const same =
    keys.length === Object.keys(before).length && keys.every((key, i) => key in before && parts[i] === before[key]);
  if (same) return before as T;
  return (Array.isArray(next) ? parts : Object.fromEntries(keys.map((key, i) => [key, parts[i]]))) as T;
}

function isHolder(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}
