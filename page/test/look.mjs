// What is measured on a page that is shown, and on a PDF that was printed from it. The first two run in the browser.

import { inflateSync } from "node:zlib";

/** Text whose contrast to what is behind it is under 7 to 1, by computed colors (WCAG 2.2, relative luminance). */
export function contrasts() {
  const parse = (color) => {
    const parts = color.match(/[\d.]+/g).map(Number);
    return { rgb: parts.slice(0, 3), alpha: parts[3] ?? 1 };
  };
  const luminance = (rgb) => {
    const [r, g, b] = rgb.map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const over = (top, alpha, below) => top.map((part, at) => part * alpha + below[at] * (1 - alpha));
  const behind = (one) => {
    if (!one) return [255, 255, 255];
    const { rgb, alpha } = parse(getComputedStyle(one).backgroundColor);
    return alpha === 1 ? rgb : over(rgb, alpha, behind(one.parentElement));
  };
  const poor = [];
  for (const one of document.querySelectorAll("#page *, #page")) {
    const words = [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim() !== "") || (one.matches("input, select") && one.value);
    if (!words || !one.checkVisibility() || one.getClientRects().length === 0 || one.closest("svg, [aria-hidden=true], option, style")) continue;
    const style = getComputedStyle(one);
    if (style.visibility === "hidden" || one.matches(".button input")) continue;
    let faded = 1;
    for (let up = one; up; up = up.parentElement) faded *= Number(getComputedStyle(up).opacity);
    const back = behind(one);
    const ink = parse(style.color);
    const [a, b] = [luminance(over(ink.rgb, ink.alpha * faded, back)), luminance(back)];
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < 7) poor.push(`${ratio.toFixed(2)} ${one.tagName}.${one.className}: ${(one.textContent || one.value).trim().slice(0, 30)}`);
  }
  return poor;
}

/** Targets under 48 px, targets closer than 8 px to each other, and what makes the page wider than the screen. */
export function tight() {
  const SELECT = "button, select, summary, label.tick, label.button, input:not([type=checkbox]):not([type=file])";
  const targets = [...document.querySelectorAll(SELECT)].filter((one) => one.checkVisibility() && one.getClientRects().length > 0)
    .map((one) => ({ one, box: one.getBoundingClientRect(), name: `${one.tagName}.${one.className} ${(one.getAttribute("aria-label") ?? one.textContent).slice(0, 24)}` }));
  const wrong = targets.filter(({ box }) => box.width < 47.5 || box.height < 47.5).map(({ name, box }) => `${name}: ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`);
  // each part of the page scrolls by itself: what is measured lies in the same part
  const part = (one) => one.closest("main, nav, header, .news, .sight");
  for (const [at, a] of targets.entries()) {
    for (const b of targets.slice(at + 1)) {
      if (a.one.contains(b.one) || b.one.contains(a.one) || part(a.one) !== part(b.one)) continue;
      const across = Math.max(a.box.left - b.box.right, b.box.left - a.box.right);
      const down = Math.max(a.box.top - b.box.bottom, b.box.top - a.box.bottom);
      const gap = Math.max(across, down);
      if (gap < 7.5) wrong.push(`${gap.toFixed(1)} px between ${a.name} and ${b.name}`);
    }
  }
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 0) wrong.push(`${wide} px too wide`);
  for (const one of document.querySelectorAll("main, .room, .top, .news, table, .goods, .row")) {
    if (one.getClientRects().length > 0 && one.scrollWidth > one.clientWidth + 1) wrong.push(`${one.tagName}.${one.className} scrolls sideways by ${one.scrollWidth - one.clientWidth}`);
  }
  return wrong;
}

/** The sizes of a printed PDF's pages, and every straight line on them, in inches. */
export function printed(file) {
  const text = file.toString("latin1");
  const pages = [...text.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map((box) => [Number(box[1]) / 72, Number(box[2]) / 72]);
  const found = [];
  for (const stream of text.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)) {
    let drawn;
    try {
      drawn = inflateSync(Buffer.from(stream[1], "latin1")).toString("latin1");
    } catch {
      continue;
    }
    found.push(...lines(drawn));
  }
  return { pages, lines: found };
}

/** Every straight line of a page's stream in inches of the page, with its transforms. */
function lines(drawn) {
  const times = (m, n) => [
    m[0] * n[0] + m[1] * n[2], m[0] * n[1] + m[1] * n[3], m[2] * n[0] + m[3] * n[2], m[2] * n[1] + m[3] * n[3],
    m[4] * n[0] + m[5] * n[2] + n[4], m[4] * n[1] + m[5] * n[3] + n[5],
  ];
  let matrix = [1, 0, 0, 1, 0, 0];
  const stack = [];
  const numbers = [];
  const all = [];
  let at = null;
  const place = (x, y) => [(x * matrix[0] + y * matrix[2] + matrix[4]) / 72, (x * matrix[1] + y * matrix[3] + matrix[5]) / 72];
  for (const word of drawn.split(/\s+/)) {
    if (/^-?[\d.]+$/.test(word)) {
      numbers.push(Number(word));
      continue;
    }
    const last = (count) => numbers.slice(-count);
    if (word === "q") stack.push(matrix);
    else if (word === "Q") matrix = stack.pop() ?? matrix;
    else if (word === "cm") matrix = times(last(6), matrix);
    else if (word === "m") at = place(...last(2));
    else if (word === "l" && at) {
      const to = place(...last(2));
      all.push([at, to]);
      at = to;
    }
    numbers.length = 0;
  }
  return all;
}

/** The lines of exactly 4 in and 100 mm on these sheets: the rulers. Ends as on the printed page, inches from its lower left corner. */
export function rulersOf(sheets) {
  return sheets.flatMap((sheet) => [...sheet.svg.matchAll(/<polyline[^>]*points="([^" ]+) ([^" ]+)"/g)].flatMap((line) => {
    const [from, to] = [line[1], line[2]].map((end) => end.split(",").map(Number)).map(([x, y]) => [x, sheet.high - y]);
    const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const says = [4, 100 / 25.4].find((length) => Math.abs(length - long) < 1e-4);
    return says ? [{ from, to, says }] : [];
  }));
}

/** How long each ruler is on the printed page; one that is not there has no length. */
export function measured(rulers, lines) {
  const near = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]) < 0.02;
  return rulers.map(({ from, to, says }) => {
    const line = lines.find(([a, b]) => (near(a, from) && near(b, to)) || (near(a, to) && near(b, from)));
    return { says, is: line ? Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]) : 0 };
  });
}
