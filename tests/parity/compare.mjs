// Differences between two JSON values: numbers within a tolerance, all else exactly. Each difference
// is a line with its path, so that a failing number can be found.
//
//   tolerance.relative  of the larger magnitude
//   tolerance.absolute  for numbers that are nothing but a difference (0 if not given)
export function differences(a, b, tolerance, path = '') {
  if (typeof a === 'number' && typeof b === 'number') {
    const allowed = tolerance.relative * Math.max(Math.abs(a), Math.abs(b)) + (tolerance.absolute ?? 0);
    if (a === b || Math.abs(a - b) <= allowed) return [];
    const off = Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b));
    return [`${path}: ${a} against ${b}, relative difference ${off.toExponential(1)}`];
  }
  const isTree = (value) => typeof value === 'object' && value !== null;
  if (!isTree(a) || !isTree(b) || Array.isArray(a) !== Array.isArray(b)) {
    return a === b ? [] : [`${path}: ${JSON.stringify(a)} against ${JSON.stringify(b)}`];
  }
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => {
    const below = path ? `${path}.${key}` : key;
    if (!(key in a)) return [`${below}: only on the right`];
    if (!(key in b)) return [`${below}: only on the left`];
    return differences(a[key], b[key], tolerance, below);
  });
}
