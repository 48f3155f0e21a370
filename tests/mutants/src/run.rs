//! Runs tests: which mutants each module of tests reaches, and which module notices a mutant.

use std::collections::{BTreeMap, HashSet};
use std::io::{self, BufRead as _, BufReader};
use std::os::unix::process::{CommandExt as _, ExitStatusExt as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, mpsc};
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

impl Module {
    /// Leaves out the tests that have one of these words in their names.
    pub(crate) fn leave_out(&mut self, words: &[String]) {
        self.tests.retain(|test| !words.iter().any(|word| test.contains(word)));
        if self.tests.is_empty() {
            self.reaches.clear();
        }
    }
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
    jobs: usize,
    only: &[String],
) -> io::Result<Vec<Module>> {
    let mut list = Vec::new();
    for program in programs {
        let name = program.file_name().unwrap_or_default().to_string_lossy();
        let kept = tree.with_file_name(format!("{name}.json"));
        let newer = fs::metadata(&kept)
            .and_then(|kept| Ok(kept.modified()? > fs::metadata(program)?.modified()?));
        if newer.unwrap_or(false) {
            list.extend(serde_json::from_str::<Vec<Module>>(&fs::read_to_string(&kept)?)?);
        } else if !only.is_empty() {
            // not all of them: this is not kept
            list.extend(recorded(tree, program, most, jobs, only)?);
        } else {
            let recorded = recorded(tree, program, most, jobs, only)?;
            fs::write(&kept, serde_json::to_string(&recorded)?)?;
            list.extend(recorded);
        }
    }
    list.retain(|module| only.is_empty() || only.iter().any(|word| module.name.contains(word)));
    list.sort_by_key(|module| module.takes);
    Ok(list)
}

/// The modules of a program. Those which fail with no mutant on, such as tests that read the sources, and those which take
/// longer than a mutant may are left out.
fn recorded(
    tree: &Path,
    program: &Path,
    most: Duration,
    jobs: usize,
    only: &[String],
) -> io::Result<Vec<Module>> {
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
        .filter(|(name, _)| only.is_empty() || only.iter().any(|word| name.contains(word)))
        .map(|(name, tests)| {
            let (takes, reaches) = (Duration::ZERO, HashSet::new());
            Module { program: program.to_owned(), name, tests, takes, reaches }
        })
        .collect();
    let queue = Mutex::new(list.iter_mut().enumerate());
    let left_out = Mutex::new(Vec::new());
    let record = || -> io::Result<()> {
        loop {
            let next = queue.lock().expect("no job panics").next();
            let Some((number, module)) = next else { return Ok(()) };
            let seen = tree.with_file_name(format!("seen-{number}.txt"));
            let _ = fs::remove_file(&seen);
            let note = ("STEPOFF_MUTANT_SEEN", &*seen.display().to_string());
            let (end, takes) = run(tree, module, note, most)?;
            module.takes = takes;
            let read = fs::read_to_string(&seen).unwrap_or_default();
            let _ = fs::remove_file(&seen);
            module.reaches = read.lines().filter_map(|line| line.parse().ok()).collect();
            let why = match end {
                End::Passed => continue,
                End::Failed => "fails in the copy".to_owned(),
                End::Late => format!("takes over {most:?}"),
            };
            module.tests.clear();
            left_out.lock().expect("no job panics").push(format!("{} ({why})", module.name));
        }
    };
    thread::scope(|scope| {
        let jobs: Vec<_> = (0..jobs.max(1)).map(|_| scope.spawn(record)).collect();
        jobs.into_iter().try_for_each(|job| job.join().expect("no job panics"))
    })?;
    let left_out = left_out.into_inner().expect("no job panics");
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
        match run(tree, module, ("STEPOFF_MUTANT", &id.to_string()), late)?.0 {
            End::Passed => {}
            End::Failed => return Ok(Fate::Caught(module.name.clone())),
            End::Late => return Ok(Fate::Hung(module.name.clone())),
        }
    }
    Ok(Fate::Survived { all: true })
}

/// Runs the tests of a module, until the first fails; `late` is its limit in processor time, so that a machine with other
/// work makes no test late.
fn run(
    tree: &Path,
    module: &Module,
    set: (&str, &str),
    late: Duration,
) -> io::Result<(End, Duration)> {
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
        .env("ROOFS", "24")
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
    // it has closed its output, and is counted until it is waited for
    let spent = spent(child.id());
    let status = child.wait()?;
    let _ = reader.join();
    let end = match (end, status.signal()) {
        (End::Passed, Some(SIGKILL | SIGXCPU)) => End::Late,
        (End::Passed, _) if !status.success() => End::Failed,
        (end, _) => end,
    };
    Ok((end, spent))
}

/// Processor time of a program and of those that it started and waited for.
fn spent(id: u32) -> Duration {
    let stat = fs::read_to_string(format!("/proc/{id}/stat")).unwrap_or_default();
    // from the third field on: the second, the name in brackets, may hold blanks
    let fields = stat.rsplit(')').next().unwrap_or_default().split_whitespace();
    let ticks: u64 = fields.skip(11).take(4).filter_map(|field| field.parse::<u64>().ok()).sum();
    // a tick is a hundredth of a second wherever Linux runs these programs
    Duration::from_millis(ticks * 10)
}

/// Ends the tests and every program that they started.
fn stop(child: &mut Child) -> io::Result<()> {
    Command::new("kill")
        .args(["-KILL", "--", &format!("-{}", child.id())])
        .stderr(Stdio::null())
        .status()?;
    Ok(())
}
