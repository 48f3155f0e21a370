//! The opening to the attic among the joists and ties of a block: its place, which of them it cuts, and what frames it.

use crate::catalog::code_rules::RuleId;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note};
use crate::plan::gable::Access;

use super::across::{Crossing, Loose};
use super::role::Role;

/// The rough opening to the attic, in plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// From and to along the ridge, from the near end wall's framing face.
    pub x: (Length, Length),
    /// From and to across the building, from eave A's building line.
    pub y: (Length, Length),
    /// True if the user gave the place along the ridge, false if it was chosen to cut the fewest.
    pub is_placed: bool,
    /// Numbers, from 1, of the rows of rafters with a joist or tie that it cuts: on a gable those of its pairs.
    pub cut_rows: Vec<usize>,
    /// Their places along the ridge, from the near end wall's framing face to the rafter's near face.
    pub cut_at: Vec<Length>,
    /// Clear distance between the uncut joists or ties on either side: the span of a header.
    pub between: Length,
    /// On center, between the tied rows on either side.
    pub gap: Length,
    /// Level, from the farther header to the nearer bearing of the joists beside it.
    pub header_to_bearing: Length,
    /// The longest cut joist that remains from a bearing to a header.
    pub tail: Length,
    /// How many members side by side make a header: as told, else one, or two where IRC R802.9 wants them.
    pub headers: u32,
    /// How many joists side by side make a trimmer, likewise.
    pub trimmers: u32,
    /// The reach along the ridge of the header nearer to wall A, and of the other one.
    pub reach: [(Length, Length); 2],
    /// The joists added beside those that stay: from and to along the ridge, and across the building.
    pub added: Vec<Added>,
    /// True if a joist beside the opening has no room for the second one that it should have.
    pub lacks_trimmer: bool,
    /// True if a joist runs on both sides of it, which its headers hang on.
    pub is_between: bool,
}

/// A joist added beside one that stays, in plan: from and to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// Along the ridge, from the near end wall's framing face.
    pub x: (Length, Length),
    /// Across the building, from eave A's building line.
    pub y: (Length, Length),
}

/// One length of joist, or a tie, in plan, inches; with the row of rafters that it lies beside.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tie {
    pub row: usize,
    pub x: (f64, f64),
    pub y: (f64, f64),
    /// True if a second one can be added beside it, false for a piece over a joint.
    pub is_whole: bool,
}

impl Tie {
    /// The joists and ties among the level sticks of a block, each with its row.
    pub(super) fn all<'a>(
        crossing: &Crossing,
        sticks: impl Iterator<Item = (usize, &'a Loose)>,
    ) -> Vec<Tie> {
        let of = |(row, stick): (usize, &Loose)| {
            let is_whole = match stick.role {
                Role::CeilingJoist | Role::RafterTie => true,
                Role::SplicePiece => false,
                _ => return None,
            };
            let (x, y) = crossing.place(stick)?;
            Some(Tie { row, x, y, is_whole })
        };
        sticks.filter_map(of).collect()
    }
}

/// A row of rafters across a block: a pair of a gable.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rafters {
    /// Near face of its rafter over wall A.
    pub at: f64,
    /// From and to along the ridge, over both slopes.
    pub x: (f64, f64),
    /// True if an end wall holds it.
    pub is_held: bool,
}

/// The ceiling of a block among whose joists or ties the opening lies: inches along its ridge, and across it from wall A.
#[derive(Debug)]
pub(super) struct Ceiling<'a> {
    pub access: &'a Access,
    pub length: f64,
    /// How far from the ends it stays if its place is chosen.
    pub margin: f64,
    /// Between the inner faces of the plates.
    pub inner: (f64, f64),
    /// Where a header is clear of the heels of the rafters.
    pub clear: (f64, f64),
    /// Middle of an inside bearing.
    pub bearing: Option<f64>,
    pub rows: &'a [Rafters],
    /// Thickness of its joists.
    pub thick: f64,
}

/// True if two reaches have a part in common.
pub(super) fn overlaps(a: (f64, f64), b: (f64, f64)) -> bool {
    a.0 < b.1 - HAIR && b.0 < a.1 - HAIR
}

/// How far from the middle of a long building a place is looked for, inches.
const NEAR_IN: f64 = 240.0;

/// What may be beside an opening.
struct Near {
    ties: Vec<Tie>,
    /// From and to along the ridge, of each row of rafters.
    rafters: Vec<(f64, f64)>,
}

/// The sides of an opening: what runs beside it along the joists.
#[derive(Debug, Clone, PartialEq)]
struct Sides {
    /// Reach of the lower and of the upper header.
    reach: [(f64, f64); 2],
    added: Vec<((f64, f64), (f64, f64))>,
    lacks: bool,
    between: bool,
}

impl Ceiling<'_> {
    /// The opening; `None` if it has no size, or no joist and no tie is near it.
    pub(super) fn opening(&self, ties: &[Tie]) -> Option<Opening> {
        let (along, across) = self.access.sides()?;
        let (along, across) = (along.inches(), across.inches());
        if ties.is_empty() {
            return None;
        }
        let near = self.near(ties, along);
        let ties: &[Tie] = &near.ties;
        // over the middle, or over the middle of the longer joists if a bearing is in the way
        let (inner, bearing) = (self.inner, self.bearing);
        let middle = match bearing {
            Some(bearing) if bearing - inner.0 >= inner.1 - bearing => (inner.0 + bearing) / 2.0,
            Some(bearing) => (bearing + inner.1) / 2.0,
            None => (inner.0 + inner.1) / 2.0,
        };
        let center_y = self.access.y.map_or(middle, InInches::inches);
        let y = (center_y - across / 2.0, center_y + across / 2.0);
        // the bearings of the joists beside it
        let (low, high) = match bearing {
            Some(bearing) if center_y <= bearing => (inner.0, bearing),
            Some(bearing) => (bearing, inner.1),
            None => inner,
        };
        let to_bearing = |header: f64| (header - low).min(high - header).max(0.0);
        let header_to_bearing = to_bearing(y.0).max(to_bearing(y.1));
        let is_close = header_to_bearing <= RuleId::OpeningTrimmerSingle.figure() + HAIR;
        let plies = |told: Option<bool>, two: bool| if told.unwrap_or(two) { 2 } else { 1 };
        let wide =
            |x: (f64, f64)| self.between(ties, x, y) > RuleId::OpeningHeaderSingle.figure() + HAIR;
        // without a cut joist a header carries nothing
        let cuts = |x| !self.cut(ties, x, y).is_empty();
        let trimmers = |x| match cuts(x) {
            true => plies(self.access.trimmers_doubled, wide(x) || !is_close),
            false => 1,
        };
        let x = self.along(&near, (along, y), trimmers);
        let trimmers = trimmers(x);
        let headers = if cuts(x) { plies(self.access.headers_doubled, wide(x)) } else { 1 };
        let cut = self.cut(ties, x, y);
        let sides = self.sides(&near, x, y, trimmers);
        let both = |(from, to): (f64, f64)| (inches(from), inches(to));
        Some(Opening {
            x: both(x),
            y: both(y),
            is_placed: self.access.x.is_some(),
            cut_rows: cut.iter().map(|row| row + 1).collect(),
            cut_at: cut.iter().filter_map(|row| Some(inches(self.rows.get(*row)?.at))).collect(),
            between: inches(self.between(ties, x, y)),
            gap: inches(self.between_tied_rows(ties, &cut)),
            header_to_bearing: inches(header_to_bearing),
            tail: inches((y.0 - low).max(high - y.1)),
            headers,
            trimmers,
            reach: sides.reach.map(both),
            added: sides.added.iter().map(|(x, y)| Added { x: both(*x), y: both(*y) }).collect(),
            lacks_trimmer: sides.lacks,
            is_between: sides.between,
        })
    }

    /// Why the headers of an opening have no place, and what to write instead; `None` if they have.
    pub(super) fn refusal(&self, opening: &Opening) -> Option<(Note, Note)> {
        if !opening.is_between {
            return Some((
                "no joist runs on one side of the attic opening, and its headers hang on nothing there".into(),
                "move it along the ridge, between two joists".into(),
            ));
        }
        let thick = f64::from(opening.headers) * self.thick;
        let y = (opening.y.0.inches() - thick, opening.y.1.inches() + thick);
        if y.0 >= self.clear.0 - HAIR && y.1 <= self.clear.1 + HAIR {
            return None;
        }
        let (low, high) = (self.clear.0 + thick, self.clear.1 - thick);
        let help = if high - low >= opening.y.1.inches() - opening.y.0.inches() {
            Note::with(
                "keep its edges from {} to {} across, measured from the building line of eave A",
                [Amount::AtLeast(inches(low)), Amount::AtMost(inches(high))],
            )
        } else {
            "write a smaller opening, or turn it".into()
        };
        Some(("the headers of the attic opening would run into the rafters".into(), help))
    }

    /// What is near the place of an opening, or all if nothing is.
    fn near(&self, ties: &[Tie], along: f64) -> Near {
        let center = self.access.x.map_or(self.length / 2.0, InInches::inches);
        let reach = (center - NEAR_IN - along, center + NEAR_IN + along);
        let near: Vec<Tie> = ties.iter().filter(|tie| overlaps(tie.x, reach)).copied().collect();
        if near.is_empty() {
            return Near {
                ties: ties.to_vec(),
                rafters: self.rows.iter().map(|row| row.x).collect(),
            };
        }
        let rafters = self.rows.iter().map(|row| row.x).filter(|x| overlaps(*x, reach));
        Near { ties: near, rafters: rafters.collect() }
    }

    /// From where to where it reaches along the ridge.
    fn along(
        &self,
        near: &Near,
        (along, y): (f64, (f64, f64)),
        trimmers: impl Fn((f64, f64)) -> u32,
    ) -> (f64, f64) {
        let at = |center: f64| (center - along / 2.0, center + along / 2.0);
        if let Some(center) = self.access.x {
            return at(center.inches());
        }
        // a carpenter would set it against a joist, or against the second one beside it, near the middle, where it cuts the fewest
        let mid = self.length / 2.0;
        let ties = &near.ties;
        let beside = ties
            .iter()
            .flat_map(|tie| [0.0, self.thick].map(|off| (tie, off)))
            .flat_map(|(tie, off)| [tie.x.1 + off + along / 2.0, tie.x.0 - off - along / 2.0])
            .filter(|center| {
                let (from, to) = at(*center);
                from >= self.margin && to <= self.length - self.margin
            });
        let rank = |center: f64| {
            let x = at(center);
            let sides = self.sides(near, x, y, trimmers(x));
            let lacks = (!sides.between, sides.lacks, self.cut(ties, x, y).len());
            (lacks, (center - mid).abs())
        };
        let best = std::iter::once(mid).chain(beside).map(|center| (rank(center), center)).min_by(
            |((lacks_a, near_a), _), ((lacks_b, near_b), _)| {
                lacks_a.cmp(lacks_b).then(near_a.total_cmp(near_b))
            },
        );
        at(best.map_or(mid, |(_, center)| center))
    }

    /// The rows of the joists or ties that a place cuts.
    fn cut(&self, ties: &[Tie], x: (f64, f64), y: (f64, f64)) -> Vec<usize> {
        let cut = ties.iter().filter(|tie| overlaps(tie.x, x) && overlaps(tie.y, y));
        let mut rows: Vec<usize> = cut.map(|tie| tie.row).collect();
        rows.dedup();
        rows
    }

    /// The joists or ties in a strip across that stay beside a place.
    fn stays<'a>(
        &'a self,
        ties: &'a [Tie],
        x: (f64, f64),
        strip: (f64, f64),
    ) -> impl Iterator<Item = &'a Tie> {
        ties.iter().filter(move |tie| overlaps(tie.y, strip) && !overlaps(tie.x, x))
    }

    /// Clear, between what stays on both sides of a place.
    fn between(&self, ties: &[Tie], x: (f64, f64), y: (f64, f64)) -> f64 {
        let (before, beyond) = self.beside(ties, x, y);
        beyond.map_or(self.length, |tie| tie.x.0) - before.map_or(0.0, |tie| tie.x.1)
    }

    /// What stays next to a place on both sides, in a strip across.
    fn beside<'a>(
        &'a self,
        ties: &'a [Tie],
        x: (f64, f64),
        strip: (f64, f64),
    ) -> (Option<&'a Tie>, Option<&'a Tie>) {
        let stays = || self.stays(ties, x, strip);
        let before = stays()
            .filter(|tie| tie.x.1 <= x.0 + HAIR)
            .max_by(|one, other| one.x.1.total_cmp(&other.x.1));
        let beyond = stays()
            .filter(|tie| tie.x.0 >= x.1 - HAIR)
            .min_by(|one, other| one.x.0.total_cmp(&other.x.0));
        (before, beyond)
    }

    /// What runs beside a place: the reach of its headers, and the joists added where the trimmers are doubled.
    fn sides(&self, near: &Near, x: (f64, f64), y: (f64, f64), trimmers: u32) -> Sides {
        let thick = self.thick;
        let ties = &near.ties;
        let is_free = |place: (f64, f64), across: (f64, f64)| {
            let rafter = near.rafters.iter().any(|rafter| overlaps(*rafter, place));
            let tie = ties.iter().any(|tie| overlaps(tie.x, place) && overlaps(tie.y, across));
            !rafter && !tie && place.0 >= -HAIR && place.1 <= self.length + HAIR
        };
        let mut added: Vec<((f64, f64), (f64, f64))> = Vec::new();
        let (mut lacks, mut between) = (false, true);
        // a header lies beyond the edge, where another length of joist may be
        let strips = [(y.0 - thick, y.0), (y.1, y.1 + thick)];
        let reach = strips.map(|strip| {
            let (before, beyond) = self.beside(ties, x, strip);
            let mut reach =
                (before.map_or(0.0, |tie| tie.x.1), beyond.map_or(self.length, |tie| tie.x.0));
            between &= before.is_some() && beyond.is_some();
            if trimmers < 2 {
                return reach;
            }
            for (tie, is_before) in [before.map(|tie| (tie, true)), beyond.map(|tie| (tie, false))]
                .into_iter()
                .flatten()
            {
                let (low, high) = ((tie.x.0 - thick, tie.x.0), (tie.x.1, tie.x.1 + thick));
                let (inside, outside) = if is_before { (high, low) } else { (low, high) };
                if !tie.is_whole {
                    lacks = true;
                    continue;
                }
                let leaves_room = !overlaps(inside, x);
                let known = |place: (f64, f64)| {
                    added.iter().any(|(own, across)| *own == place && *across == tie.y)
                };
                if leaves_room && (known(inside) || is_free(inside, tie.y)) {
                    if !known(inside) {
                        added.push((inside, tie.y));
                    }
                    if is_before {
                        reach.0 = inside.1;
                    } else {
                        reach.1 = inside.0;
                    }
                } else if !known(outside) {
                    if is_free(outside, tie.y) {
                        added.push((outside, tie.y));
                    } else {
                        lacks = true;
                    }
                }
            }
            reach
        });
        Sides { reach, added, lacks, between }
    }

    /// On center, between the tied rows on either side of those whose joist or tie is `cut`, inches.
    fn between_tied_rows(&self, ties: &[Tie], cut: &[usize]) -> f64 {
        let (Some(&first), Some(&last)) = (cut.first(), cut.last()) else {
            return 0.0;
        };
        let rows = self.rows;
        // end walls hold their own rafters
        let is_held =
            |number: usize| rows[number].is_held || ties.iter().any(|tie| tie.row == number);
        let stays_tied = |number: &usize| is_held(*number) && !cut.contains(number);
        let low = (0..first).rev().find(stays_tied);
        let high = (last + 1..rows.len()).find(stays_tied);
        high.map_or(self.length, |number| rows[number].at)
            - low.map_or(0.0, |number| rows[number].at)
    }
}

/// The frame's note on an opening that cuts joists or ties.
pub(super) fn note(opening: &Opening) -> Option<Note> {
    if opening.cut_rows.is_empty() {
        return None;
    }
    Some(Note::with(
        format!(
            "the attic opening, {{}} to {{}} along the ridge and {{}} to {{}} across, cuts the joist or tie of pair {}, which ties its rafters no longer",
            numbers(&opening.cut_rows)
        ),
        [opening.x.0, opening.x.1, opening.y.0, opening.y.1],
    ))
}

/// The same of a roof without pairs: the rafters told by their places.
#[must_use]
pub fn note_at(opening: &Opening) -> Option<Note> {
    let (last, rest) = opening.cut_at.split_last()?;
    let places = match rest.len() {
        0 => "{}".to_owned(),
        count => format!("{} and {{}}", vec!["{}"; count].join(", ")),
    };
    let place = [opening.x.0, opening.x.1, opening.y.0, opening.y.1];
    Some(Note::with(
        format!(
            "the attic opening, {{}} to {{}} along the ridge and {{}} to {{}} across, cuts the joist or tie beside the rafters at {places} from the near end wall, which ties them no longer"
        ),
        place.iter().chain(rest).chain([last]).copied(),
    ))
}

/// `9`, `8 and 9`, `8, 9 and 10`.
#[must_use]
pub fn numbers(pairs: &[usize]) -> String {
    let words: Vec<String> = pairs.iter().map(usize::to_string).collect();
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    }
}
