// The roof while it is changed: what is typed, stepped, dragged or taken, what is refused, and what moved with it.

import { type Engine, type FieldValue, type Figure, type Placed, type PlanView, type Refusal, type Room, type Tables, type Units, type Viewed } from "./engine";
import { type History } from "./history";

/** Pixels of the screen for one inch of paper: letters of a drawing are then 16 px. */
export const PIXELS = 118;

/** What is typed into a field and not yet, or not, a value. */
export interface Typed {
  field: string; text: string; refused: Refusal[];
  /** True once Done was pressed over it: until then nothing is called wrong. */
  said?: boolean;
}

/** What is written into the roof file if an answer is taken: fields with their texts, null to take one out. */
export type Taken = [string, string | null][];

/** One figure that moved. */
export interface Moved { name: string; was: string; now: string }

export const SEAT = "rafter.seat";

export abstract class Editing {
  abstract history: History;
  abstract units: Units | null;
  abstract room: Room;
  abstract typed: Typed | null;
  abstract readonly engine: Engine;
  /** What is drawn while the questions for a new roof are asked. */
  sketch: string | null = null;
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
  wide = 3;
  high = 2.2;
  protected session = 0;
  /** The drag that goes on: the roof and the drawing that it began from. */
  private drag: { field: string; roof: string; placed: Placed } | null = null;

  protected abstract tell(): void;

  get roof(): string {
    return this.history.text;
  }

  protected room_of(room: Viewed, roof: string, field: string | null): object {
    const { units, wide, high } = this;
    return { ask: "room", room, roof, units, wide, high, field, held: room === "plan" ? (this.drag?.placed ?? null) : null };
  }

  /** Looks at the roof anew; `before` is what was shown when the change began. */
  protected look(before?: PlanView | null): void {
    const told = this.engine.ask<PlanView>(this.room_of("plan", this.sketch ?? this.roof, this.field));
    if ("ok" in told) {
      if (before !== undefined) this.moved = moved(before?.figures ?? [], told.ok.figures);
      this.plan = told.ok;
      this.refused = [];
    } else {
      this.refused = "refused" in told ? told.refused : [{ field: null, message: "stopped" in told ? told.stopped : told.broken, help: "" }];
    }
  }

  private before: PlanView | null = null;
  /** The roof from which it moved. */
  from = "";

  /** A change begins. */
  private mark(): void {
    this.before = this.plan;
    this.from = this.roof;
  }

  /** Opens a field to be typed in: what is changed until it is closed is one step of undo. */
  open(field: string | null): void {
    if (field !== null && (this.field !== field || !this.opened)) this.session = Date.now();
    if (field !== null) this.mark();
    this.opened = field !== null;
    if (field !== null) this.field = field;
    if (field === null || this.typed?.field !== field) this.typed = null;
    this.look();
    this.tell();
  }

  /** Closes the open field; what is refused is said first, and left at the next press. */
  finish(): void {
    const { typed } = this;
    if (!typed || typed.refused.length === 0 || typed.said) {
      this.open(null);
      return;
    }
    this.typed = { ...typed, said: true };
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
    if ("ok" in told) this.show_new(roof, told.ok);
    else if ("refused" in told) {
      const typed = this.typed ?? { field, text: "", refused: [] };
      this.typed = { ...typed, refused: told.refused };
    }
  }

  /** Takes a roof that can be built, with what is shown of it. */
  private show_new(roof: string, plan: PlanView): void {
    this.history.push(roof, this.session);
    this.moved = moved(this.before?.figures ?? this.plan?.figures ?? [], plan.figures);
    this.plan = plan;
    this.refused = [];
  }

  /** One step of a stepper. */
  nudge(field: string, up: boolean): void {
    const { units } = this;
    // a seat that follows from the notch rule is stepped from what it comes to
    const seat = field === SEAT && !this.value(SEAT)?.given ? this.figure("seat") : null;
    const from = seat === null ? null : this.engine.ask<string>({ ask: "edit", roof: this.roof, set: [[SEAT, seat]] });
    const roof = from && "ok" in from ? from.ok : this.roof;
    const next = this.engine.ask<string>({ ask: "nudge", roof, field, up, units });
    if (!("ok" in next) || next.ok === this.roof) return;
    this.mark();
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
    this.mark();
    this.drag = { field, roof: this.roof, placed: this.plan.placed };
  }

  /** Brings the dragged point to a place of the drawing, inches of paper. */
  dragTo(at: [number, number]): void {
    if (!this.drag) return;
    const { field, roof, placed } = this.drag;
    const { units, wide, high } = this;
    const next = this.engine.ask<{ roof: string; view: PlanView | null }>({ ask: "drag", roof, field, at, placed, units, wide, high });
    if (!("ok" in next) || next.ok.roof === this.roof) return;
    this.typed = null;
    if (next.ok.view) this.show_new(next.ok.roof, next.ok.view);
    else this.try(next.ok.roof, field);
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

  /** Takes a value out of the roof file. */
  clear(field: string): void {
    const next = this.engine.ask<string>({ ask: "edit", roof: this.roof, set: [[field, null]] });
    if (!("ok" in next)) return;
    this.mark();
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

  protected stepped(go: () => void): void {
    this.mark();
    this.typed = null;
    this.session = 0;
    go();
    this.look(this.before);
    this.tell();
  }

  /** Writes an answer into the roof file: one step of undo. */
  take(set: Taken): void {
    const next = this.engine.ask<string>({ ask: "edit", roof: this.roof, set });
    if (!("ok" in next)) return;
    this.mark();
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

  /** Adds a wing, a dormer or an opening where one has room; says why there is none. */
  add(table: string): Refusal[] {
    return this.with_text({ ask: "add", roof: this.roof, table });
  }

  /** Takes a wing, a dormer or an opening out; says why the roof can't be without it. */
  remove_block(table: string, number: number): Refusal[] {
    return this.with_text({ ask: "remove", roof: this.roof, table, number });
  }

  /** Takes the roof that a question answers with: one step of undo. */
  private with_text(question: object): Refusal[] {
    const next = this.engine.ask<string>(question);
    if (!("ok" in next)) return refusals(next);
    const told = this.engine.ask<PlanView>(this.room_of("plan", next.ok, null));
    if (!("ok" in told)) return refusals(told);
    this.opened = false;
    this.field = null;
    this.stepped(() => this.history.push(next.ok, 0));
    return [];
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

  /** What one figure comes to. */
  figure(key: string): string | null {
    return this.plan?.figures.find((one) => one.key === key)?.value ?? null;
  }

  value(field: string): FieldValue | undefined {
    return this.plan?.values.find((one) => one.key === field);
  }
}

/** Why there is no answer. */
function refusals(told: { refused: Refusal[] } | { stopped: string } | { broken: string }): Refusal[] {
  return "refused" in told ? told.refused : [{ field: null, message: "broken" in told ? told.broken : told.stopped, help: "" }];
}

function moved(was: Figure[], now: Figure[]): Moved[] {
  return now.flatMap((figure) => {
    const before = was.find((one) => one.key === figure.key)?.value;
    return before !== undefined && before !== figure.value ? [{ name: figure.name, was: before, now: figure.value }] : [];
  });
}
