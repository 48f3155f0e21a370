// A roof in the fragment of a link: the roof file's text, compressed, in letters that every messenger leaves alone.

const BEGINNING = "#roof=";
/** A longer fragment holds no roof file that was written by hand, and neither does a longer text. */
const LONGEST_FRAGMENT = 64 * 1024;
const LONGEST_TEXT = 256 * 1024;

async function through(bytes: Uint8Array<ArrayBuffer>, stream: CompressionStream | DecompressionStream, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new Error("too long");
    }
    parts.push(value);
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** The fragment that holds this text. */
export async function fragment(text: string): Promise<string> {
  const packed = await through(new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>, new CompressionStream("deflate-raw"), LONGEST_TEXT);
  const letters = btoa(String.fromCharCode(...packed));
  return BEGINNING + letters.replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** The fragment with a roof in what somebody sent, be it a whole link or a message about one; empty if there is none. */
export function fragmentIn(sent: string): string {
  return /#roof=[\w-]+/.exec(sent)?.[0] ?? "";
}

/** The text in a fragment; null if it holds none. */
export async function roofIn(hash: string): Promise<string | null> {
  if (!hash.startsWith(BEGINNING) || hash.length > LONGEST_FRAGMENT) return null;
  try {
    const letters = atob(hash.slice(BEGINNING.length).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
    const text = await through(bytes, new DecompressionStream("deflate-raw"), LONGEST_TEXT);
    return new TextDecoder("utf-8", { fatal: true }).decode(text);
  } catch {
    return null;
  }
}
