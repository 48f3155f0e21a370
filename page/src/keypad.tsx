// A value that is being typed: how it reads, why it is refused, and keys of our own.

import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { type Field, type ReadBack, type Refusal } from "./engine";
import { Refusals, capital } from "./parts";
import { STEPS, type Store } from "./store";
import { words } from "./words";

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"];

/** The marks of a tape between two inches, down to a step: `4` for quarters. */
function fractions(parts: number): string[] {
  return Array.from({ length: parts - 1 }, (_, at) => {
    let [over, under] = [at + 1, parts];
    while (over % 2 === 0) [over, under] = [over / 2, under / 2];
    return `${over}/${under}`;
  });
}

/** A text with a key's letters after it. */
function typed(text: string, key: string): string {
  if (key.includes("/") && key !== words.keypad.per12) return /\d$/.test(text) ? `${text}-${key}in` : `${text}${key}in`;
  const { ft, mm, m } = words.keypad;
  // a fraction brings its inch sign with it: a thumb that adds one means the same
  const units: string[] = [ft, words.keypad.in, mm, m];
  if (units.includes(key) && text.trimEnd().endsWith(key)) return text;
  if (key === ft) return `${text}ft `;
  if (key === words.keypad.minus) return text.startsWith("-") ? text.slice(1) : `-${text}`;
  return text + key;
}

interface PadProps {
  store: Store;
  field: Field;
  name: string;
  text: string;
  /** True until something is typed: the first key then replaces the text. */
  fresh: boolean;
  /** What is wrong with the text, once that is said; until then nothing is. */
  refused: Refusal[];
  onText: (text: string) => void;
  onDone: () => void;
  done: string;
  /** The value that stays where nothing is taken. */
  stays?: string;
  /** Shown while nothing is typed. */
  hint?: ComponentChildren;
  /** Beside the keys for units. */
  more?: ComponentChildren;
}

export function Pad({ store, field, name, text, fresh, refused, onText, onDone, done, stays, hint, more }: PadProps) {
  const input = useRef<HTMLInputElement>(null);
  // one refusal, of this field if there is one: what else can't stand with it follows from it
  const wrong = [refused.find((one) => one.field === field.key) ?? refused[0]].filter((one) => one !== undefined);
  const read = store.engine.ask<ReadBack>({ ask: "read", field: field.key, text, units: store.units });
  const back = "ok" in read ? read.ok : null;
  const metric = store.shown === "metric";
  const length = field.typed === "length" || field.typed === "signed" || field.choices.includes("none");
  const measures = length || field.typed === "pitch";
  const keeps: string[] = [words.keypad.per12, words.keypad.deg, words.keypad.percent, words.keypad.minus];
  const press = (key: string) => onText(typed(fresh && !keeps.includes(key) ? "" : text, key));
  // before anything is painted: what is typed right after the touch lands in the box
  useLayoutEffect(() => {
    input.current?.focus({ preventScroll: true });
    input.current?.select();
  }, [field.key]);
  const keys = (list: string[], kind: string, more?: ComponentChildren) => (
    <div class={`keys ${kind}`}>
      {list.map((key) => <button type="button" key={key} onClick={() => press(key)}>{key}</button>)}
      {more}
    </div>
  );
  const back_one = <button type="button" onClick={() => onText(fresh ? "" : text.trimEnd().slice(0, -1))}>{words.keypad.back}</button>;
  const none = <button type="button" onClick={() => onText("")}>{words.keypad.clear}</button>;
  const sign = field.typed === "signed" ? [words.keypad.minus] : [];
  const parts = STEPS.includes(store.step) ? Number(store.step.slice(2)) : 16;
  return (
    <>
      {refused.length > 0 ? (
        <div class="wrong"><Refusals all={wrong} at={field.key} />{stays === undefined ? null : <p>{words.keypad.keptAs} <b>{stays}</b></p>}</div>
      ) : null}
      <div class="typed">
        <label>
          <span class="name">{name}</span>
          <input
            ref={input}
            value={text}
            inputMode={measures ? "none" : "text"}
            autocomplete="off"
            spellcheck={false}
            aria-invalid={refused.length > 0}
            aria-describedby="reads about"
            onInput={(event) => onText(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key === "Enter" || event.key === "Escape") onDone();
            }}
          />
        </label>
        <button type="button" class="strong" onClick={onDone}>{refused.length > 0 && stays !== undefined ? words.keypad.leave : done}</button>
      </div>
      <div class="reads" id="reads" aria-live="polite">
        {back && back.readings.length > 0 ? (
          <div class="meant" role="group" aria-label={words.keypad.meant}>
            <span>{words.keypad.meant}</span>
            {back.readings.map((reading) => <button type="button" key={reading} onClick={() => onText(reading)}>{reading}</button>)}
          </div>
        ) : back?.value && text !== "" ? <p>{words.keypad.read} <b>{back.value}</b>{back.said ? `, ${back.said}` : ""}</p> : hint}
      </div>
      {field.choices.length > 0 ? (
        <div class="keys choices">
          {field.choices.map((choice) => (
            <button type="button" key={choice} aria-pressed={choice.toLowerCase() === text.trim().toLowerCase()} onClick={() => onText(choice)}>{choice}</button>
          ))}
        </div>
      ) : null}
      {measures ? (
        <div class="pad">
          {keys([...DIGITS, words.keypad.point], "digits", back_one)}
          {field.typed === "pitch" ? (
            keys([words.keypad.per12, words.keypad.deg, words.keypad.percent], "measures", <>{none}{more}</>)
          ) : (
            <>
              {keys([...(metric ? [words.keypad.mm, words.keypad.m] : [words.keypad.ft, words.keypad.in]), ...sign], "measures", <>{none}{more}</>)}
              {metric ? null : (
                <>
                  <div aria-label={words.keypad.fractions} role="group">{keys(fractions(parts), "fractions")}</div>
                  <div class="keys steps" role="group" aria-label={words.keypad.step}>
                    {STEPS.map((step) => <button type="button" key={step} aria-pressed={step === store.step} onClick={() => store.setStep(step)}>{words.keypad.steps[step]}</button>)}
                  </div>
                </>
              )}
            </>
          )}
        </div>
      ) : null}
    </>
  );
}

/** A field of the roof while it is changed. */
export function Keypad({ store, field }: { store: Store; field: Field }) {
  const name = words.fields[field.key] ?? field.label;
  const written = field.text ?? store.value(field.key)?.value ?? "";
  const typing = store.typed?.field === field.key ? store.typed : null;
  const text = typing?.text ?? written;
  const back = field.needed ? null : <button type="button" disabled={field.text === null} onClick={() => store.clear(field.key)}>{words.backToDefault}</button>;
  return (
    <section class="keypad" aria-label={words.change(name, text)}>
      <Pad
        store={store} field={field} name={name} text={text} fresh={typing === null} done={words.keypad.done}
        refused={typing?.said ? typing.refused : []} stays={store.value(field.key)?.value ?? words.notSet}
        onText={(next) => store.type(field.key, next)} onDone={() => store.finish()}
      />
      <div class="keys edit">{back}</div>
      <p class="about" id="about">
        {capital(field.about)}. {capital(field.needed ? words.needed : words.byDefault(field.default || words.notSet))}. {capital(field.written_as)}.
      </p>
    </section>
  );
}
