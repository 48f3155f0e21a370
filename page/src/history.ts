// The roof file's text through time: each change as what was taken out and put in, so that undo goes back to the start.

/** One change of a text. */
export interface Change { at: number; out: string; into: string; session: number }

export interface Kept { start: string; changes: Change[]; done: number }

/** The smallest stretch in which two texts differ. */
function difference(before: string, after: string): { at: number; out: string; into: string } {
  let head = 0;
  const shorter = Math.min(before.length, after.length);
  while (head < shorter && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < shorter - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  return { at: head, out: before.slice(head, before.length - tail), into: after.slice(head, after.length - tail) };
}

function replaced(text: string, at: number, out: string, into: string): string {
  return text.slice(0, at) + into + text.slice(at + out.length);
}

export class History {
  /** The text now. */
  text: string;

  constructor(private kept: Kept) {
    this.text = kept.changes.slice(0, kept.done).reduce((text, one) => replaced(text, one.at, one.out, one.into), kept.start);
  }

  static of(start: string): History {
    return new History({ start, changes: [], done: 0 });
  }

  toKeep(): Kept {
    return this.kept;
  }

  get canUndo(): boolean {
    return this.kept.done > 0;
  }

  get canRedo(): boolean {
    return this.kept.done < this.kept.changes.length;
  }

  /** Takes in the next text; changes of one session (a field that is being typed) are one step of undo. */
  push(text: string, session: number): void {
    const { kept } = this;
    if (text === this.text) return;
    let changes = kept.changes.slice(0, kept.done);
    let before = this.text;
    const last = changes[changes.length - 1];
    if (last && session !== 0 && last.session === session) {
      before = replaced(before, last.at, last.into, last.out);
      changes = changes.slice(0, -1);
    }
    if (before !== text) changes = [...changes, { ...difference(before, text), session }];
    this.kept = { start: kept.start, changes, done: changes.length };
    this.text = text;
  }

  undo(): void {
    const change = this.kept.changes[this.kept.done - 1];
    if (!change) return;
    this.text = replaced(this.text, change.at, change.into, change.out);
    this.kept = { ...this.kept, done: this.kept.done - 1 };
  }

  redo(): void {
    const change = this.kept.changes[this.kept.done];
    if (!change) return;
    this.text = replaced(this.text, change.at, change.out, change.into);
    this.kept = { ...this.kept, done: this.kept.done + 1 };
  }
}
