/** The same answers, each found once: what many cells hold alike is asked of one of them. */
export function remembering<K, T>(find: (key: K) => T): (key: K) => T {
  const found = new Map<K, T>();
  return (key) => {
    const known = found.get(key);
    if (known !== undefined) return known;
    const now = find(key);
    found.set(key, now);
    return now;
  };
}
