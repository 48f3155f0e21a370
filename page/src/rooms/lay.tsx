// LAY: one line at a time, row by row, ticked as it is marked.

import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { canSpeak, hush, letSleep, speak, stayAwake } from "../awake";
import { type LayLine, type LayView } from "../engine";
import { capital, Shown, Tick } from "../parts";
import { type Store } from "../store";
import { words } from "../words";

type Row = LayLine["rows"][number];

export function rowKey(line: LayLine, row: Row): string {
  return `lay|${line.on}|${row.mark}|${row.at}`;
}

export function lineOf(store: Store, view: LayView): LayLine | undefined {
  return view.lines[Math.min(store.line, view.lines.length - 1)];
}

/** The row to mark next. */
function next(store: Store, line: LayLine): Row | undefined {
  return line.rows.find((row) => store.ticked(rowKey(line, row)) === 0);
}

/** The line to scale: hook end at the left, an X where each stick stands. */
export function Strip({ store, line }: { store: Store; line: LayLine }) {
  const now = next(store, line);
  // as much of the line as lets an X be seen, about the next mark
  const part = Math.min(1, 0.22);
  const from = Math.max(0, Math.min((now?.part ?? 1) - part / 2, 1 - part));
  const place = (at: number) => 20 + ((at - from) / part) * 960;
  const shown = line.rows.filter((row) => row.part + row.covers >= from && row.part <= from + part);
  return (
    <div class="strip" role="img" aria-label={`${line.on}: ${words.lay.hook} ${line.from}`}>
      <p class="now">
        {now ? <><span class="large">{now.at}</span> {now.mark} {now.what}</> : words.lay.marked(line.rows.length, line.rows.length)}
      </p>
      <svg viewBox="0 0 1000 150" preserveAspectRatio="none" aria-hidden="true">
        <rect x={from > 0 ? 0 : 20} y="50" width={from > 0 ? 1000 : 980} height="70" class="board" />
        {from > 0 ? null : <path d="M20 30V140M20 30h40" class="hook" />}
        {shown.map((row) => {
          const x = place(row.part);
          const wide = (row.covers / part) * 960;
          const state = row === now ? "now" : store.ticked(rowKey(line, row)) ? "done" : "";
          return (
            <g key={row.number} class={state}>
              <path d={`M${x} 50V120`} />
              <path d={`M${x} 62L${x + wide} 108M${x + wide} 62L${x} 108`} />
              {row === now ? <path d={`M${x} 10V48`} class="arrow" /> : null}
            </g>
          );
        })}
      </svg>
      <p class="ends"><span>{words.lay.hookEnd}: {line.from}</span><span>{line.length}</span></p>
    </div>
  );
}

export function Lay({ store }: { store: Store }) {
  return <Shown told={store.view<LayView>("lay")}>{(view) => <Inside store={store} view={view} />}</Shown>;
}

function Inside({ store, view }: { store: Store; view: LayView }) {
  const line = lineOf(store, view);
  const list = useRef<HTMLOListElement>(null);
  const now = line ? next(store, line) : undefined;
  const [aloud, setAloud] = useState(false);
  // where the row stood that was ticked: the next one comes there, under the thumb
  const thumb = useRef<number | null>(null);
  useLayoutEffect(() => {
    const row = list.current?.querySelector(".next");
    const scrolled = [...document.querySelectorAll("main, .room")].find((one) => one.contains(list.current) && getComputedStyle(one).overflowY === "auto");
    if (thumb.current !== null && row && scrolled) scrolled.scrollTop += row.getBoundingClientRect().top - thumb.current;
    thumb.current = null;
  }, [now?.number]);
  useEffect(() => {
    list.current?.querySelector(".next")?.scrollIntoView({ block: "nearest" });
    if (aloud && now) speak(words.lay.aloud(now.said, now.mark, now.what));
  }, [line?.on, now?.number, aloud]);
  useEffect(() => () => { hush(); letSleep(); }, []);
  if (!line) return null;
  const done = line.rows.filter((row) => store.ticked(rowKey(line, row)) > 0).length;
  const text = words.lay;
  // the next line with a mark to make, from the one after this on
  const at = view.lines.indexOf(line);
  const unmarked = [...view.lines.slice(at + 1), ...view.lines.slice(0, at)].find((one) => next(store, one) !== undefined);
  return (
    <>
      <details>
        <summary>{text.notes}</summary>
        <p>{view.hook}</p>
        {view.notes.map((note) => <p key={note}>{note}</p>)}
      </details>
      <label class="line">
        <span>{text.line}</span>
        <select value={String(view.lines.indexOf(line))} onChange={(event) => store.goLine(Number(event.currentTarget.value))}>
          {view.lines.map((one, at) => <option key={one.on} value={String(at)}>{capital(one.on)}</option>)}
        </select>
      </label>
      <p>
        {text.hook} <b>{line.from}</b>. {text.side} <b>{line.x_side}</b>. <span role="status">{text.marked(done, line.rows.length)}{now ? <>. {text.nextIs(now.at, now.mark)}</> : "."}</span>
      </p>
      {canSpeak ? (
        <div class="row">
          <button type="button" aria-pressed={aloud} onClick={() => { if (aloud) hush(); setAloud(!aloud); }}>{text.read}</button>
          <button type="button" disabled={!now} onClick={() => { if (now) speak(text.aloud(now.said, now.mark, now.what)); }}>{text.again}</button>
        </div>
      ) : null}
      {line.rows.length === 0 ? <p>{text.clearOf}</p> : null}
      <ol class="rows" ref={list} aria-label={text.rows}>
        {line.rows.map((row) => (
          <li key={row.number} class={row === now ? "next" : ""}>
            <Tick store={store} id={rowKey(line, row)} ticks={() => {
              stayAwake();
              thumb.current = row === now ? (list.current?.querySelector(".next")?.getBoundingClientRect().top ?? null) : null;
            }}>
              <span class="large" aria-label={row.said}>{row.at}</span>
              <span><b>{row.mark}</b> {row.what}</span>
            </Tick>
          </li>
        ))}
      </ol>
      {unmarked && !now ? <button type="button" class="strong" data-next-line onClick={() => store.goLine(view.lines.indexOf(unmarked))}>{text.nextLine(capital(unmarked.on))}</button> : null}
      <div class="row"><button type="button" disabled={done === 0} onClick={() => { if (confirm(text.sure)) store.untick(`lay|${line.on}|`); }}>{text.clear}</button></div>
    </>
  );
}
