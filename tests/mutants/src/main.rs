//! Makes small changes to the library, one at a time, and says which of them the tests notice. `docs/mutants.md`
//! has the results and why it works as it does.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a tool of the terminal")]

mod build;
mod run;
mod sites;
mod table;
mod tree;

use std::collections::{HashMap, HashSet};
use std::path::PathBuf;
use std::process::Command;
use std::sync::Mutex;
use std::time::{Duration, Instant};
use std::{fs, io, thread};

use clap::Parser;

use crate::run::Fate;
use crate::table::Row;
use crate::tree::{Key, Placed};

/// The folders whose results reach the wood, and those that read and find what is asked.
const FOLDERS: [&str; 10] =
    ["geom", "roof", "frame", "strength", "rules", "solve", "deck", "order", "measure", "fit"];

/// Small changes to stepoff, one at a time: which of them do the tests notice?
#[derive(Parser)]
struct Asked {
    /// Folders of src (without any: ten of them)
    folders: Vec<String>,
    /// Mutants of each folder, drawn by lot (0: all)
    #[arg(long, default_value_t = 40)]
    each: usize,
    /// Leaves out as many of each folder, the first of the lot: with the same seed another sample
    #[arg(long, default_value_t = 0)]
    skip: usize,
    /// Seed of the lot
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// All mutants of the lines that changed since this commit
    #[arg(long, value_name = "COMMIT")]
    since: Option<String>,
    /// All mutants of a file, or of a line of it (may be given several times)
    #[arg(long, value_name = "FILE[:LINE]")]
    at: Vec<String>,
    /// Keeps what was caught in this file of results, and tries the rest again
    #[arg(long, value_name = "FILE")]
    again: Option<PathBuf>,
    /// Most seconds of tests for one mutant, of processor time
    #[arg(long, default_value_t = 60)]
    seconds: u64,
    /// Most minutes for all of them, the build not counted
    #[arg(long, default_value_t = 600)]
    minutes: u64,
    /// Mutants tried at the same time
    #[arg(long, default_value_t = 1)]
    jobs: usize,
    /// Where results are kept
    #[arg(long, default_value = "target/mutants/results.json")]
    results: PathBuf,
    /// The tests to run: the library's own (lib), those of tests/it (it), or both
    #[arg(long, value_parser = ["lib", "it", "all"], default_value = "all")]
    tests: String,
    /// Leaves out the tests that have this in their names (may be given several times): what do they add?
    #[arg(long, value_name = "WORD")]
    without: Vec<String>,
    /// Runs only the modules of tests that have this in their names (may be given several times): the first answer is there
    /// sooner
    #[arg(long, value_name = "WORD")]
    only: Vec<String>,
    /// Runs what was built last, without building it again: for a count while tests are being written
    #[arg(long)]
    as_built: bool,
    /// Builds and stops
    #[arg(long)]
    build: bool,
    /// Counts the mutants and stops
    #[arg(long)]
    count: bool,
    /// Lists the mutants that would be tried, those that may not compile among them, and stops
    #[arg(long)]
    list: bool,
}

fn main() -> io::Result<()> {
    let asked = Asked::parse();
    let root = std::env::current_dir()?;
    let folders: Vec<String> = if asked.folders.is_empty() {
        FOLDERS.map(str::to_owned).to_vec()
    } else {
        asked.folders.clone()
    };
    let mut chosen = tree::find(&root, &folders)?;
    if asked.count {
        for name in &folders {
            let here = chosen.iter().filter(|placed| placed.folder() == name);
            println!("{name} {}", here.map(|placed| placed.site.changes.len()).sum::<usize>());
        }
        return Ok(());
    }
    choose(&asked, &mut chosen)?;
    let caught = caught(&asked)?;
    tree::number(&mut chosen);
    if asked.list {
        chosen.sort_by_key(|placed| table::lot(asked.seed, &placed.key));
        for (placed, change, _) in in_turn(&asked, &chosen) {
            println!("{}:{} {change}: {}", placed.file, placed.site.line, placed.key.text);
        }
        return Ok(());
    }
    eprintln!("{} sites are built", chosen.len());
    let tree = root.join("target/mutants/tree");
    let programs = if asked.as_built {
        build::as_built(&tree, &mut chosen, &asked.tests)?
    } else {
        build::build(&root, &tree, &mut chosen, &asked.tests)?
    };
    if asked.build {
        return Ok(());
    }
    let most = Duration::from_secs(asked.seconds);
    let started = Instant::now();
    let mut modules = run::modules(&tree, &programs, most, asked.jobs, &asked.only)?;
    for module in &mut modules {
        module.leave_out(&asked.without);
    }
    eprintln!("{} modules of tests were recorded in {:?}", modules.len(), started.elapsed());

    chosen.sort_by_key(|placed| table::lot(asked.seed, &placed.key));
    let queue = Mutex::new(in_turn(&asked, &chosen).into_iter());
    let rows = Mutex::new(Vec::<Row>::new());
    let work = || -> io::Result<()> {
        loop {
            let next = queue.lock().expect("no job panics").next();
            let Some((placed, change, id)) = next else { return Ok(()) };
            if started.elapsed() > Duration::from_secs(60 * asked.minutes) {
                return Ok(());
            }
            let (key, line) = (placed.key.clone(), placed.site.line);
            let named = (key, change);
            let fate = match caught.get(&named) {
                Some(fate) => fate.clone(),
                None => run::fate(&tree, &modules, id, most)?,
            };
            let (key, change) = named;
            eprintln!("{}:{line} {change}: {fate:?}", placed.file);
            let mut rows = rows.lock().expect("no job panics");
            rows.push(Row { key, line, change, fate });
            fs::write(&asked.results, serde_json::to_string_pretty(&*rows)?)?;
        }
    };
    thread::scope(|scope| {
        let jobs: Vec<_> = (0..asked.jobs.max(1)).map(|_| scope.spawn(work)).collect();
        jobs.into_iter().try_for_each(|job| job.join().expect("no job panics"))
    })?;
    let mut rows = rows.into_inner().expect("no job panics");
    rows.sort_by(|a, b| (&a.key.file, a.line).cmp(&(&b.key.file, b.line)));
    println!("{}", table::told(&rows));
    Ok(())
}

/// The mutants to try, one of each folder after the other: if time is over, all have had their share.
fn in_turn<'a>(asked: &Asked, chosen: &'a [Placed]) -> Vec<(&'a Placed, String, u32)> {
    let mut sites: HashMap<&str, usize> = HashMap::new();
    let mut mutants: HashMap<&str, usize> = HashMap::new();
    let mut list = Vec::new();
    for placed in chosen {
        let turn = sites.entry(placed.folder()).or_insert(0);
        *turn += 1;
        for (change, id) in placed.site.changes.iter().zip(placed.id..) {
            let so_far = mutants.entry(placed.folder()).or_insert(0);
            *so_far += 1;
            if !drawn(asked) || (asked.skip + 1..=asked.skip + asked.each).contains(so_far) {
                list.push((*turn, placed, change.clone(), id));
            }
        }
    }
    list.sort_by_key(|(turn, ..)| *turn);
    list.into_iter().map(|(_, placed, change, id)| (placed, change, id)).collect()
}

/// True if mutants are drawn by lot.
fn drawn(asked: &Asked) -> bool {
    asked.each > 0 && asked.since.is_none() && asked.at.is_empty()
}

/// What was caught before and isn't tried again.
fn caught(asked: &Asked) -> io::Result<HashMap<(Key, String), Fate>> {
    let Some(file) = &asked.again else { return Ok(HashMap::new()) };
    let rows: Vec<Row> = serde_json::from_str(&fs::read_to_string(file)?)?;
    let caught = rows.into_iter().filter(|row| row.fate.noticed());
    Ok(caught.map(|row| ((row.key, row.change), row.fate)).collect())
}

/// Takes from the list what isn't built.
fn choose(asked: &Asked, list: &mut Vec<Placed>) -> io::Result<()> {
    if let Some(commit) = &asked.since {
        let lines = changed(commit)?;
        list.retain(|placed| {
            lines.get(&placed.file).is_some_and(|lines| lines.contains(&placed.site.line))
        });
    }
    if !asked.at.is_empty() {
        list.retain(|placed| {
            let line = format!("{}:{}", placed.file, placed.site.line);
            asked.at.iter().any(|at| *at == placed.file || *at == line)
        });
    }
    if drawn(asked) {
        // more than are tried, because some won't compile; as many for a second sample, so that it needs no other build
        let most = (asked.each * 2).max(asked.skip + asked.each);
        let mut lots: HashMap<String, Vec<u64>> = HashMap::new();
        for placed in list.iter() {
            lots.entry(placed.folder().to_owned())
                .or_default()
                .push(table::lot(asked.seed, &placed.key));
        }
        lots.values_mut().for_each(|lots| lots.sort_unstable());
        list.retain(|placed| {
            let last = lots[placed.folder()].get(most);
            last.is_none_or(|last| table::lot(asked.seed, &placed.key) < *last)
        });
    }
    Ok(())
}

/// The lines of each file that changed since a commit.
fn changed(commit: &str) -> io::Result<HashMap<String, HashSet<usize>>> {
    let git =
        Command::new("git").args(["diff", "-U0", "--no-prefix", commit, "--", "src"]).output()?;
    let mut lines: HashMap<String, HashSet<usize>> = HashMap::new();
    let mut file = String::new();
    for line in String::from_utf8_lossy(&git.stdout).lines() {
        if let Some(name) = line.strip_prefix("+++ ") {
            file = name.to_owned();
        } else if let Some(rest) = line.strip_prefix("@@ ") {
            let new = rest.split_once('+').map_or("", |(_, new)| new);
            let new = new.split(' ').next().unwrap_or_default();
            let (first, count) = new.split_once(',').unwrap_or((new, "1"));
            if let (Ok(first), Ok(count)) = (first.parse::<usize>(), count.parse::<usize>()) {
                lines.entry(file.clone()).or_default().extend(first..first + count);
            }
        }
    }
    Ok(lines)
}
