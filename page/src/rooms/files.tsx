// Files to save and to open, and the roof in a link.

import { useState } from "preact/hooks";
import { saveRoof } from "../ask/jobs";
import { type Refusal, type Saved } from "../engine";
import { fragment } from "../link";
import { OpenFile, Refusals, Said } from "../parts";
import { ofBase64, save, share } from "../save";
import { type Store } from "../store";
import { words } from "../words";

const KINDS = ["pdf", "html", "dxf", "ifc", "gltf", "obj", "xlsx", "csv", "json"];

/** The roof in a link, for another phone that has the page. */
export function Share({ store }: { store: Store }) {
  const [link, setLink] = useState<{ roof: string; text: string } | null>(null);
  const [word, setWord] = useState<string | null>(null);
  // the address of a file on this device means nothing to another one
  const isFile = location.protocol === "file:";
  const make = async () => {
    setWord(null);
    requestAnimationFrame(() => document.querySelector("input.link")?.scrollIntoView({ block: "center" }));
    setLink({ roof: store.roof, text: (isFile ? "" : location.href.split("#")[0]) + (await fragment(store.roof)) });
  };
  const send = async (text: string) => {
    const how = await share(store.plan?.name ?? words.title, text, "roof-link.txt");
    setWord(how === "stopped" ? null : words.buy.sent[how]);
  };
  const file = <button type="button" class={isFile ? "strong" : ""} onClick={() => setWord(words.savedRoof(saveRoof(store.plan?.name ?? null, store.roof)))}>{words.jobs.save}</button>;
  return (
    <section class="sending">
      <h3>{words.share}</h3>
      <p>{isFile ? words.shareFile : words.shareIs}</p>
      <div class="row">
        {isFile ? file : null}
        <button type="button" onClick={() => void make()}>{words.makeLink}</button>
        {isFile ? null : file}
      </div>
      {link?.roof === store.roof ? (
        <>
          <label class="search"><span>{words.link}</span><input class="link" readOnly value={link.text} onFocus={(event) => event.currentTarget.select()} /></label>
          <div class="row"><button type="button" onClick={() => void send(link.text)}>{words.sendLink}</button></div>
        </>
      ) : null}
      <Said>{word}</Said>
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
        <button type="button" onClick={() => setWord(words.savedRoof(saveRoof(store.plan?.name ?? null, store.roof)))}>{words.files.toml}</button>
        {KINDS.map((to) => (
          <button type="button" key={to} data-file={to} disabled={busy !== null} onClick={() => void make(to)}>
            {busy === to ? words.working : words.files[to]}
          </button>
        ))}
        <OpenFile accept=".toml,text/plain" open={open}>{words.openFile}</OpenFile>
      </div>
      <Said>{word}</Said>
      {refused.length > 0 ? <><p>{words.notOpened}</p><Refusals all={refused} /></> : null}
    </section>
  );
}
