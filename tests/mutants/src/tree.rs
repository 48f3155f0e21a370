//! The copy of the package whose library has every chosen mutant in it.

use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{fs, io};

use serde::{Deserialize, Serialize};

use crate::sites::{Edit, Site, sites, test_modules};

/// What a site is known by while the lines around it move.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub(crate) struct Key {
    /// Its file.
    pub(crate) file: String,
    /// Its text, in one line.
    pub(crate) text: String,
    /// Which of the sites with this text and the same changes it is.
    pub(crate) nth: usize,
}

impl Key {
    /// The folder under `src`.
    pub(crate) fn folder(&self) -> &str {
        self.file.split('/').nth(1).unwrap_or_default()
    }
}

/// A site with its file and the numbers of its mutants.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub(crate) key: Key,
    /// From the root of the package, with `/`.
    pub(crate) file: String,
    pub(crate) site: Site,
    /// The number of its first mutant.
    pub(crate) id: u32,
    /// Its bytes in the rewritten file.
    pub(crate) written: Range<usize>,
}

impl Placed {
    /// What it is known by, with its changes: two sites may have one text.
    pub(crate) fn named(&self) -> (Key, Vec<String>) {
        (self.key.clone(), self.site.changes.clone())
    }

    /// The folder under `src`.
    pub(crate) fn folder(&self) -> &str {
        self.key.folder()
    }
}

/// The files that git knows or would add, so that neither what was built nor what was left lying about is copied.
fn files(root: &Path) -> io::Result<Vec<String>> {
    let git = Command::new("git")
        .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        .current_dir(root)
        .output()?;
    let names = String::from_utf8_lossy(&git.stdout);
    let names = names.split('\0').filter(|name| !name.is_empty() && root.join(name).is_file());
    Ok(names.map(str::to_owned).collect())
}

/// Every site under these folders of `src`, in the order of files and lines.
pub(crate) fn find(root: &Path, folders: &[String]) -> io::Result<Vec<Placed>> {
    let inside = |name: &String| {
        name.ends_with(".rs")
            && folders.iter().any(|folder| name.starts_with(&format!("src/{folder}/")))
    };
    let names: Vec<String> = files(root)?.into_iter().filter(inside).collect();
    let mut texts = Vec::new();
    let mut tests = HashSet::new();
    for name in names {
        let text = fs::read_to_string(root.join(&name))?;
        let path = Path::new(&name);
        let stem = path.file_stem().unwrap_or_default();
        let beside = path.with_file_name(if stem == "mod" { "".as_ref() } else { stem });
        for module in test_modules(&text).map_err(io::Error::other)? {
            tests.insert(beside.join(&module));
        }
        texts.push((name, text));
    }
    let for_tests = |name: &str| {
        Path::new(name).with_extension("").ancestors().any(|above| tests.contains(above))
    };
    let mut list = Vec::new();
    for (file, text) in texts.iter().filter(|(name, _)| !for_tests(name)) {
        let mut counts: HashMap<(String, Vec<String>), usize> = HashMap::new();
        for site in sites(text).map_err(io::Error::other)? {
            let words: Vec<&str> = text[site.range.clone()].split_whitespace().collect();
            let nth = counts.entry((words.join(" "), site.changes.clone())).or_insert(0);
            *nth += 1;
            let key = Key { file: file.clone(), text: words.join(" "), nth: *nth };
            list.push(Placed { key, file: file.clone(), site, id: 0, written: 0..0 });
        }
    }
    Ok(list)
}

/// Numbers the mutants.
pub(crate) fn number(chosen: &mut [Placed]) {
    let mut next = 0;
    for placed in chosen {
        placed.id = next;
        next += u32::try_from(placed.site.changes.len()).expect("a site has one or two");
    }
}

/// Writes the copy. What stays the same isn't touched, so that cargo builds only what changed.
pub(crate) fn write(root: &Path, tree: &Path, chosen: &mut [Placed]) -> io::Result<()> {
    let mut wanted = HashSet::new();
    for name in files(root)? {
        let bytes = fs::read(root.join(&name))?;
        let here: Vec<&mut Placed> =
            chosen.iter_mut().filter(|placed| placed.file == name).collect();
        let bytes = if here.is_empty() {
            bytes
        } else {
            rewritten(&String::from_utf8(bytes).map_err(io::Error::other)?, here).into_bytes()
        };
        let bytes = match name.as_str() {
            "src/lib.rs" => [&bytes[..], b"\n#[allow(warnings)]\npub mod mutant;\n"].concat(),
            "Cargo.toml" => of_its_own(&bytes),
            _ => bytes,
        };
        put(&tree.join(&name), &bytes)?;
        wanted.insert(tree.join(name));
    }
    let switch = tree.join("src/mutant.rs");
    put(&switch, include_bytes!("switch.rs"))?;
    wanted.insert(switch);
    sweep(&tree.join("src"), &wanted)?;
    sweep(&tree.join("tests"), &wanted)
}

/// The package with a feature more: cargo then keeps what is built of the copy apart from what is built of the package,
/// though both are in one target folder.
fn of_its_own(manifest: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(manifest);
    text.replacen(
        "[features]\ndefault = [",
        "[features]\nmutants = []\ndefault = [\"mutants\", ",
        1,
    )
    .into_bytes()
}

fn put(path: &Path, bytes: &[u8]) -> io::Result<()> {
    if fs::read(path).is_ok_and(|old| old == bytes) {
        return Ok(());
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(path, bytes)
}

/// Removes files of an earlier copy that the package no longer has.
fn sweep(folder: &Path, wanted: &HashSet<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            sweep(&path, wanted)?;
        } else if !wanted.contains(&path) {
            fs::remove_file(path)?;
        }
    }
    Ok(())
}

/// A piece of text to put at a place, in place of so many bytes.
struct Piece {
    at: usize,
    /// What ends here comes before what starts here.
    rank: u8,
    /// Outer starts come first, inner ends come first.
    turn: isize,
    instead_of: usize,
    text: String,
    site: usize,
}

/// The text with all these sites in it; notes where each then is.
fn rewritten(source: &str, mut here: Vec<&mut Placed>) -> String {
    let mut pieces = Vec::new();
    for (index, placed) in here.iter().enumerate() {
        let turn = isize::try_from(index).expect("few sites");
        for edit in &placed.site.edits {
            let (at, rank, turn, instead_of, text) = match edit {
                Edit::After(at, text) => (*at, 0, -turn, 0, text),
                Edit::Before(at, text) => (*at, 1, turn, 0, text),
                Edit::Instead(range, text) => (range.start, 2, turn, range.len(), text),
            };
            let text = text
                .replace("#0", &placed.id.to_string())
                .replace("#1", &(placed.id + 1).to_string());
            pieces.push(Piece { at, rank, turn, instead_of, text, site: index });
        }
    }
    pieces.sort_by_key(|piece| (piece.at, piece.rank, piece.turn));
    let (mut out, mut read) = (String::new(), 0);
    let mut started = HashSet::new();
    for piece in pieces {
        out.push_str(&source[read..piece.at]);
        read = piece.at + piece.instead_of;
        let written = &mut here[piece.site].written;
        if started.insert(piece.site) {
            written.start = out.len();
        }
        out.push_str(&piece.text);
        written.end = out.len();
    }
    out.push_str(&source[read..]);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with_all(source: &str) -> String {
        let mut list: Vec<Placed> = sites(source)
            .unwrap()
            .into_iter()
            .map(|site| {
                let key = Key { file: String::new(), text: String::new(), nth: 1 };
                Placed { key, file: String::new(), site, id: 0, written: 0..0 }
            })
            .collect();
        number(&mut list);
        rewritten(source, list.iter_mut().collect())
    }

    #[test]
    fn sites_nest() {
        let text = with_all("fn f(a: f64, b: f64) -> f64 { a + b * a }");
        assert_eq!(
            text,
            "fn f(a: f64, b: f64) -> f64 { (match (a ,  (match (b ,  a) \
             { (__l, __r) => if crate::mutant::on(1) { __l / __r } else { __l * __r } })) \
             { (__l, __r) => if crate::mutant::on(0) { __l - __r } else { __l + __r } }) }"
        );
    }

    #[test]
    fn every_file_is_still_rust_with_all_its_sites() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let mut seen = 0;
        for name in files(&root).unwrap() {
            if name.starts_with("src/") && name.ends_with(".rs") {
                let text = with_all(&fs::read_to_string(root.join(&name)).unwrap());
                if let Err(error) = syn::parse_file(&text) {
                    let line = error.span().start().line;
                    panic!("{name}: {error}: {}", text.lines().nth(line - 1).unwrap());
                }
                seen += 1;
            }
        }
        assert!(seen > 300);
    }
}
