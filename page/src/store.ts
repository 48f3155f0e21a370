// What the page holds: the roof through time, what is looked at, what was ticked. All of it is kept in the browser.

import { useEffect, useState } from "preact/hooks";
import example from "../../examples/kestrel-yard.toml?raw";
import { Editing, PIXELS, type Typed } from "./editing";
import { type Engine, type PlanView, type Refusal, type Room, type Slow, type Tables, type Told, type Units, type Viewed } from "./engine";
import { History } from "./history";
import { FIRST, Jobs, type Saved } from "./jobs";
import { keep, kept } from "./keep";
import { words } from "./words";

/** Where a page keeps its jobs: one that came with a roof of its own keeps apart from all others. */
function apart(given: string | null): string {
  if (given === null) return "";
  let hash = 0;
  for (const letter of given) hash = (Math.imul(hash, 31) + letter.codePointAt(0)!) | 0;
  return `.${given.length}.${hash}`;
}

/** Steps of the tape that a keypad can have, coarsest first. */
export const STEPS = ["1/2", "1/4", "1/8", "1/16"];

interface Ticks { [key: string]: number | string }

/** The six questions for a new roof, while they are being answered. */
export interface Starting { at: number; answers: { [field: string]: string }; text: string | null; name: string }

export class Store extends Editing {
  history: History;
  example: boolean;
  units: Units | null;
  room: Room;
  line: number;
  ticks: Ticks;
  typed: Typed | null;
  /** The frame in 3-D while it is open, with the finding whose sticks are lit. */
  model: { finding: string | null } | null = null;
  /** True while the list of jobs is open. */
  listing = false;
  /** The questions for a new roof, while they are asked. */
  starting: Starting | null = null;
  /** The finest fraction of an inch that the keypad offers. */
  step = "1/16";
  /** The job that is open. */
  job: string;
  readonly jobs: Jobs;
  /** Answers to what takes long and is not the order. */
  readonly trials: Slow;
  /** True for a roof out of a link: it is kept by itself once it is changed or anything is ticked, or when that is wanted. */
  linked: boolean;
  /** The yard's prices, the same for every job: the text of a prices file. */
  prices: string | null = kept("prices");
  private readonly listeners = new Set<() => void>();
  private answers = new Map<string, Told<unknown>>();

  constructor(readonly engine: Engine, readonly slow: Slow, given: string | null, linked: string | null) {
    super();
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

  /** The units that lengths are shown in. */
  get shown(): Units {
    return this.units ?? (this.plan?.values.find((one) => one.key === "building.span")?.value.includes("mm") ? "metric" : "feet");
  }

  on(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  protected tell(): void {
    if (this.linked && (this.history.canUndo || Object.keys(this.ticks).length > 0)) this.ownJob();
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

  /** The drawing's room, in pixels. */
  size(wide: number, high: number): void {
    const [w, h] = [Math.round((wide / PIXELS) * 20) / 20, Math.round((high / PIXELS) * 20) / 20];
    if (w === this.wide && h === this.high) return;
    [this.wide, this.high] = [w, h];
    this.look();
    this.tell();
  }

  showModel(model: { finding: string | null } | null): void {
    this.model = model;
    this.tell();
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

  /** Buys lengths without a price too, or no longer. */
  allLengths(all: boolean): void {
    const told = this.engine.ask<string>({ ask: "lengths", prices: this.prices, all });
    if ("ok" in told) this.setPrices(told.ok);
  }

  /** Takes in a prices file. */
  openPrices(name: string, text: string): Refusal[] {
    const told = this.engine.ask<string>({ ask: "prices", name, text });
    if ("ok" in told) this.setPrices(told.ok);
    return "refused" in told ? told.refused : [];
  }

  /** The roof that came by a link is a job of its own from now on. */
  private ownJob(): void {
    this.linked = false;
    this.job = this.jobs.fresh();
    window.history.replaceState(null, "", location.href.split("#")[0]);
  }

  /** Keeps the roof that came by a link, as a job of its own. */
  keepLinked(): void {
    this.ownJob();
    this.tell();
  }

  /** Shows the roof of a link in the page that is open; null is a link without a roof. */
  openLinked(roof: string | null): void {
    if (roof === null) {
      this.message = words.badLink;
      this.redraw();
      return;
    }
    const { units, room } = this;
    this.tell();
    this.linked = true;
    this.enter({ roof: History.of(roof).toKeep(), example: false, units, room, line: 0, ticks: {}, typed: null });
  }

  /** How many findings of the walk were found not to meet. */
  get unmet(): number {
    return Object.entries(this.ticks).filter(([key, value]) => value === "no" && /^walk\|.*\|found$/.test(key)).length;
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

  private labels: Map<string, string> | null = null;

  /** What a setting is called, by its name in the roof file. */
  label(key: string): string | undefined {
    if (!this.labels) {
      const told = this.engine.ask<Tables>({ ask: "fields", roof: "", units: null });
      this.labels = new Map("ok" in told ? told.ok.tables.flatMap((table) => table.fields.map((field): [string, string] => [field.key, field.label])) : []);
    }
    return this.labels.get(key);
  }

  /** Opens a setting from wherever its name stands. */
  openSetting(key: string): void {
    this.go("plan");
    this.open(key);
  }

  /** Lines of the order that are looked for, until the order shows one of them. */
  sought: string[] = [];

  /** Leads to the lines that need a price. */
  seekPrice(keys: string[]): void {
    this.sought = keys;
    this.go("buy");
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

}

/** Draws anew when anything changes. */
export function useStore(store: Store): void {
  const [, draw] = useState(0);
  useEffect(() => store.on(() => draw((count) => count + 1)), [store]);
}
