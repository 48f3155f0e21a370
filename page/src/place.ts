// Where each room of a job was scrolled to: found again when the room comes back, after a call or a reload too. Another job
// begins at the top of its rooms.

import { useEffect } from "preact/hooks";
import { keep, kept } from "./keep";
import { type Store } from "./store";

const KEY = "place";

interface Places { job: string; rooms: Record<string, number> }

function load(job: string): Places["rooms"] {
  try {
    const places = JSON.parse(kept(KEY) ?? "{}") as Partial<Places>;
    return places.job === job ? (places.rooms ?? {}) : {};
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
      const { room, job } = store;
      clearTimeout(timer);
      timer = window.setTimeout(() => {
        if (store.linked || store.room !== room || store.job !== job) return;
        keep(KEY, JSON.stringify({ job, rooms: { ...load(job), [room]: top } } satisfies Places));
      }, 150);
    };
    addEventListener("scroll", scrolled, { capture: true });
    return () => removeEventListener("scroll", scrolled, { capture: true });
  }, [store]);
  useEffect(() => {
    const top = store.opened || store.listing || store.starting ? 0 : (load(store.job)[store.room] ?? 0);
    for (const one of scrolls()) one.scrollTop = top;
  }, [store.job, store.room, store.opened, store.listing, store.starting?.at]);
}
