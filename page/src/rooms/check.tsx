// CHECK: verdicts with failures first, the walk to fill in, files to save.

import { useState } from "preact/hooks";
import { type CheckView, type Refusal, type Saved } from "../engine";
import { fragment } from "../link";
import { capital, Caution, Refusals, Shown, Tick, Verdict } from "../parts";
import { type Store } from "../store";
import { words } from "../words";

export function Check({ store }: { store: Store }) {
  return <Shown told={store.view<CheckView>("check")}>{(view) => <Inside store={store} view={view} />}</Shown>;
}

type Finding = CheckView["findings"][number];

function One({ finding }: { finding: Finding }) {
  const text = words.check;
  return (
    <li data-finding={finding.id}>
      <p><Verdict verdict={finding.verdict} /> <b>{capital(finding.title)}</b>{finding.shortfall ? <>: <b>{finding.shortfall}</b></> : null}</p>
      {finding.found !== "-" || finding.limit !== "-" ? <p class="figure">{text.found} {finding.found}, {text.limit.toLowerCase()} {finding.limit}</p> : null}
      {finding.note ? <p>{capital(finding.note)}.</p> : null}
      <p class="small">{finding.section}, {finding.edition}. {text.who} {finding.who}.</p>
    </li>
  );
}

function Inside({ store, view }: { store: Store; view: CheckView }) {
  const text = words.check;
  const meets = view.findings.filter((one) => one.verdict === "meets");
  const others = view.findings.filter((one) => one.verdict !== "meets");
  return (
    <>
      <p>{text.against} {view.edition}.</p>
      <p class="counts">{view.counts.map((count) => <Verdict key={count.verdict} verdict={count.verdict} text={count.words} />)}</p>
      <ul class="findings">{others.map((finding) => <One key={finding.id + finding.title} finding={finding} />)}</ul>
      <Caution>{view.caution}</Caution>
      <details>
        <summary>{text.meets} ({meets.length})</summary>
        <ul class="findings">{meets.map((finding) => <One key={finding.id + finding.title} finding={finding} />)}</ul>
      </details>
      <details>
        <summary>{text.walk}</summary>
        {view.walk.map((stop) => (
          <section key={stop.words}>
            <h4>{stop.words}</h4>
            <ul class="walk">
              {stop.rows.map((row) => {
                const key = `walk|${row.id}|${row.title}`;
                return (
                  <li key={row.id + row.title}>
                    <Tick store={store} id={key}>
                      <b>{capital(row.title)}</b> <Verdict verdict={row.verdict} />
                      <br />{capital(row.measure)}{row.limit !== "-" ? `: ${row.limit}` : ""} <span class="small">{row.section}</span>
                    </Tick>
                    <label class="note">
                      <span>{text.measured}, {text.note.toLowerCase()}</span>
                      <input value={store.noted(`${key}|note`)} onInput={(event) => store.tick(`${key}|note`, event.currentTarget.value)} />
                    </label>
                  </li>
                );
              })}
            </ul>
          </section>
        ))}
      </details>
      <details>
        <summary>{text.unlooked} ({view.not_looked_at.length})</summary>
        <ul class="findings">
          {view.not_looked_at.map((one) => <li key={one.section + one.about}><p><b>{capital(one.about)}</b>: {one.fact}</p><p class="small">{one.section}</p></li>)}
        </ul>
      </details>
      <Files store={store} />
      <Share store={store} />
    </>
  );
}

const KINDS = ["pdf", "html", "dxf", "ifc", "gltf", "obj", "csv", "json"];

/** The roof in a link, for another phone that has the page. */
function Share({ store }: { store: Store }) {
  const [link, setLink] = useState<{ roof: string; text: string } | null>(null);
  const make = async () => {
    setLink({ roof: store.roof, text: location.href.split("#")[0] + (await fragment(store.roof)) });
  };
  return (
    <section>
      <h3>{words.share}</h3>
      <p>{words.shareIs}</p>
      <button type="button" onClick={() => void make()}>{words.makeLink}</button>
      {link?.roof === store.roof ? (
        <label class="search"><span>{words.link}</span><input class="link" readOnly value={link.text} onFocus={(event) => event.currentTarget.select()} /></label>
      ) : null}
    </section>
  );
}

export function save(name: string, bytes: Uint8Array<ArrayBuffer>): void {
  const url = URL.createObjectURL(new Blob([bytes], { type: "application/octet-stream" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

function Files({ store }: { store: Store }) {
  const [busy, setBusy] = useState<string | null>(null);
  const [word, setWord] = useState<string | null>(null);
  const [refused, setRefused] = useState<Refusal[]>([]);
  const make = async (to: string) => {
    setBusy(to);
    setWord(null);
    const told = await store.slow.ask<Saved>({ ask: "file", to, roof: store.roof, units: store.units });
    setBusy(null);
    if ("ok" in told) {
      save(told.ok.name, Uint8Array.from(atob(told.ok.base64), (letter) => letter.charCodeAt(0)));
      setWord(told.ok.word);
    } else if ("refused" in told) setWord(told.refused.map((one) => one.message).join("; "));
    else setWord("stopped" in told ? told.stopped : told.broken);
  };
  const open = async (file: File) => {
    setRefused(store.replace(await file.text()));
  };
  return (
    <section>
      <h3>{words.check.files}</h3>
      <p>{words.check.filesAre}</p>
      <div class="files">
        <button type="button" onClick={() => save("roof.toml", new TextEncoder().encode(store.roof) as Uint8Array<ArrayBuffer>)}>{words.files.toml}</button>
        {KINDS.map((to) => (
          <button type="button" key={to} disabled={busy !== null} onClick={() => void make(to)}>
            {busy === to ? words.working : words.files[to]}
          </button>
        ))}
        <label class="button">
          {words.openFile}
          <input type="file" accept=".toml,text/plain" onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            if (file) void open(file);
            event.currentTarget.value = "";
          }} />
        </label>
      </div>
      {word ? <p role="status">{word}</p> : null}
      {refused.length > 0 ? <><p>{words.notOpened}</p><Refusals all={refused} /></> : null}
    </section>
  );
}
