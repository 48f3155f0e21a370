//! Changes of one field that mend what fails: each is tried on the roof, and only those are shown with
//! which the finding meets and no other finding is worse.

use serde::Serialize;

use crate::frame::AnyFrame;
use crate::measure::Units;
use crate::plan::{ChecksPlan, Entries, Key, Place};
use crate::rules::{Finding, walk};

use super::super::{Asker, Input, Refused};
use super::held::Held;
use super::taken::{Taken, in_words};
use super::ways::{Way, ways};

/// Most roofs that are tried for one answer: about two seconds in a browser.
const MOST_TRIALS: usize = 400;
/// The same for a roof that is more than one gable: each takes some ten times as long to frame.
const MOST_TRIALS_BEYOND: usize = 60;
/// Most changes shown for one finding.
const MOST_SHOWN: usize = 4;

/// What mends each open finding.
#[derive(Debug, Serialize)]
pub(in crate::answer) struct Cures {
    cures: Vec<OfFinding>,
    /// How many roofs were tried.
    tried: usize,
}

#[derive(Debug, Serialize)]
struct OfFinding {
    /// The finding's id.
    finding: &'static str,
    title: &'static str,
    list: Vec<Cure>,
}

#[derive(Debug, Serialize)]
struct Cure {
    /// What changes: `Seat cut 2-7/8"`.
    words: String,
    set: [Taken; 1],
}

/// One search for changes of one roof.
struct Search<'a> {
    entries: &'a Entries,
    before: &'a Held,
    asker: &'a dyn Asker,
    most: usize,
    tried: usize,
}

impl Search<'_> {
    /// True if the roof with this text in the field mends the finding.
    fn mends(&mut self, key: Key, text: &str, finding: &Finding) -> bool {
        if self.tried >= self.most || self.asker.stops() {
            return false;
        }
        self.tried += 1;
        let place = Place::Missing { key: key.name(), flag: key.field().flag };
        let changed = Held::of(&self.entries.with(key, text, place));
        changed.is_some_and(|roof| roof.mends(finding, self.before))
    }

    /// The least change along one way that mends the finding.
    fn along(&mut self, key: Key, way: &Way, finding: &Finding) -> Option<String> {
        let mut before = 0;
        let steps = way.steps();
        let first = steps.into_iter().find(|step| {
            let mended = way.text(*step).is_some_and(|text| self.mends(key, &text, finding));
            if !mended {
                before = *step;
            }
            mended
        })?;
        // halve what lies between the last step that does not mend it and the first that does
        let mut least = first;
        while least - before > 1 {
            let middle = before + (least - before) / 2;
            if way.text(middle).is_some_and(|text| self.mends(key, &text, finding)) {
                least = middle;
            } else {
                before = middle;
            }
        }
        way.text(least)
    }

    fn of_finding(&mut self, finding: &Finding, units: Units) -> Vec<Cure> {
        let keys = walk::place(finding.id).map_or(&[][..], |place| place.cures);
        let mut list = Vec::new();
        for key in keys {
            for way in ways(*key, self.entries, self.before, finding, units) {
                list.extend(self.along(*key, &way, finding).map(|text| Cure {
                    words: format!("{} {}", key.field().label, in_words(*key, &text, units)),
                    set: [Taken::of(*key, Some(text))],
                }));
            }
        }
        list.truncate(MOST_SHOWN);
        list
    }
}

/// What mends each finding that fails or needs design.
pub(in crate::answer) fn view(
    input: &Input,
    units: Units,
    asker: &dyn Asker,
) -> Result<Cures, Refused> {
    input.plan(ChecksPlan::read)?;
    let entries = &input.entries;
    let Some(before) = Held::of(entries) else {
        return Ok(Cures { cures: Vec::new(), tried: 0 });
    };
    let most = match before.frame {
        AnyFrame::Gable(_) => MOST_TRIALS,
        AnyFrame::Hung(_) => MOST_TRIALS_BEYOND,
    };
    let mut search = Search { entries, before: &before, asker, most, tried: 0 };
    let open = before.findings.iter().filter(|finding| finding.verdict.is_open());
    let cures = open.map(|finding| OfFinding {
        finding: finding.id.name(),
        title: finding.title,
        list: search.of_finding(finding, units),
    });
    Ok(Cures { cures: cures.collect(), tried: search.tried })
}
