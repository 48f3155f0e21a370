//! `check` on paper: the findings by who must act, or as a list for the walk round the roof.

use crate::catalog::code_rules;
use crate::facts::caution;
use crate::measure::{Units, Writing, trim};
use crate::plan::field::NOT_SET;
use crate::plan::{Key, Used, Value};
use crate::rules::walk::{self, NAILS_TO_COUNT};
use crate::rules::{Book, Finding, Verdict, known};

use super::table::wrapped;
use super::{Align, Depth, Look, Table, findings};

/// Said on metric pages that count nails.
pub(super) const NAILS_BY_NAME: &str =
    "Nails are named as the code names them: length x diameter in inches, rows in inches.";

/// Said where metric pages show workings.
pub(super) const WORKINGS_ARE_IN_INCHES: &str =
    "Workings are in inches, feet and pounds, as the code's formulas are.";

/// The findings by who must act, worst first.
#[must_use]
pub fn text(
    book: &Book<'_>,
    found: &[Finding],
    used: &[Used],
    look: &Look,
    depth: Depth,
) -> String {
    let explain = depth.explains();
    let mut page = heading_text(book, found, look);
    for (who, of) in walk::by_who(found) {
        page.push('\n');
        page.push_str(
            &findings::table(&format!("For the {}", who.words()), &of, look.writing).text(look),
        );
        let told = of.iter().filter(|finding| explain || finding.has_to_be_told());
        for finding in told {
            page.push_str(&findings::note(finding, look));
            if explain {
                page.push_str(&working(finding, look));
            }
        }
    }
    if explain {
        page.push_str("  [S..] are the sources in docs/sources.md.\n");
    }
    page.push('\n');
    if explain && look.writing.units == Units::Millimeters {
        page.push_str(WORKINGS_ARE_IN_INCHES);
        page.push_str("\n\n");
    }
    page.push_str(&all_used(book, used, look));
    page.push('\n');
    if let Some(table) = not_looked_at(book) {
        page.push_str(&table.text(look));
        page.push_str(&wrapped(LOOK_YOURSELF, 2, look));
        page.push('\n');
    }
    page.push_str(&wrapped(caution::CHECK, 2, look));
    page
}

/// What the roof is held against; then, a sentence each: what fails and by how much, what needs
/// design, what to set so that it is checked, and how much meets.
pub(super) fn heading(book: &Book<'_>, found: &[Finding], writing: Writing) -> Vec<String> {
    let name = book.plan().rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let text = match book.checks.jurisdiction {
        Some(state) => format!("with the amendments of {state} that are known here"),
        None => "model text".to_owned(),
    };
    let mut told = vec![format!("{name}held against {}, {text}.", book.checks.edition)];
    told.extend(standing(found, writing));
    told
}

/// How findings stand, worst first, a sentence for each verdict.
pub(super) fn standing(found: &[Finding], writing: Writing) -> Vec<String> {
    let mut told = Vec::new();
    if !found.iter().any(|finding| finding.verdict.is_open()) {
        told.push("Nothing fails or needs design.".to_owned());
    }
    for verdict in Verdict::ALL {
        let of: Vec<&Finding> = found.iter().filter(|f| f.verdict == verdict).collect();
        if of.is_empty() {
            continue;
        }
        let which: Vec<String> = match verdict {
            Verdict::Fails | Verdict::NeedsDesign => of
                .iter()
                .map(|finding| match finding.shortfall(writing) {
                    Some(off) => format!("{} {off}", finding.title),
                    None => finding.title.to_owned(),
                })
                .collect(),
            Verdict::NotChecked => vec![format!("set {}", Key::list(&fields_to_set(&of)))],
            Verdict::Meets => Vec::new(),
        };
        let counted = verdict.counted(of.len());
        told.push(if which.is_empty() {
            format!("{counted}.")
        } else {
            format!("{counted}: {}.", which.join("; "))
        });
    }
    told
}

/// The fields that findings wait for, each once.
fn fields_to_set(of: &[&Finding]) -> Vec<Key> {
    let mut keys: Vec<Key> = Vec::new();
    for key in of.iter().flat_map(|finding| &finding.missing) {
        if !keys.contains(key) {
            keys.push(*key);
        }
    }
    keys
}

/// Every value used by frame and findings, but what is not set and limits that are the code's; and the keys of what is not set.
pub(super) fn all_values(book: &Book<'_>, used: &[Used]) -> (Vec<Used>, Vec<&'static str>) {
    let not_set = |used: &&Used| used.value == Value::Words(NOT_SET.to_owned());
    let of_the_code = |used: &&Used| used.field.table() == "limits" && !used.given;
    let shown = book
        .plan()
        .rafter
        .used
        .iter()
        .chain(used.iter().filter(|used| !not_set(used) && !of_the_code(used)))
        .cloned()
        .collect();
    let keys = used.iter().filter(not_set).map(|used| used.field.key).collect();
    (shown, keys)
}

/// Every value used by frame and findings; what is not set stands in one line.
fn all_used(book: &Book<'_>, used: &[Used], look: &Look) -> String {
    let (shown, keys) = all_values(book, used);
    let mut text = findings::used(&shown, look);
    if !keys.is_empty() {
        text.push_str(&wrapped(&format!("Not set: {}.", keys.join(", ")), 2, look));
    }
    text
}

fn working(finding: &Finding, look: &Look) -> String {
    finding
        .working
        .iter()
        .map(|step| wrapped(&format!("      {}", step.write(look.writing)), 10, look))
        .collect()
}

/// What is said over the rules that nothing looks at.
pub(super) const LOOK_YOURSELF: &str = "These rules are known here, and nothing above says whether the roof keeps them. Look at them yourself; \
     stepoff check --format json has each in a sentence.";

/// The rules in force that nothing here is held against, section by section; `None` if there are none.
pub(super) fn not_looked_at(book: &Book<'_>) -> Option<Table> {
    let all = known::not_looked_at(book.checks.edition, book.checks.jurisdiction);
    let title =
        format!("Not looked at: {} of {}", count(all.len(), "rule", "rules"), book.checks.edition);
    let columns = [("section", Align::Left), ("about", Align::Left)];
    let mut table = Table::new(&title, &columns);
    for (section, about) in known::by_section(&all) {
        table.row([section.to_owned(), about.join("; ")]);
    }
    (!all.is_empty()).then_some(table)
}

fn heading_text(book: &Book<'_>, found: &[Finding], look: &Look) -> String {
    heading(book, found, look.writing).iter().map(|words| wrapped(words, 2, look)).collect()
}

/// What is looked at where the walk stops.
pub(super) struct Halt {
    /// A row for each finding: a box to tick, what to measure, the limit, what is drawn.
    pub(super) table: Table,
    /// Nails to be counted there, with the section that says how many.
    pub(super) counts: Vec<String>,
}

/// How the walk is done.
pub(super) const HOW_TO_WALK: &str = "In the order in which a roof is walked at a framing inspection. Tick the box, write down what was measured.";

/// The stops of the walk; `blank` is where the measure is written.
pub(super) fn halts(
    book: &Book<'_>,
    found: &[Finding],
    blank: &str,
    writing: Writing,
) -> Vec<Halt> {
    walk::by_stop(found)
        .into_iter()
        .map(|(stop, of)| Halt {
            table: halt_table(stop.words(), &of, blank, writing),
            counts: NAILS_TO_COUNT
                .iter()
                .filter(|(at, _)| *at == stop)
                .filter_map(|(_, id)| {
                    code_rules::rule_in(*id, book.checks.edition, book.checks.jurisdiction)
                })
                .map(|rule| {
                    format!(
                        "{} ({})",
                        rule.fact.trim_end_matches('.'),
                        rule.section_in(book.checks.edition)
                    )
                })
                .collect(),
        })
        .collect()
}

fn halt_table(title: &str, of: &[&Finding], blank: &str, writing: Writing) -> Table {
    let mut table = Table::new(
        title,
        &[
            ("tick", Align::Left),
            ("measure", Align::Left),
            ("on the plan", Align::Right),
            ("limit", Align::Right),
            ("measured", Align::Left),
            ("section", Align::Left),
        ],
    );
    let measure_of =
        |finding: &Finding| walk::place(finding.id).map_or(finding.title, |place| place.measure);
    for finding in of {
        let measure = measure_of(finding);
        // two lines that ask for the same measure say what it is for
        let twice = of.iter().filter(|other| measure_of(other) == measure).count() > 1;
        let measure =
            if twice { format!("{measure} ({})", finding.title) } else { measure.to_owned() };
        let plan = match finding.verdict {
            Verdict::Meets => findings::figure(finding.found, finding, writing),
            verdict => format!(
                "{} ({})",
                findings::figure(finding.found, finding, writing),
                verdict.words()
            ),
        };
        table.row([
            "[ ]".to_owned(),
            measure,
            plan,
            findings::limit(finding, writing),
            blank.to_owned(),
            finding.section.clone(),
        ]);
    }
    table
}

/// The findings as a list for the walk: a box to tick, what to measure, the limit, what is drawn.
#[must_use]
pub fn walkthrough(book: &Book<'_>, found: &[Finding], look: &Look) -> String {
    let mut page = heading_text(book, found, look);
    page.push_str(&wrapped(HOW_TO_WALK, 2, look));
    for halt in halts(book, found, "________", look.writing) {
        page.push('\n');
        page.push_str(&halt.table.text(look));
        for count in halt.counts {
            page.push_str(&wrapped(&format!(" [ ] count nails: {count} ________"), 5, look));
        }
    }
    page.push('\n');
    page.push_str(&wrapped(caution::CHECK, 2, look));
    page
}

/// A number of things with its word.
#[must_use]
pub(super) fn count(count: usize, one: &str, many: &str) -> String {
    format!("{} {}", trim(count as f64, 0), if count == 1 { one } else { many })
}
