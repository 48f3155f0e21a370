//! Runs tests: which mutants each module of tests reaches, and which module notices a mutant.

use std::collections::{BTreeMap, HashSet};
use std::io::{self, BufRead as _, BufReader};
use std::os::unix::process::{CommandExt as _, ExitStatusExt as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;
use std::{fs, thread};

use serde::{Deserialize, Serialize};

/// Memory that a test may take, in KiB: a mutant may never stop asking for more.
const MEMORY: u64 = 6_000_000;

const SIGKILL: i32 = 9;
const SIGXCPU: i32 = 24;

/// The tests of one module.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Module {
    program: PathBuf,
    pub(crate) name: String,
    tests: Vec<String>,
    /// Its processor time with no mutant on.
    pub(crate) takes: Duration,
    /// The mutants that it reaches.
    pub(crate) reaches: HashSet<u32>,
}

/// What became of a mutant.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Fate {
    /// A test of this module failed.
    Caught(String),
    /// This module took far longer than it should.
    Hung(String),
    /// Every module that reaches it passed, or as many of them as there was time for.
    Survived { all: bool },
    /// No test reaches it.
    NotReached,
}

impl Fate {
    /// True if the tests noticed.
    pub(crate) fn noticed(&self) -> bool {
        matches!(self, Fate::Caught(_) | Fate::Hung(_))
    }
}

enum End {
    Passed,
    Failed,
    Late,
}

/// Every module of tests of these programs with the mutants that it reaches, the quickest first. What was recorded of a
/// program is kept until it is built again.
pub(crate) fn modules(
    tree: &Path,
    programs: &[PathBuf],
    most: Duration,
) -> io::Result<Vec<Module>> {
    let mut list = Vec::new();
    for program in programs {
        let name = program.file_name().unwrap_or_default().to_string_lossy();
        let kept = tree.with_file_name(format!("{name}.json"));
        let newer = fs::metadata(&kept)
            .and_then(|kept| Ok(kept.modified()? > fs::metadata(program)?.modified()?));
        if newer.unwrap_or(false) {
            list.extend(serde_json::from_str::<Vec<Module>>(&fs::read_to_string(&kept)?)?);
        } else {
            let recorded = recorded(tree, program, most)?;
            fs::write(&kept, serde_json::to_string(&recorded)?)?;
            list.extend(recorded);
        }
    }
    list.sort_by_key(|module| module.takes);
    Ok(list)
}

/// The modules of a program. Those which fail with no mutant on, such as tests that read the sources, and those which take
/// longer than a mutant may are left out.
fn recorded(tree: &Path, program: &Path, most: Duration) -> io::Result<Vec<Module>> {
    let told =
        Command::new(program).args(["--list", "--format", "terse"]).current_dir(tree).output()?;
    let mut by_module: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for line in String::from_utf8_lossy(&told.stdout).lines() {
        if let Some(test) = line.strip_suffix(": test") {
            let module = test.rsplit_once("::").map_or("", |(module, _)| module);
            by_module.entry(module.to_owned()).or_default().push(test.to_owned());
        }
    }
    let mut list: Vec<Module> = by_module
        .into_iter()
        .map(|(name, tests)| {
            let (takes, reaches) = (Duration::ZERO, HashSet::new());
            Module { program: program.to_owned(), name, tests, takes, reaches }
        })
        .collect();
    let seen = tree.with_file_name("seen.txt");
    let mut left_out = Vec::new();
    for module in &mut list {
        let _ = fs::remove_file(&seen);
        let before = spent()?;
        let end = run(tree, module, ("STEPOFF_MUTANT_SEEN", &seen.display().to_string()), most)?;
        module.takes = spent()? - before;
        let read = fs::read_to_string(&seen).unwrap_or_default();
        module.reaches = read.lines().filter_map(|line| line.parse().ok()).collect();
        match end {
            End::Passed => {}
            End::Failed => left_out.push(format!("{} (fails in the copy)", module.name)),
            End::Late => left_out.push(format!("{} (takes over {most:?})", module.name)),
        }
        if !matches!(end, End::Passed) {
            module.tests.clear();
        }
    }
    eprintln!("left out: {}", left_out.join(", "));
    list.retain(|module| !module.tests.is_empty());
    Ok(list)
}

/// Runs what reaches the mutant, quickest first, until a test notices or `most` is over.
pub(crate) fn fate(tree: &Path, modules: &[Module], id: u32, most: Duration) -> io::Result<Fate> {
    let reaching: Vec<&Module> =
        modules.iter().filter(|module| module.reaches.contains(&id)).collect();
    if reaching.is_empty() {
        return Ok(Fate::NotReached);
    }
    let mut left = most;
    for module in reaching {
        if module.takes > left {
            return Ok(Fate::Survived { all: false });
        }
        left -= module.takes;
        let late = module.takes * 5 + Duration::from_secs(5);
        match run(tree, module, ("STEPOFF_MUTANT", &id.to_string()), late)? {
            End::Passed => {}
            End::Failed => return Ok(Fate::Caught(module.name.clone())),
            End::Late => return Ok(Fate::Hung(module.name.clone())),
        }
    }
    Ok(Fate::Survived { all: true })
}

/// Runs the tests of a module, until the first fails; `late` is its limit in processor time, so that a machine with other
/// work makes no test late.
fn run(tree: &Path, module: &Module, set: (&str, &str), late: Duration) -> io::Result<End> {
    let seconds = late.as_secs().max(1);
    let mut child = Command::new("sh")
        .args(["-c", &format!("ulimit -v {MEMORY}; ulimit -t {seconds}; exec nice \"$0\" \"$@\"")])
        .arg(&module.program)
        .args(["--exact", "--test-threads", "1"])
        .args(&module.tests)
        .current_dir(tree)
        .env("CARGO_MANIFEST_DIR", tree)
        .env("PROPTEST_RNG_SEED", "20251125")
        .env("PROPTEST_CASES", "32")
        .env("RUST_BACKTRACE", "0")
        .env(set.0, set.1)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .process_group(0)
        .spawn()?;
    let (tell, told) = mpsc::channel();
    let out = child.stdout.take();
    let reader = thread::spawn(move || {
        let lines = out.into_iter().flat_map(|out| BufReader::new(out).lines());
        // the line of a test, or what follows what the test printed itself
        let failed = lines.map_while(Result::ok).any(|line| line.ends_with("FAILED"));
        let _ = tell.send(if failed { End::Failed } else { End::Passed });
    });
    // a test that waits for ever takes no processor time
    let end = told.recv_timeout(late * 10 + Duration::from_secs(30)).unwrap_or(End::Late);
    if !matches!(end, End::Passed) {
        stop(&mut child)?;
    }
    let status = child.wait()?;
    let _ = reader.join();
    Ok(match (end, status.signal()) {
        (End::Passed, Some(SIGKILL | SIGXCPU)) => End::Late,
        (End::Passed, _) if !status.success() => End::Failed,
        (end, _) => end,
    })
}

/// Processor time of the tests that have ended.
fn spent() -> io::Result<Duration> {
    let stat = fs::read_to_string("/proc/self/stat")?;
    // from the third field on: the second, the name in brackets, may hold blanks
    let fields = stat.rsplit(')').next().unwrap_or_default().split_whitespace();
    let ticks: u64 = fields.skip(13).take(2).filter_map(|field| field.parse::<u64>().ok()).sum();
    // a tick is a hundredth of a second wherever Linux runs these programs
    Ok(Duration::from_millis(ticks * 10))
}

/// Ends the tests and every program that they started.
fn stop(child: &mut Child) -> io::Result<()> {
    Command::new("kill")
        .args(["-KILL", "--", &format!("-{}", child.id())])
        .stderr(Stdio::null())
        .status()?;
    Ok(())
}
