// PLAN: the five numbers with steppers, what they come to, and every other setting by search.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { Compare } from "../ask/compare";
import { Fit } from "../ask/fit";
import { begin } from "../ask/start";
import { SEAT } from "../editing";
import { type Field, type Reader, type Tables } from "../engine";
import { Keypad } from "../keypad";
import { Rows, sentence } from "../parts";
import { type Store } from "../store";
import { words } from "../words";
import { Blocks, Setting } from "./blocks";

const FIVE = ["building.span", "roof.pitch", "eave.overhang", "ridge.board", "rafter.stock", "roof.spacing", SEAT];

function all(store: Store): Tables {
  const told = store.engine.ask<Tables>({ ask: "fields", roof: store.roof, units: store.units });
  return "ok" in told ? told.ok : { readers: [], tables: [], lists: [] };
}

/** Every field there is: those of the roof, and those of each wing, dormer and opening. */
function fields(store: Store): Field[] {
  const { tables, lists } = all(store);
  return [...tables.flatMap((table) => table.fields), ...lists.flatMap((list) => list.items.flatMap((item) => item.fields))];
}

function Five({ store, field }: { store: Store; field: string }) {
  const name = words.fields[field] ?? field;
  const used = store.value(field);
  // the seat that follows from the notch rule, not the words of that rule
  const value = field === SEAT && !used?.given ? store.figure("seat") : used?.value;
  return (
    <div class="five">
      <button type="button" class="step" aria-label={words.stepDown(name)} onClick={() => store.nudge(field, false)}>−</button>
      <button type="button" class="value" data-field={field} onClick={() => store.open(field)}>
        <span class="name">{name}</span>
        <span class="figure">{value ?? words.notSet}</span>
      </button>
      <button type="button" class="step" aria-label={words.stepUp(name)} onClick={() => store.nudge(field, true)}>+</button>
    </div>
  );
}

/** The five numbers, or the one that is being changed. */
export function Numbers({ store }: { store: Store }) {
  const open = store.field !== null && store.opened ? store.field : null;
  const field = open ? fields(store).find((one) => one.key === open) : undefined;
  if (field) return <Keypad store={store} field={field} />;
  return (
    <div class="fives">
      {store.example ? <div class="example"><p>{words.exampleIs}</p><button type="button" onClick={() => begin(store)}>{words.makeMine}</button></div> : null}
      {FIVE.map((key) => <Five key={key} store={store} field={key} />)}
    </div>
  );
}

export function Plan({ store }: { store: Store }) {
  const read = useAll(store);
  return (
    <>
      <section>
        <h3>{words.figures}</h3>
        <dl class="figures">
          {store.plan?.figures.map((figure) => (
            <div key={figure.key} data-figure={figure.key} class={store.moved.some((one) => one.now === figure.value && one.name === figure.name) ? "moved" : ""}>
              <dt>{figure.name}</dt>
              <dd>{figure.value}</dd>
            </div>
          ))}
        </dl>
        {store.plan?.notes.map((note) => <p key={note}>{sentence(note)}</p>)}
        <details class="faces">
          <summary>{words.faces}</summary>
          {store.plan?.faces.map((table) => <Rows key={table.title} table={table} />)}
        </details>
      </section>
      <Blocks store={store} lists={read.lists} />
      <Asks store={store} />
      <All store={store} read={read} />
    </>
  );
}

/** The two questions that search: one number, or many roofs. Each is set up only when it is opened. */
function Asks({ store }: { store: Store }) {
  const [open, setOpen] = useState<"fit" | "compare" | null>(null);
  const place = useRef<HTMLElement>(null);
  // what opens below the screen is brought up
  useEffect(() => { if (open) place.current?.scrollIntoView({ block: "start" }); }, [open]);
  const one = (name: "fit" | "compare", title: string) => (
    <button type="button" aria-expanded={open === name} onClick={() => setOpen(open === name ? null : name)}>{title}</button>
  );
  return (
    <section class="asks" ref={place}>
      <div class="files">{one("fit", words.fit.title)}{one("compare", words.compare.title)}</div>
      {open === "fit" ? <Fit store={store} /> : null}
      {open === "compare" ? <Compare store={store} /> : null}
    </section>
  );
}

/** How long after the last change the settings are read anew, milliseconds: while a value is dragged they are not. */
const SETTLED = 150;

/** Every field as the roof file has it, a moment after each change. */
function useAll(store: Store): Tables {
  const { roof, units } = store;
  const [read, setRead] = useState(() => all(store));
  const of = useRef({ roof, units });
  useEffect(() => {
    if (of.current.roof === roof && of.current.units === units) return;
    const later = setTimeout(() => {
      of.current = { roof, units };
      setRead(all(store));
    }, SETTLED);
    return () => clearTimeout(later);
  }, [roof, units]);
  return read;
}

function All({ store, read }: { store: Store; read: Tables }) {
  const [search, setSearch] = useState("");
  const [who, setWho] = useState<Reader | null>(null);
  const { readers, tables } = read;
  return useMemo(() => {
    const wanted = search.toLowerCase().split(/\s+/).filter(Boolean);
    const parts = tables
      .map((part) => ({
        ...part,
        fields: part.fields.filter((field) => {
          const text = `${field.label} ${field.key} ${field.about} ${field.choices.join(" ")}`.toLowerCase();
          return (who === null || field.who.includes(who)) && wanted.every((word) => text.includes(word));
        }),
      }))
      .filter((part) => part.fields.length > 0);
    const count = parts.reduce((sum, part) => sum + part.fields.length, 0);
    return (
      <section>
        <h3>{words.allFields}</h3>
        <label class="search">
          <span>{words.search}</span>
          <input type="search" value={search} onInput={(event) => setSearch(event.currentTarget.value)} />
        </label>
        <div class="keys choices readers" role="group" aria-label={words.who}>
          <button type="button" aria-pressed={who === null} onClick={() => setWho(null)}>{words.everybody}</button>
          {readers.map(([reader, word]) => <button type="button" key={reader} aria-pressed={who === reader} onClick={() => setWho(reader)}>{word}</button>)}
        </div>
        <p role="status">{words.found(count)}</p>
        {parts.map((part) => (
          <details key={part.table} open={wanted.length > 0 || undefined}>
            <summary>{part.about}</summary>
            <ul class="settings">
              {part.fields.map((field) => <Setting key={field.key} store={store} field={field} />)}
            </ul>
          </details>
        ))}
      </section>
    );
  }, [tables, search, who]);
}
