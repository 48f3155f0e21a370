//! Turns one mutant on. The tool puts this file into its copy of the library as `crate::mutant`.
//!
//! `STEPOFF_MUTANT=17` turns mutant 17 on. `STEPOFF_MUTANT_SEEN=FILE` turns none on and writes the number
//! of each mutant that is reached to the end of the file, once per process.
#![allow(missing_docs)]

use std::io::Write as _;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{LazyLock, Mutex};

const UNREAD: u32 = u32::MAX;
const RECORDS: u32 = u32::MAX - 1;
const NONE: u32 = u32::MAX - 2;

static ACTIVE: AtomicU32 = AtomicU32::new(UNREAD);
static SEEN: [AtomicBool; 1 << 16] = [const { AtomicBool::new(false) }; 1 << 16];
static FILE: LazyLock<Option<Mutex<std::fs::File>>> = LazyLock::new(|| {
    let name = std::env::var_os("STEPOFF_MUTANT_SEEN")?;
    std::fs::OpenOptions::new().append(true).create(true).open(name).ok().map(Mutex::new)
});

/// True if this mutant is the one that is on.
#[inline]
pub fn on(id: u32) -> bool {
    let active = ACTIVE.load(Ordering::Relaxed);
    active == id || (active >= RECORDS && asked(id))
}

/// The opposite: true unless this mutant is on.
#[inline]
pub fn off(id: u32) -> bool {
    !on(id)
}

/// As `on`, for a change that shows in a tie alone: it is reached only by a tie.
#[inline]
pub fn edge(id: u32, tie: impl FnOnce() -> bool) -> bool {
    let active = ACTIVE.load(Ordering::Relaxed);
    active == id || (active >= RECORDS && tie() && asked(id))
}

#[cold]
fn asked(id: u32) -> bool {
    if ACTIVE.load(Ordering::Relaxed) == UNREAD {
        let word = std::env::var("STEPOFF_MUTANT").ok().and_then(|text| text.parse().ok());
        let records = if FILE.is_some() { RECORDS } else { NONE };
        ACTIVE.store(word.unwrap_or(records), Ordering::Relaxed);
        return on(id);
    }
    if !SEEN[id as usize].swap(true, Ordering::Relaxed)
        && let Some(file) = &*FILE
        && let Ok(mut file) = file.lock()
    {
        let _ = file.write_all(format!("{id}\n").as_bytes());
    }
    false
}

#[inline]
pub fn pick<T>(id: u32, was: T, now: T) -> T {
    if on(id) { now } else { was }
}

#[inline]
pub fn some<T>(id: u32, value: T) -> Option<T> {
    if on(id) { None } else { Some(value) }
}

pub fn any<I: Iterator>(id: u32, mut list: I, holds: impl FnMut(I::Item) -> bool) -> bool {
    if on(id) { list.all(holds) } else { list.any(holds) }
}

pub fn all<I: Iterator>(id: u32, mut list: I, holds: impl FnMut(I::Item) -> bool) -> bool {
    if on(id) { list.any(holds) } else { list.all(holds) }
}

pub fn min<I: Iterator>(id: u32, list: I) -> Option<I::Item>
where
    I::Item: Ord,
{
    if on(id) { list.max() } else { list.min() }
}

pub fn max<I: Iterator>(id: u32, list: I) -> Option<I::Item>
where
    I::Item: Ord,
{
    if on(id) { list.min() } else { list.max() }
}

pub fn min_by<I, F>(id: u32, list: I, order: F) -> Option<I::Item>
where
    I: Iterator,
    F: FnMut(&I::Item, &I::Item) -> std::cmp::Ordering,
{
    if on(id) { list.max_by(order) } else { list.min_by(order) }
}

pub fn max_by<I, F>(id: u32, list: I, order: F) -> Option<I::Item>
where
    I: Iterator,
    F: FnMut(&I::Item, &I::Item) -> std::cmp::Ordering,
{
    if on(id) { list.min_by(order) } else { list.max_by(order) }
}
