// Printing: what is printed is laid out beside the page and shown on paper alone.

import { type ComponentChildren, render } from "preact";
import { type Sheet } from "./engine";

/** Prints these parts with the page's own print form, and takes them out of the page afterwards. */
export async function print(style: string, parts: ComponentChildren): Promise<void> {
  document.querySelector(".prints")?.remove();
  const place = document.createElement("div");
  place.className = "prints";
  const sizes = document.createElement("style");
  sizes.textContent = `@media print { ${style} }`;
  const inside = document.createElement("div");
  place.append(sizes, inside);
  render(<>{parts}</>, inside);
  document.body.append(place);
  document.body.classList.add("printing");
  const done = () => {
    render(null, inside);
    place.remove();
    document.body.classList.remove("printing");
  };
  addEventListener("afterprint", done, { once: true });
  await document.fonts.ready;
  window.print();
}

/** Sheets at true scale: an inch of the drawing is an inch of the paper. */
export function printSheets(sheets: Sheet[]): Promise<void> {
  const sizes: string[] = [];
  const size = (sheet: Sheet) => `${sheet.wide.toFixed(4)}in ${sheet.high.toFixed(4)}in`;
  for (const sheet of sheets) if (!sizes.includes(size(sheet))) sizes.push(size(sheet));
  const style = sizes.map((paper, at) => `@page paper${at} { size: ${paper}; margin: 0; }`).join(" ");
  return print(style, sheets.map((sheet, at) => (
    <div class="paper" key={at} style={{ page: `paper${sizes.indexOf(size(sheet))}`, width: `${sheet.wide}in`, height: `${sheet.high}in` }} dangerouslySetInnerHTML={{ __html: sheet.svg }} />
  )));
}
