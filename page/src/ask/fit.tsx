// "I want ... to be ...: what must ... be?": pressed choices and one typed value, answered by the engine.

import { useState } from "preact/hooks";
import { type Field, type Tables, type Told } from "../engine";
import { Pad } from "../keypad";
import { Caution, Refusals, capital } from "../parts";
import { type Taken } from "../editing";
import { type Store } from "../store";
import { words } from "../words";

interface Word { word: string; words: string }
interface Want { key: string; words: string; typed: "length" | "yes"; height: boolean; finds: Word[] }
interface Terms { wants: Want[]; datums: Word[] }
interface Value { words: string; set: Taken; off: string | null; keeps: boolean }
export interface FitView {
  says: string[];
  answers: { values: Value[]; says: string[] }[];
  instead: { words: string; values: Value[]; fails: string[] }[];
  caution: string;
}

const text = words.fit;

/** What is being asked, as fields of the roof file's table of questions. */
interface Asked { want: string | null; value: string; above: string; mark: string; find: string | null }

/** The question as the engine takes it; null while something is missing. */
function fields(asked: Asked, want: Want | undefined): [string, string][] | null {
  if (!want || asked.find === null) return null;
  const value = want.typed === "yes" ? "narrow-row" : asked.value;
  if (value.trim() === "") return null;
  const set: [string, string][] = [["fit.find", asked.find], [want.key, value]];
  if (want.height) set.push(["fit.above", asked.above]);
  if (want.height && asked.above === "mark") set.push(["fit.mark", asked.mark]);
  return set;
}

function Choices({ name, all, pressed, press }: { name: string; all: Word[]; pressed: string | null; press: (word: string) => void }) {
  return (
    <div class="keys choices" role="group" aria-label={name}>
      {all.map((one) => <button type="button" key={one.word} aria-pressed={one.word === pressed} onClick={() => press(one.word)}>{one.words}</button>)}
    </div>
  );
}

export function Fit({ store }: { store: Store }) {
  const [asked, setAsked] = useState<Asked>({ want: null, value: "", above: "floor", mark: "", find: null });
  const [typing, setTyping] = useState<"value" | "mark" | null>(null);
  const [told, setTold] = useState<{ of: string; told: Told<FitView> } | null>(null);
  const terms = store.engine.ask<Terms>({ ask: "terms", roof: store.roof });
  if (!("ok" in terms)) return "refused" in terms ? <Refusals all={terms.refused} /> : null;
  const want = terms.ok.wants.find((one) => one.key === asked.want);
  const set = fields(asked, want);
  const question = set ? { ask: "fit", roof: store.roof, set, units: store.units } : null;
  const of = JSON.stringify(question);
  const change = (to: Partial<Asked>) => setAsked({ ...asked, ...to });
  const answer = async () => {
    if (question) setTold({ of, told: await store.trials.ask<FitView>(question) });
  };
  const find = want?.finds.find((one) => one.word === asked.find);
  return (
    <div class="fit">
      <p>{text.want}</p>
      <Choices
        name={text.want} pressed={asked.want} all={terms.ok.wants.map((one) => ({ word: one.key, words: one.words }))}
        press={(key) => { change({ want: key, find: null }); setTyping(terms.ok.wants.find((one) => one.key === key)?.typed === "yes" ? null : "value"); }}
      />
      {want && want.typed === "length" ? (
        <Length store={store} field={want.key} name={text.be(want.words)} value={asked.value} typing={typing === "value"} open={(on) => setTyping(on ? "value" : null)} change={(value) => change({ value })} />
      ) : null}
      {want?.height ? (
        <>
          <p>{text.above}</p>
          <Choices name={text.above} all={terms.ok.datums} pressed={asked.above} press={(above) => change({ above })} />
          {asked.above === "mark" ? (
            <Length store={store} field="fit.mark" name={text.mark} value={asked.mark} typing={typing === "mark"} open={(on) => setTyping(on ? "mark" : null)} change={(mark) => change({ mark })} />
          ) : null}
        </>
      ) : null}
      {want ? (
        <>
          <p>{text.which}</p>
          <Choices name={text.which} all={want.finds} pressed={asked.find} press={(word) => change({ find: word })} />
        </>
      ) : null}
      {question ? <button type="button" class="strong" onClick={() => void answer()}>{text.find(find?.words ?? "")}</button> : null}
      {told && told.of === of ? <Answer store={store} told={told.told} /> : null}
    </div>
  );
}

/** A length of the question: shown as a button, typed with our own keys. */
function Length({ store, field: key, name, value, typing, open, change }: {
  store: Store; field: string; name: string; value: string; typing: boolean; open: (on: boolean) => void; change: (value: string) => void;
}) {
  const fields = store.engine.ask<Tables>({ ask: "fields", roof: "", units: store.units });
  const field: Field | undefined = "ok" in fields ? fields.ok.tables.flatMap((table) => table.fields).find((one) => one.key === key) : undefined;
  if (!field) return null;
  if (!typing) {
    return <button type="button" class="value" data-field={key} onClick={() => open(true)}><span class="name">{name}</span> <span class="figure">{value || words.notSet}</span></button>;
  }
  return (
    <div class="keypad">
      <Pad store={store} field={field} name={name} text={value} fresh={false} refused={[]} onText={change} onDone={() => open(false)} done={words.keypad.done} />
    </div>
  );
}

function Answer({ store, told }: { store: Store; told: Told<FitView> }) {
  if ("refused" in told) return <Refusals all={told.refused} />;
  if (!("ok" in told)) return <p class="refused" role="alert">{"broken" in told ? told.broken : told.stopped}</p>;
  const { says, answers, instead, caution } = told.ok;
  const take = (value: Value) => (
    <button type="button" class="take" key={value.words} onClick={() => store.take(value.set)}>{text.take(value.words)}</button>
  );
  return (
    <div class="answer" role="status">
      {says.map((line) => <p key={line}>{capital(line)}</p>)}
      {answers.map((answer, at) => (
        <section key={at}>
          <ul class="takes">
            {answer.values.map((value) => (
              <li key={value.words}>{take(value)} <span>{value.off === null ? "" : text.off(value.off)}{value.keeps ? "" : ` ${text.breaks}`}</span></li>
            ))}
          </ul>
          {answer.says.map((line) => <p key={line}>{line}</p>)}
        </section>
      ))}
      {instead.length > 0 ? <h4>{text.instead}</h4> : null}
      <ul class="takes">
        {instead.flatMap((other) => other.values.map((value) => (
          <li key={other.words + value.words}>
            <button type="button" class="take" onClick={() => store.take(value.set)}>{text.takeOther(other.words, value.words)}</button>
            {other.fails.length > 0 ? <span> {text.fails(other.fails.join(", "))}</span> : null}
          </li>
        )))}
      </ul>
      <Caution>{caution}</Caution>
    </div>
  );
}
