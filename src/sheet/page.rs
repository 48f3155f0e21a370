//! A page of the terminal: parts, each with the depth from which it is shown.
//!
//! A page begins with the answer and fits one screen. Long lists are cut to the room on the screen, and
//! say so. The page's last line names what is left out.

use super::table::wrapped;
use super::{Look, Table};

/// How much of a page is shown, from the answer alone to everything that led to it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// The answer, on one screen.
    #[default]
    First,
    /// The whole page: every table, every value used, every note.
    More,
    /// The whole page, and how each number is worked out.
    Explain,
}

impl Depth {
    /// True if the page shows how its numbers are worked out.
    #[must_use]
    pub fn explains(self) -> bool {
        self == Depth::Explain
    }
}

/// What a page with a drawing shows.
#[derive(Debug, Clone, Copy)]
pub struct Options {
    /// The drawing too.
    pub drawing: bool,
    /// How much of the page.
    pub depth: Depth,
}

/// Lines of the first screen.
const SCREEN: usize = 40;
/// Rows that the first list keeps even if the screen has no room for them; lists after it may be left
/// out.
const LEAST_ROWS: usize = 5;

/// A page that is being assembled.
pub(super) struct Page<'a> {
    look: &'a Look,
    depth: Depth,
    parts: Vec<Part>,
    /// what `--more` adds, in the order of the page
    left_out: Vec<String>,
    has_workings: bool,
}

/// A part of a page that is shown.
enum Part {
    /// Lines as they are.
    Text(String),
    /// A table that the first screen may cut short.
    List(Table),
    /// A blank line, unless there is one already or nothing comes before it.
    Gap,
}

impl<'a> Page<'a> {
    /// An empty page.
    pub(super) fn new(look: &'a Look, depth: Depth) -> Page<'a> {
        Page { look, depth, parts: Vec::new(), left_out: Vec::new(), has_workings: false }
    }

    /// How it looks.
    pub(super) fn look(&self) -> &'a Look {
        self.look
    }

    /// True if it shows how its numbers are worked out.
    pub(super) fn explains(&self) -> bool {
        self.depth.explains()
    }

    /// A paragraph that is always shown.
    pub(super) fn say(&mut self, words: &str) {
        if !words.is_empty() {
            self.text(wrapped(words, 2, self.look));
        }
    }

    /// Paragraphs that are always shown.
    pub(super) fn say_all(&mut self, lines: impl IntoIterator<Item = impl AsRef<str>>) {
        for line in lines {
            self.say(line.as_ref());
        }
    }

    /// Lines that are always shown, already wrapped.
    pub(super) fn text(&mut self, text: String) {
        if !text.is_empty() {
            self.parts.push(Part::Text(text));
        }
    }

    /// A blank line before what comes next.
    pub(super) fn gap(&mut self) {
        self.parts.push(Part::Gap);
    }

    /// A table that is always shown whole, with blank lines around it; nothing if it has no rows.
    pub(super) fn table(&mut self, table: &Table) {
        if !table.is_empty() {
            self.gap();
            self.text(table.text(self.look));
        }
    }

    /// A table; the first screen shows as many rows as it has room for.
    pub(super) fn list(&mut self, table: Table) {
        if !table.is_empty() {
            self.gap();
            self.parts.push(Part::List(table));
        }
    }

    /// Names what the first screen leaves out of a part that it does show.
    pub(super) fn leaves_out(&mut self, name: &str) {
        if self.depth == Depth::First {
            self.left_out.push(name.to_owned());
        }
    }

    /// A part that the first screen leaves out; its last line names it `name`, or does not name it.
    pub(super) fn more(&mut self, name: &str, write: impl FnOnce() -> String) {
        if self.depth == Depth::First {
            self.left_out.extend((!name.is_empty()).then(|| name.to_owned()));
        } else {
            self.gap();
            self.text(write());
        }
    }

    /// What only the first screen shows, in place of something longer.
    pub(super) fn first(&mut self, write: impl FnOnce(&mut Page<'a>)) {
        if self.depth == Depth::First {
            write(self);
        }
    }

    /// How numbers are worked out.
    pub(super) fn workings(&mut self, write: impl FnOnce() -> String) {
        if self.depth.explains() {
            self.gap();
            self.text(write());
        } else {
            self.has_workings = true;
        }
    }

    /// The caution: short on the first screen, otherwise whole.
    pub(super) fn caution(&mut self, short: &str, whole: &str) {
        if self.depth != Depth::First {
            self.gap();
        }
        self.say(if self.depth == Depth::First { short } else { whole });
    }

    /// The page, with the line that says how to see the rest.
    pub(super) fn end(self) -> String {
        let rows: Vec<usize> = self.lists().map(|table| table.rows().count()).collect();
        if self.depth != Depth::First {
            return self.written(&rows);
        }
        let mut shown: Vec<usize> = rows.iter().map(|rows| (*rows).min(SCREEN)).collect();
        loop {
            let page = self.written(&shown);
            let over = page.lines().count().saturating_sub(SCREEN);
            let least = |index: usize| if index == 0 { LEAST_ROWS } else { 0 };
            // the last parts are needed least
            let last = (0..shown.len()).rev().find(|index| shown[*index] > least(*index));
            match last {
                Some(index) if over > 0 => {
                    // a row may take several lines
                    let fewer = shown[index].saturating_sub(over.div_ceil(4));
                    shown[index] = fewer.max(least(index));
                }
                _ => return page,
            }
        }
    }

    fn lists(&self) -> impl Iterator<Item = &Table> {
        self.parts.iter().filter_map(|part| match part {
            Part::List(table) => Some(table),
            Part::Text(_) | Part::Gap => None,
        })
    }

    /// The page with this many rows of each list.
    fn written(&self, shown: &[usize]) -> String {
        let mut text = String::new();
        let mut cut = false;
        let mut shown = shown.iter().copied();
        for part in &self.parts {
            match part {
                Part::Text(part) => text.push_str(part),
                Part::List(table) => {
                    let (rows, all) = (shown.next().unwrap_or(0), table.rows().count());
                    let told = if rows == 0 {
                        format!("{}: {all} rows with --more.", table.title())
                    } else {
                        text.push_str(&table.text_of(rows, self.look));
                        format!("{rows} of {all} rows; --more shows all.")
                    };
                    if rows < all {
                        cut = true;
                        text.push_str(&wrapped(&told, 2, self.look));
                    }
                }
                Part::Gap if text.is_empty() || text.ends_with("\n\n") => {}
                Part::Gap => text.push('\n'),
            }
        }
        text.push_str(&self.closing(cut));
        text
    }

    /// The line that says how to see the rest; empty if nothing is left out.
    fn closing(&self, cut: bool) -> String {
        let mut names: Vec<&str> = Vec::new();
        names.extend(cut.then_some("all rows"));
        names.extend(self.left_out.iter().map(String::as_str));
        let workings = if self.has_workings { "--explain: workings" } else { "" };
        if names.is_empty() {
            return if workings.is_empty() { String::new() } else { format!("{workings}\n") };
        }
        let apart = if workings.is_empty() { "" } else { "; " };
        // one line: names that it has no room for are counted
        let lines = (0..=names.len()).rev().map(|kept| {
            let list = match (kept, names.len() - kept) {
                (0, _) => "the whole page".to_owned(),
                (_, 0) => names.join(", "),
                (_, more) => format!("{} and {more} more", names[..kept].join(", ")),
            };
            format!("--more: {list}{apart}{workings}\n")
        });
        let fits = |line: &String| line.chars().count() <= self.look.columns + 1;
        lines.clone().find(fits).or_else(|| lines.clone().next_back()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Writing;
    use crate::sheet::Align;

    fn look(columns: usize) -> Look {
        Look { writing: Writing::default(), columns, ascii: true }
    }

    fn page(look: &Look, depth: Depth, rows: usize) -> String {
        let mut page = Page::new(look, depth);
        page.gap();
        page.say("The answer.");
        let mut table = Table::new("List", &[("no.", Align::Right)]);
        for row in 1..=rows {
            table.row([row.to_string()]);
        }
        page.list(table);
        page.more("values used", || "Used: all.\n".to_owned());
        page.workings(|| "1 + 1 = 2\n".to_owned());
        page.caution("Caution.", "Caution: long.");
        page.end()
    }

    #[test]
    fn the_first_screen_cuts_lists_and_says_so() {
        let look = look(80);
        let first = page(&look, Depth::First, 100);
        assert!(first.lines().count() <= SCREEN, "{first}");
        assert!(first.lines().count() > SCREEN - 4, "{first}");
        assert!(first.starts_with("The answer.\n\nList\n"), "{first}");
        assert!(first.contains(" of 100 rows; --more shows all.\n"), "{first}");
        let last = first.lines().last();
        assert_eq!(last, Some("--more: all rows, values used; --explain: workings"));
        let short = page(&look, Depth::First, 3);
        assert!(short.ends_with("Caution.\n--more: values used; --explain: workings\n"));
        assert!(!short.contains("rows;"), "{short}");
    }

    #[test]
    fn more_shows_everything_and_explain_the_workings_too() {
        let look = look(80);
        let more = page(&look, Depth::More, 100);
        assert_eq!(more.lines().filter(|line| line.trim().parse::<u32>().is_ok()).count(), 100);
        assert!(more.ends_with("Used: all.\n\nCaution: long.\n--explain: workings\n"));
        let explained = page(&look, Depth::Explain, 100);
        assert!(explained.ends_with("Used: all.\n\n1 + 1 = 2\n\nCaution: long.\n"), "{explained}");
    }

    #[test]
    fn the_last_line_is_one_line() {
        let look = look(50);
        let mut page = Page::new(&look, Depth::First);
        page.say("The answer.");
        for name in ["marks on both edges", "cuts", "values used", "notes"] {
            page.more(name, String::new);
        }
        let text = page.end();
        assert_eq!(text, "The answer.\n--more: marks on both edges, cuts and 2 more\n");
    }
}
