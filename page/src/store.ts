// What the page holds: the roof through time, what is looked at, what was ticked. All of it is kept in the browser.

import { useEffect, useState } from "preact/hooks";
import example from "../../examples/kestrel-yard.toml?raw";
import { type Engine, type FieldValue, type Figure, type PlanView, type Refusal, type Room, type Slow, type Told, type Units } from "./engine";
import { History, type Kept } from "./history";
import { keep, kept } from "./keep";

const KEY = "stepoff.page.1";

/** Where a page keeps its roof: one that came with a roof of its own keeps apart from all others. */
function keyOf(given: string | null): string {
  if (given === null) return KEY;
  let hash = 0;
  for (const letter of given) hash = (Math.imul(hash, 31) + letter.codePointAt(0)!) | 0;
  return `${KEY}.${given.length}.${hash}`;
}

/** Pixels of the screen for one inch of paper: letters of a drawing are then 16 px. */
export const PIXELS = 118;

/** What is typed into a field and not yet, or not, a value. */
export interface Typed { field: string; text: string; refused: Refusal[] }

interface Ticks { [key: string]: number | string }

interface Saved {
  roof: Kept;
  example: boolean;
  units: Units | null;
  room: Room;
  line: number;
  ticks: Ticks;
  typed: Typed | null;
}

/** One figure that moved. */
export interface Moved { name: string; was: string; now: string }

export class Store {
  history: History;
  example: boolean;
  units: Units | null;
  room: Room;
  line: number;
  ticks: Ticks;
  typed: Typed | null;
  /** The last good roof as it is shown. */
  plan: PlanView | null = null;
  /** What the roof now in hand is refused for; the drawing is then of the last good one. */
  refused: Refusal[] = [];
  moved: Moved[] = [];
  /** The field that was changed last, or is open. */
  field: string | null = null;
  /** True while the field is open to be typed in. */
  opened = false;
  message: string | null = null;
  /** True while the name of one's own job is asked for. */
  naming = false;
  storage = true;
  /** True for a roof out of a link, which is kept only when that is wanted. */
  linked: boolean;
  /** The yard's prices, the same for every job: the text of a prices file. */
  prices: string | null = kept("prices");
  wide = 3;
  high = 2.2;
  private readonly key: string;
  private session = 0;
  private readonly listeners = new Set<() => void>();
  private answers = new Map<string, Told<unknown>>();

  constructor(readonly engine: Engine, readonly slow: Slow, given: string | null, linked: string | null) {
    this.key = keyOf(given);
    this.linked = linked !== null;
    const saved = linked === null ? load(this.key) : null;
    this.history = saved ? new History(saved.roof) : History.of(linked ?? given ?? example);
    this.example = saved ? saved.example : (linked ?? given) === null;
    this.units = saved?.units ?? null;
    this.room = saved?.room ?? "plan";
    this.line = saved?.line ?? 0;
    this.ticks = saved?.ticks ?? {};
    this.typed = saved?.typed ?? null;
    this.field = this.typed?.field ?? null;
    this.opened = this.typed !== null && this.typed.text !== "";
    this.look();
    if (this.opened && this.typed) this.type(this.typed.field, this.typed.text);
  }

  get roof(): string {
    return this.history.text;
  }

  /** The units that lengths are shown in. */
  get shown(): Units {
    return this.units ?? (this.plan?.values.find((one) => one.key === "building.span")?.value.includes("mm") ? "metric" : "feet");
  }

  on(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private tell(): void {
    this.keep();
    this.listeners.forEach((listener) => listener());
  }

  /** Draws anew what is shown otherwise and is itself the same. */
  redraw(): void {
    this.listeners.forEach((listener) => listener());
  }

  private keep(): void {
    if (this.linked) return;
    const { history, example, units, room, line, ticks, typed } = this;
    const saved: Saved = { roof: history.toKeep(), example, units, room, line, ticks, typed };
    try {
      localStorage.setItem(this.key, JSON.stringify(saved));
      this.storage = true;
    } catch {
      this.storage = false;
    }
  }

  private room_of(room: Room, roof: string, field: string | null): object {
    const { units, wide, high } = this;
    return { ask: "room", room, roof, units, wide, high, field };
  }

  /** What a room shows of the roof. */
  view<T>(room: Room): Told<T> {
    const question = this.room_of(room, this.roof, null);
    const key = JSON.stringify(question);
    let told = this.answers.get(key);
    if (!told) {
      told = this.engine.ask<T>(question);
      if (this.answers.size > 8) this.answers.clear();
      this.answers.set(key, told);
    }
    return told as Told<T>;
  }

  question(room: Room): object {
    return this.room_of(room, this.roof, null);
  }

  /** Looks at the roof anew; `before` is what was shown when the change began. */
  private look(before?: PlanView | null): void {
    const told = this.engine.ask<PlanView>(this.room_of("plan", this.roof, this.field));
    if ("ok" in told) {
      if (before !== undefined) this.moved = moved(before?.figures ?? [], told.ok.figures);
      this.plan = told.ok;
      this.refused = [];
    } else {
      this.refused = "refused" in told ? told.refused : [{ field: null, message: "stopped" in told ? told.stopped : told.broken, help: "" }];
    }
  }

  /** The drawing's room, in pixels. */
  size(wide: number, high: number): void {
    const [w, h] = [Math.round((wide / PIXELS) * 20) / 20, Math.round((high / PIXELS) * 20) / 20];
    if (w === this.wide && h === this.high) return;
    [this.wide, this.high] = [w, h];
    this.look();
    this.tell();
  }

  private before: PlanView | null = null;

  /** Opens a field to be typed in: what is changed until it is closed is one step of undo. */
  open(field: string | null): void {
    if (field !== null && this.field !== field) this.session = Date.now();
    this.before = this.plan;
    this.opened = field !== null;
    if (field !== null) this.field = field;
    if (field === null || this.typed?.field !== field) this.typed = null;
    this.look();
    this.tell();
  }

  /** A text typed into the open field: the roof takes it if it can be built. */
  type(field: string, text: string): void {
    this.typed = { field, text, refused: [] };
    const edited = this.engine.ask<string>({ ask: "edit", roof: this.roof, set: [[field, text]] });
    if ("ok" in edited) this.try(edited.ok, field);
    else this.message = "broken" in edited ? edited.broken : null;
    this.tell();
  }

  private try(roof: string, field: string): void {
    const told = this.engine.ask<PlanView>(this.room_of("plan", roof, field));
    if ("ok" in told) {
      this.history.push(roof, this.session);
      this.moved = moved(this.before?.figures ?? this.plan?.figures ?? [], told.ok.figures);
      this.plan = told.ok;
      this.refused = [];
    } else if ("refused" in told) {
      const typed = this.typed ?? { field, text: "", refused: [] };
      this.typed = { ...typed, refused: told.refused };
    }
  }

  /** One step of a stepper. */
  nudge(field: string, up: boolean): void {
    const { units } = this;
    const next = this.engine.ask<string>({ ask: "nudge", roof: this.roof, field, up, units });
    if (!("ok" in next) || next.ok === this.roof) return;
    this.before = this.plan;
    this.session = 0;
    this.field = field;
    this.opened = false;
    this.typed = null;
    const text = next.ok;
    this.try(text, field);
    this.tell();
  }

  /** Takes a value out of the roof file. */
  clear(field: string): void {
    const next = this.engine.ask<string>({ ask: "edit", roof: this.roof, set: [[field, null]] });
    if (!("ok" in next)) return;
    this.before = this.plan;
    this.typed = null;
    this.try(next.ok, field);
    this.tell();
  }

  undo(): void {
    this.step(() => this.history.undo());
  }

  redo(): void {
    this.step(() => this.history.redo());
  }

  private step(go: () => void): void {
    const before = this.plan;
    this.typed = null;
    this.session = 0;
    go();
    this.look(before);
    this.tell();
  }

  /** Another roof file; the one before comes back by undo. */
  replace(text: string): Refusal[] {
    const told = this.engine.ask<PlanView>(this.room_of("plan", text, null));
    if (!("ok" in told)) return "refused" in told ? told.refused : [{ field: null, message: "", help: "" }];
    this.step(() => this.history.push(text, 0));
    this.example = false;
    this.tell();
    return [];
  }

  /** Asks for a name, or no more. */
  name(asked: boolean): void {
    this.naming = asked;
    this.message = null;
    this.tell();
  }

  /** Makes the example a job of one's own. */
  mine(name: string): void {
    const next = this.engine.ask<string>({ ask: "edit", roof: this.roof, set: [["job.name", name]] });
    if (!("ok" in next)) return;
    const told = this.engine.ask<PlanView>(this.room_of("plan", next.ok, null));
    if ("refused" in told) {
      this.message = told.refused.map((one) => one.message).join("; ");
      this.tell();
      return;
    }
    this.message = null;
    this.naming = false;
    this.example = false;
    this.ticks = {};
    this.step(() => this.history.push(next.ok, 0));
    this.moved = [];
    this.tell();
  }

  /** Keeps the roof that came by a link; the job before comes back by undo. */
  keepLinked(): void {
    const saved = load(this.key);
    const text = this.roof;
    this.linked = false;
    this.ticks = {};
    this.history = saved ? new History(saved.roof) : History.of(example);
    this.step(() => this.history.push(text, 0));
    this.moved = [];
    this.tell();
  }

  setPrices(text: string | null): void {
    this.prices = text;
    keep("prices", text);
    this.tell();
  }

  /** Writes one price into the prices that are kept; says why it is none. */
  price(key: string, price: string): Refusal[] {
    const told = this.engine.ask<string>({ ask: "price", prices: this.prices, key, price });
    if ("ok" in told) this.setPrices(told.ok);
    return "refused" in told ? told.refused : [];
  }

  /** Takes in a prices file. */
  openPrices(name: string, text: string): Refusal[] {
    const told = this.engine.ask<string>({ ask: "prices", name, text });
    if ("ok" in told) this.setPrices(told.ok);
    return "refused" in told ? told.refused : [];
  }

  setUnits(units: Units): void {
    this.units = units;
    this.moved = [];
    this.look();
    this.tell();
  }

  go(room: Room): void {
    this.room = room;
    this.opened = false;
    this.typed = null;
    this.tell();
  }

  goLine(line: number): void {
    this.line = line;
    this.tell();
  }

  tick(key: string, value: number | string): void {
    const ticks = { ...this.ticks };
    if (value === 0 || value === "") delete ticks[key];
    else ticks[key] = value;
    this.ticks = ticks;
    this.tell();
  }

  untick(beginning: string): void {
    this.ticks = Object.fromEntries(Object.entries(this.ticks).filter(([key]) => !key.startsWith(beginning)));
    this.tell();
  }

  ticked(key: string): number {
    const value = this.ticks[key];
    return typeof value === "number" ? value : 0;
  }

  noted(key: string): string {
    const value = this.ticks[key];
    return typeof value === "string" ? value : "";
  }

  value(field: string): FieldValue | undefined {
    return this.plan?.values.find((one) => one.key === field);
  }
}

function moved(was: Figure[], now: Figure[]): Moved[] {
  return now.flatMap((figure) => {
    const before = was.find((one) => one.key === figure.key)?.value;
    return before !== undefined && before !== figure.value ? [{ name: figure.name, was: before, now: figure.value }] : [];
  });
}

function load(key: string): Saved | null {
  try {
    const text = localStorage.getItem(key);
    if (text === null) return null;
    const saved = JSON.parse(text) as Saved;
    return typeof saved.roof?.start === "string" && Array.isArray(saved.roof.changes) ? saved : null;
  } catch {
    return null;
  }
}

/** Draws anew when anything changes. */
export function useStore(store: Store): void {
  const [, draw] = useState(0);
  useEffect(() => store.on(() => draw((count) => count + 1)), [store]);
}
