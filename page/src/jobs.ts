// Jobs by name in the browser: each has its roof through time, its ticks and notes, and where it was left.
//
// They are kept in localStorage, not in IndexedDB: it writes before the next line of the program runs, so that a dead battery
// or a closed tab loses no letter, while IndexedDB writes later. A job takes some 4 KB and 100 bytes for each change; a
// browser gives 5 MB.
//
// Every key begins with the version of the format. A page reads what older pages kept and leaves it where it is; what a
// newer page keeps it does not touch.

import { type Units, type Room } from "./engine";
import { type Kept } from "./history";

const VERSION = 2;
const BEGINNING = "stepoff.page.";

/** What is typed into a field and not yet, or not, a value. */
export interface Kept_typed { field: string; text: string; refused: { field: string | null; message: string; help: string }[] }

/** A job as it is kept. */
export interface Saved {
  version?: number;
  roof: Kept;
  example: boolean;
  units: Units | null;
  room: Room;
  line: number;
  ticks: { [key: string]: number | string };
  typed: Kept_typed | null;
}

/** A line of the list of jobs. */
export interface Job {
  id: string;
  name: string | null;
  /** When its roof was changed last, milliseconds since 1970. */
  changed: number;
  /** What fails or needs design, in the engine's words. */
  fails: string;
  /** When it was deleted; null if it was not. */
  deleted: number | null;
}

interface List { version: number; now: string; jobs: Job[] }

/** The job that the page opens with, before any was started: the example, or the roof that came with the page. */
export const FIRST = "first";

export class Jobs {
  /** False once this browser could not keep something. */
  works = true;
  /** True if a newer page keeps jobs here. */
  newer = false;
  private readonly list_key: string;
  private readonly old_key: string;

  /** `apart` keeps the jobs of a page that came with a roof of its own apart from all others. */
  constructor(apart: string) {
    this.list_key = `${BEGINNING}${VERSION}${apart}`;
    this.old_key = `${BEGINNING}1${apart}`;
    try {
      this.newer = Object.keys(localStorage).some((key) => {
        const version = key.startsWith(BEGINNING) ? parseInt(key.slice(BEGINNING.length), 10) : 0;
        return version > VERSION;
      });
    } catch {
      this.works = false;
    }
  }

  /** The key of a job; the tests read it. */
  key(id: string): string {
    return `${this.list_key}/${id}`;
  }

  private parsed<T>(key: string): T | null {
    try {
      const text = localStorage.getItem(key);
      return text === null ? null : (JSON.parse(text) as T);
    } catch {
      return null;
    }
  }

  private put(key: string, value: object): void {
    try {
      localStorage.setItem(key, JSON.stringify(value));
      this.works = true;
    } catch {
      this.works = false;
    }
  }

  private list(): List {
    const kept = this.parsed<List>(this.list_key);
    if (kept && Array.isArray(kept.jobs)) return kept;
    return { version: VERSION, now: FIRST, jobs: [] };
  }

  /** Every job that was not deleted, or every deleted one, the last changed first. */
  all(deleted = false): Job[] {
    return this.list().jobs.filter((job) => (job.deleted !== null) === deleted).sort((a, b) => b.changed - a.changed);
  }

  /** The job that was open last. */
  get now(): string {
    const { now, jobs } = this.list();
    return jobs.some((job) => job.id === now && job.deleted === null) ? now : FIRST;
  }

  /** A job; the first one may have been kept by an older page. Null if there is none, or if a newer page wrote it. */
  read(id: string): Saved | null {
    let saved = this.parsed<Saved>(this.key(id));
    if (!saved && id === FIRST) saved = this.parsed<Saved>(this.old_key);
    if (!saved || (saved.version ?? 1) > VERSION) return null;
    return typeof saved.roof?.start === "string" && Array.isArray(saved.roof.changes) ? saved : null;
  }

  /** True if a newer page wrote this job. */
  isNewer(id: string): boolean {
    return (this.parsed<Saved>(this.key(id))?.version ?? 1) > VERSION;
  }

  /** Keeps a job and its line in the list; `now` is the job that is open. */
  write(id: string, saved: Saved, name: string | null, fails: string, changed: boolean, now = id): void {
    if (this.isNewer(id)) return;
    this.put(this.key(id), { ...saved, version: VERSION });
    const list = this.list();
    const before = list.jobs.find((job) => job.id === id);
    const job: Job = { id, name, fails, changed: changed || !before ? Date.now() : before.changed, deleted: null };
    const jobs = before ? list.jobs.map((one) => (one.id === id ? job : one)) : [...list.jobs, job];
    this.put(this.list_key, { version: VERSION, now, jobs });
  }

  /** An id that no job has. */
  fresh(): string {
    return `${Date.now().toString(36)}${Math.floor(Math.random() * 46656).toString(36)}`;
  }

  /** Deletes a job, or takes that back; what it held stays until then. */
  remove(id: string, deleted: boolean): void {
    const list = this.list();
    const jobs = list.jobs.map((job) => (job.id === id ? { ...job, deleted: deleted ? Date.now() : null } : job));
    this.put(this.list_key, { ...list, jobs });
  }

  /** Gives the room of deleted jobs back. They can't be taken back then. */
  empty(): void {
    const list = this.list();
    for (const job of list.jobs.filter((one) => one.deleted !== null)) localStorage.removeItem(this.key(job.id));
    this.put(this.list_key, { ...list, jobs: list.jobs.filter((one) => one.deleted === null) });
  }

  /** What is not a job: the six questions while they are being answered. */
  note<T extends object>(name: string): T | null {
    return this.parsed<T>(`${this.list_key}:${name}`);
  }

  keepNote(name: string, value: object | null): void {
    const key = `${this.list_key}:${name}`;
    if (value) this.put(key, value);
    else try { localStorage.removeItem(key); } catch { this.works = false; }
  }
}
