// The frame in 3-D: the picture, a card for the stick that is pressed, the order of erection.

import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { type CheckView, type ModelView, type Saved } from "../engine";
import { Drawn, Shown, Verdict, capital } from "../parts";
import { type Store } from "../store";
import { words } from "../words";
import { Card } from "./card";
import { Controls } from "./controls";
import { begin, type Picture3d } from "./picture";

const text = words.model;

/** The button that opens the model, on every drawing. */
export function ModelButton({ store }: { store: Store }) {
  return <button type="button" class="to-model" onClick={() => store.showModel({ finding: null })}>{text.open}</button>;
}

/** The model over the page, while it is open. */
export function Model({ store }: { store: Store }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const open = store.model !== null;
  useEffect(() => {
    if (open && dialog.current && !dialog.current.open) dialog.current.showModal();
  }, [open]);
  if (!open) return null;
  return (
    <dialog ref={dialog} class="model" aria-label={text.title} onClose={() => store.showModel(null)}>
      <header class="model-top">
        <h2>{text.title}</h2>
        <button type="button" onClick={() => dialog.current?.close()}>{text.close}</button>
      </header>
      <Shown told={store.view<ModelView>("model")}>{(view) => <Inside store={store} view={view} />}</Shown>
    </dialog>
  );
}

/** What is lit: the sticks that are cut like one of them, or those that a finding speaks of. */
interface Chosen { mark: string; id: string | null }
type Tab = "look" | "sticks" | "steps";

function Inside({ store, view }: { store: Store; view: ModelView }) {
  const [chosen, setChosen] = useState<Chosen | null>(null);
  const [finding, setFinding] = useState(store.model?.finding ?? null);
  const [tab, setTab] = useState<Tab>("look");
  const [step, setStep] = useState<number | null>(null);
  const [picture, setPicture] = useState<Picture3d | null>(null);
  const told = finding === null ? null : store.view<CheckView>("check");
  const found = told && "ok" in told ? told.ok.findings.find((one) => one.id === finding) : undefined;
  const marks = chosen ? [chosen.mark] : found ? found.sticks : null;
  const lit = marks
    ? view.patterns.filter((one) => marks.includes(one.mark)).flatMap((one) => one.placed.map(({ id }) => id))
    : step !== null ? view.steps[step]!.sticks : null;
  const shown = step === null ? null : view.steps.slice(0, step + 1).flatMap((one) => one.sticks);
  useLayoutEffect(() => {
    picture?.show(shown && new Set(shown));
    picture?.lightUp(lit && new Set(lit));
  });
  const choose = (mark: string, id: string | null) => {
    setFinding(null);
    setChosen({ mark, id });
  };
  const none = () => {
    setChosen(null);
    setFinding(null);
  };
  const picked = (id: string | null) => {
    const of = id === null ? undefined : view.patterns.find((one) => one.placed.some((stick) => stick.id === id));
    if (of) choose(of.mark, id);
    else none();
  };
  const pattern = chosen ? view.patterns.find((one) => one.mark === chosen.mark) : undefined;
  return (
    <div class="model-body">
      <Canvas store={store} view={view} chosen={chosen} onPicked={picked} onPicture={setPicture} />
      <div class="model-side" tabIndex={0} role="group" aria-label={text.beside}>
        <div role="status">
          {pattern ? <Card store={store} pattern={pattern} id={chosen!.id} onNone={none} /> : null}
          {found && !pattern ? (
            <section class="card">
              <p><Verdict verdict={found.verdict} text={`${capital(found.verdict)}: ${found.title}${found.shortfall ? `, ${found.shortfall}` : ""}`} /></p>
              <div class="card-head">
                <p>{text.speaksOf(found.sticks.join(", "))}</p>
                <button type="button" onClick={none}>{text.none}</button>
              </div>
            </section>
          ) : null}
        </div>
        <div class="tabs" role="group" aria-label={text.beside}>
          {(["look", "sticks", "steps"] as const).map((one) => (
            <button type="button" key={one} aria-pressed={tab === one} onClick={() => setTab(one)}>{text.tabs[one]}</button>
          ))}
        </div>
        {tab === "look" ? <Controls picture={picture} /> : null}
        {tab === "sticks" ? (
          <ul class="marks" aria-label={text.tabs.sticks}>
            {view.patterns.map((one) => (
              <li key={one.mark}>
                <button type="button" aria-pressed={chosen?.mark === one.mark} onClick={() => choose(one.mark, null)}>
                  <b>{one.mark}</b> {one.what}, {one.count}
                </button>
              </li>
            ))}
          </ul>
        ) : null}
        {tab === "steps" ? <Steps view={view} step={step} onStep={(next) => { none(); setStep(next); }} /> : null}
      </div>
    </div>
  );
}

function Steps({ view, step, onStep }: { view: ModelView; step: number | null; onStep: (step: number | null) => void }) {
  const now = step === null ? null : view.steps[step]!;
  const last = view.steps.length - 1;
  return (
    <section class="steps">
      <div class="keys">
        <button type="button" disabled={step === 0} onClick={() => onStep(0)}>{text.first}</button>
        <button type="button" disabled={step === null || step === 0} onClick={() => onStep(step! - 1)}>{text.back}</button>
        <button type="button" disabled={step === last} onClick={() => onStep(step === null ? 0 : step + 1)}>{text.next}</button>
        <button type="button" disabled={step === null} onClick={() => onStep(null)}>{text.all}</button>
      </div>
      <div role="status">
        {now ? (
          <>
            <h3>{text.step(step! + 1, view.steps.length)}: {now.title}</h3>
            <p>{now.say}</p>
            {now.caution ? <p class="caution"><b>{words.caution}:</b> {now.caution}</p> : null}
            <p>{text.goUp}</p>
            <ul>{now.up.map((one) => <li key={one}><b>{one}</b></li>)}</ul>
          </>
        ) : <p>{text.whole(view.count, view.steps.length)}</p>}
      </div>
      <p class="small">{text.practice}</p>
    </section>
  );
}

interface CanvasOf {
  store: Store;
  view: ModelView;
  chosen: Chosen | null;
  onPicked: (id: string | null) => void;
  onPicture: (picture: Picture3d | null) => void;
}

/** The picture; where the browser can't draw it, the plan's drawing and why. */
function Canvas({ store, view, chosen, onPicked, onPicture }: CanvasOf) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const label = useRef<HTMLSpanElement>(null);
  const picture = useRef<Picture3d | null>(null);
  const [state, setState] = useState<"waiting" | "drawn" | "missing">("waiting");
  const press = useRef(onPicked);
  press.current = onPicked;
  const id = chosen?.id ?? view.patterns.find((one) => one.mark === chosen?.mark)?.placed[0]?.id ?? null;
  const labeled = useRef<string | null>(id);
  labeled.current = id;
  const place = () => {
    const at = labeled.current === null ? null : picture.current?.where(labeled.current);
    if (!label.current) return;
    label.current.hidden = !at;
    if (at) label.current.style.transform = `translate(${at.x}px, ${at.y}px)`;
  };
  useEffect(() => {
    let wanted = true;
    const start = async () => {
      const draw = await begin();
      const file = store.engine.ask<Saved>({ ask: "file", to: "gltf", roof: store.roof, units: store.units });
      if (!wanted || !canvas.current || !("ok" in file)) return;
      const glb = Uint8Array.from(atob(file.ok.base64), (letter) => letter.charCodeAt(0)).buffer;
      picture.current = draw(canvas.current, glb, {
        picked: (name) => press.current(name),
        drawn: place,
        lost: () => setState("missing"),
      });
      Object.assign(canvas.current, { picture: picture.current });
      setState("drawn");
      onPicture(picture.current);
    };
    start().catch(() => { if (wanted) setState("missing"); });
    return () => {
      wanted = false;
      picture.current?.dispose();
      picture.current = null;
    };
  }, []);
  useEffect(place);
  return (
    <div class="model-picture" data-state={state}>
      {state === "missing" ? (
        <div class="drawn">
          <p class="refused">{text.missing}</p>
          {store.plan ? <Drawn picture={store.plan.drawing} name={words.drawing} /> : null}
        </div>
      ) : <canvas ref={canvas} role="img" aria-label={text.picture(view.count)} />}
      {state === "waiting" ? <p class="loading" role="status">{words.loading}</p> : null}
      <span class="model-label" ref={label} hidden>{chosen?.mark}</span>
    </div>
  );
}
