//! The small corpora in the repository.

use std::path::Path;

/// The inputs of a target: the files of its folder by name, then those that `more` names.
pub(crate) fn corpus(root: &Path, target: &str) -> Vec<Vec<u8>> {
    let folder = root.join("fuzz/corpus").join(target);
    let mut files: Vec<_> = std::fs::read_dir(&folder)
        .unwrap_or_else(|why| panic!("{}: {why}", folder.display()))
        .map(|entry| entry.unwrap().path())
        .collect();
    for more in more(target) {
        files.push(root.join(more));
    }
    files.sort();
    files.iter().map(|file| std::fs::read(file).unwrap()).collect()
}

/// Files of the repository that are good inputs too: kept once.
fn more(target: &str) -> &'static [&'static str] {
    match target {
        "roof-bytes" => super::roof::FILES,
        "prices" => &["examples/prices.toml"],
        "cuts" => &["tests/data/cutting/R01.json", "tests/data/cutting/R12.json"],
        _ => &[],
    }
}
