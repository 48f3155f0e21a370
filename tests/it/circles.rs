//! No two files use each other, directly or through others.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::support::path;

/// A module's path, such as `["frame", "layout"]`; the library's own is empty.
type Place = Vec<String>;

/// A name that a file imports, and from where.
struct Import {
    name: String,
    path: Vec<String>,
    /// True if the name is re-exported; a re-export in a `mod.rs` does not count as use.
    public: bool,
}

struct File {
    shown: String,
    is_folder: bool,
    imports: Vec<Import>,
    /// Every path written out in the code itself.
    paths: Vec<Vec<String>>,
    /// Every plain name in the code.
    names: BTreeSet<String>,
}

/// The words and signs of a source, without comments, literals and tests.
fn tokens(source: &str) -> Vec<String> {
    let end = source.find("\n#[cfg(test)]\nmod tests {").unwrap_or(source.len());
    let letters: Vec<char> = source[..end].chars().collect();
    let is_word = |letter: char| letter.is_alphanumeric() || letter == '_';
    let (mut list, mut at) = (Vec::new(), 0);
    while at < letters.len() {
        let next = letters.get(at + 1).copied().unwrap_or(' ');
        match letters[at] {
            '/' if next == '/' => {
                while at < letters.len() && letters[at] != '\n' {
                    at += 1;
                }
            }
            'r' if next == '#' && letters.get(at + 2) == Some(&'"') => {
                at += 3;
                while !(letters[at] == '"' && letters[at + 1] == '#') {
                    at += 1;
                }
                at += 2;
            }
            '"' => {
                at += 1;
                while letters[at] != '"' {
                    at += if letters[at] == '\\' { 2 } else { 1 };
                }
                at += 1;
            }
            '\'' if next == '\\' => {
                at += 3;
                while letters[at] != '\'' {
                    at += 1;
                }
                at += 1;
            }
            '\'' if letters.get(at + 2) == Some(&'\'') => at += 3,
            ':' if next == ':' => {
                list.push("::".to_owned());
                at += 2;
            }
            letter if is_word(letter) => {
                let start = at;
                while at < letters.len() && is_word(letters[at]) {
                    at += 1;
                }
                list.push(letters[start..at].iter().collect());
            }
            letter => {
                if !letter.is_whitespace() {
                    list.push(letter.to_string());
                }
                at += 1;
            }
        }
    }
    list
}

/// What a `use` imports, with its tree read from `at` on; returns the end of the tree.
fn tree(
    tokens: &[String],
    mut at: usize,
    before: &[String],
    public: bool,
    imports: &mut Vec<Import>,
) -> usize {
    let mut path = before.to_vec();
    loop {
        match tokens[at].as_str() {
            "{" => {
                while tokens[at] != "}" {
                    at += 1;
                    if tokens[at] != "}" {
                        at = tree(tokens, at, &path, public, imports);
                    }
                }
                return at + 1;
            }
            "::" => at += 1,
            word => {
                if word != "self" || path.is_empty() {
                    path.push(word.to_owned());
                }
                at += 1;
            }
        }
        if matches!(tokens[at].as_str(), "," | ";" | "}" | "as") {
            let mut name = path.last().cloned().unwrap_or_default();
            if tokens[at] == "as" {
                name.clone_from(&tokens[at + 1]);
                at += 2;
            }
            imports.push(Import { name, path, public });
            return at;
        }
    }
}

fn read(shown: String, source: &str) -> File {
    let tokens = tokens(source);
    let is_folder = shown.ends_with("mod.rs") || shown.ends_with("lib.rs");
    let mut file =
        File { shown, is_folder, imports: Vec::new(), paths: Vec::new(), names: BTreeSet::new() };
    let word = |at: usize| {
        let first = tokens.get(at).and_then(|token| token.chars().next());
        first.is_some_and(|letter| letter.is_alphabetic() || letter == '_')
    };
    let is = |at: usize, sign: &str| tokens.get(at).is_some_and(|token| token == sign);
    let (mut at, mut public) = (0, false);
    while at < tokens.len() {
        if is(at, "pub") {
            public = true;
            at += 1;
            if is(at, "(") {
                // a visibility is not a use of anything
                while !is(at, ")") {
                    at += 1;
                }
                at += 1;
            }
            continue;
        }
        if is(at, "use") {
            at = tree(&tokens, at + 1, &[], public, &mut file.imports);
        } else if word(at) {
            let mut path = vec![tokens[at].clone()];
            while is(at + 1, "::") && word(at + 2) {
                at += 2;
                path.push(tokens[at].clone());
            }
            file.names.insert(path[0].clone());
            file.paths.push(path);
            at += 1;
        } else {
            at += 1;
        }
        public = false;
    }
    file
}

struct Library(BTreeMap<Place, File>);

impl Library {
    fn read() -> Library {
        let root = path("src");
        let mut files = BTreeMap::new();
        let mut folders = vec![root.clone()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).unwrap() {
                let entry = entry.unwrap().path();
                let name = entry.file_name().unwrap().to_string_lossy().into_owned();
                // tests use what they test: neither their files nor their folders count
                if entry.is_dir() && name != "tests" {
                    folders.push(entry);
                } else if name.ends_with(".rs") && name != "main.rs" && name != "tests.rs" {
                    let within = entry.strip_prefix(&root).unwrap();
                    let source = fs::read_to_string(&entry).unwrap();
                    files.insert(place(within), read(within.display().to_string(), &source));
                }
            }
        }
        Library(files)
    }

    /// The file that a path leads to from `from`, through re-exported names; `None` if it leads out of
    /// the library.
    fn target(&self, from: &[String], path: &[String], depth: usize) -> Option<Place> {
        let mut place = from.to_vec();
        let mut rest = path;
        match path[0].as_str() {
            "crate" => (place, rest) = (Vec::new(), &path[1..]),
            "self" => rest = &path[1..],
            "super" => {
                while rest.first().is_some_and(|word| word == "super") {
                    place.pop();
                    rest = &rest[1..];
                }
            }
            word if self.0.contains_key(&below(&place, word)) => {}
            _ => return None,
        }
        for (at, word) in rest.iter().enumerate() {
            let child = below(&place, word);
            if self.0.contains_key(&child) {
                place = child;
                continue;
            }
            let handed_on = self.0[&place].imports.iter().filter(|import| import.name == *word);
            for import in handed_on.filter(|_| depth < 8) {
                let path = [&import.path, &rest[at + 1..]].concat();
                if let Some(found) = self.target(&place, &path, depth + 1) {
                    return Some(found);
                }
            }
            break;
        }
        Some(place)
    }

    /// The files that one file uses.
    fn used_by(&self, place: &Place) -> BTreeSet<Place> {
        let file = &self.0[place];
        let mut used = BTreeSet::new();
        for import in &file.imports {
            let is_sign = file.is_folder && import.public && !file.names.contains(&import.name);
            if is_sign {
                continue;
            }
            // for a module that is imported by name, what is taken from it
            let through = |path: &&Vec<String>| path.len() > 1 && path[0] == import.name;
            let mut of_module = file.paths.iter().filter(through).peekable();
            let module = self
                .target(place, &import.path, 0)
                .filter(|target| target.last() == import.path.last() && of_module.peek().is_some());
            if module.is_some() {
                used.extend(of_module.filter_map(|path| {
                    self.target(place, &[&import.path, &path[1..]].concat(), 0)
                }));
            } else {
                used.extend(self.target(place, &import.path, 0));
            }
        }
        let imported = |word: &String| file.imports.iter().any(|import| import.name == *word);
        let written_out = file.paths.iter().filter(|path| path.len() > 1 && !imported(&path[0]));
        used.extend(written_out.filter_map(|path| self.target(place, path, 0)));
        used.remove(place);
        used
    }
}

fn below(place: &[String], word: &str) -> Place {
    [place, &[word.to_owned()]].concat()
}

fn place(within: &Path) -> Place {
    let mut place: Place =
        within.with_extension("").iter().map(|part| part.to_string_lossy().into_owned()).collect();
    if place.last().is_some_and(|last| last == "mod" || last == "lib") {
        place.pop();
    }
    place
}

type Arrows = BTreeMap<Place, BTreeSet<Place>>;

/// The arrows that lead back to their start.
fn circles(arrows: &Arrows) -> Vec<[&Place; 2]> {
    let leads_to = |from: &Place, to: &Place| {
        let (mut seen, mut next) = (BTreeSet::new(), vec![from]);
        while let Some(place) = next.pop() {
            if place == to {
                return true;
            }
            if seen.insert(place) {
                next.extend(arrows.get(place).into_iter().flatten());
            }
        }
        false
    };
    arrows
        .iter()
        .flat_map(|(place, used)| used.iter().map(move |other| [place, other]))
        .filter(|[place, other]| leads_to(other, place))
        .collect()
}

#[test]
fn no_files_use_each_other_in_a_circle() {
    let library = Library::read();
    let arrows: Arrows =
        library.0.keys().map(|place| (place.clone(), library.used_by(place))).collect();
    let count: usize = arrows.values().map(BTreeSet::len).sum();
    assert!(count > 1000, "only {count} uses were read");
    let found: Vec<String> = circles(&arrows)
        .into_iter()
        .map(|pair| pair.map(|place| library.0[place].shown.as_str()))
        .map(|[file, other]| format!("{file} uses {other}"))
        .collect();
    assert!(found.is_empty(), "files that use each other in a circle:\n{}", found.join("\n"));
}

#[test]
fn a_circle_is_found_and_what_leads_to_it_is_not() {
    let arrow = |from: &str, to: &[&str]| {
        (vec![from.to_owned()], to.iter().map(|name| vec![(*name).to_owned()]).collect())
    };
    let arrows = BTreeMap::from([
        arrow("a", &["b"]),
        arrow("b", &["c", "d"]),
        arrow("c", &["b"]),
        arrow("d", &[]),
    ]);
    let found = circles(&arrows).into_iter().map(|pair| pair.map(|place| place.concat()));
    assert_eq!(found.collect::<Vec<_>>(), [["b", "c"], ["c", "b"]]);
}

#[test]
fn uses_are_read_as_they_are_written() {
    let source = "//! Of crate::no.\nuse super::{a::{self, B as C}, d};\npub(in crate::no) fn f() {\n    \
                  \"crate::no\"; 'x'; crate::e::F(d::g);\n}\n#[cfg(test)]\nmod tests {\n    use crate::no;\n}\n";
    let file = read("x.rs".into(), source);
    let imports: Vec<String> = file
        .imports
        .iter()
        .map(|import| format!("{} = {}", import.name, import.path.join("::")))
        .collect();
    assert_eq!(imports, ["a = super::a", "C = super::a::B", "d = super::d"]);
    let paths: Vec<String> =
        file.paths.iter().filter(|path| path.len() > 1).map(|path| path.join("::")).collect();
    assert_eq!(paths, ["crate::e::F", "d::g"]);
}
