// The line to sign the walk: name and date, signed by hand with a finger or by typing the name.

import { useRef, useState } from "preact/hooks";
import { type Store } from "../store";
import { words } from "../words";

/** The place to sign, in units of its own. */
const [WIDE, HIGH] = [600, 200];

const NAME = "sign|name";
const DATE = "sign|date";
const HAND = "sign|hand";

export function Signature({ store }: { store: Store }) {
  const text = words.sign;
  return (
    <section class="sign">
      <h4>{text.head}</h4>
      <label class="note"><span>{text.name}</span><input data-sign="name" autocomplete="name" value={store.noted(NAME)} onInput={(event) => store.tick(NAME, event.currentTarget.value)} /></label>
      <div>
        <label class="note"><span>{text.date}</span><input data-sign="date" value={store.noted(DATE)} onInput={(event) => store.tick(DATE, event.currentTarget.value)} /></label>
        <div class="row"><button type="button" onClick={() => store.tick(DATE, new Date().toLocaleDateString(undefined, { dateStyle: "long" }))}>{text.today}</button></div>
      </div>
      <Hand store={store} />
    </section>
  );
}

/** Drawn with a finger: kept as the lines that were drawn. */
function Hand({ store }: { store: Store }) {
  const text = words.sign;
  const place = useRef<SVGSVGElement>(null);
  const [drawing, setDrawing] = useState("");
  const kept = store.noted(HAND);
  const at = (event: PointerEvent) => {
    const box = place.current!.getBoundingClientRect();
    const x = Math.round(((event.clientX - box.left) / box.width) * WIDE);
    const y = Math.round(((event.clientY - box.top) / box.height) * HIGH);
    return `${Math.max(0, Math.min(WIDE, x))} ${Math.max(0, Math.min(HIGH, y))}`;
  };
  const end = () => {
    if (drawing !== "") store.tick(HAND, kept + drawing);
    setDrawing("");
  };
  return (
    <div>
      <p id="by-hand">{text.hand}</p>
      <svg
        ref={place} class="pad-of-hand" viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" role="img" aria-labelledby="by-hand"
        onPointerDown={(event) => { event.currentTarget.setPointerCapture(event.pointerId); setDrawing(`M${at(event)}l0 0`); }}
        onPointerMove={(event) => { if (drawing !== "") setDrawing(`${drawing}L${at(event)}`); }}
        onPointerUp={end} onPointerCancel={end}
      >
        <path d={kept + drawing} />
      </svg>
      <div class="row"><button type="button" disabled={kept === ""} onClick={() => store.tick(HAND, "")}>{text.again}</button></div>
    </div>
  );
}

/** The line as it is printed: what is not filled in is left to the pen. */
export function Signed({ store, empty }: { store: Store; empty: string }) {
  const text = words.sign;
  const hand = store.noted(HAND);
  return (
    <div>
      <h3>{text.head}</h3>
      <p>{text.name}: <b>{store.noted(NAME) || empty}</b></p>
      <p>{text.date}: <b>{store.noted(DATE) || empty}</b></p>
      {hand ? (
        <svg viewBox={`0 0 ${WIDE} ${HIGH}`} width="3in" height="1in" style={{ borderBottom: "1px solid #000" }}>
          <path d={hand} fill="none" stroke="#000" stroke-width="4" stroke-linecap="round" stroke-linejoin="round" />
        </svg>
      ) : <p>{text.signed}: {empty}</p>}
    </div>
  );
}
