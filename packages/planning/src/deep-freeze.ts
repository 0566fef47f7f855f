/**
 * Freezes plain data all the way down and returns it. What is frozen already is taken to be frozen inside as well:
 * figures are, and everything below them.
 */
export function deepFreeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value;
  Object.freeze(value);
  for (const inner of Object.values(value)) deepFreeze(inner);
  return value;
}
