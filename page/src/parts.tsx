// Parts that several rooms show.

import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { type Picture, type Refusal, type Room, type Told } from "./engine";
import { PIXELS } from "./editing";
import { type Store } from "./store";
import { words } from "./words";

/** A drawing of the engine's, as large as on paper unless the place is narrower. */
export function Drawn({ picture, name, full }: { picture: Picture; name: string; full?: boolean }) {
  const style = full ? { width: `${picture.wide * PIXELS}px` } : undefined;
  return (
    <div class={full ? "drawn wide" : "drawn"} tabIndex={full ? 0 : undefined} role={full ? "group" : undefined} aria-label={full ? name : undefined}>
      <div role="img" aria-label={name} style={style} dangerouslySetInnerHTML={{ __html: picture.svg }} />
    </div>
  );
}

/** Why something is refused, in the engine's words. */
export function Refusals({ all, at }: { all: Refusal[]; at?: string }) {
  if (all.length === 0) return null;
  return (
    <div class="alert" role="alert"><ul class="refused">
      {all.map((one) => (
        <li key={one.message}>
          <b>✕ {capital(one.message)}.</b> {one.field && one.field !== at ? <span class="key">{one.field}</span> : null} {one.help ?  capital(one.help) + "." : ""}
        </li>
      ))}
    </ul></div>
  );
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A word on what was done, brought into sight. */
export function Said({ children }: { children: ComponentChildren }) {
  const place = useRef<HTMLParagraphElement>(null);
  useEffect(() => { if (children) place.current?.scrollIntoView({ block: "nearest" }); }, [children]);
  return children ? <p role="status" class="said" ref={place}>{children}</p> : null;
}

/** A button that opens a file. */
export function OpenFile({ open, children, ...input }: { open: (file: File) => unknown; children: string; accept: string; "data-prices"?: boolean }) {
  return (
    <label class="button">
      {children}
      <input type="file" {...input} onChange={(event) => {
        const file = event.currentTarget.files?.[0];
        if (file) void open(file);
        event.currentTarget.value = "";
      }} />
    </label>
  );
}

/** With a capital and a full stop. */
export function sentence(text: string): string {
  return capital(text).replace(/\.?$/, ".");
}

/** What a room shows, or why it can't. */
export function Shown<T>({ told, children }: { told: Told<T>; children: (view: T) => ComponentChildren }) {
  if ("ok" in told) return <>{children(told.ok)}</>;
  if ("refused" in told) return <Refusals all={told.refused} />;
  return <p class="refused">{"stopped" in told ? told.stopped : told.broken}</p>;
}

const SIGN: Record<string, string> = { fails: "✕", "needs design": "△", "not checked": "?", meets: "✓" };

/** A verdict by word and shape. */
export function Verdict({ verdict, text }: { verdict: string; text?: string }) {
  return (
    <span class={`verdict ${verdict.replace(" ", "-")}`}>
      <span aria-hidden="true">{SIGN[verdict] ?? ""}</span> {text ?? verdict}
    </span>
  );
}

export function Caution({ children }: { children: string }) {
  return <p class="caution">{children}</p>;
}

/** A tick that stays. */
export function Tick({ store, id, children, class: name, ticks }: { store: Store; id: string; children: ComponentChildren; class?: string; ticks?: () => void }) {
  const done = store.ticked(id) > 0;
  return (
    <label class={`tick ${name ?? ""} ${done ? "done" : ""}`}>
      <input type="checkbox" checked={done} onChange={(event) => { ticks?.(); store.tick(id, event.currentTarget.checked ? 1 : 0); }} />
      <span>{children}</span>
    </label>
  );
}

/** What a room is headed with. */
export function Head({ room }: { room: Room }) {
  return <h2 class="head">{words.roomIs[room]}</h2>;
}
