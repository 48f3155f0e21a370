// Many roofs of this plan compared, in a worker of its own: how far it is, the best so far, and a stop.

import { useEffect, useRef, useState } from "preact/hooks";
import { type Slow, type Told } from "../engine";
import { Caution, Refusals } from "../parts";
import { type Taken } from "../editing";
import { type Store } from "../store";
import { words } from "../words";

interface Vary { key: string; words: string; now: string; tries: string; shown: string[]; usual: boolean }
interface Row { words: string[]; figures: string[]; best_in: string[]; against: string | null; set: Taken }
export interface CompareView { says: string[]; heads: string[]; present: Row | null; shown: Row[]; caution: string }

const text = words.compare;

export function Compare({ store }: { store: Store }) {
  const [typed, setTyped] = useState<{ [key: string]: string | null }>({});
  const [editing, setEditing] = useState<string | null>(null);
  const [how_far, setHowFar] = useState<string | null>(null);
  const [stopped, setStopped] = useState<string | null>(null);
  const [told, setTold] = useState<{ of: string; told: Told<CompareView> } | null>(null);
  const slow = useRef<Slow>(store.slow.another());
  useEffect(() => () => slow.current.stop(), []);
  const choices = store.engine.ask<{ vary: Vary[] }>({ ask: "vary", roof: store.roof, units: store.units });
  if (!("ok" in choices)) return "refused" in choices ? <Refusals all={choices.refused} /> : null;
  const all = choices.ok.vary;
  /** What is tried of one; null if the roof's own alone. */
  const tries = (one: Vary): string | null => (one.key in typed ? typed[one.key]! : one.usual ? one.tries : null);
  const set = all.flatMap((one): [string, string][] => {
    const list = tries(one);
    if (list !== null) return [[one.key, list]];
    return one.usual ? [[one.key, one.now]] : [];
  });
  const question = { ask: "compare", roof: store.roof, set, units: store.units };
  const of = JSON.stringify(question);
  const start = async () => {
    setHowFar("");
    setStopped(null);
    setTold(null);
    const answer = await slow.current.ask<CompareView>(question, setHowFar);
    setHowFar(null);
    setTold({ of, told: answer });
  };
  const stop = () => {
    slow.current.stop();
    setStopped(how_far);
    setHowFar(null);
  };
  return (
    <div class="compare">
      <p>{text.vary}</p>
      <ul class="vary">
        {all.map((one) => {
          const list = tries(one);
          return (
            <li key={one.key} data-vary={one.key}>
              <button type="button" aria-pressed={list !== null} onClick={() => setTyped({ ...typed, [one.key]: list === null ? one.tries : null })}>
                {one.words}: {list === null ? text.keep(one.now) : list === one.tries ? one.shown.join(", ") : list}
              </button>
              {list !== null && editing !== one.key ? <button type="button" aria-description={text.tries(one.words)} onClick={() => setEditing(one.key)}>{text.edit}</button> : null}
              {list !== null && editing === one.key ? (
                <label class="search"><span>{text.tries(one.words)}</span><input value={list} autocomplete="off" spellcheck={false} onInput={(event) => setTyped({ ...typed, [one.key]: event.currentTarget.value })} /></label>
              ) : null}
            </li>
          );
        })}
      </ul>
      {how_far === null ? (
        <button type="button" class="strong" onClick={() => void start()}>{text.start}</button>
      ) : (
        <p role="status" class="working">{words.working} <b>{how_far}</b> <button type="button" onClick={stop}>{words.stop}</button></p>
      )}
      {stopped !== null ? <p role="status">{words.stopped} {stopped}</p> : null}
      {told && told.of === of ? <Answer store={store} told={told.told} /> : null}
    </div>
  );
}

function Answer({ store, told }: { store: Store; told: Told<CompareView> }) {
  if ("refused" in told) return <Refusals all={told.refused} />;
  if (!("ok" in told)) return <p class="refused" role="alert">{"broken" in told ? told.broken : told.stopped}</p>;
  const { says, heads, present, shown, caution } = told.ok;
  const figures = (row: Row) => row.figures.map((figure, at) => `${figure} ${heads[at]}`).join(", ");
  return (
    <div class="answer" role="status">
      {says.map((line) => <p key={line}>{line}</p>)}
      <ol class="compared">
        {shown.map((row, at) => (
          <li key={at}>
            <p><b>{row.words.length > 0 ? row.words.join(", ") : text.same}</b></p>
            <p>{figures(row)}</p>
            {row.best_in.length > 0 ? <p>{text.best} {row.best_in.join(", ")}.</p> : null}
            {row.against ? <p>{text.against} {row.against}</p> : null}
            {row.set.length > 0 ? <button type="button" class="take" onClick={() => store.take(row.set)}>{text.take}</button> : null}
          </li>
        ))}
      </ol>
      {present ? <p>{text.present}: {figures(present)}</p> : null}
      <Caution>{caution}</Caution>
    </div>
  );
}
