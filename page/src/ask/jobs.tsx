// The list of jobs: open, copy, rename, delete and take that back; a roof file in and out.

import { useState } from "preact/hooks";
import { type Refusal } from "../engine";
import { FIRST, type Job } from "../jobs";
import { OpenFile, Refusals } from "../parts";
import { fragmentIn, roofIn } from "../link";
import { bytesOf, save } from "../save";
import { type Store } from "../store";
import { words } from "../words";
import { begin } from "./start";

const text = words.jobs;

function when(changed: number): string {
  return new Date(changed).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}

/** Saves the roof file of a job, under its name; the answer is the file's. */
export function saveRoof(name: string | null, roof: string): string {
  const file = (name ?? "").normalize("NFC").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").toLowerCase();
  const called = `${file || "roof"}.toml`;
  save(called, bytesOf(roof));
  return called;
}

/** Opens what somebody sent as a job of its own. */
function Paste({ store }: { store: Store }) {
  const [sent, setSent] = useState("");
  const [wrong, setWrong] = useState<Refusal[]>([]);
  const open = async () => {
    const roof = await roofIn(fragmentIn(sent));
    setWrong(roof === null ? [{ field: null, message: words.badLink.replace(/\.$/, ""), help: "" }] : store.replace(roof));
  };
  return (
    <details>
      <summary>{text.paste}</summary>
      <label class="search"><span>{text.pasteIs}</span><input data-paste autocomplete="off" value={sent} onInput={(event) => setSent(event.currentTarget.value)} /></label>
      <div class="row"><button type="button" class="strong" disabled={sent.trim() === ""} onClick={() => void open()}>{text.openIt}</button></div>
      <Refusals all={wrong} />
    </details>
  );
}

/** Goes to where a roof is sent from. */
function toSending(store: Store): void {
  store.go("check");
  // after the room has come back to where it was left
  setTimeout(() => document.querySelector(".sending")?.scrollIntoView({ block: "start" }), 150);
}

export function JobList({ store }: { store: Store }) {
  const [refused, setRefused] = useState<Refusal[]>([]);
  const [deleted, setDeleted] = useState<Job | null>(null);
  const gone = store.jobs.all(true);
  // the one that was deleted just now says so where it stood
  const jobs = [...store.jobs.all(), ...gone.filter((job) => job.id === deleted?.id)].sort((a, b) => b.changed - a.changed);
  const open = async (file: File) => setRefused(store.replace(await file.text()));
  const remove = (job: Job) => {
    setDeleted(job);
    store.remove(job.id, true);
  };
  const back = (job: Job) => {
    setDeleted(null);
    store.remove(job.id, false);
  };
  return (
    <section class="jobs">
      <div class="asked"><h2 class="head">{text.title}</h2><button type="button" onClick={() => store.list(false)}>{text.close}</button></div>
      <div class="files">
        <button type="button" class="strong" onClick={() => begin(store)}>{words.makeMine}</button>
        <OpenFile accept=".toml,text/plain" open={open}>{words.openFile}</OpenFile>
        <button type="button" onClick={() => store.putBack()}>{text.putBack}</button>
      </div>
      <Paste store={store} />
      {refused.length > 0 ? <><p>{words.notOpened}</p><Refusals all={refused} /></> : null}
      {store.jobs.newer ? <p>{text.newer}</p> : null}
      <ul class="joblist">
        {jobs.map((job) => job.deleted === null ? <One key={job.id} store={store} job={job} remove={() => remove(job)} /> : (
          <li key={job.id} class="changed" role="status"><p>{text.deleted(job.name ?? text.unnamed)}</p><button type="button" onClick={() => back(job)}>{words.takeBack}</button></li>
        ))}
      </ul>
      {gone.length > 0 ? (
        <details>
          <summary>{text.gone} ({gone.length})</summary>
          <ul class="joblist">
            {gone.map((job) => (
              <li key={job.id}><p><b>{job.name ?? text.unnamed}</b></p><button type="button" onClick={() => back(job)}>{words.takeBack}</button></li>
            ))}
          </ul>
          {store.storage ? null : <button type="button" onClick={() => { store.jobs.empty(); store.list(true); }}>{text.empty}</button>}
        </details>
      ) : null}
      <p class="small">{text.where}</p>
    </section>
  );
}

function One({ store, job, remove }: { store: Store; job: Job; remove: () => void }) {
  const [name, setName] = useState<string | null>(null);
  const [refused, setRefused] = useState<Refusal[]>([]);
  const now = job.id === store.job && !store.linked;
  const newer = store.jobs.isNewer(job.id);
  const called = job.name ?? text.unnamed;
  const rename = (event: Event) => {
    event.preventDefault();
    const why = store.rename(job.id, name ?? "");
    setRefused(why);
    if (why.length === 0) setName(null);
  };
  const roof = () => store.roofOf(job.id) ?? "";
  return (
    <li data-job={job.id} class={now ? "now" : ""}>
      <p>
        <b>{called}</b>{job.id === FIRST && store.withExample ? <span class="badge">{words.example}</span> : null}{now ? <> ({text.open})</> : null}
        <br />{text.changed} {when(job.changed)}{job.fails ? <>. <span class="verdict fails">✕ {job.fails}</span></> : null}
      </p>
      {newer ? <p>{text.fromNewer}</p> : name !== null ? (
        <form class="typed" onSubmit={rename}>
          <label><span class="name">{words.nameAsk}</span><input value={name} autofocus onInput={(event) => setName(event.currentTarget.value)} /></label>
          <button type="submit" class="strong">{words.keypad.done}</button>
          <Refusals all={refused} />
        </form>
      ) : (
        <div class="files">
          {now ? <button type="button" class="strong" onClick={() => toSending(store)}>{text.send}</button> : <button type="button" class="strong" onClick={() => store.openJob(job.id)}>{text.openIt}</button>}
          <button type="button" onClick={() => setName(job.name ?? "")}>{text.rename}</button>
          <button type="button" onClick={() => store.copy(job.id, text.copyOf(called))}>{text.copy}</button>
          <button type="button" onClick={() => saveRoof(job.name, roof())}>{text.save}</button>
          {job.id === FIRST ? null : <button type="button" onClick={remove}>{text.remove}</button>}
        </div>
      )}
    </li>
  );
}

/** Said where this browser keeps nothing: the file is the way to keep the job. */
export function NotKept({ store }: { store: Store }) {
  return (
    <div class="alert" role="alert">
      <p class="refused">{words.noStorage}</p>
      <button type="button" onClick={() => saveRoof(store.plan?.name ?? null, store.roof)}>{text.save}</button>
    </div>
  );
}
