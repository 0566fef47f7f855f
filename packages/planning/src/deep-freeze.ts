/**
 * Freezes plain data all the way down and returns it. What is frozen already is taken to be frozen inside as well:
 * figures are, and everything below them.
 */
export function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) freezeInside(value);
  return value;
}

function freezeInside(holder: object): void {
  Object.freeze(holder);
  if (Array.isArray(holder)) {
    for (const inner of holder) if (typeof inner === 'object' && inner !== null) deepFreeze(inner);
    return;
  }
  for (const key in holder) {
    const inner = (holder as Record<string, unknown>)[key];
    if (typeof inner === 'object' && inner !== null && !Object.isFrozen(inner)) freezeInside(inner);
  }
}
