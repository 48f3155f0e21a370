// Parts that several rooms show.

import { createContext, type ComponentChildren } from "preact";
import { useContext, useEffect, useRef } from "preact/hooks";
import { type Picture, type Refusal, type Room, type Table, type Told } from "./engine";
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

/** A table of the engine's; it is pushed sideways where the screen is narrower. */
export function Rows({ table }: { table: Table }) {
  if (table.rows.length === 0) return null;
  return (
    <div class="rows-wide" tabIndex={0} role="group" aria-label={table.title}>
      <table>
        {table.title ? <caption>{table.title}</caption> : null}
        <thead><tr>{table.columns.map((column) => <th key={column.head} class={column.right ? "right" : undefined}>{column.head}</th>)}</tr></thead>
        <tbody>
          {table.rows.map((row, at) => (
            <tr key={at}>{row.map((cell, column) => <td key={column} class={table.columns[column]?.right ? "right" : undefined}>{cell}</td>)}</tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** A stick's drawing, its figures and how to cut it. */
export function HowCut({ stick, name }: { stick: { drawing: Picture | null; tables: Table[]; steps: string[] }; name: string }) {
  return (
    <>
      {stick.drawing ? <Drawn picture={stick.drawing} name={name} full /> : null}
      {stick.tables.map((table) => <Rows key={table.title} table={table} />)}
      {stick.steps.length > 0 ? <ol class="how">{stick.steps.map((step) => <li key={step}>{step}</li>)}</ol> : null}
    </>
  );
}

/** A setting's name as the roof file writes it, in the middle of a sentence. */
const SETTING = /\b([a-z_]+\.[a-z_0-9]+)\b/;

/** The store of the page, for parts that stand in many places. */
export const OfPage = createContext<Store | null>(null);

/** The engine's words, with a button for each setting that they name; without it if they are to be `plain`. */
export function Keyed({ text, plain }: { text: string; plain?: boolean }) {
  const store = useContext(OfPage);
  const parts = text.split(SETTING).map((part, at) => ({ part, label: at % 2 === 1 ? store?.label(part) : undefined }));
  const named = parts.filter((one) => one.label !== undefined);
  return (
    <>
      {parts.map(({ part, label }, at) => (label === undefined ? part : <b key={at}>{label}</b>))}
      {named.length > 0 && !plain ? (
        <span class="row">
          {named.map(({ part, label }) => <button type="button" key={part} data-opens={part} onClick={() => store?.openSetting(part)}>{words.openSetting(label!)}</button>)}
        </span>
      ) : null}
    </>
  );
}

/** Why something is refused, in the engine's words. */
export function Refusals({ all, at }: { all: Refusal[]; at?: string }) {
  if (all.length === 0) return null;
  return (
    <div class="alert" role="alert"><ul class="refused">
      {all.map((one) => (
        <li key={one.message}>
          <b>✕ {capital(one.message)}.</b> {one.help ? <Keyed text={sentence(one.help)} /> : null} {one.field && one.field !== at ? <Keyed text={one.field} plain={at !== undefined} /> : null}
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
