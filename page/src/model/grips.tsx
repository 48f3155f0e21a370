// The points of the drawing that are dragged: pitch, overhang, spacing. The engine says where they are and what a place means.

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { type Grip, type PlanView } from "../engine";
import { type Store } from "../store";
import { words } from "../words";

/** The size of the drawing's place, pixels. */
interface Room { wide: number; high: number }

/** Pixels for an inch of the drawing, and where its upper left corner is: it is as large as fits, in the middle. */
function placed(room: Room, plan: PlanView): { scale: number; x: number; y: number } {
  const { wide, high } = plan.drawing;
  const scale = Math.min(room.wide / wide, room.high / high);
  return { scale, x: (room.wide - wide * scale) / 2, y: (room.high - high * scale) / 2 };
}

/** The size of an element as it changes: asked once for each size, since to ask lays the page out. */
function useRoom(box: { current: HTMLElement | null }): Room | null {
  const [room, setRoom] = useState<Room | null>(null);
  useLayoutEffect(() => {
    const seen = new ResizeObserver(([entry]) => { if (entry) setRoom({ wide: entry.contentRect.width, high: entry.contentRect.height }); });
    if (box.current) seen.observe(box.current);
    return () => seen.disconnect();
  }, [box.current]);
  return room;
}

export function Grips({ store }: { store: Store }) {
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const plan = store.plan;
  if (!plan) return null;
  const spacing = plan.grips.some((grip) => grip.field === "roof.spacing");
  return (
    <div class="grips" ref={box}>
      {room ? plan.grips.map((grip) => <Point key={grip.field} store={store} grip={grip} plan={plan} room={room} />) : null}
      {plan.grips.length > 0 ? (
        <button type="button" class="to-spacing" onClick={() => store.show(spacing ? "roof.pitch" : "roof.spacing")}>
          {spacing ? words.grips.section : words.grips.spacing}
        </button>
      ) : null}
    </div>
  );
}

const ACROSS = ["eave.overhang", "roof.spacing"];

function Point({ store, grip, plan, room }: { store: Store; grip: Grip; plan: PlanView; room: Room }) {
  const drag = useRef<{ dx: number; dy: number; asked: number; at: [number, number] } | null>(null);
  const name = words.fields[grip.field] ?? grip.field;
  const { field } = grip;
  const begin = (event: PointerEvent) => {
    if (!event.isPrimary || event.button !== 0) return;
    const button = event.currentTarget as HTMLElement;
    button.setPointerCapture(event.pointerId);
    store.beginDrag(field);
    const now = store.plan?.grips.find((one) => one.field === field);
    if (!now) return;
    drag.current = { dx: event.clientX, dy: event.clientY, asked: 0, at: [now.x, now.y] };
  };
  const move = (event: PointerEvent) => {
    const now = drag.current;
    if (!now) return;
    const { scale } = placed(room, plan);
    const to: [number, number] = [now.at[0] + (event.clientX - now.dx) / scale, now.at[1] + (event.clientY - now.dy) / scale];
    cancelAnimationFrame(now.asked);
    now.asked = requestAnimationFrame(() => store.dragTo(to));
  };
  const end = () => {
    if (!drag.current) return;
    drag.current = null;
    // the last place is taken in before
    requestAnimationFrame(() => store.endDrag());
  };
  const keys = (event: KeyboardEvent) => {
    const way = { ArrowUp: true, ArrowRight: true, ArrowDown: false, ArrowLeft: false }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    // the overhang grows to the left
    store.nudge(field, event.key === "ArrowLeft" && field === "eave.overhang" ? true : event.key === "ArrowRight" && field === "eave.overhang" ? false : way);
  };
  const { scale, x, y } = placed(room, plan);
  // a point at the edge keeps its whole target on the screen
  const within = (at: number, size: number) => Math.max(24, Math.min(size - 24, at));
  const style = { left: `${within(x + grip.x * scale, room.wide)}px`, top: `${within(y + grip.y * scale, room.high)}px` };
  return (
    <button
      type="button"
      style={style}
      class={`grip ${ACROSS.includes(field) ? "across" : "upright"}`}
      data-grip={field}
      aria-label={words.grips.drag(name, store.value(field)?.value ?? "")}
      onPointerDown={begin}
      onPointerMove={move}
      onPointerUp={end}
      onPointerCancel={end}
      onKeyDown={keys}
    >
      <span aria-hidden="true">{ACROSS.includes(field) ? "↔" : "↕"}</span>
    </button>
  );
}
