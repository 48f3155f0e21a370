// BUY: the order by trade and the cutting plans, worked out beside the page.

import { useEffect, useState } from "preact/hooks";
import { type BuyView, type Told } from "../engine";
import { capital, Caution, Shown } from "../parts";
import { type Store } from "../store";
import { words } from "../words";

/** Answers that were worked out, by their question. */
const known = new Map<string, Told<BuyView>>();

export function Buy({ store }: { store: Store }) {
  const question = store.question("buy");
  const key = JSON.stringify({ ...question, wide: 0, high: 0 });
  const [, redraw] = useState(0);
  const [halted, setHalted] = useState<string | null>(null);
  const told = known.get(key);
  useEffect(() => {
    if (told || halted === key) return;
    let wanted = true;
    void store.slow.ask<BuyView>(question).then((answer) => {
      if (known.size > 4) known.clear();
      known.set(key, answer);
      if (wanted) redraw((count) => count + 1);
    });
    return () => {
      wanted = false;
      if (!known.has(key)) store.slow.stop();
    };
  }, [key, halted]);
  if (told) return <Shown told={told}>{(view) => <Inside view={view} />}</Shown>;
  if (halted === key) {
    return <p role="status">{words.stopped} <button type="button" onClick={() => setHalted(null)}>{words.again}</button></p>;
  }
  return (
    <p role="status" class="working">
      {words.working} {words.buy.long}{" "}
      <button type="button" onClick={() => { store.slow.stop(); setHalted(key); }}>{words.stop}</button>
    </p>
  );
}

function Inside({ view }: { view: BuyView }) {
  const text = words.buy;
  return (
    <>
      {view.trades.map((trade) => (
        <section key={trade.trade}>
          <h3>{capital(trade.trade)}</h3>
          <table class="order">
            <thead><tr><th class="right">{text.count}</th><th>{text.what}</th></tr></thead>
            <tbody>
              {trade.lines.map((line) => (
                <tr key={line.key} data-line={line.key}>
                  <td class="right big">{line.count} {line.unit}{line.in_hand ? ` ${text.inHand}` : ""}</td>
                  <td><b>{line.called}</b><br />{line.goes_to}<br /><small>{line.basis}</small></td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ))}
      <section>
        <h3>{text.plans}</h3>
        {view.sections.map((section) => (
          <section key={section.title}>
            <h4>{section.title}</h4>
            <p>{section.verdict}</p>
            {section.too_long.map((part) => <p key={part} class="refused">{part}</p>)}
            <ul class="bars">
              {section.bars.map((bar, at) => (
                <li key={at}>
                  <p><b>{text.times(bar.times)} {bar.stock}</b>, {text.left(bar.left)}</p>
                  <div class="bar" aria-hidden="true">
                    {bar.pieces.map((piece, place) => (
                      <span key={place} style={{ left: `${piece.part * 100}%`, width: `${piece.covers * 100}%` }}>{piece.mark}</span>
                    ))}
                  </div>
                  <p>{bar.pieces.map((piece) => `${piece.mark} ${piece.length}`).join(", ")}</p>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </section>
      {view.notes.length > 0 ? <section><h3>{text.notes}</h3>{view.notes.map((note) => <p key={note}>{capital(note)}.</p>)}</section> : null}
      {view.left_out.length > 0 ? <section><h3>{text.leftOut}</h3>{view.left_out.map((note) => <p key={note}>{capital(note)}.</p>)}</section> : null}
      <Caution>{view.caution}</Caution>
    </>
  );
}
