// Where each room was scrolled to: found again when the room comes back, after a call or a reload too.

import { useEffect } from "preact/hooks";
import { keep, kept } from "./keep";
import { type Store } from "./store";

const KEY = "place";

function load(): Record<string, number> {
  try {
    return JSON.parse(kept(KEY) ?? "{}") as Record<string, number>;
  } catch {
    return {};
  }
}

/** What scrolls: on a phone the whole of it, on a laptop the room. */
function scrolls(): Element[] {
  return [...document.querySelectorAll("main, .room")];
}

export function usePlaces(store: Store): void {
  useEffect(() => {
    let timer = 0;
    const scrolled = (event: Event) => {
      if (store.opened || store.listing || store.starting || !(event.target instanceof Element) || !event.target.matches("main, .room")) return;
      const top = Math.round(event.target.scrollTop);
      const room = store.room;
      clearTimeout(timer);
      timer = window.setTimeout(() => {
        if (!store.linked && store.room === room) keep(KEY, JSON.stringify({ ...load(), [room]: top }));
      }, 150);
    };
    addEventListener("scroll", scrolled, { capture: true });
    return () => removeEventListener("scroll", scrolled, { capture: true });
  }, [store]);
  useEffect(() => {
    const top = store.opened || store.listing || store.starting ? 0 : (load()[store.room] ?? 0);
    for (const one of scrolls()) one.scrollTop = top;
  }, [store.room, store.opened, store.listing, store.starting?.at]);
}
