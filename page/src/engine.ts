// The engine: asked in JSON, in this thread for what is quick, in a worker for what takes long.

import { contents } from "./packed.js";

export type Units = "feet" | "metric";
export type Room = "plan" | "cut" | "lay" | "buy" | "check";
/** What the engine has a view for: the rooms, and the frame in 3-D. */
export type Viewed = Room | "model";

export interface Picture { svg: string; wide: number; high: number }
export interface Refusal { field: string | null; message: string; help: string }
export interface Figure { key: string; name: string; value: string }
export interface Count { verdict: string; words: string }
export interface FieldValue { key: string; value: string; said: string | null; given: boolean }

/** How a drawing is placed on its paper, and the points of it that are dragged: inches from its upper left corner. */
export interface Placed { scale: number; x: number; y: number; high: number }
export interface Grip { field: string; x: number; y: number }

export interface PlanView {
  name: string | null;
  drawing: Picture;
  placed: Placed;
  grips: Grip[];
  figures: Figure[];
  counts: Count[];
  open: { id: string; verdict: string; title: string; shortfall: string | null }[];
  values: FieldValue[];
  /** Wings, dormers and openings, each in a line. */
  parts: { table: string; number: number; name: string; what: string }[];
  /** Faces with their pitches, edges with their true lengths. */
  faces: Table[];
  notes: string[];
}

/** A table of the engine's, every cell written. */
export interface Table { title: string; columns: { head: string; right: boolean }[]; rows: string[][] }

export interface CutView {
  /** The pattern rafter; null if the roof has none that is cut so. */
  pattern: {
    mark: string;
    drawing: Picture;
    length: string;
    /** Where the tape is hooked for each edge. */
    hook: string;
    marks: { number: number; edge: string; at: string; said: string; name: string; line: string }[];
    cuts: { name: string; line: string; miter: string; rise: string; length: string }[];
    proofs: { letter: string; what: string; proves: string; length: string }[];
  } | null;
  sticks: {
    mark: string; what: string; count: number; section: string; blank: string; from: string | null;
    ends: string; other: string; drawing: Picture | null;
    /** Figures that the drawing does not have, and how to cut it. */
    tables: Table[]; steps: string[];
  }[];
  caution: string;
}

export interface ModelView {
  patterns: {
    mark: string; what: string; count: number; section: string; blank: string; from: string | null; ends: string; other: string;
    placed: { id: string; at: string }[];
  }[];
  count: number;
  steps: { title: string; say: string; caution: string | null; up: string[]; sticks: string[] }[];
}

export interface LayLine {
  on: string; from: string; x_side: string; length: string;
  rows: { number: number; mark: string; what: string; at: string; said: string; part: number; covers: number }[];
}
export interface LayView { what: string; hook: string; lines: LayLine[]; notes: string[] }

export interface BuyView {
  trades: {
    trade: string;
    lines: {
      key: string; what: string; called: string; count: string; unit: string; goes_to: string; basis: string; in_hand: boolean;
      priced_by: string; each: string | null; cost: string | null;
    }[];
    cost: string | null;
  }[];
  other_lengths: { section: string; lengths: { key: string; name: string; each: string | null }[] }[];
  cost: { total: string; with_tax: string | null; without_price: string[]; note: string | null } | null;
  text: string;
  sections: {
    title: string; verdict: string; too_long: string[];
    bars: { stock: string; times: number; left: string; pieces: { mark: string; length: string; part: number; covers: number }[] }[];
  }[];
  notes: string[];
  left_out: string[];
  caution: string;
  /** True if lengths without a price are bought too. */
  all_lengths: boolean;
}

export interface CheckView {
  edition: string;
  counts: Count[];
  findings: {
    id: string; title: string; verdict: string; who: string; found: string; limit: string; section: string; edition: string;
    shortfall: string | null; note: string; missing: string[];
    /** Marks of the sticks that it speaks of. */
    sticks: string[];
  }[];
  walk: {
    words: string;
    rows: { id: string; title: string; measure: string; verdict: string; limit: string; section: string }[];
  }[];
  not_looked_at: { section: string; about: string; fact: string }[];
  caution: string;
}

export type Reader = "cutter" | "layout" | "buyer" | "inspector" | "designer";

export interface Field {
  key: string; label: string; who: Reader[]; about: string; typed: "length" | "signed" | "pitch" | "words" | "text"; written_as: string;
  choices: string[]; default: string; needed: boolean; text: string | null;
}
/** One of several tables of a name: a wing, a dormer, an opening. */
export interface Item { number: number; name: string | null; fields: Field[] }
export interface Tables {
  readers: [Reader, string][];
  tables: { table: string; about: string; fields: Field[] }[];
  lists: { table: string; about: string; items: Item[] }[];
}

export interface ReadBack { value: string | null; said: string | null; refused: Refusal | null; readings: string[] }
export interface Sheet { title: string; svg: string; wide: number; high: number }
export interface Saved { name: string; base64: string; word: string | null }

/** What came of a question. */
export type Told<T> = { ok: T } | { refused: Refusal[] } | { stopped: string } | { broken: string };

interface Exports {
  memory: WebAssembly.Memory;
  alloc(len: number): number;
  free(address: number, len: number): void;
  ask(address: number, len: number): bigint;
}

/** The engine in this thread. */
export class Engine {
  private exports: Exports | undefined;
  /** Takes its place, should it stop over a question: so large an engine can't be made at once in the page's own thread. */
  private spare: Exports | undefined;

  private constructor(readonly module: WebAssembly.Module, private readonly imports: WebAssembly.Imports) {}

  /** Makes what is missing of the engine and its spare. */
  private async renew(): Promise<void> {
    const made = (await WebAssembly.instantiate(this.module, this.imports)).exports as unknown as Exports;
    if (this.exports) {
      this.spare = made;
      return;
    }
    this.exports = made;
    // nobody waits for the spare
    void this.renew();
  }

  /** `hears` is called with what a long search is doing. */
  static async of(code: BufferSource | WebAssembly.Module, hears: (how_far: string) => void = () => {}): Promise<Engine> {
    const module = code instanceof WebAssembly.Module ? code : await WebAssembly.compile(code);
    // a workbook asks for the time; what other libraries name is for other hosts, and is never called
    const imports: WebAssembly.Imports = {};
    for (const wanted of WebAssembly.Module.imports(module)) {
      const of = (imports[wanted.module] ??= {});
      of[wanted.name] = wanted.name.startsWith("__wbg_now_")
        ? Date.now
        : () => { throw new Error(`${wanted.module}.${wanted.name} is not here`); };
    }
    const engine = new Engine(module, imports);
    (imports["page"] ??= {})["hears"] = (at: number, len: number) => {
      hears(new TextDecoder().decode(new Uint8Array(engine.exports!.memory.buffer, at, len)));
    };
    await engine.renew();
    return engine;
  }

  /** Answers a question. Should the engine stop over it, the next question has a new one. */
  ask<T>(question: object): Told<T> {
    try {
      return this.answered<T>(question);
    } catch (error) {
      this.exports = this.spare;
      this.spare = undefined;
      void this.renew();
      return { broken: String(error) };
    }
  }

  private answered<T>(question: object): Told<T> {
    if (!this.exports) throw new Error("the engine begins anew");
    const { memory, alloc, free, ask } = this.exports;
    const text = new TextEncoder().encode(JSON.stringify(question));
    const address = alloc(text.length);
    new Uint8Array(memory.buffer, address, text.length).set(text);
    const answer = BigInt.asUintN(64, ask(address, text.length));
    const [at, len] = [Number(answer >> 32n), Number(answer & 0xffffffffn)];
    const json = new TextDecoder().decode(new Uint8Array(memory.buffer, at, len));
    free(at, len);
    return JSON.parse(json) as Told<T>;
  }
}

/** The engine's bytes out of the page. */
export function bytes(): Promise<Uint8Array<ArrayBuffer>> {
  return contents(document.getElementById("engine")!.textContent!);
}

interface Sent { number: number; question: object }
type Back = { number: number; told: Told<unknown> } | { number: number; how_far: string };

/** How often a worker says how far it is, milliseconds. */
const SAYS_EVERY = 100;

/** Answers questions in a worker: the same script, where there is no page. */
export function serve(): void {
  let engine: Promise<Engine> | undefined;
  let asked = 0;
  let said = 0;
  const hears = (how_far: string) => {
    if (performance.now() - said < SAYS_EVERY) return;
    said = performance.now();
    self.postMessage({ number: asked, how_far } satisfies Back);
  };
  self.onmessage = async (event: MessageEvent<WebAssembly.Module | Sent>) => {
    if (event.data instanceof WebAssembly.Module) {
      engine = Engine.of(event.data, hears);
      return;
    }
    const { number, question } = event.data;
    await engine?.catch(() => {});
    asked = number;
    const told = await engine!.then((engine) => engine.ask(question), (error: unknown) => ({ broken: String(error) }));
    const back = { number, told } satisfies Back;
    self.postMessage(back);
  };
}

/** Asks what takes long; where no worker can be had, in this thread. */
export class Slow {
  private worker: Worker | undefined;
  private number = 0;
  private readonly waiting = new Map<number, { question: object; done: (told: Told<unknown>) => void; hears?: (how_far: string) => void }>();

  constructor(private readonly here: Engine) {}

  /** Another one with a worker of its own, which can be stopped by itself. */
  another(): Slow {
    return new Slow(this.here);
  }

  ask<T>(question: object, hears?: (how_far: string) => void): Promise<Told<T>> {
    return new Promise((resolve) => {
      const number = ++this.number;
      this.waiting.set(number, { question, done: resolve as (told: Told<unknown>) => void, hears });
      const worker = this.start();
      if (worker) worker.postMessage({ number, question } satisfies Sent);
      else setTimeout(() => this.answerHere(), 30);
    });
  }

  /** Starts the worker before it is needed, so that the first long question does not wait for it. */
  warm(): void {
    this.start();
  }

  /** Drops every question that still waits, and the worker with it; the next worker starts at once. */
  stop(): void {
    if (this.waiting.size === 0) return;
    this.worker?.terminate();
    this.worker = undefined;
    this.waiting.clear();
    this.start();
  }

  private answerHere(): void {
    for (const [number, { question, done }] of [...this.waiting]) {
      this.waiting.delete(number);
      done(this.here.ask(question));
    }
  }

  private failed = false;

  private start(): Worker | undefined {
    if (this.worker || this.failed) return this.worker;
    try {
      const script = document.querySelector("script[type=module]")!.textContent!;
      const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
      // no module worker: of a page that is a file, browsers load none from a blob
      const worker = new Worker(url);
      worker.onerror = () => {
        this.failed = true;
        this.worker = undefined;
        this.answerHere();
      };
      worker.onmessage = (event: MessageEvent<Back>) => {
        const waiting = this.waiting.get(event.data.number);
        if ("how_far" in event.data) {
          waiting?.hears?.(event.data.how_far);
          return;
        }
        this.waiting.delete(event.data.number);
        waiting?.done(event.data.told);
      };
      worker.postMessage(this.here.module);
      this.worker = worker;
    } catch {
      this.failed = true;
    }
    return this.worker;
  }
}
