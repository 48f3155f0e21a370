// A field that is being changed: what is typed, how it reads, why it is refused, and keys of our own.

import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { type ReadBack, type Tables } from "./engine";
import { Refusals, capital } from "./parts";
import { type Store } from "./store";
import { words } from "./words";

type Field = Tables["tables"][number]["fields"][number];

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"];
/** Every mark of a tape to 1/16 in, in the order of the tape. */
const FRACTIONS = [
  "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16",
];

/** A text with a key's letters after it. */
function typed(text: string, key: string): string {
  if (FRACTIONS.includes(key)) return /\d$/.test(text) ? `${text}-${key}in` : `${text}${key}in`;
  if (key === "ft") return `${text}ft `;
  return text + key;
}

export function Keypad({ store, field }: { store: Store; field: Field }) {
  const name = words.fields[field.key] ?? field.key;
  const input = useRef<HTMLInputElement>(null);
  const written = field.text ?? store.value(field.key)?.value ?? "";
  const text = store.typed?.field === field.key ? store.typed.text : written;
  const refused = store.typed?.field === field.key ? store.typed.refused : [];
  const read = store.engine.ask<ReadBack>({ ask: "read", field: field.key, text, units: store.units });
  const back = "ok" in read ? read.ok : null;
  const metric = store.shown === "metric";
  const fresh = store.typed?.field !== field.key;
  const set = (next: string) => store.type(field.key, next);
  const press = (key: string) => set(typed(fresh && key !== "/12" && key !== "deg" && key !== "%" ? "" : text, key));
  useEffect(() => {
    input.current?.focus({ preventScroll: true });
    input.current?.select();
  }, [field.key]);
  const keys = (list: string[], kind: string, more?: ComponentChildren) => (
    <div class={`keys ${kind}`}>
      {list.map((key) => (
        <button type="button" key={key} onClick={() => press(key)}>
          {key}
        </button>
      ))}
      {more}
    </div>
  );
  const back_one = <button type="button" onClick={() => set(fresh ? "" : text.trimEnd().slice(0, -1))}>{words.keypad.back}</button>;
  const none = <button type="button" onClick={() => set("")}>{words.keypad.clear}</button>;
  const measures = field.typed === "length" || field.typed === "pitch" || field.choices.includes("none");
  return (
    <section class="keypad" aria-label={words.change(name, text)}>
      <div class="typed">
        <label>
          <span class="name">{name}</span>
          <input
            ref={input}
            value={text}
            inputMode={measures || field.choices.length > 0 ? "none" : "text"}
            autocomplete="off"
            spellcheck={false}
            aria-invalid={refused.length > 0}
            aria-describedby="reads about"
            onInput={(event) => set(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key === "Enter" || event.key === "Escape") store.open(null);
            }}
          />
        </label>
        <button type="button" class="strong" onClick={() => store.open(null)}>
          {words.keypad.done}
        </button>
      </div>
      <p class="reads" id="reads" aria-live="polite">
        {back?.value ? (
          <>
            {words.keypad.read} <b>{back.value}</b>
            {back.said ? `, ${back.said}` : ""}
          </>
        ) : null}
      </p>
      {back && back.readings.length > 0 ? (
        <div class="meant" role="group" aria-label={words.keypad.meant}>
          <span>{words.keypad.meant}</span>
          {back.readings.map((reading) => (
            <button type="button" key={reading} onClick={() => set(reading)}>
              {reading}
            </button>
          ))}
        </div>
      ) : null}
      <Refusals all={refused} at={field.key} />
      {refused.length > 0 && store.value(field.key) ? (
        <p class="kept">
          {words.keypad.keptAs} <b>{store.value(field.key)!.value}</b>
        </p>
      ) : null}
      {field.choices.length > 0 ? (
        <div class="keys choices">
          {field.choices.map((choice) => (
            <button type="button" key={choice} aria-pressed={choice === text} onClick={() => set(choice)}>
              {choice}
            </button>
          ))}
        </div>
      ) : null}
      {measures ? (
        <div class="pad">
          {keys([...DIGITS, words.keypad.point], "digits", back_one)}
          {field.typed === "pitch" ? (
            keys([words.keypad.per12, words.keypad.deg, words.keypad.percent], "measures", none)
          ) : (
            <>
              {keys(metric ? [words.keypad.mm, words.keypad.m] : [words.keypad.ft, words.keypad.in], "measures", none)}
              {metric ? null : <div aria-label={words.keypad.fractions} role="group">{keys(FRACTIONS, "fractions")}</div>}
            </>
          )}
        </div>
      ) : null}
      <div class="keys edit">
        {field.text !== null && !field.needed ? (
          <button type="button" onClick={() => store.clear(field.key)}>{words.backToDefault}</button>
        ) : null}
      </div>
      <p class="about" id="about">
        {capital(field.about)}. {capital(field.needed ? words.needed : words.byDefault(field.default || words.notSet))}. {capital(field.written_as)}.
      </p>
    </section>
  );
}
