// What the page holds: the roof through time, what is looked at, what was ticked. All of it is kept in the browser.

import { useEffect, useState } from "preact/hooks";
import example from "../../examples/kestrel-yard.toml?raw";
import { type Engine, type FieldValue, type Figure, type Placed, type PlanView, type Refusal, type Room, type Slow, type Tables, type Told, type Units, type Viewed } from "./engine";
import { History } from "./history";
import { FIRST, Jobs, type Saved } from "./jobs";
import { keep, kept } from "./keep";

/** Where a page keeps its jobs: one that came with a roof of its own keeps apart from all others. */
function apart(given: string | null): string {
  if (given === null) return "";
  let hash = 0;
  for (const letter of given) hash = (Math.imul(hash, 31) + letter.codePointAt(0)!) | 0;
  return `.${given.length}.${hash}`;
}

/** Pixels of the screen for one inch of paper: letters of a drawing are then 16 px. */
export const PIXELS = 118;

/** Steps of the tape that a keypad can have, coarsest first. */
export const STEPS = ["1/2", "1/4", "1/8", "1/16"];

/** What is typed into a field and not yet, or not, a value. */
export interface Typed { field: string; text: string; refused: Refusal[] }

interface Ticks { [key: string]: number | string }

/** What is written into the roof file if an answer is taken: fields with their texts, null to take one out. */
export type Taken = [string, string | null][];

/** The six questions for a new roof, while they are being answered. */
export interface Starting { at: number; answers: { [field: string]: string }; text: string | null; name: string }

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
  /** The frame in 3-D while it is open, with the finding whose sticks are lit. */
  model: { finding: string | null } | null = null;
  /** The drag that goes on: the roof and the drawing that it began from. */
  private drag: { field: string; roof: string; placed: Placed } | null = null;
  /** True while the list of jobs is open. */
  listing = false;
  /** The questions for a new roof, while they are asked. */
  starting: Starting | null = null;
  /** What is drawn while they are asked. */
  sketch: string | null = null;
  /** The finest fraction of an inch that the keypad offers. */
  step = "1/16";
  /** The job that is open. */
  job: string;
  readonly jobs: Jobs;
  /** Answers to what takes long and is not the order. */
  readonly trials: Slow;
  /** True for a roof out of a link, which is kept only when that is wanted. */
  linked: boolean;
  /** The yard's prices, the same for every job: the text of a prices file. */
  prices: string | null = kept("prices");
  wide = 3;
  high = 2.2;
  private session = 0;
  private readonly listeners = new Set<() => void>();
  private answers = new Map<string, Told<unknown>>();

  constructor(readonly engine: Engine, readonly slow: Slow, given: string | null, linked: string | null) {
    this.jobs = new Jobs(apart(given));
    this.trials = slow.another();
    this.step = this.jobs.note<{ step: string }>("step")?.step ?? "1/16";
    this.first = given ?? example;
    this.linked = linked !== null;
    this.job = this.jobs.now;
    const saved = linked === null ? this.jobs.read(this.job) : null;
    this.history = History.of(linked ?? this.first);
    this.example = (linked ?? given) === null;
    this.units = null;
    this.room = "plan";
    this.line = 0;
    this.ticks = {};
    this.typed = null;
    if (saved) this.take_up(saved);
    this.starting = linked === null ? this.jobs.note<Starting>("start") : null;
    this.look();
    const typed = this.typed as Typed | null;
    if (this.opened && typed) this.type(typed.field, typed.text);
    addEventListener("storage", (event) => this.elsewhere(event.key));
  }

  /** The roof that the page came with: the example, or one of its own. */
  private readonly first: string;

  private take_up(saved: Saved): void {
    this.history = new History(saved.roof);
    this.example = saved.example;
    this.units = saved.units;
    this.room = saved.room;
    this.line = saved.line;
    this.ticks = saved.ticks;
    this.typed = saved.typed;
    this.field = this.typed?.field ?? null;
    this.opened = this.typed !== null && this.typed.text !== "";
  }

  /** Another window of this page changed the job that is open here too: go on from there. */
  private elsewhere(key: string | null): void {
    if (key !== this.jobs.key(this.job) || this.linked) return;
    const saved = this.jobs.read(this.job);
    if (!saved) return;
    this.take_up(saved);
    this.opened = false;
    this.typed = null;
    this.look();
    this.listeners.forEach((listener) => listener());
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
  private kept = "";

  private keep(): void {
    if (this.linked) return;
    this.jobs.keepNote("start", this.starting);
    // while the questions are asked the drawing is theirs, and the job stays as it is
    if (this.starting) return;
    const { history, example, units, room, line, ticks, typed } = this;
    const saved: Saved = { roof: history.toKeep(), example, units, room, line, ticks, typed };
    const fails = this.plan?.counts.filter((count) => count.verdict === "fails" || count.verdict === "needs design") ?? [];
    const changed = this.kept !== "" && this.kept !== history.text;
    this.kept = history.text;
    this.jobs.write(this.job, saved, this.plan?.name ?? null, fails.map((count) => count.words).join(", "), changed);
  }

  /** False if this browser could not keep the job. */
  get storage(): boolean {
    return this.linked || this.jobs.works;
  }

  private room_of(room: Viewed, roof: string, field: string | null): object {
    const { units, wide, high } = this;
    return { ask: "room", room, roof, units, wide, high, field, held: room === "plan" ? (this.drag?.placed ?? null) : null };
  }

  /** What a room shows of the roof. */
  view<T>(room: Viewed): Told<T> {
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
    const told = this.engine.ask<PlanView>(this.room_of("plan", this.sketch ?? this.roof, this.field));
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
    if (field !== null && (this.field !== field || !this.opened)) this.session = Date.now();
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

  /** Begins to drag the point of a field; what is dragged until it ends is one step of undo. */
  beginDrag(field: string): void {
    this.show(field);
    if (!this.plan) return;
    this.session = Date.now();
    this.before = this.plan;
    this.drag = { field, roof: this.roof, placed: this.plan.placed };
  }

  /** Brings the dragged point to a place of the drawing, inches of paper. */
  dragTo(at: [number, number]): void {
    if (!this.drag) return;
    const { field, roof, placed } = this.drag;
    const next = this.engine.ask<string>({ ask: "drag", roof, field, at, placed, units: this.units });
    if (!("ok" in next) || next.ok === this.roof) return;
    this.typed = null;
    this.try(next.ok, field);
    this.tell();
  }

  endDrag(): void {
    this.drag = null;
    this.session = 0;
    this.look();
    this.tell();
  }

  /** Draws what belongs to a field, without opening it. */
  show(field: string): void {
    this.field = field;
    this.opened = false;
    this.typed = null;
    this.look();
    this.tell();
  }

  showModel(model: { finding: string | null } | null): void {
    this.model = model;
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
    this.stepped(() => this.history.undo());
  }

  redo(): void {
    this.stepped(() => this.history.redo());
  }

  private stepped(go: () => void): void {
    const before = this.plan;
    this.typed = null;
    this.session = 0;
    go();
    this.look(before);
    this.tell();
  }

  /** Writes an answer into the roof file: one step of undo. */
  take(set: Taken): void {
    const next = this.engine.ask<string>({ ask: "edit", roof: this.roof, set });
    if (!("ok" in next)) return;
    this.before = this.plan;
    this.session = 0;
    this.opened = false;
    this.typed = null;
    this.field = set[0]?.[0] ?? null;
    this.refused = [];
    const told = this.engine.ask<PlanView>(this.room_of("plan", next.ok, this.field));
    if ("refused" in told) this.refused = told.refused;
    else {
      const was = this.plan;
      this.stepped(() => this.history.push(next.ok, 0));
      this.moved = [...this.fieldsMoved(set.map(([field]) => field), was), ...this.moved];
    }
    this.tell();
  }

  /** The fields that were set, each as it was and is: a figure need not move with them. */
  private fieldsMoved(fields: string[], was: PlanView | null): Moved[] {
    const told = this.engine.ask<Tables>({ ask: "fields", roof: this.roof, units: this.units });
    const all = "ok" in told ? told.ok.tables.flatMap((table) => table.fields) : [];
    return fields.map((key) => {
      const field = all.find((one) => one.key === key);
      const value = (plan: PlanView | null) => plan?.values.find((one) => one.key === key)?.value ?? field?.default ?? "";
      return { name: field?.label ?? key, was: value(was), now: value(this.plan) };
    }).filter((one) => one.was !== one.now);
  }

  /** Opens a roof file as a job of its own. */
  replace(text: string): Refusal[] {
    const told = this.engine.ask<PlanView>(this.room_of("plan", text, null));
    if (!("ok" in told)) return "refused" in told ? told.refused : [{ field: null, message: "broken" in told ? told.broken : told.stopped, help: "" }];
    this.begin(text);
    return [];
  }

  /** Begins a job with this roof; the one before stays in the list. */
  begin(text: string): void {
    const { units, room } = this;
    this.tell();
    this.job = this.jobs.fresh();
    this.linked = false;
    this.enter({ roof: History.of(text).toKeep(), example: false, units, room, line: 0, ticks: {}, typed: null });
  }

  /** Opens a job of the list. */
  openJob(id: string): void {
    if (id !== FIRST && !this.jobs.read(id)) return;
    this.tell();
    this.turnTo(id);
  }

  /** Turns to another job; the one that was open is kept already. */
  private turnTo(id: string): void {
    const { units, room } = this;
    this.job = id;
    this.linked = false;
    const first = { roof: History.of(this.first).toKeep(), example: this.withExample, units, room, line: 0, ticks: {}, typed: null };
    this.enter(this.jobs.read(id) ?? first);
  }

  private enter(saved: Saved): void {
    this.kept = "";
    this.take_up(saved);
    this.session = 0;
    this.field = null;
    this.opened = false;
    this.typed = null;
    this.listing = false;
    this.starting = null;
    this.sketch = null;
    this.message = null;
    this.moved = [];
    this.look();
    this.tell();
  }

  /** The roof of a job, as it stands. */
  roofOf(id: string): string | null {
    const saved = this.jobs.read(id);
    return saved ? new History(saved.roof).text : null;
  }

  /** Gives a job another name: in its roof file, so that it goes wherever the file goes. */
  rename(id: string, name: string): Refusal[] {
    const saved = this.jobs.read(id);
    if (!saved) return [];
    const history = id === this.job ? this.history : new History(saved.roof);
    const next = this.engine.ask<string>({ ask: "edit", roof: history.text, set: [["job.name", name === "" ? null : name]] });
    if (!("ok" in next)) return [];
    const told = this.engine.ask<PlanView>(this.room_of("plan", next.ok, null));
    if ("refused" in told) return told.refused;
    history.push(next.ok, 0);
    if (id === this.job) {
      this.example = false;
      this.look();
    } else {
      const line = this.jobs.all().find((job) => job.id === id);
      this.jobs.write(id, { ...saved, roof: history.toKeep() }, name || null, line?.fails ?? "", true, this.job);
    }
    this.tell();
    return [];
  }

  /** A job like another, with a history of its own and nothing ticked. */
  copy(id: string, name: string): void {
    const roof = this.roofOf(id);
    if (roof === null) return;
    const next = this.engine.ask<string>({ ask: "edit", roof, set: [["job.name", name]] });
    this.begin("ok" in next ? next.ok : roof);
  }

  /** Deletes a job, or takes that back. If it is the one that is open, the one changed last before it is opened. */
  remove(id: string, deleted: boolean): void {
    this.jobs.remove(id, deleted);
    if (deleted && id === this.job) {
      this.turnTo(this.jobs.all().find((job) => !this.jobs.isNewer(job.id))?.id ?? FIRST);
      this.listing = true;
    }
    this.tell();
  }

  list(open: boolean): void {
    this.listing = open;
    this.opened = false;
    this.typed = null;
    this.tell();
  }

  /** The example or the roof that came with the page, as it was; undo takes that back. */
  putBack(): void {
    if (this.job !== FIRST) this.openJob(FIRST);
    this.example = this.withExample;
    this.stepped(() => this.history.push(this.first, 0));
    this.moved = [];
    this.tell();
  }

  /** True if the page came with the example, not with a roof of its own. */
  get withExample(): boolean {
    return this.first === example;
  }

  /** Goes on with the questions for a new roof; null leaves them. */
  start(starting: Starting | null, sketch: string | null): void {
    this.starting = starting;
    this.sketch = sketch;
    this.listing = false;
    this.opened = false;
    this.typed = null;
    this.moved = [];
    this.look();
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

  /** Keeps the roof that came by a link, as a job of its own. */
  keepLinked(): void {
    const roof = this.history.toKeep();
    const { units, room, ticks } = this;
    this.linked = false;
    this.job = this.jobs.fresh();
    this.enter({ roof, example: false, units, room, line: 0, ticks, typed: null });
  }

  setStep(step: string): void {
    this.step = step;
    this.jobs.keepNote("step", { step });
    this.tell();
  }

  setUnits(units: Units): void {
    this.units = units;
    this.moved = [];
    this.look();
    this.tell();
  }

  go(room: Room): void {
    this.room = room;
    this.listing = false;
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

/** Draws anew when anything changes. */
export function useStore(store: Store): void {
  const [, draw] = useState(0);
  useEffect(() => store.on(() => draw((count) => count + 1)), [store]);
}
