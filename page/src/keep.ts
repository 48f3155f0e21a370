// What is kept in the browser beside the roof; where nothing can be kept, it lasts as long as the page is open.

const here = new Map<string, string>();

export function kept(key: string): string | null {
  try {
    return localStorage.getItem(`stepoff.${key}`) ?? here.get(key) ?? null;
  } catch {
    return here.get(key) ?? null;
  }
}

/** Keeps a text; null takes it out. */
export function keep(key: string, text: string | null): void {
  if (text === null) here.delete(key);
  else here.set(key, text);
  try {
    if (text === null) localStorage.removeItem(`stepoff.${key}`);
    else localStorage.setItem(`stepoff.${key}`, text);
  } catch {
    // the page says already that this browser keeps nothing
  }
}
