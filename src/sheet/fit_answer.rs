//! One answer of a fit: its values, what is left of the other measurements, its proof.

use crate::fit::{Aim, Answer, Buildable, CapHeld, Fit, Mismatch, Proof};
use crate::measure::Units;
use crate::measure::quantity::{in_millimeters, inches};
use crate::rules::{Finding, Verdict};

use super::fit_words::{exact, left, met, none_or, shown};
use super::rafter::{longer_than_stock, stock_words};
use super::table::wrapped;
use super::{Align, Depth, Look, Table, findings};

/// One answer: its values, what stops it, the rafter it gives, what is left, its proof.
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
    text.push_str(&stopped(answer, look));
    text.push_str(&capped(fit, &answer.caps, look));
    let write = |length| look.writing.length(length);
    let rafter = &answer.eave.rafter;
    let order = stock_words(rafter, look.writing)
        .map_or_else(|| longer_than_stock(rafter, look.writing), |stock| format!("from {stock}"));
    text.push_str(&wrapped(
        &format!(
            "The rafter then: seat {} ({}), heel stand {}, {} from ridge cut to tail cut, blank {} ({order}).",
            write(rafter.seat.length),
            rafter.seat.decided_by.words().write(look.writing),
            write(rafter.heel_stand),
            write(rafter.rafter_length),
            look.writing.blank(rafter.blank_length),
        ),
        2,
        look,
    ));
    let failing: Vec<&str> = answer
        .findings
        .iter()
        .filter(|finding| finding.verdict == Verdict::Fails)
        .map(|finding| finding.title)
        .collect();
    if !failing.is_empty() {
        text.push_str(&wrapped(
            &format!("It fits, but FAILS these rules: {}.", failing.join(", ")),
            2,
            look,
        ));
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

/// The exact value and each buildable one, with what they come to.
fn values(fit: &Fit, index: usize, answer: &Answer, look: &Look) -> String {
    let unknown = fit.unknown;
    let several = fit.answers.len() > 1;
    let title = if several { format!("Solution {}", index + 1) } else { "Solution".to_owned() };
    let Some(quantity) = met(fit) else {
        let mut table = Table::new(
            title,
            &[("", Align::Left), (unknown.words(), Align::Right), ("kept", Align::Left)],
        );
        table.row(["exact".to_owned(), exact(unknown, answer.value, look), "yes".to_owned()]);
        for buildable in &answer.buildable {
            table.row([
                "to build".to_owned(),
                buildable.written.clone(),
                if buildable.keeps { "yes" } else { "NO" }.to_owned(),
            ]);
        }
        return table.text(look);
    };
    let mut table = Table::new(
        title,
        &[
            ("", Align::Left),
            (unknown.words(), Align::Right),
            (quantity.words(), Align::Right),
            ("off by", Align::Right),
        ],
    );
    let mut row = |what: &str, value: String, mismatches: &[Mismatch]| {
        let mismatch = mismatches.iter().find(|it| it.measured.quantity == quantity);
        table.row([
            what.to_owned(),
            value,
            mismatch.map_or(String::new(), |it| look.writing.exact(inches(it.found_in))),
            mismatch.map_or(String::new(), |it| left(it, look)),
        ]);
    };
    row("exact", exact(unknown, answer.value, look), &answer.mismatches);
    for Buildable { written, mismatches, .. } in &answer.buildable {
        row("to build", written.clone(), mismatches);
    }
    table.text(look)
}

fn stopped(answer: &Answer, look: &Look) -> String {
    match answer.proof {
        Proof::Met(_) => String::new(),
        Proof::Edge(end) if end.outside.is_none() => {
            wrapped("No rule and no cap stops it there: it is the largest that was tried.", 2, look)
        }
        Proof::Edge(_) => wrapped(
            &format!("What stops it just beyond: {}.", answer.stopped_by.join("; ")),
            2,
            look,
        ),
    }
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
                    look.writing.length(inches(cap.found_in)),
                    look.writing.length(inches(cap.most_in))
                )
            })
            .collect();
        return wrapped(&format!("Caps kept: {}.", told.join("; ")), 2, look);
    }
    let mut table = Table::new(
        "Held against the caps",
        &[
            ("cap", Align::Left),
            ("comes to", Align::Right),
            ("at most", Align::Right),
            ("to spare", Align::Right),
        ],
    );
    for cap in caps {
        let spare = inches(cap.most_in - cap.found_in);
        table.row([
            cap.what.to_owned(),
            look.writing.length(inches(cap.found_in)),
            look.writing.length(inches(cap.most_in)),
            if cap.is_kept() {
                look.writing.length(spare.max(inches(0.0)))
            } else {
                format!("over by {}", look.writing.length(-spare))
            },
        ]);
    }
    table.text(look)
}

/// What is left of the other measurements, and what would remove it.
fn others(fit: &Fit, answer: &Answer, look: &Look) -> String {
    let others: Vec<&Mismatch> = answer
        .mismatches
        .iter()
        .filter(|mismatch| met(fit) != Some(mismatch.measured.quantity))
        .collect();
    if others.is_empty() {
        return String::new();
    }
    let mut table = Table::new(
        "The other measurements",
        &[
            ("measurement", Align::Left),
            ("wanted", Align::Right),
            ("comes to", Align::Right),
            ("off by", Align::Right),
        ],
    );
    for mismatch in &others {
        table.row([
            mismatch.measured.quantity.words().to_owned(),
            look.writing.length(mismatch.measured.asked),
            look.writing.length(inches(mismatch.found_in)),
            left(mismatch, look),
        ]);
    }
    let mut text = table.text(look);
    if others.iter().all(|mismatch| mismatch.is_none()) {
        return text;
    }
    if answer.removals.is_empty() {
        text.push_str(&wrapped("No second change near the plan meets the others too.", 2, look));
        return text;
    }
    let mut table = Table::new(
        "What second change would meet it too",
        &[
            ("measurement", Align::Left),
            ("change", Align::Left),
            ("now", Align::Right),
            ("then", Align::Right),
            (fit.unknown.words(), Align::Right),
            ("rules that fail", Align::Left),
        ],
    );
    for removal in &answer.removals {
        table.row([
            removal.measured.quantity.words().to_owned(),
            removal.second.words().to_owned(),
            shown(removal.second, removal.second_present, look),
            shown(removal.second, removal.second_value, look),
            shown(fit.unknown, removal.first_value, look),
            none_or(&removal.fails),
        ]);
    }
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

/// What is left of inches, in words where it is nothing at all.
pub(super) fn residual(left_in: f64, look: &Look) -> String {
    let (left, unit) = match look.writing.units {
        Units::Millimeters => (in_millimeters(inches(left_in)), "mm"),
        _ => (left_in, "in"),
    };
    if left == 0.0 { "nothing".to_owned() } else { format!("{:.0e} {unit}", left.abs()) }
}
