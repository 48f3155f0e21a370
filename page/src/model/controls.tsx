// Buttons that do what fingers do in the picture: turn, move, zoom, look from a side, take apart.

import { useState } from "preact/hooks";
import { words } from "../words";
import { type Look, type Picture3d } from "./picture";

/** One press of an arrow: radians of a turn, and the part of the picture that it moves. */
const TURN = Math.PI / 12;
const MOVE = 0.1;
const PARTS = 10;
const LOOKS: Look[] = ["home", "above", "eaveA", "eaveB", "near", "far", "eave"];

export function Controls({ picture }: { picture: Picture3d | null }) {
  const [moves, setMoves] = useState(false);
  const [part, setPart] = useState(0);
  const text = words.model;
  const off = picture === null;
  const set = (pans: boolean) => {
    setMoves(pans);
    picture?.oneFinger(pans);
  };
  const arrow = (right: number, up: number) => {
    if (moves) picture?.pan(right * MOVE, up * MOVE);
    else picture?.turn(right * TURN, up * TURN);
  };
  const apart = (next: number) => {
    const within = Math.max(0, Math.min(PARTS, next));
    setPart(within);
    picture?.explode(within / PARTS);
  };
  const arrows: [string, string, number, number][] = [["←", text.left, -1, 0], ["↑", text.up, 0, 1], ["↓", text.down, 0, -1], ["→", text.right, 1, 0]];
  return (
    <section class="controls">
      <div class="row">
        <div class="units" role="group" aria-label={text.finger}>
          <button type="button" aria-pressed={!moves} disabled={off} onClick={() => set(false)}>{text.turn}</button>
          <button type="button" aria-pressed={moves} disabled={off} onClick={() => set(true)}>{text.move}</button>
        </div>
        <button type="button" disabled={off} aria-label={text.closer} onClick={() => picture?.zoom(true)}>+</button>
        <button type="button" disabled={off} aria-label={text.farther} onClick={() => picture?.zoom(false)}>−</button>
      </div>
      <div class="row">
        {arrows.map(([sign, name, right, up]) => (
          <button type="button" key={sign} disabled={off} aria-label={`${moves ? text.move : text.turn} ${name}`} onClick={() => arrow(right, up)}>{sign}</button>
        ))}
      </div>
      <div class="looks" role="group" aria-label={text.lookFrom}>
        {LOOKS.map((look) => <button type="button" key={look} disabled={off} onClick={() => picture?.view(look)}>{text.looks[look]}</button>)}
      </div>
      <div class="row apart">
        <button type="button" disabled={off || part === 0} aria-label={text.together} onClick={() => apart(part - 2)}>−</button>
        <label><span>{text.apart}</span>
          <input type="range" min="0" max={PARTS} step="1" value={part} disabled={off} onInput={(event) => apart(Number(event.currentTarget.value))} />
        </label>
        <button type="button" disabled={off || part === PARTS} aria-label={text.further} onClick={() => apart(part + 2)}>+</button>
      </div>
    </section>
  );
}
