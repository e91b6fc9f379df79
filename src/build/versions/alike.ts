/** Numbers that differ by less are the same, mm or shares. */
const leastNumber = 1e-6;

/** Whether plain data is the same: objects, lists, typed arrays, numbers but for rounding. */
export function isAlike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) <= leastNumber;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (isList(a) || isList(b)) {
    if (!isList(a) || !isList(b) || a.length !== b.length) return false;
    for (let i = 0; i < a.length; i++) if (!isAlike(a[i], b[i])) return false;
    return true;
  }
  const [own, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  return [...new Set([...Object.keys(own), ...Object.keys(other)])].every((key) =>
    isAlike(own[key], other[key]),
  );
}

const isList = (value: object): value is ArrayLike<unknown> & object =>
  Array.isArray(value) || (ArrayBuffer.isView(value) && "length" in value);
