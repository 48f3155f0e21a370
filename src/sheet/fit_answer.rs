//! One solution of a fit: its values, the remaining mismatches of the other measurements, its proof.

use crate::facts::datum::{Exact, Figure, Inches};
use crate::facts::fit::CapJson;
use crate::facts::record::{keys, row};
use crate::fit::{Aim, Answer, CapHeld, Fit, Mismatch, Proof, Removal};
use crate::measure::Units;
use crate::measure::quantity::{in_millimeters, inches};
use crate::rules::{Finding, Verdict};

use super::fit_words::{exact, left, met, none_or, shown};
use super::rafter::{longer_than_stock, stock_words};
use super::table::wrapped;
use super::{Depth, Look, Table, findings};

/// One solution: its values, what limits it, the resulting rafter, the remaining mismatches, its proof.
pub(super) fn answered(
    fit: &Fit,
    index: usize,
    answer: &Answer,
    look: &Look,
    depth: Depth,
) -> String {
    let mut text = values(fit, index, answer, look);
    for buildable in answer.buildable.iter().filter(|it| it.keeps).take(1) {
        text.push_str(&wrapped(
            &format!("Write in the roof file, under [{}]: {}", buildable.table, buildable.line),
            2,
            look,
        ));
    }
    if let Some(words) = stopped(answer) {
        text.push_str(&wrapped(&words, 2, look));
    }
    text.push_str(&capped(fit, &answer.caps, look));
    for words in rafter_then(answer, look) {
        text.push_str(&wrapped(&words, 2, look));
    }
    text.push_str(&others(fit, answer, look));
    if depth.explains() {
        text.push_str(&wrapped(&proof(fit, answer, look), 2, look));
    }
    if answer.findings.iter().any(Finding::has_to_be_told) {
        text.push('\n');
        text.push_str(&match depth {
            Depth::First => [
                findings::open(&answer.findings, look.writing),
                findings::rest(&answer.findings, look.writing),
            ]
            .concat()
            .iter()
            .map(|words| wrapped(words, 2, look))
            .collect(),
            Depth::More | Depth::Explain => findings::findings(&answer.findings, look),
        });
    } else {
        text.push_str(&wrapped("The pattern meets the notch, bearing and tail rules.", 2, look));
    }
    text
}

row! {
    /// The exact value or one to build, with what it comes to.
    ValueRow from (fit: &Fit, what: &'static str, value: String, mismatches: &[Mismatch], keeps: bool, look: &Look) with {
        let met = mismatches.iter().find(|of| met(fit) == Some(of.measured.quantity));
    } {
        what "": &'static str = what;
        value "value": Figure = value;
        comes_to "comes to": Option<Exact> = met.map(|of| of.found);
        off "off by": Option<Figure> = met.map(|of| left(of, look));
        kept "kept": &'static str = if keeps { "yes" } else { "NO" };
    }
}

/// The exact value and each one to build, with the figures that they give.
fn values(fit: &Fit, index: usize, answer: &Answer, look: &Look) -> String {
    let title = if fit.answers.len() > 1 {
        format!("Solution {}", index + 1)
    } else {
        "Solution".to_owned()
    };
    let value = exact(fit.unknown, answer.value, look);
    let exact = ValueRow::of(fit, "exact", value, &answer.mismatches, true, look);
    let to_build = answer.buildable.iter().map(|of| {
        ValueRow::of(fit, "to build", of.written.clone(), &of.mismatches, of.keeps, look)
    });
    let table = Table::of(title, [exact].into_iter().chain(to_build), look.writing)
        .headed(keys!(ValueRow: value), fit.unknown.words());
    let table = match met(fit) {
        Some(quantity) => table
            .picked(keys!(ValueRow: what, value, comes_to, off))
            .headed(keys!(ValueRow: comes_to), quantity.words()),
        None => table.picked(keys!(ValueRow: what, value, kept)),
    };
    table.text(look)
}

/// What a solution means, in sentences: what stops it, the rafter, and the rules that it fails.
#[must_use]
pub fn meaning(answer: &Answer, look: &Look) -> Vec<String> {
    stopped(answer).into_iter().chain(rafter_then(answer, look)).collect()
}

fn stopped(answer: &Answer) -> Option<String> {
    match answer.proof {
        Proof::Met(_) => None,
        Proof::Edge(end) if end.outside.is_none() => {
            Some("No rule and no cap stops it there: it is the largest that was tried.".to_owned())
        }
        Proof::Edge(_) => {
            Some(format!("What stops it just beyond: {}.", answer.stopped_by.join("; ")))
        }
    }
}

fn rafter_then(answer: &Answer, look: &Look) -> Vec<String> {
    let write = |length| look.writing.length(length);
    let rafter = &answer.eave.rafter;
    let order = stock_words(rafter, look.writing)
        .map_or_else(|| longer_than_stock(rafter, look.writing), |stock| format!("from {stock}"));
    let mut words = vec![format!(
        "The rafter then: seat {} ({}), heel stand {}, {} from ridge cut to tail cut, blank {} ({order}).",
        write(rafter.seat.length),
        rafter.seat.decided_by.words().write(look.writing),
        write(rafter.heel_stand),
        write(rafter.rafter_length),
        look.writing.blank(rafter.blank_length),
    )];
    let failing: Vec<&str> = answer
        .findings
        .iter()
        .filter(|finding| finding.verdict == Verdict::Fails)
        .map(|finding| finding.title)
        .collect();
    if !failing.is_empty() {
        words.push(format!("It fits, but FAILS these rules: {}.", failing.join(", ")));
    }
    words
}

fn capped(fit: &Fit, caps: &[CapHeld], look: &Look) -> String {
    if caps.is_empty() {
        return String::new();
    }
    if fit.aim != Aim::Largest && caps.iter().all(CapHeld::is_kept) {
        let told: Vec<String> = caps
            .iter()
            .map(|cap| {
                format!(
                    "{} {} of {}",
                    cap.what,
                    look.writing.length(cap.found),
                    look.writing.length(cap.most)
                )
            })
            .collect();
        return wrapped(&format!("Caps kept: {}.", told.join("; ")), 2, look);
    }
    Table::of("Held against the caps", caps.iter().map(CapJson::of), look.writing)
        .picked(keys!(CapJson: cap, found_in, most_in, to_spare))
        .text(look)
}

row! {
    /// A measurement that is not the one met.
    OtherRow from (mismatch: &Mismatch, look: &Look) {
        measurement "measurement": &'static str = mismatch.measured.quantity.words();
        wanted "wanted": Inches = mismatch.measured.asked;
        comes_to "comes to": Inches = mismatch.found;
        off "off by": Figure = left(mismatch, look);
    }
}

row! {
    /// A second change that would meet another measurement too.
    RemovalRow from (fit: &Fit, removal: &Removal, look: &Look) {
        measurement "measurement": &'static str = removal.measured.quantity.words();
        change "change": &'static str = removal.second.words();
        now "now": Figure = shown(removal.second, removal.second_present, look);
        then "then": Figure = shown(removal.second, removal.second_value, look);
        first "first": Figure = shown(fit.unknown, removal.first_value, look);
        fails "rules that fail": String = none_or(&removal.fails);
    }
}

/// The remaining mismatches of the other measurements, and what would remove them.
fn others(fit: &Fit, answer: &Answer, look: &Look) -> String {
    let others: Vec<&Mismatch> = answer
        .mismatches
        .iter()
        .filter(|mismatch| met(fit) != Some(mismatch.measured.quantity))
        .collect();
    if others.is_empty() {
        return String::new();
    }
    let rows = others.iter().map(|mismatch| OtherRow::of(mismatch, look));
    let mut text = Table::of("The other measurements", rows, look.writing).text(look);
    if others.iter().all(|mismatch| mismatch.is_none()) {
        return text;
    }
    if answer.removals.is_empty() {
        text.push_str(&wrapped("No second change near the plan meets the others too.", 2, look));
        return text;
    }
    let rows = answer.removals.iter().map(|removal| RemovalRow::of(fit, removal, look));
    let table = Table::of("What second change would meet it too", rows, look.writing)
        .headed(keys!(RemovalRow: first), fit.unknown.words());
    text.push_str(&table.text(look));
    text
}

/// How the value is proven, in one sentence.
fn proof(fit: &Fit, answer: &Answer, look: &Look) -> String {
    let (from, to) = fit.looked_through;
    let looked = format!(
        "looked through from {} to {}, {} roofs built",
        shown(fit.unknown, from, look),
        shown(fit.unknown, to, look),
        fit.built
    );
    match answer.proof {
        Proof::Met(root) if root.touches => format!(
            "Proof: the measurement just reaches what is wanted here and turns back; {} is left; {looked}.",
            residual(root.residual, look)
        ),
        Proof::Met(root) if root.halvings == 0 => {
            format!("Proof: met on the spot; {} is left; {looked}.", residual(root.residual, look))
        }
        Proof::Met(root) => format!(
            "Proof: too much at one end and too little at the other of a stretch {:.0e} wide, closed in {} halvings; {} is left; {looked}.",
            root.bracket.1 - root.bracket.0,
            root.halvings,
            residual(root.residual, look)
        ),
        Proof::Edge(end) => match end.outside {
            Some(outside) => format!(
                "Proof: kept here and no longer {:.0e} beyond, closed in {} halvings; {looked}.",
                (outside - end.inside).abs(),
                end.halvings
            ),
            None => format!("Proof: kept up to the end; {looked}."),
        },
    }
}

/// A remaining mismatch in inches, in words if it is exactly zero.
pub(super) fn residual(left_in: f64, look: &Look) -> String {
    let (left, unit) = match look.writing.units {
        Units::Millimeters => (in_millimeters(inches(left_in)), "mm"),
        _ => (left_in, "in"),
    };
    if left == 0.0 { "nothing".to_owned() } else { format!("{:.0e} {unit}", left.abs()) }
}
