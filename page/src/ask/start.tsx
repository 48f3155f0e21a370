// "Start my own": the engine's six questions, one at a time, with a way back at each; then the job's name.

import { useState } from "preact/hooks";
import { type Field, type Refusal, type Tables, type Told } from "../engine";
import { Pad } from "../keypad";
import { Refusals } from "../parts";
import { type Starting, type Store } from "../store";
import { words } from "../words";

interface Question { key: string; words: string; default: string | null }
interface Started { roof: string; sketch: string; stand_ins: string[] }

/** What the engine asks for a new roof. */
function questions(store: Store): Question[] {
  const told = store.engine.ask<{ questions: Question[] }>({ ask: "questions" });
  return "ok" in told ? told.ok.questions : [];
}

/** The roof of what is answered so far, with what is being typed if it can be read. */
function started(store: Store, answers: { [field: string]: string }, name: string | null): Told<Started> {
  return store.engine.ask<Started>({ ask: "start", answers: Object.entries(answers), name });
}

/** Asks the first question, or goes on where the questions were left. */
export function begin(store: Store): void {
  go(store, { at: 0, answers: {}, text: null, name: "" });
}

/** Goes on with questions that were being answered when the page was closed. */
export function resume(store: Store): void {
  if (store.starting) go(store, store.starting);
}

function go(store: Store, starting: Starting): void {
  const told = started(store, starting.answers, null);
  store.start(starting, "ok" in told ? told.ok.sketch : store.sketch);
}

/** Why an answer can't stand: it can't be read, or it can't be built with the others. */
function refusals(store: Store, field: string, answers: { [field: string]: string }): Refusal[] {
  const told = started(store, answers, null);
  if ("refused" in told) return told.refused;
  if (!("ok" in told)) return [];
  const built = store.engine.ask<object>({ ask: "room", room: "plan", roof: told.ok.sketch, units: store.units, wide: store.wide, high: store.high, field });
  return "refused" in built ? built.refused : [];
}

export function Start({ store, starting }: { store: Store; starting: Starting }) {
  const all = questions(store);
  const question = all[starting.at];
  const leave = () => store.start(null, null);
  const back = () => (starting.at === 0 ? leave() : go(store, { ...starting, at: starting.at - 1, text: null }));
  return (
    <section class="keypad start" aria-label={words.start.title}>
      <div class="asked">
        <h2>{question ? words.start.of(starting.at + 1, all.length) : words.start.last}</h2>
        <button type="button" onClick={back}>{starting.at === 0 ? words.start.leave : words.start.back}</button>
      </div>
      {question ? <One key={question.key} store={store} starting={starting} question={question} /> : <Name store={store} starting={starting} all={all} />}
    </section>
  );
}

function One({ store, starting, question }: { store: Store; starting: Starting; question: Question }) {
  const fields = store.engine.ask<Tables>({ ask: "fields", roof: "", units: store.units });
  const field: Field | undefined = "ok" in fields ? fields.ok.tables.flatMap((table) => table.fields).find((one) => one.key === question.key) : undefined;
  if (!field) return null;
  const before = starting.answers[question.key];
  const text = starting.text ?? before ?? question.default ?? "";
  const answers = { ...starting.answers, [question.key]: text };
  const refused = text === "" ? [] : refusals(store, question.key, answers);
  // nothing is called wrong before it was meant to be the answer
  const [said, setSaid] = useState<string | null>(null);
  const ready = text !== "" && refused.length === 0;
  const next = (given: { [field: string]: string }) => go(store, { ...starting, at: starting.at + 1, answers: given, text: null });
  const type = (typed: string) => {
    const told = started(store, { ...starting.answers, [question.key]: typed }, null);
    store.start({ ...starting, text: typed }, "ok" in told && refusals(store, question.key, { ...starting.answers, [question.key]: typed }).length === 0 ? told.ok.sketch : store.sketch);
  };
  return (
    <>
      <Pad
        store={store} field={field} name={question.words} text={text} fresh={starting.text === null} refused={said === text ? refused : []} done={words.start.next}
        onText={type} onDone={() => { if (ready) next(answers); else setSaid(text); }}
        hint={question.default === null ? <p>{words.start.must}</p> : null}
      />
      {question.default !== null ? (
        <button type="button" class="skip" onClick={() => next({ ...starting.answers, [question.key]: question.default! })}>{words.start.skip(question.default)}</button>
      ) : null}
      <p class="about" id="about">{field.written_as}.</p>
    </>
  );
}

function Name({ store, starting, all }: { store: Store; starting: Starting; all: Question[] }) {
  const told = started(store, starting.answers, starting.name);
  const refused = "refused" in told ? told.refused : [];
  const done = (event: Event) => {
    event.preventDefault();
    if ("ok" in told) store.begin(told.ok.roof);
  };
  return (
    <form onSubmit={done}>
      <dl class="figures">
        {all.map((question) => <div key={question.key}><dt>{question.words}</dt><dd>{starting.answers[question.key]}</dd></div>)}
      </dl>
      <div class="typed">
        <label>
          <span class="name">{words.nameAsk}</span>
          <input value={starting.name} autofocus autocomplete="off" aria-invalid={refused.length > 0} onInput={(event) => store.start({ ...starting, name: event.currentTarget.value }, store.sketch)} />
        </label>
        <button type="submit" class="strong">{words.nameDone}</button>
      </div>
      <Refusals all={refused} />
      <p>{words.start.nameIs}</p>
    </form>
  );
}
