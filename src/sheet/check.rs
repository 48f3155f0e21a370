//! `check` as a page: the findings by who must act, or as a list for the walk around the roof.

use crate::catalog::code_rules;
use crate::facts::caution;
use crate::facts::check::unlooked;
use crate::facts::record::{keys, row};
use crate::measure::{Units, Writing, trim};
use crate::plan::field::NOT_SET;
use crate::plan::{Used, Value};
use crate::rules::walk::{self, NAILS_TO_COUNT, Who};
use crate::rules::{Code, Finding, Verdict, known};

use super::findings::Held;
use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table, findings};

/// The note on metric pages that count nails.
pub(super) const NAILS_BY_NAME: &str =
    "Nails are named as the code names them: length x diameter in inches, rows in inches.";

/// The note on metric pages with workings.
pub(super) const WORKINGS_ARE_IN_INCHES: &str =
    "Workings are in inches, feet and pounds, as the code's formulas are.";

/// The page: what fails and by how much, what needs design, what to set, how many meet; then the
/// findings by who must act, worst first.
#[must_use]
pub fn text(
    book: &Code<'_>,
    found: &[Finding],
    used: &[Used],
    look: &Look,
    depth: Depth,
) -> String {
    let explain = depth.explains();
    let mut page = Page::new(look, depth);
    page.first(|page| {
        let counts = Verdict::ALL.into_iter().filter_map(|verdict| {
            let count = found.iter().filter(|finding| finding.verdict == verdict).count();
            (count > 0).then(|| verdict.counted(count))
        });
        let counts: Vec<String> = counts.collect();
        page.say(&format!("{}: {}.", against(book), counts.join(", ")));
        // each failure is listed with its figures instead of only its name
        let open = findings::open(found, look.writing);
        if open.is_empty() {
            page.say(NOTHING_OPEN);
        }
        page.say_all(open);
        page.say_all(findings::standing(found, Verdict::NotChecked, look.writing));
        page.say_all(findings::noted(found));
        page.table(&by_who(found));
        page.notes(book.sticks.notes);
    });
    page.more("", || {
        heading(book, found, look.writing).iter().map(|words| wrapped(words, 2, look)).collect()
    });
    page.more("every finding", || {
        let groups = walk::by_who(found).into_iter().map(|(who, of)| {
            let title = format!("For the {}", who.words());
            let mut text = findings::table(&title, &of, look.writing).text(look);
            for finding in of.iter().filter(|finding| explain || finding.has_to_be_told()) {
                text.push_str(&findings::note(finding, look));
                if explain {
                    text.push_str(&working(finding, look));
                }
            }
            text
        });
        groups.collect::<Vec<_>>().join("\n")
    });
    page.workings(|| {
        let mut text = "  [S..] are the sources in docs/sources.md.\n".to_owned();
        if look.writing.units == Units::Millimeters {
            text.push_str(&wrapped(WORKINGS_ARE_IN_INCHES, 2, look));
        }
        text
    });
    page.more("values used", || all_used(book, used, look));
    if let Some(table) = not_looked_at(book) {
        page.gap();
        page.first(|page| page.say(&format!("{}; --more lists them.", table.title())));
        page.more("", || table.text(look) + &wrapped(LOOK_YOURSELF, 2, look));
    }
    page.caution(caution::CHECK_IN_SHORT, caution::CHECK);
    page.end()
}

row! {
    /// How many findings a trade has of each verdict.
    ByWho from (who: Who, of: &[&Finding]) with {
        let count = |verdict| {
            let of = of.iter().filter(|finding| finding.verdict == verdict).count();
            (of > 0).then_some(of)
        };
    } {
        who "who must act": &'static str = who.words();
        fails "fails": Option<usize> = count(Verdict::Fails);
        needs_design "needs design": Option<usize> = count(Verdict::NeedsDesign);
        not_checked "not checked": Option<usize> = count(Verdict::NotChecked);
        meets "meets": Option<usize> = count(Verdict::Meets);
    }
}

/// How many findings each trade has of each verdict.
fn by_who(found: &[Finding]) -> Table {
    let rows = walk::by_who(found).into_iter().map(|(who, of)| ByWho::of(who, &of));
    Table::of("Findings by who must act", rows, Writing::default()).without_empty_columns()
}

/// What the roof is checked against; then, a sentence each: what fails and by how much, what needs
/// design, what to set so that it is checked, and how many meet.
pub(super) fn heading(book: &Code<'_>, found: &[Finding], writing: Writing) -> Vec<String> {
    let mut told = vec![format!("{}.", against(book))];
    told.extend(standing(found, writing));
    told
}

/// What the roof is checked against.
fn against(book: &Code<'_>) -> String {
    let name = book.plan().rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let text = match book.checks.jurisdiction {
        Some(state) => format!("with the amendments of {state} that are known here"),
        None => "model text".to_owned(),
    };
    format!("{name}held against {}, {text}", book.checks.edition)
}

const NOTHING_OPEN: &str = "Nothing fails or needs design.";

/// The findings by verdict, worst first, a sentence for each verdict.
pub(super) fn standing(found: &[Finding], writing: Writing) -> Vec<String> {
    let nothing_open = !found.iter().any(|finding| finding.verdict.is_open());
    let mut told: Vec<String> = nothing_open.then(|| NOTHING_OPEN.to_owned()).into_iter().collect();
    let of = |verdict| findings::standing(found, verdict, writing);
    told.extend(Verdict::ALL.into_iter().filter_map(of));
    told
}

/// Every value used by frame and findings, except unset ones and limits that are the code's; and the
/// keys of the unset ones.
pub(super) fn all_values(book: &Code<'_>, used: &[Used]) -> (Vec<Used>, Vec<&'static str>) {
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

/// Every value used by frame and findings; unset ones are in one line.
fn all_used(book: &Code<'_>, used: &[Used], look: &Look) -> String {
    let (shown, keys) = all_values(book, used);
    let mut text = findings::used(&shown, look.writing).text(look);
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

/// The text over the rules that are not checked.
pub(super) const LOOK_YOURSELF: &str = "These rules are known here, and nothing above says whether the roof keeps them. Look at them yourself; \
     stepoff check --format json has each in a sentence.";

row! {
    /// The rules of a section that nothing is held against.
    Unlooked from (section: &'static str, about: Vec<&'static str>) {
        section "section": &'static str = section;
        about "about": String = about.join("; ");
    }
}

/// The rules in force that are not checked here, section by section; `None` if there are none.
pub(super) fn not_looked_at(book: &Code<'_>) -> Option<Table> {
    let all = unlooked(book);
    let title =
        format!("Not looked at: {} of {}", count(all.len(), "rule", "rules"), book.checks.edition);
    let rows =
        known::by_section(&all).into_iter().map(|(section, about)| Unlooked::of(section, about));
    (!all.is_empty()).then(|| Table::of(title, rows, Writing::default()))
}

fn heading_text(book: &Code<'_>, found: &[Finding], look: &Look) -> String {
    heading(book, found, look.writing).iter().map(|words| wrapped(words, 2, look)).collect()
}

/// What to look at when the walk stops.
pub(super) struct Halt {
    /// A row for each finding: a box to check, what to measure, the limit, what is drawn.
    pub(super) table: Table,
    /// Nails to count there, with the section that gives their number.
    pub(super) counts: Vec<String>,
}

/// How the walk is done.
pub(super) const HOW_TO_WALK: &str = "In the order in which a roof is walked at a framing inspection. Tick the box, write down what was measured.";

/// The stops of the walk; `blank` is the space for the measure.
pub(super) fn halts(
    book: &Code<'_>,
    found: &[Finding],
    blank: &'static str,
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

fn halt_table(title: &str, of: &[&Finding], blank: &'static str, writing: Writing) -> Table {
    let measure_of =
        |finding: &Finding| walk::place(finding.id).map_or(finding.title, |place| place.measure);
    let rows = of.iter().map(|finding| {
        let measure = measure_of(finding);
        // if two lines have the same measure, say what it is for
        let twice = of.iter().filter(|other| measure_of(other) == measure).count() > 1;
        let measure =
            if twice { format!("{measure} ({})", finding.title) } else { measure.to_owned() };
        Held::of(finding, measure, blank, writing)
    });
    Table::of(title, rows, writing)
        .picked(keys!(Held: tick, measure, on_plan, limit, measured, section))
}

/// The findings as a list for the walk: a box to check, what to measure, the limit, what is drawn.
#[must_use]
pub fn walkthrough(book: &Code<'_>, found: &[Finding], look: &Look) -> String {
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
