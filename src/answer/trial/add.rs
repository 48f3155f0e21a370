//! A wing, a dormer or an opening added to a roof: the first of some usual sizes and places with which the roof is framed.

use crate::key;
use crate::measure::quantity::{InInches, in_millimeters, inches, millimeters};
use crate::measure::{Length, Units};
use crate::plan::{Faults, GablePlan, Key, edit, nudge};

use super::super::{Input, Refused, Source, any_roof};

/// Most roofs that are tried: each is framed.
const MOST_TRIED: usize = 24;

/// Fields of one table with their texts.
type Fields = Vec<(Key, String)>;

/// The roof file with one more table of this name.
///
/// # Errors
/// Why the first place that was tried has no room, or why the roof is refused as it is.
pub(in crate::answer) fn added(roof: &str, table: &str) -> Result<String, Refused> {
    let source = |text: &str| Source { name: "roof.toml".to_owned(), text: text.to_owned() };
    let input = Input::of(&[], Some(source(roof)));
    let plan = input.plan(GablePlan::read)?;
    let candidates = match table {
        "wing" => wings(&plan, &input),
        "dormer" => dormers(&plan, &input),
        _ => openings(&plan, &input),
    };
    let mut first = None;
    for fields in candidates.into_iter().take(MOST_TRIED) {
        let fields: Vec<(Key, &str)> =
            fields.iter().map(|(key, text)| (*key, text.as_str())).collect();
        let Some(text) = edit::added(roof, &fields) else { continue };
        let input = Input::of(&[], Some(source(&text)));
        let framed = input.plan(GablePlan::read).and_then(|plan| any_roof::framed(&input, &plan));
        match framed {
            Ok(_) => return Ok(text),
            Err(why) => first = first.or(Some(why)),
        }
    }
    Err(first.unwrap_or_else(|| input.refused(Faults::new())))
}

/// Sizes and places of one roof, as they are written.
struct Sizes<'a> {
    plan: &'a GablePlan,
    input: &'a Input,
}

impl Sizes<'_> {
    /// A length near this one that people build by: whole parts of `grain_in` inches, or of 50 mm.
    fn round(&self, length_in: f64, grain_in: f64) -> Length {
        match self.input.units() {
            Units::Millimeters => {
                millimeters((in_millimeters(inches(length_in)) / 50.0).round() * 50.0)
            }
            _ => inches((length_in / grain_in).round() * grain_in),
        }
    }

    fn write(&self, length: Length) -> String {
        nudge::write(length, self.input.units())
    }

    /// Starts of something so wide along walls A and B: in the middle, then nearer to both ends.
    fn starts(&self, wide: Length) -> Vec<Length> {
        let room = (self.plan.length - wide).inches().max(0.0);
        [0.5, 0.25, 0.75].map(|part| self.round(room * part, 6.0)).to_vec()
    }

    /// A name that nothing in the roof has: the letter and a number.
    fn name(&self, letter: char) -> String {
        let taken = |name: &str| self.input.entries.iter().any(|entry| entry.text == name);
        let mut names = (1..).map(|number| format!("{letter}{number}"));
        names.find(|name| !taken(name)).unwrap_or_default()
    }

    /// Height of the roof over the plate so far in from the wall.
    fn roof_at(&self, in_from_wall: Length) -> f64 {
        in_from_wall.inches() * self.plan.rafter.pitch.tangent()
    }
}

fn wings(plan: &GablePlan, input: &Input) -> Vec<Fields> {
    let sizes = Sizes { plan, input };
    let mut all = Vec::new();
    for part in [0.6, 0.4] {
        let span = sizes.round(plan.rafter.span.inches().min(plan.length.inches()) * part, 12.0);
        for on in ["A", "B"] {
            for start in sizes.starts(span) {
                all.push(vec![
                    (key!("wing.name"), sizes.name('w')),
                    (key!("wing.on"), on.to_owned()),
                    (key!("wing.start"), sizes.write(start)),
                    (key!("wing.span"), sizes.write(span)),
                    (key!("wing.projection"), sizes.write(sizes.round(72.0, 12.0))),
                ]);
            }
        }
    }
    all
}

fn dormers(plan: &GablePlan, input: &Input) -> Vec<Fields> {
    let sizes = Sizes { plan, input };
    let span = sizes.round(48.0, 12.0);
    let mut all = Vec::new();
    for (in_from_wall, over) in [(36.0, 36.0), (24.0, 30.0), (36.0, 24.0), (24.0, 18.0)] {
        let in_from_wall = sizes.round(in_from_wall, 6.0);
        let wall = sizes.round(sizes.roof_at(in_from_wall) + over, 6.0);
        for on in ["A", "B"] {
            for start in sizes.starts(span) {
                all.push(vec![
                    (key!("dormer.name"), sizes.name('d')),
                    (key!("dormer.on"), on.to_owned()),
                    (key!("dormer.start"), sizes.write(start)),
                    (key!("dormer.span"), sizes.write(span)),
                    (key!("dormer.face"), sizes.write(in_from_wall)),
                    (key!("dormer.wall"), sizes.write(wall)),
                ]);
            }
        }
    }
    all
}

fn openings(plan: &GablePlan, input: &Input) -> Vec<Fields> {
    let sizes = Sizes { plan, input };
    let width = sizes.round(22.5, 0.5);
    let mut all = Vec::new();
    for (from, length) in [(36.0, 36.0), (24.0, 24.0)] {
        for on in ["A", "B"] {
            for start in sizes.starts(width) {
                all.push(vec![
                    (key!("opening.name"), sizes.name('s')),
                    (key!("opening.on"), on.to_owned()),
                    (key!("opening.start"), sizes.write(start)),
                    (key!("opening.width"), sizes.write(width)),
                    (key!("opening.from"), sizes.write(sizes.round(from, 6.0))),
                    (key!("opening.length"), sizes.write(sizes.round(length, 6.0))),
                ]);
            }
        }
    }
    all
}
