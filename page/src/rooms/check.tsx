// CHECK: verdicts with failures first, the walk to fill in, files to save.

import { Cures } from "../ask/cures";
import { type CheckView } from "../engine";
import { capital, Caution, Keyed, sentence, Shown, Verdict } from "../parts";
import { type Store } from "../store";
import { words } from "../words";
import { Files, Share } from "./files";
import { Sheets } from "./sheets";
import { Walk, startWalk } from "./walk";

export function Check({ store }: { store: Store }) {
  return <Shown told={store.view<CheckView>("check")}>{(view) => <Inside store={store} view={view} />}</Shown>;
}

type Finding = CheckView["findings"][number];

function One({ finding, store }: { finding: Finding; store: Store }) {
  const text = words.check;
  return (
    <li data-finding={finding.id}>
      <p><Verdict verdict={finding.verdict} /> <b>{capital(finding.title)}</b>{finding.shortfall ? <>: <b>{finding.shortfall}</b></> : null}</p>
      {finding.found !== "-" || finding.limit !== "-" ? <p class="figure">{text.found} {finding.found}, {text.limit.toLowerCase()} {finding.limit}</p> : null}
      {finding.verdict === "fails" || finding.verdict === "needs design" ? <Cures store={store} finding={finding.id} title={finding.title} /> : null}
      {finding.note ? <p><Keyed text={sentence(finding.note)} /></p> : null}
      <p class="small">{finding.section}, {finding.edition}. {text.who} {finding.who}.</p>
      {finding.sticks.length > 0 ? (
        <button type="button" class="in-frame" aria-label={`${words.model.inFrame}: ${finding.title}`} onClick={() => store.showModel({ finding: finding.id })}>{words.model.inFrame}</button>
      ) : null}
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
      <div class="row"><button type="button" class="strong" onClick={() => startWalk(store)}>{text.start}</button></div>
      <p class="counts">{view.counts.map((count) => <Verdict key={count.verdict} verdict={count.verdict} text={count.words} />)}</p>
      {others.length > 0 ? <ul class="findings">{others.map((finding) => <One key={finding.id + finding.title} finding={finding} store={store} />)}</ul> : null}
      <Caution>{view.caution}</Caution>
      <details>
        <summary>{text.meets} ({meets.length})</summary>
        <ul class="findings">{meets.map((finding) => <One key={finding.id + finding.title} finding={finding} store={store} />)}</ul>
      </details>
      <Walk store={store} view={view} />
      <details>
        <summary>{text.unlooked} ({view.not_looked_at.length})</summary>
        <ul class="findings">
          {view.not_looked_at.map((one) => <li key={one.section + one.about}><p><b>{capital(one.about)}</b>: {one.fact}</p><p class="small">{one.section}</p></li>)}
        </ul>
      </details>
      <Sheets store={store} />
      <Files store={store} />
      <Share store={store} />
    </>
  );
}
