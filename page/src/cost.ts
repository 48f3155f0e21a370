// What the order costs, before and after a change: asked once the hand rests, where there are prices.

import { useEffect, useState } from "preact/hooks";
import { type BuyView, type Told } from "./engine";
import { type Store } from "./store";

/** A price or a number is typed digit by digit: the order waits until the hand rests, milliseconds. */
export const REST = 700;

/** What an order comes to, and how many it has of each line without a price. */
interface Total { total: string; priced: boolean; open: Map<string, string> }

/** Totals that were worked out, by roof, prices and units; null if there is none. */
const totals = new Map<string, Total | null>();

function key(store: Store, roof: string, prices = store.prices): string {
  return JSON.stringify([roof, prices, store.units]);
}

/** Keeps what an order of this roof came to. */
export function remember(store: Store, roof: string, prices: string | null, told: Told<BuyView>): void {
  if (totals.size > 40) totals.clear();
  const view = "ok" in told ? told.ok : null;
  const lines = view?.trades.flatMap((trade) => trade.lines) ?? [];
  const priced = lines.some((line) => line.cost !== null);
  const open = new Map(lines.filter((line) => !line.in_hand && line.cost === null).map((line) => [line.key, line.count]));
  totals.set(key(store, roof, prices), view?.cost ? { total: view.cost.total, priced, open } : null);
}

/**
 * The totals of the roof before the last change and of the one now; null while they are not known, or without prices.
 * They can be held beside each other where every line that differs has a price: `open` are those that have none.
 */
export function useCost(store: Store): { was: string; now: string; open: string[] } | null {
  const [, draw] = useState(0);
  const roofs = [store.from, store.roof];
  const wanted = store.prices !== null && store.moved.length > 0;
  const open = wanted ? roofs.filter((roof) => !totals.has(key(store, roof))) : [];
  useEffect(() => {
    if (open.length === 0) return;
    let stays = true;
    const timer = setTimeout(async () => {
      for (const roof of open) {
        if (!stays) return;
        const { prices } = store;
        remember(store, roof, prices, await store.trials.ask<BuyView>({ ...store.question("buy"), roof, prices }));
      }
      draw((count) => count + 1);
    }, REST);
    return () => {
      stays = false;
      clearTimeout(timer);
    };
  }, [JSON.stringify(open)]);
  const [was, now] = roofs.map((roof) => totals.get(key(store, roof)));
  if (!wanted || !was || !now || !(was.priced || now.priced)) return null;
  const keys = [...new Set([...now.open.keys(), ...was.open.keys()])];
  return { was: was.total, now: now.total, open: keys.filter((key) => was.open.get(key) !== now.open.get(key)) };
}
