// What mends what fails: changes that the engine has tried, each a button.

import { useEffect, useState } from "preact/hooks";
import { type Told } from "../engine";
import { type Taken } from "../editing";
import { type Store } from "../store";
import { words } from "../words";

interface Cure { words: string; set: Taken }
interface Cures { cures: { finding: string; title: string; list: Cure[] }[]; tried: number }

/** A pause after the last change before the engine looks for cures, milliseconds. */
const PAUSE = 350;
const known = new Map<string, Told<Cures>>();

/** The cures of the roof as it stands; null while they are looked for. */
function useCures(store: Store): Cures["cures"] | null {
  const question = { ask: "cures", roof: store.roof, units: store.units };
  const key = JSON.stringify(question);
  const [, draw] = useState(0);
  const open = (store.plan?.open.length ?? 0) > 0 && store.starting === null;
  useEffect(() => {
    if (!open || known.has(key)) return;
    const timer = setTimeout(() => {
      if (known.has(key)) return;
      void store.trials.ask<Cures>(question).then((told) => {
        if (known.size > 20) known.clear();
        known.set(key, told);
        draw((count) => count + 1);
        store.redraw();
      });
    }, PAUSE);
    return () => clearTimeout(timer);
  }, [key, open]);
  const told = known.get(key);
  if (!told) return null;
  return "ok" in told ? told.ok.cures : [];
}

/** The cures of one finding as buttons; a press writes the change into the roof, and undo takes it back. */
export function Cures({ store, finding, title, most }: { store: Store; finding: string; title: string; most?: number }) {
  const all = useCures(store);
  if (all === null) return <p class="cures small" role="status">{words.cures.looking}</p>;
  const list = all.find((one) => one.finding === finding && one.title === title)?.list ?? [];
  if (list.length === 0) return <p class="cures small">{words.cures.none}</p>;
  return (
    <div class="cures" role="group" aria-label={words.cures.title(title)} data-cures={finding}>
      {list.slice(0, most).map((cure) => <button type="button" key={cure.words} onClick={() => store.take(cure.set)}>{cure.words}</button>)}
    </div>
  );
}
