// While a list is ticked the screen stays on, and a browser with a voice reads the next mark aloud.

let lock: { release(): Promise<void> } | null = null;
let wanted = false;

async function take(): Promise<void> {
  try {
    lock = (await navigator.wakeLock?.request("screen")) ?? null;
  } catch {
    lock = null;
  }
}

/** Keeps the screen on until `letSleep`; a browser that does not allow it lets it sleep. */
export function stayAwake(): void {
  if (wanted) return;
  wanted = true;
  void take();
}

export function letSleep(): void {
  wanted = false;
  void lock?.release().catch(() => undefined);
  lock = null;
}

if (typeof document !== "undefined") {
  // a browser takes the lock away with the page out of sight
  document.addEventListener("visibilitychange", () => {
    if (wanted && document.visibilityState === "visible") void take();
  });
}

export const canSpeak = typeof window !== "undefined" && "speechSynthesis" in window;

export function speak(text: string): void {
  if (!canSpeak) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(text);
  said.lang = "en";
  said.rate = 0.9;
  speechSynthesis.speak(said);
}

export function hush(): void {
  if (canSpeak) speechSynthesis.cancel();
}
