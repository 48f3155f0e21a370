// The card of a stick: what the engine says of it, and its drawing.

import { type CutView, type ModelView } from "../engine";
import { HowCut } from "../parts";
import { type Store } from "../store";
import { words } from "../words";

type Pattern = ModelView["patterns"][number];

export function Card({ store, pattern, id, onNone }: { store: Store; pattern: Pattern; id: string | null; onNone: () => void }) {
  const text = words.model;
  const told = store.view<CutView>("cut");
  const cut = "ok" in told ? told.ok : null;
  const stick = cut?.sticks.find((one) => one.mark === pattern.mark);
  // the pattern rafter has the drawing that it is cut by
  const drawing = cut?.pattern?.mark === pattern.mark ? cut.pattern.drawing : stick?.drawing;
  const at = (pattern.count === 1 ? pattern.placed[0] : pattern.placed.find((one) => one.id === id))?.at;
  const rows: [string, string][] = [
    [text.length, pattern.blank],
    [text.section, pattern.section],
    [text.from, pattern.from ?? text.tooLong],
    [text.cuts, pattern.ends + (pattern.other ? `; ${pattern.other}` : "")],
    ...(at ? [[text.goes, at] as [string, string]] : []),
  ];
  return (
    <section class="card" data-mark={pattern.mark}>
      <div class="card-head">
        <h3><span class="large">{pattern.mark}</span> {pattern.what}, {text.alike(pattern.count)}</h3>
        <button type="button" onClick={onNone}>{text.none}</button>
      </div>
      <dl class="figures">{rows.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}</dl>
      {drawing && stick ? <details><summary>{text.drawing}</summary><HowCut stick={{ ...stick, drawing }} name={`${pattern.mark} ${pattern.what}`} /></details> : null}
      {pattern.count > 1 ? (
        <details>
          <summary>{text.places(pattern.count)}</summary>
          <ul>{pattern.placed.map((one) => <li key={one.id}>{one.at}</li>)}</ul>
        </details>
      ) : null}
    </section>
  );
}
