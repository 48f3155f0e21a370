// What the page asks of the picture, and how its code is let in: it lies compressed in the page until it is wanted.

import { contents } from "../packed.js";

/** A view with a name. */
export type Look = "home" | "above" | "eaveA" | "eaveB" | "near" | "far" | "eave";

export interface Told3d {
  /** A press on a stick, or beside all of them. */
  picked(name: string | null): void;
  /** The picture was drawn. */
  drawn(): void;
  /** The browser took the picture away. */
  lost(): void;
}

export interface Picture3d {
  /** How many pictures were drawn. */
  readonly drawn: number;
  view(look: Look): void;
  /** Radians to the right and up. */
  turn(right: number, up: number): void;
  /** Parts of the picture's width and height. */
  pan(right: number, up: number): void;
  zoom(nearer: boolean): void;
  /** What one finger does: moves the picture, or turns it. */
  oneFinger(pans: boolean): void;
  /** Sticks apart: 0 as built, 1 farthest. */
  explode(part: number): void;
  /** Shows these sticks alone; all if null. */
  show(names: ReadonlySet<string> | null): void;
  /** Lights these sticks, the others pale; none if null. */
  lightUp(names: ReadonlySet<string> | null): void;
  /** The sticks that are shown. */
  names(): string[];
  /** The sticks that are lit. */
  lit(): string[];
  /** Where the middle of a stick is in the picture, pixels. */
  where(name: string): { x: number; y: number } | null;
  /** The stick at a place of the picture. */
  pick(x: number, y: number): string | null;
  dispose(): void;
}

type Begin = (canvas: HTMLCanvasElement, glb: ArrayBuffer, told: Told3d) => Picture3d;

declare global {
  var stepoffModel: { picture: Begin } | undefined;
}

/** The code that draws. The page's policy knows its text by its hash, so nothing else can be let in here. */
export async function begin(): Promise<Begin> {
  if (!globalThis.stepoffModel) {
    const script = document.createElement("script");
    script.textContent = new TextDecoder().decode(await contents(document.getElementById("model")!.textContent!));
    document.head.append(script);
    script.remove();
  }
  if (!globalThis.stepoffModel) throw new Error("the model's code did not run");
  return globalThis.stepoffModel.picture;
}
