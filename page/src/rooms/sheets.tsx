// The sheets, printed from the page at true scale: the whole set, one kind, or one sheet.

import { useState } from "preact/hooks";
import { type Sheet, type Told } from "../engine";
import { Drawn } from "../parts";
import { printSheets } from "../print";
import { type Store } from "../store";
import { words } from "../words";

type Paper = "letter" | "a4";

/** Buttons that print, with the paper to print on. */
export function Sheets({ store, only }: { store: Store; only?: string[] }) {
  const text = words.print;
  const [chosen, setPaper] = useState<Paper | null>(null);
  const paper: Paper = chosen ?? (store.shown === "metric" ? "a4" : "letter");
  const [busy, setBusy] = useState(false);
  const [word, setWord] = useState<string | null>(null);
  const [shown, setShown] = useState<{ of: string; sheets: Sheet[] } | null>(null);
  const of = JSON.stringify([store.roof, store.units, store.prices, paper]);
  const ask = async (kinds: string[] | null): Promise<Sheet[]> => {
    setBusy(true);
    setWord(null);
    const told: Told<{ sheets: Sheet[] }> = await store.slow.ask({ ask: "sheets", roof: store.roof, units: store.units, paper, only: kinds, prices: store.prices });
    setBusy(false);
    if ("ok" in told) {
      if (told.ok.sheets.length === 0) setWord(text.noSuch);
      return told.ok.sheets;
    }
    setWord("refused" in told ? told.refused.map((one) => one.message).join("; ") : "stopped" in told ? told.stopped : told.broken);
    return [];
  };
  const go = async (kinds: string[] | null) => {
    const sheets = await ask(kinds);
    if (sheets.length > 0) await printSheets(sheets);
  };
  return (
    <section class="to-print">
      <h3>{text.head}</h3>
      <p>{text.how}</p>
      <div class="row" role="group" aria-label={text.paper}>
        {(["letter", "a4"] as const).map((one) => (
          <button type="button" key={one} aria-pressed={paper === one} onClick={() => setPaper(one)}>{text.papers[one]}</button>
        ))}
        {chosen ? null : <span>{text.byUnits(text.papers[paper])}</span>}
      </div>
      <div class="files">
        {(only ?? ["card", "pattern", "template", "layout", "walk"]).map((kind) => (
          <button type="button" key={kind} data-print={kind} disabled={busy} onClick={() => void go([kind])}>{text.kinds[kind]}</button>
        ))}
        {only ? null : <button type="button" data-print="all" class="strong" disabled={busy} onClick={() => void go(null)}>{text.all}</button>}
        {only ? null : <button type="button" data-print="list" disabled={busy} onClick={() => void ask(null).then((sheets) => setShown({ of, sheets }))}>{text.list}</button>}
      </div>
      {busy ? <p role="status">{words.working}</p> : null}
      {word ? <p role="status" class="refused">{word}</p> : null}
      {shown?.of === of ? (
        <ol class="sheets">
          {shown.sheets.map((sheet, at) => (
            <li key={at}>
              <p><b>{at + 1}. {sheet.title}</b></p>
              <div class="row"><button type="button" onClick={() => void printSheets([sheet])} aria-label={text.one(at + 1)}>{text.oneWords}</button></div>
              <details><summary>{text.look}</summary><Drawn picture={sheet} name={sheet.title} /></details>
            </li>
          ))}
        </ol>
      ) : null}
    </section>
  );
}
