// Files to save and to open, and the roof in a link.

import { useState } from "preact/hooks";
import { type Refusal, type Saved } from "../engine";
import { fragment } from "../link";
import { Refusals } from "../parts";
import { bytesOf, ofBase64, save, share } from "../save";
import { type Store } from "../store";
import { words } from "../words";

const KINDS = ["pdf", "html", "dxf", "ifc", "gltf", "obj", "xlsx", "csv", "json"];

/** The roof in a link, for another phone that has the page. */
export function Share({ store }: { store: Store }) {
  const [link, setLink] = useState<{ roof: string; text: string } | null>(null);
  const [word, setWord] = useState<string | null>(null);
  const make = async () => {
    setWord(null);
    setLink({ roof: store.roof, text: location.href.split("#")[0] + (await fragment(store.roof)) });
  };
  const send = async (text: string) => {
    const how = await share(store.plan?.name ?? words.title, text, "roof-link.txt");
    setWord(how === "stopped" ? null : words.buy.sent[how]);
  };
  return (
    <section>
      <h3>{words.share}</h3>
      <p>{words.shareIs}</p>
      <button type="button" onClick={() => void make()}>{words.makeLink}</button>
      {link?.roof === store.roof ? (
        <>
          <label class="search"><span>{words.link}</span><input class="link" readOnly value={link.text} onFocus={(event) => event.currentTarget.select()} /></label>
          <div class="row"><button type="button" onClick={() => void send(link.text)}>{words.sendLink}</button></div>
          {word ? <p role="status">{word}</p> : null}
        </>
      ) : null}
    </section>
  );
}

export function Files({ store }: { store: Store }) {
  const [busy, setBusy] = useState<string | null>(null);
  const [word, setWord] = useState<string | null>(null);
  const [refused, setRefused] = useState<Refusal[]>([]);
  const make = async (to: string) => {
    setBusy(to);
    setWord(null);
    const told = await store.slow.ask<Saved>({ ask: "file", to, roof: store.roof, units: store.units, prices: store.prices });
    setBusy(null);
    if ("ok" in told) {
      save(told.ok.name, ofBase64(told.ok.base64));
      setWord(told.ok.word ?? words.saved(told.ok.name));
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
        <button type="button" onClick={() => save("roof.toml", bytesOf(store.roof))}>{words.files.toml}</button>
        {KINDS.map((to) => (
          <button type="button" key={to} data-file={to} disabled={busy !== null} onClick={() => void make(to)}>
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
