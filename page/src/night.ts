// The night form: white on black. As the phone is set at first, then as it was chosen.

import { keep, kept } from "./keep";

const KEY = "night";

export function isNight(): boolean {
  const chosen = kept(KEY);
  return chosen === null ? matchMedia("(prefers-color-scheme: dark)").matches : chosen === "yes";
}

function show(): void {
  document.documentElement.classList.toggle("night", isNight());
}

export function setNight(night: boolean): void {
  keep(KEY, night ? "yes" : "no");
  show();
}

/** Shows the form that is wanted, and follows the phone while nothing was chosen. */
export function startNight(changed: () => void): void {
  show();
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    show();
    changed();
  });
}
