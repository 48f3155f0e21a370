// BUY: the order by trade with prices typed in, and the cutting plans, worked out beside the page.

import { useEffect, useRef, useState } from "preact/hooks";
import { REST, remember } from "../cost";
import { type BuyView, type Refusal, type Saved, type Told } from "../engine";
import { capital, Caution, Keyed, OpenFile, Refusals, Said, sentence, Shown } from "../parts";
import { bytesOf, ofBase64, save, share } from "../save";
import { type Store } from "../store";
import { words } from "../words";

/** Answers that were worked out, by their question. */
const known = new Map<string, Told<BuyView>>();
export function Buy({ store }: { store: Store }) {
  const question = { ...store.question("buy"), prices: useRested(store.prices) };
  const { roof } = store;
  const key = JSON.stringify({ ...question, wide: 0, high: 0 });
  const [, redraw] = useState(0);
  const [halted, setHalted] = useState<string | null>(null);
  const shown = useRef<BuyView | null>(null);
  const told = known.get(key);
  useEffect(() => {
    if (told || halted === key) return;
    let wanted = true;
    void store.slow.ask<BuyView>(question).then((answer) => {
      if (known.size > 4) known.clear();
      known.set(key, answer);
      remember(store, roof, question.prices, answer);
      if (wanted) redraw((count) => count + 1);
    });
    return () => {
      wanted = false;
      if (!known.has(key)) store.slow.stop();
    };
  }, [key, halted]);
  if (told && "ok" in told) shown.current = told.ok;
  const view = shown.current;
  const waits = told ? null : halted === key ? (
    <p role="status">{words.stopped} <button type="button" onClick={() => setHalted(null)}>{words.again}</button></p>
  ) : (
    <p role="status" class="working">
      {words.working} {words.buy.long}{" "}
      <button type="button" onClick={() => { store.slow.stop(); setHalted(key); }}>{words.stop}</button>
    </p>
  );
  if (told && !("ok" in told)) return <Shown told={told}>{() => null}</Shown>;
  return (
    <>
      {waits}
      {view ? <div class={told ? "" : "stale-list"} aria-busy={told ? undefined : true}><Inside store={store} view={view} /></div> : null}
    </>
  );
}

/** The text as it was when the hand last rested. */
function useRested(text: string | null): string | null {
  const [rested, setRested] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setRested(text), REST);
    return () => clearTimeout(timer);
  }, [text]);
  return rested;
}

/** Brings up the first price that is looked for, also where it stands among the other lengths. */
function useSought(store: Store): void {
  useEffect(() => {
    const fields = store.sought.map((key) => document.querySelector<HTMLElement>(`[data-price="${CSS.escape(key)}"]`));
    const found = fields.find((field) => field !== null);
    if (!found) return;
    store.sought = [];
    found.closest("details")?.setAttribute("open", "");
    requestAnimationFrame(() => {
      found.scrollIntoView({ block: "center" });
      found.focus({ preventScroll: true });
    });
  });
}

function Inside({ store, view }: { store: Store; view: BuyView }) {
  const text = words.buy;
  useSought(store);
  return (
    <>
      <Sum view={view} />
      <Send store={store} view={view} />
      {view.trades.map((trade) => (
        <section key={trade.trade}>
          <div class="trade-head">
            <h3>{capital(trade.trade)}</h3>
            {trade.cost ? <p class="figure big" data-trade={trade.trade}>{trade.lines.some((line) => line.cost !== null) ? text.tradeTotal(trade.cost) : text.noneYet}</p> : null}
          </div>
          <ul class="goods">
            {trade.lines.map((line) => (
              <li key={line.key + line.in_hand} data-line={line.key}>
                <p class="what"><span class="figure count">{line.count} {line.unit}</span><b>{line.called}</b></p>
                {line.goes_to ? <p>{text.goes} {line.goes_to}</p> : null}
                {line.basis ? <p class="small">{capital(line.basis)}</p> : null}
                {line.in_hand ? <p>{text.inHand}</p> : (
                  <div class="priced">
                    <Price store={store} id={line.key} name={text.priceOf(line.called, line.priced_by)} label={text.price(line.priced_by)} each={line.each} />
                    {view.cost ? <p class="figure cost">{line.cost ?? text.noPrice}</p> : null}
                  </div>
                )}
              </li>
            ))}
          </ul>
          {trade === view.trades[0] ? <><Unpriced store={store} view={view} /><OtherLengths store={store} view={view} /></> : null}
        </section>
      ))}
      <Plans view={view} />
      {view.notes.length > 0 ? <section><h3>{text.notes}</h3>{view.notes.map((note) => <p key={note}><Keyed text={sentence(note)} /></p>)}</section> : null}
      {view.left_out.length > 0 ? <section><h3>{text.leftOut}</h3>{view.left_out.map((note) => <p key={note}><Keyed text={sentence(note)} /></p>)}</section> : null}
      <Caution>{view.caution}</Caution>
      <PricesFile store={store} />
    </>
  );
}

/** What all of it costs, and what that leaves out. */
function Sum({ view }: { view: BuyView }) {
  const text = words.buy;
  const { cost } = view;
  if (!cost || !view.trades.some((trade) => trade.lines.some((line) => line.cost !== null))) return <p>{text.noPrices}</p>;
  return (
    <div class="sum" role="status">
      <p>{cost.without_price.length > 0 ? text.soFar : text.total} <b class="large" data-total>{cost.total}</b></p>
      {cost.with_tax ? <p>{capital(cost.with_tax)}</p> : null}
      {cost.without_price.length > 0 ? (
        <details>
          <summary>{text.without(cost.without_price.length)}</summary>
          <ul>{cost.without_price.map((line) => <li key={line}>{line}</li>)}</ul>
        </details>
      ) : null}
      {cost.note ? <p>{text.pricesNote} {cost.note}</p> : null}
    </div>
  );
}

/** One price, kept at each keystroke; what is no price is said and not kept. */
function Price({ store, id, name, label, each }: { store: Store; id: string; name: string; label: string; each: string | null }) {
  const [typed, setTyped] = useState<string | null>(null);
  const [refused, setRefused] = useState<Refusal[]>([]);
  const type = (text: string) => {
    setTyped(text);
    setRefused(store.price(id, text));
  };
  return (
    <div>
      <label class="price">
        <span>{label}</span>
        <input
          data-price={id} aria-label={name} inputMode="decimal" autocomplete="off" aria-invalid={refused.length > 0}
          value={typed ?? each ?? ""}
          onInput={(event) => type(event.currentTarget.value)}
          onBlur={() => { if (refused.length === 0) setTyped(null); }}
        />
      </label>
      <Refusals all={refused} />
    </div>
  );
}

/** Whether lengths without a price are bought too. */
function Unpriced({ store, view }: { store: Store; view: BuyView }) {
  if (!view.cost) return null;
  const text = words.buy;
  return (
    <div class="row">
      <p>{view.all_lengths ? text.allLengths : text.onlyPriced}</p>
      <button type="button" aria-pressed={!view.all_lengths} onClick={() => store.allLengths(!view.all_lengths)}>{text.only}</button>
    </div>
  );
}

/** Lengths that are not in the list: with a price they may be bought instead. */
function OtherLengths({ store, view }: { store: Store; view: BuyView }) {
  const text = words.buy;
  if (view.other_lengths.length === 0) return null;
  return (
    <details>
      <summary>{text.otherLengths}</summary>
      {view.other_lengths.map((one) => (
        <section key={one.section}>
          <h4>{one.section}</h4>
          <div class="lengths">
            {one.lengths.map((length) => (
              <Price key={length.key} store={store} id={length.key} name={text.priceOf(`${one.section} ${length.name}`, "pc")} label={length.name} each={length.each} />
            ))}
          </div>
        </section>
      ))}
    </details>
  );
}

function Send({ store, view }: { store: Store; view: BuyView }) {
  const text = words.buy;
  const [word, setWord] = useState<string | null>(null);
  const send = async () => {
    const how = await share(store.plan?.name ?? words.title, view.text, "order.txt");
    setWord(how === "stopped" ? null : text.sent[how]);
  };
  return (
    <div class="row">
      <button type="button" onClick={() => void send()}>{text.send}</button>
      <GoodsFile store={store} to="order-csv" say={setWord}>{text.csv}</GoodsFile>
      <GoodsFile store={store} to="order-xlsx" say={setWord}>{text.xlsx}</GoodsFile>
      <Said>{word}</Said>
    </div>
  );
}

function GoodsFile({ store, to, say, children }: { store: Store; to: string; say: (word: string | null) => void; children: string }) {
  const [busy, setBusy] = useState(false);
  const make = async () => {
    setBusy(true);
    say(null);
    const told = await store.slow.ask<Saved>({ ask: "file", to, roof: store.roof, units: store.units, prices: store.prices });
    setBusy(false);
    if ("ok" in told) save(told.ok.name, ofBase64(told.ok.base64));
    else if ("refused" in told) say(told.refused.map((one) => one.message).join("; "));
    else say("stopped" in told ? told.stopped : told.broken);
  };
  return <button type="button" disabled={busy} onClick={() => void make()}>{busy ? words.working : children}</button>;
}

/** The prices as a file: the same that the program reads. */
function PricesFile({ store }: { store: Store }) {
  const text = words.buy;
  const [refused, setRefused] = useState<Refusal[]>([]);
  const [word, setWord] = useState<string | null>(null);
  const open = async (file: File) => {
    const wrong = store.openPrices(file.name, await file.text());
    setRefused(wrong);
    setWord(wrong.length === 0 ? text.pricesOpened(file.name) : null);
  };
  return (
    <section>
      <h3>{text.pricesFile}</h3>
      <p>{text.pricesFileIs}</p>
      <div class="files">
        <button type="button" disabled={store.prices === null} onClick={() => save("prices.toml", bytesOf(store.prices ?? ""))}>{text.savePrices}</button>
        <GoodsFile store={store} to="prices-csv" say={setWord}>{text.blanks}</GoodsFile>
        <OpenFile data-prices accept=".toml,.csv,text/plain,text/csv" open={open}>{text.openPrices}</OpenFile>
        <button type="button" disabled={store.prices === null} onClick={() => { if (confirm(text.sure)) store.setPrices(null); }}>{text.forget}</button>
      </div>
      <Said>{word}</Said>
      <Refusals all={refused} />
    </section>
  );
}

/** The part of a bar that a letter takes on a phone: a mark that has no room stands below the bar alone. */
const LETTER = 0.031;

function Plans({ view }: { view: BuyView }) {
  const text = words.buy;
  return (
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
                    <span key={place} style={{ left: `${piece.part * 100}%`, width: `${piece.covers * 100}%` }}>{piece.covers > piece.mark.length * LETTER ? piece.mark : ""}</span>
                  ))}
                </div>
                <p>{bar.pieces.map((piece) => `${piece.mark} ${piece.length}`).join(", ")}</p>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </section>
  );
}
