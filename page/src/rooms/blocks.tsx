// Wings, dormers and openings: what each is, its fields, one more, one less.

import { useState } from "preact/hooks";
import { type Field, type Item, type Refusal, type Tables } from "../engine";
import { Refusals, capital } from "../parts";
import { type Store } from "../store";
import { words } from "../words";

const TABLES = ["wing", "dormer", "opening"] as const;

/** A setting as a button that opens it. */
export function Setting({ store, field }: { store: Store; field: Field }) {
  return (
    <li>
      <button type="button" class="setting" data-field={field.key} onClick={() => store.open(field.key)}>
        <span class="name">{field.label}</span>
        <span class="figure">
          {field.text ?? store.value(field.key)?.value ?? (field.default || words.notSet)}
          {field.text === null ? <em> {words.default}</em> : null}
        </span>
        <span class="about">{field.about} <span class="key">{field.key}</span></span>
      </button>
    </li>
  );
}

export function Blocks({ store, lists }: { store: Store; lists: Tables["lists"] }) {
  const [refused, setRefused] = useState<Refusal[]>([]);
  const text = words.blocks;
  return (
    <section class="blocks">
      <h3>{text.title}</h3>
      {lists.flatMap((list) => list.items.map((item) => (
        <Block key={`${list.table}.${item.number}`} store={store} table={list.table} item={item} onRefused={setRefused} />
      )))}
      <div class="files">
        {TABLES.map((table) => (
          <button type="button" key={table} data-add={table} onClick={() => setRefused(store.add(table))}>{text.add[table]}</button>
        ))}
      </div>
      {refused.length > 0 ? <><p>{text.notDone}</p><Refusals all={refused} at="" /></> : null}
    </section>
  );
}

function Block({ store, table, item, onRefused }: { store: Store; table: string; item: Item; onRefused: (refused: Refusal[]) => void }) {
  const part = store.plan?.parts.find((one) => one.table === table && one.number === item.number);
  const text = words.blocks;
  const name = item.name ?? `${table} ${item.number}`;
  return (
    <details data-block={`${table}.${item.number}`}>
      <summary><span><b>{name}</b>: {part ? capital(part.what) : table}</span></summary>
      <ul class="settings">
        {item.fields.map((field) => <Setting key={field.key} store={store} field={field} />)}
      </ul>
      <div class="row"><button type="button" data-remove onClick={() => onRefused(store.remove_block(table, item.number))}>{text.remove(name)}</button></div>
    </details>
  );
}
