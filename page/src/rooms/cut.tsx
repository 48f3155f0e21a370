// CUT: the pattern's marks and saw settings, then the stack, counted down as it is cut.

import { useEffect } from "preact/hooks";
import { letSleep, stayAwake } from "../awake";
import { type CutView } from "../engine";
import { Caution, HowCut, sentence, Shown } from "../parts";
import { type Store } from "../store";
import { words } from "../words";
import { Sheets } from "./sheets";

export function Cut({ store }: { store: Store }) {
  return <Shown told={store.view<CutView>("cut")}>{(view) => <Inside store={store} view={view} />}</Shown>;
}

type Stick = CutView["sticks"][number];

/** What a stick's count stands under: another blank or another cut is another stick. */
export function stickKey(stick: Stick): string {
  return `cut|${stick.mark}|${stick.section}|${stick.blank}|${stick.ends}|${stick.other}`;
}

function Inside({ store, view }: { store: Store; view: CutView }) {
  const { pattern } = view;
  useEffect(() => letSleep, []);
  const text = words.cut;
  return (
    <>
      {pattern ? <Marks pattern={pattern} /> : <p class="none">{text.noPattern}</p>}
      <section>
        <h3>{text.stack}</h3>
        <ul class="stack">
          {view.sticks.map((stick) => <Pattern key={stick.mark} store={store} stick={stick} />)}
        </ul>
      </section>
      {pattern ? <Proofs pattern={pattern} /> : null}
      <Sheets store={store} only={["card", "pattern", "template"]} />
      <Caution>{view.caution}</Caution>
    </>
  );
}

type Rafter = NonNullable<CutView["pattern"]>;

/** What is marked on the pattern rafter, and how the saw is set. */
function Marks({ pattern }: { pattern: Rafter }) {
  const text = words.cut;
  return (
    <>
      <section>
        <h3>{text.marks}</h3>
        <p>{sentence(pattern.hook)}</p>
        <table>
          <thead>
            <tr><th>{text.number}</th><th>{text.edge}</th><th class="right">{text.tape}</th><th>{text.mark}</th></tr>
          </thead>
          <tbody>
            {pattern.marks.map((mark) => (
              <tr key={`${mark.number}${mark.edge}`}>
                <td>{mark.number}</td>
                <td>{mark.edge}</td>
                <td class="right big" aria-label={mark.said}>{mark.at}</td>
                <td><b>{mark.name}</b> {mark.line}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section>
        <h3>{text.cuts}</h3>
        <table>
          <thead>
            <tr><th>{text.cut}</th><th class="right">{text.miter}</th><th class="right">{text.rise}</th><th class="right">{text.long}</th></tr>
          </thead>
          <tbody>
            {pattern.cuts.map((cut) => (
              <tr key={cut.name}>
                <td>{cut.name}</td>
                <td class="right big">{cut.miter}</td>
                <td class="right">{cut.rise}</td>
                <td class="right">{cut.length}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}

/** What proves the pattern before the stack is cut. */
function Proofs({ pattern }: { pattern: Rafter }) {
  const text = words.cut;
  return (
    <section>
      <h3>{text.proofs}</h3>
      <table>
        <thead><tr><th>{text.number}</th><th>{text.proof}</th><th class="right">{text.reads}</th></tr></thead>
        <tbody>
          {pattern.proofs.map((proof) => (
            <tr key={proof.letter}>
              <td>{proof.letter}</td>
              <td>{proof.what}</td>
              <td class="right big">{proof.length}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Pattern({ store, stick }: { store: Store; stick: Stick }) {
  const key = stickKey(stick);
  const done = Math.min(store.ticked(key), stick.count);
  const text = words.cut;
  return (
    <li class={done === stick.count ? "done" : ""}>
      <div class="stick">
        <p>
          <b class="big">{stick.mark}</b> {stick.what}
          <br />
          <span class="figure">{stick.section}, {text.blank} {stick.blank}</span>
          {stick.from ? <>, {text.from(stick.from)}</> : null}
          <br />
          {stick.ends}{stick.other ? `; ${stick.other}` : ""}
        </p>
        <div class="count">
          <button type="button" aria-label={text.less(stick.mark)} disabled={done === 0} onClick={() => store.tick(key, done - 1)}>{text.lessWords}</button>
          <span class="figure" role="status">{text.done(done, stick.count)}</span>
          <button type="button" class="strong" aria-label={text.one(stick.mark)} disabled={done === stick.count} onClick={() => { stayAwake(); store.tick(key, done + 1); }}>{text.oneWords}</button>
        </div>
      </div>
      {stick.drawing ? (
        <details>
          <summary>{text.show}</summary>
          <HowCut stick={stick} name={`${stick.mark} ${stick.what}`} />
        </details>
      ) : null}
    </li>
  );
}
