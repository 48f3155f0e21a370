// The walk round the roof: one finding at a time or all of them, ticked, measured, noted, signed and printed.

import { useEffect, useRef } from "preact/hooks";
import { letSleep, stayAwake } from "../awake";
import { type CheckView } from "../engine";
import { capital, Verdict } from "../parts";
import { print } from "../print";
import { type Store } from "../store";
import { words } from "../words";
import { Signature, Signed } from "./signature";

type Row = CheckView["walk"][number]["rows"][number];
interface Place { stop: string; row: Row; key: string }

/** What somebody who looked found, or that it could not be seen. */
const FOUND = ["yes", "no", "unseen"] as const;

/** Opens the walk and brings it up. */
export function startWalk(store: Store): void {
  store.tick("walking|open", 1);
  requestAnimationFrame(() => (document.querySelector(".walk .one") ?? document.querySelector(".walking"))?.scrollIntoView({ block: "start" }));
}

function places(view: CheckView): Place[] {
  return view.walk.flatMap((stop) => stop.rows.map((row) => ({ stop: stop.words, row, key: `walk|${row.id}|${row.title}` })));
}

export function Walk({ store, view }: { store: Store; view: CheckView }) {
  const text = words.walk;
  const all = places(view);
  const count = (found: string) => all.filter((one) => store.noted(`${one.key}|found`) === found).length;
  const [met, not, unseen] = [count("yes"), count("no"), count("unseen")];
  const done = met + not;
  const filled = Object.keys(store.ticks).some((key) => key.startsWith("walk|"));
  const whole = store.ticked("walking|whole") > 0;
  const at = Math.min(store.ticked("walking|at"), Math.max(0, all.length - 1));
  useEffect(() => letSleep, []);
  return (
    <details class="walking" open={store.ticked("walking|open") > 0} onToggle={(event) => {
      const open = event.currentTarget.open ? 1 : 0;
      if (open !== store.ticked("walking|open")) store.tick("walking|open", open);
    }}>
      <summary>{words.check.walk}</summary>
      <p role="status">{text.done(done, all.length, not, unseen)}</p>
      <progress value={done} max={all.length} aria-label={text.progress} />
      <div class="row" role="group" aria-label={text.form}>
        <button type="button" aria-pressed={!whole} onClick={() => store.tick("walking|whole", 0)}>{text.single}</button>
        <button type="button" aria-pressed={whole} onClick={() => store.tick("walking|whole", 1)}>{text.whole}</button>
      </div>
      {whole ? view.walk.map((stop) => (
        <section key={stop.words}>
          <h4>{stop.words}</h4>
          <ul class="walk">
            {all.filter((one) => one.stop === stop.words).map((one) => <li key={one.key}><Filled store={store} place={one} /></li>)}
          </ul>
        </section>
      )) : <One store={store} all={all} at={at} />}
      <Signature store={store} />
      <div class="row">
        <button type="button" onClick={() => void print("@page { size: auto; margin: 15mm; }", <Walked store={store} view={view} />)}>{text.print}</button>
        <button type="button" disabled={!filled} onClick={() => { if (confirm(text.sure)) store.untick("walk|"); }}>{words.check.clear}</button>
      </div>
    </details>
  );
}

/** One place of the walk, with the way to the next. */
function One({ store, all, at }: { store: Store; all: Place[]; at: number }) {
  const text = words.walk;
  const place = all[at];
  if (!place) return null;
  const go = (to: number) => {
    store.tick("walking|at", to);
    // the next finding is read before it is filled in
    requestAnimationFrame(() => document.querySelector(".walk .one")?.scrollIntoView({ block: "start" }));
  };
  return (
    <div class="walk">
      <div class="one">
        <h4>{place.stop} <span class="small">{text.place(at + 1, all.length)}</span></h4>
        <Filled store={store} place={place} meets={() => { if (at < all.length - 1) go(at + 1); }} />
      </div>
      <div class="row">
        <button type="button" disabled={at === 0} onClick={() => go(at - 1)}>{text.back}</button>
        <button type="button" disabled={at >= all.length - 1} onClick={() => go(at + 1)}>{text.next}</button>
      </div>
    </div>
  );
}

/**
 * What is looked at: what was found, and measured; a note shows when it is asked for, and while it holds anything. What meets
 * leads on (`meets`) where findings stand one at a time.
 */
function Filled({ store, place, meets }: { store: Store; place: Place; meets?: () => void }) {
  const text = words.walk;
  const { row, key } = place;
  const found = store.noted(`${key}|found`);
  const open = store.ticked(`${key}|open`) > 0 || store.noted(`${key}|note`) !== "";
  const box = useRef<HTMLDivElement>(null);
  const add = () => {
    store.tick(`${key}|open`, 1);
    requestAnimationFrame(() => box.current?.querySelector<HTMLElement>('[data-walk="note"]')?.focus());
  };
  const field = (name: "measured" | "note", label: string) => (
    <label class="note">
      <span>{label}</span>
      <input data-walk={name} value={store.noted(`${key}|${name}`)} onFocus={stayAwake} onInput={(event) => store.tick(`${key}|${name}`, event.currentTarget.value)} />
    </label>
  );
  return (
    <>
      <p class={`asked-of ${found === "no" ? "unmet" : ""}`}>
        <b>{capital(row.title)}</b> <Found found={found} /><br />
        {capital(row.measure)}{row.limit !== "-" ? `: ${row.limit}` : ""} <span class="small">{row.section}; {text.byPlan(row.verdict)}</span>
      </p>
      <div class="fill" ref={box}>
        <div class="row" role="group" aria-label={`${words.check.finding}: ${row.title}`}>
          {FOUND.map((one) => {
            const pressed = found === one;
            return (
              <button type="button" key={one} aria-pressed={pressed} onClick={() => {
                stayAwake();
                store.tick(`${key}|found`, pressed ? "" : one);
                if (!pressed && one === "yes") meets?.();
              }}>{text.found[one]}</button>
            );
          })}
        </div>
        <div class="typed">
          {field("measured", words.check.measured)}
          {open ? null : <button type="button" onClick={add} aria-label={text.addTo(row.title)}>{text.add}</button>}
        </div>
        {open ? field("note", words.check.note) : null}
      </div>
    </>
  );
}

/** What was found, by word and shape. */
function Found({ found }: { found: string }) {
  if (found === "") return null;
  const verdict = { yes: "meets", no: "fails", unseen: "not checked" }[found as (typeof FOUND)[number]];
  return <Verdict verdict={verdict} text={words.walk.found[found as (typeof FOUND)[number]].toLowerCase()} />;
}

/** The walk on paper, with what was filled in. */
function Walked({ store, view }: { store: Store; view: CheckView }) {
  const text = words.walk;
  return (
    <div class="walked">
      <h2>{store.plan?.name ?? words.title}: {words.check.walk.toLowerCase()}</h2>
      <p>{words.check.against} {view.edition}. {view.caution}</p>
      {view.walk.map((stop) => (
        <section key={stop.words}>
          <h3>{stop.words}</h3>
          <ul>
            {stop.rows.map((row) => {
              const key = `walk|${row.id}|${row.title}`;
              const [found, measured, note] = [store.noted(`${key}|found`), store.noted(`${key}|measured`), store.noted(`${key}|note`)];
              return (
                <li key={key}>
                  {found === "yes" || found === "no" ? "☑" : "☐"} <b>{capital(row.title)}</b> ({text.byPlan(row.verdict)}). {capital(row.measure)}{row.limit !== "-" ? `: ${row.limit}` : ""} {row.section}
                  {found ? <><br />{words.check.finding}: <b>{text.found[found as (typeof FOUND)[number]].toLowerCase()}</b></> : null}
                  {measured ? <><br />{words.check.measured}: <b>{measured}</b></> : null}
                  {note ? <><br />{words.check.note}: <b>{note}</b></> : null}
                </li>
              );
            })}
          </ul>
        </section>
      ))}
      <Signed store={store} empty={text.unsigned} />
    </div>
  );
}
