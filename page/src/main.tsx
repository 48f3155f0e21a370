// The page: the drawing on top, what changed and what fails below it, one room for each reader.

import { render } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Cures } from "./ask/cures";
import { JobList, NotKept } from "./ask/jobs";
import { Start, resume } from "./ask/start";
import { useCost } from "./cost";
import { type CutView, Engine, type LayView, type Room, Slow, bytes, serve } from "./engine";
import { roofIn } from "./link";
import { Grips } from "./model/grips";
import { Model, ModelButton } from "./model/model";
import "./model/model.css";
import { isNight, setNight, startNight } from "./night";
import { Drawn, Head, OfPage, Refusals, Verdict, capital } from "./parts";
import { usePlaces } from "./place";
import { Buy } from "./rooms/buy";
import { Check } from "./rooms/check";
import { Cut } from "./rooms/cut";
import { Lay, Strip, lineOf } from "./rooms/lay";
import { Numbers, Plan } from "./rooms/plan";
import { Store, useStore } from "./store";
import "./style.css";
import "./site.css";
import "./ask/ask.css";
import { words } from "./words";

const ROOMS: Room[] = ["plan", "cut", "lay", "buy", "check"];

function Top({ store }: { store: Store }) {
  return (
    <header class="top">
      <h1>
        <button type="button" class="jobname" aria-expanded={store.listing} aria-description={words.listOfJobs} onClick={() => store.list(!store.listing)}>
          {store.starting ? words.start.title : store.plan?.name ?? words.jobs.unnamed}
        </button>
        {store.example && !store.starting ? <span class="badge">{words.example}</span> : null}
      </h1>
      <div class="tools">
        {store.starting ? null : (
          <>
            <button type="button" onClick={() => store.undo()} disabled={!store.history.canUndo} >{words.undo}</button>
            <button type="button" onClick={() => store.redo()} disabled={!store.history.canRedo} >{words.redo}</button>
          </>
        )}
        <button type="button" aria-pressed={isNight()} onClick={() => { setNight(!isNight()); store.redraw(); }}>{words.night}</button>
        <div class="units" role="group" aria-label={words.units}>
          <button type="button" aria-pressed={store.shown === "feet"} onClick={() => store.setUnits("feet")}>{words.feet}</button>
          <button type="button" aria-pressed={store.shown === "metric"} onClick={() => store.setUnits("metric")}>{words.metric}</button>
        </div>
      </div>
    </header>
  );
}

/** The drawing of what is talked about now. */
function Sight({ store }: { store: Store }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const seen = new ResizeObserver(() => {
      const box = place.current;
      if (box && box.clientWidth > 0) store.size(box.clientWidth - 8, box.clientHeight - 4);
    });
    if (place.current) seen.observe(place.current);
    return () => seen.disconnect();
  }, [store]);
  const stale = store.refused.length > 0 || store.typed?.said;
  return (
    <section class={`sight ${stale ? "stale" : ""} ${store.room}`} aria-label={words.drawing} ref={place}>
      <Drawing store={store} />
      {store.room === "plan" && !store.starting ? <Grips store={store} /> : null}
      {store.starting ? null : <ModelButton store={store} />}
      {stale && !store.typed?.said ? <p class="staleness"><span aria-hidden="true">✕</span> {words.notDrawn}</p> : null}
    </section>
  );
}

function Drawing({ store }: { store: Store }) {
  if (store.room === "cut") {
    const told = store.view<CutView>("cut");
    const pattern = "ok" in told ? told.ok.pattern : null;
    if (pattern) return <Drawn picture={pattern.drawing} name={`${words.cut.pattern}: ${pattern.length}`} />;
  }
  if (store.room === "lay") {
    const told = store.view<LayView>("lay");
    const line = "ok" in told ? lineOf(store, told.ok) : undefined;
    if (line) return <Strip store={store} line={line} />;
  }
  const plan = store.plan;
  if (!plan) return null;
  const length = plan.figures.find((one) => one.key === "rafter_length") ?? plan.figures[0];
  return <Drawn picture={plan.drawing} name={`${plan.name ?? words.title}. ${length?.name}: ${length?.value}`} />;
}

/** What the last change did, a line for each figure: as many as have room, the first always, and none cut off. */
function Changed({ store }: { store: Store }) {
  const cost = useCost(store);
  // the buyer sees what it costs, as long as there are prices: the list below stays in its place while they are typed
  const costs = store.room === "buy" && store.prices !== null;
  if (store.moved.length === 0 || (store.room !== "plan" && !costs)) return null;
  const total = cost && cost.open.length === 0 ? (
    <span class="move" data-cost>{words.buy.orderCosts} {cost.was === cost.now ? words.buy.sameCost(cost.now) : <><s>{cost.was}</s> <b>{cost.now}</b></>} </span>
  ) : null;
  const [first, ...others] = (costs ? store.moved.slice(0, 1) : store.moved).map((one) => <>{one.name} <s>{one.was}</s> <b>{one.now}</b> </>);
  return (
    <div class="changed" role="status">
      <p>
        <span class="move"><b><span aria-hidden="true">●</span> {words.changed}:</b> {first}</span>
        {total}
        {others.map((one, at) => <span class="move" key={at}>{one}</span>)}
      </p>
      {cost && cost.open.length > 0
        ? <button type="button" data-unpriced onClick={() => store.seekPrice(cost.open)}>{words.buy.needPrice(cost.open.length)}</button>
        : <button type="button" onClick={() => store.undo()}>{words.takeBack}</button>}
    </div>
  );
}

/** That nothing fails is half of it while things are not checked, or were found not to meet. */
function Standing({ store }: { store: Store }) {
  const [first, ...more] = store.plan?.open ?? [];
  const unmet = store.unmet;
  if (first) {
    return (
      <button type="button" class="open" onClick={() => store.go("check")}>
        <Verdict verdict={first.verdict} text={`${capital(first.verdict)}: ${first.title}${first.shortfall ? `, ${first.shortfall}` : ""}`} />
        {more.length > 0 ? <span> +{more.length} {words.more}</span> : null}
        {unmet > 0 ? <span>; {words.byWalk(unmet)}</span> : null}
      </button>
    );
  }
  if (!store.plan) return null;
  const unchecked = store.plan.counts.find((count) => count.verdict === "not checked")?.words;
  const rest = [unmet > 0 ? words.byWalk(unmet) : undefined, words.nothingFails, unchecked].filter((one) => one !== undefined);
  const text = rest.length > 1 ? rest.join("; ") : words.nothingOpen;
  return <p class="none"><Verdict verdict={unmet > 0 ? "fails" : unchecked ? "not checked" : "meets"} text={text} /></p>;
}

/** What fails, and what the last change did. On a phone what comes and goes in PLAN lies over the drawing: no row moves away under the thumb. */
function News({ store }: { store: Store }) {
  const first = store.plan?.open[0];
  return (
    <section class="news">
      <div class="over">
        {store.linked ? (
          <div class="changed">
            <p>{words.linked}</p>
            <button type="button" onClick={() => store.keepLinked()}>{words.keepLinked}</button>
          </div>
        ) : null}
        <Changed store={store} />
        {first && store.room !== "check" && !store.opened ? <Cures store={store} finding={first.id} title={first.title} most={store.moved.length > 0 ? 1 : 2} /> : null}
      </div>
      <Standing store={store} />
      {store.message ? <p class="refused" role="alert">{store.message}</p> : null}
      {store.refused.length > 0 && store.typed === null ? <Refusals all={store.refused} /> : null}
      {store.storage ? null : <NotKept store={store} />}
    </section>
  );
}

function Inside({ store }: { store: Store }) {
  switch (store.room) {
    case "plan": return <Plan store={store} />;
    case "cut": return <Cut store={store} />;
    case "lay": return <Lay store={store} />;
    case "buy": return <Buy store={store} />;
    case "check": return <Check store={store} />;
  }
}

/** The numbers and the room. */
function Room({ store }: { store: Store }) {
  return (
    <>
      <div class="numbers"><Numbers store={store} /></div>
      <div class="room" tabIndex={0}>
        <Head room={store.room} />
        <Inside store={store} />
      </div>
    </>
  );
}

function Page({ store }: { store: Store }) {
  useStore(store);
  usePlaces(store);
  return (
    <div class={`page in-${store.room} ${store.opened || store.starting ? "typing" : ""}`}>
      <Top store={store} />
      <Sight store={store} />
      {store.starting || store.listing ? <div /> : <News store={store} />}
      <main tabIndex={-1}>
        {store.starting ? <Start store={store} starting={store.starting} /> : store.listing ? <JobList store={store} /> : <Room store={store} />}
      </main>
      <nav aria-label={words.roomsAre}>
        {ROOMS.map((room) => (
          <button type="button" key={room} aria-current={room === store.room ? "page" : undefined} onClick={() => store.go(room)}>{words.rooms[room]}</button>
        ))}
      </nav>
      <Model store={store} />
    </div>
  );
}

async function start(): Promise<void> {
  const place = document.getElementById("page")!;
  const engine = await Engine.of(await bytes());
  const given = JSON.parse(document.getElementById("roof")!.textContent!) as string | null;
  const faces = engine.ask<string>({ ask: "typeface" });
  if ("ok" in faces) document.head.append(Object.assign(document.createElement("style"), { textContent: faces.ok }));
  const linked = await roofIn(location.hash);
  const store = new Store(engine, new Slow(engine), given, linked);
  if (linked === null && location.hash.length > 1) store.message = words.badLink;
  resume(store);
  place.textContent = "";
  startNight(() => store.redraw());
  render(<OfPage.Provider value={store}><Page store={store} /></OfPage.Provider>, place);
  setTimeout(() => store.slow.warm(), 500);
  // a roof may be pasted behind the address of a page that is open
  addEventListener("hashchange", () => { void roofIn(location.hash).then((roof) => { if (location.hash.length > 1) store.openLinked(roof); }); });
  addEventListener("unhandledrejection", () => { place.append(words.brokenEngine); });
}

if (typeof document === "undefined") serve();
else void start();
