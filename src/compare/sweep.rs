//! The values that are tried of what may be varied, and the candidates that come of them.

use crate::catalog::{Grade, Species};
use crate::key;
use crate::measure::quantity::InInches;
use crate::measure::{Units, Writing};
use crate::plan::{Asked, Entries, Fault, Faults, Joists, Key, OrderPlan, Place};

use super::axis::{Axis, axis_words, used_value};

/// Most candidates of one search.
pub(super) const MOST_CANDIDATES: usize = 2_000_000;

/// The sections to try if none are listed.
const USUAL_SECTIONS: [&str; 3] = ["2x6", "2x8", "2x10"];
/// The ridge boards to try if none are listed.
const USUAL_RIDGES: [&str; 3] = ["2x8", "2x10", "2x12"];
/// The spacings to try if none are listed: those that sheets break on.
pub const USUAL_SPACINGS: [&str; 4] = ["12\"", "16\"", "19.2\"", "24\""];
/// The grades to try if the roof has none.
const USUAL_GRADES: [&str; 2] = ["No.1", "No.2"];

/// One value of an axis.
#[derive(Debug, Clone)]
struct Value {
    /// As written in a roof file; `None` if the field stays as it is.
    text: Option<String>,
    /// The plan with only this value changed.
    plan: OrderPlan,
}

/// Everything that may be varied, over one roof file.
#[derive(Debug, Clone)]
pub struct Sweep {
    /// The roof as it is.
    pub present: OrderPlan,
    /// The same without its list of values used, which is slower to copy than everything else.
    bare: OrderPlan,
    entries: Entries,
    options: Vec<Vec<Value>>,
    /// Whether the user listed the values of each axis, in the order of [`Axis::ALL`].
    pub given: Vec<bool>,
}

/// The indices of a candidate's parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Parts {
    /// Pattern rafter and eave.
    pub pattern: usize,
    /// Spacing.
    pub spacing: usize,
    /// Joist.
    pub joist: usize,
    /// Species and grade.
    pub lumber: usize,
}

impl Parts {
    /// The parts of a pattern with a bay, counted spacing by spacing and in each joist by joist; the first lumber.
    pub(super) fn of_bay(pattern: usize, bay: usize, joists: usize) -> Parts {
        Parts { pattern, spacing: bay / joists, joist: bay % joists, lumber: 0 }
    }
}

impl Sweep {
    /// Reads what to vary from the entries.
    ///
    /// # Errors
    /// Every fault of the roof and of the values, each of which is read as its own field would be.
    pub fn read(entries: &Entries) -> Result<Sweep, Faults> {
        let mut asked = Asked::new(entries);
        let lists: Vec<Option<Vec<String>>> = Axis::ALL
            .into_iter()
            .map(|axis| asked.given(axis.key()).then(|| asked.sweep(axis.key())).flatten())
            .collect();
        let mut faults = std::mem::take(&mut asked.faults);
        // the faults of the lists are already known: read the roof without them
        let present = match OrderPlan::read(&entries.without_table("compare")) {
            Ok(present) => present,
            Err(own) => {
                faults.extend(own);
                return Err(faults);
            }
        };
        let given: Vec<bool> = lists.iter().map(Option::is_some).collect();
        let mut options = Vec::new();
        for (axis, list) in Axis::ALL.into_iter().zip(lists) {
            let list = list.or_else(|| usual(axis, &present, entries));
            options.push(match list {
                Some(list) => read_options(axis, &list, entries, &mut faults),
                None => vec![Value { text: None, plan: present.clone() }],
            });
        }
        let mut bare = present.clone();
        bare.used.clear();
        bare.gable.rafter.used.clear();
        let sweep = Sweep { present, bare, entries: entries.clone(), options, given };
        sweep.refuse_together(&mut faults);
        if faults.is_empty() { Ok(sweep) } else { Err(faults) }
    }

    fn refuse_together(&self, faults: &mut Faults) {
        let place = |axis: Axis| Asked::new(&self.entries).place(axis.key());
        let thickest = self
            .of(Axis::Rafter)
            .iter()
            .fold(0.0, |most: f64, option| most.max(option.plan.gable.rafter.stock.thickness_in()));
        let narrowest = self
            .of(Axis::Spacing)
            .iter()
            .fold(f64::INFINITY, |least, option| least.min(option.plan.gable.spacing.inches()));
        if narrowest < 2.0 * thickest {
            faults.push(Fault::new(
                place(Axis::Spacing),
                format!("{narrowest:.3} in leaves no room between rafters {thickest:.3} in thick"),
                format!("write spacings of at least {:.3} in", 2.0 * thickest),
            ));
        }
        let count = self
            .options
            .iter()
            .try_fold(1_usize, |count, options| count.checked_mul(options.len()));
        if count.is_none_or(|count| count > MOST_CANDIDATES) {
            let counts: Vec<String> = Axis::ALL
                .into_iter()
                .zip(&self.options)
                .filter(|(_, options)| options.len() > 1)
                .map(|(axis, options)| format!("{} {}", options.len(), axis.name()))
                .collect();
            let widest = (0..Axis::ALL.len())
                .max_by_key(|&axis| self.options[axis].len())
                .unwrap_or_default();
            faults.push(Fault::new(
                place(Axis::ALL[widest]),
                format!("{} are over {MOST_CANDIDATES} candidates", counts.join(" x ")),
                "write fewer values, or a larger step",
            ));
        }
    }

    fn of(&self, axis: Axis) -> &[Value] {
        &self.options[axis as usize]
    }

    /// Number of values of an axis.
    #[must_use]
    pub fn count(&self, axis: Axis) -> usize {
        self.of(axis).len()
    }

    /// The values of an axis as they would be written.
    #[must_use]
    pub fn values(&self, axis: Axis) -> Vec<String> {
        (0..self.count(axis)).map(|value| self.text(axis, value)).collect()
    }

    /// One value of an axis as written in a roof file; that of the present roof if the axis is not
    /// varied.
    #[must_use]
    pub fn text(&self, axis: Axis, value: usize) -> String {
        match &self.of(axis)[value].text {
            Some(text) => text.clone(),
            None => self.present_text(axis),
        }
    }

    /// One value of an axis for people, in their units.
    #[must_use]
    pub fn words(&self, axis: Axis, value: usize, writing: Writing) -> String {
        if writing.units != Units::Millimeters {
            return self.text(axis, value);
        }
        let plan = &self.of(axis)[value].plan;
        used_value(axis, plan)
            .map_or_else(|| self.text(axis, value), |used| axis_words(axis, &used, writing))
    }

    /// Names of candidates: the values that they share on the varied axes, then the differing ones of
    /// each of the first `most`.
    #[must_use]
    pub fn names(
        &self,
        candidates: &[usize],
        most: usize,
        writing: Writing,
    ) -> (String, Vec<String>) {
        let values: Vec<[usize; 11]> =
            candidates.iter().map(|candidate| self.value_numbers(*candidate)).collect();
        let varied = Axis::ALL.into_iter().filter(|axis| self.count(*axis) > 1);
        let (common, own): (Vec<Axis>, Vec<Axis>) = varied.partition(|axis| {
            let at = *axis as usize;
            values.windows(2).all(|pair| pair[0][at] == pair[1][at])
        });
        let name = |axes: &[Axis], values: &[usize; 11]| -> String {
            let parts = axes.iter().map(|axis| {
                let value = self.words(*axis, values[*axis as usize], writing);
                format!("{} {value}", axis.name())
            });
            parts.collect::<Vec<_>>().join(", ")
        };
        let in_common = values.first().map(|first| name(&common, first));
        let each = if own.is_empty() {
            Vec::new()
        } else {
            let first = values.iter().take(most);
            first.map(|values| name(&own, values)).collect()
        };
        (in_common.unwrap_or_default(), each)
    }

    /// The value of the present roof as written, or its default.
    #[must_use]
    pub fn present_text(&self, axis: Axis) -> String {
        use crate::plan::field::Default;
        let text = match (self.entries.get(axis.varies()), Some(axis.varies().field().default)) {
            (Some(entry), _) => entry.text.clone(),
            (None, Some(Default::Value(text))) => text.to_owned(),
            _ => "-".to_owned(),
        };
        match axis.detail().and_then(|detail| self.entries.get(detail)) {
            Some(detail) => format!("{text}, {} {}", detail.field.name(), detail.text),
            None => text,
        }
    }

    /// Number of pattern rafters with their eaves.
    #[must_use]
    pub fn patterns(&self) -> usize {
        Axis::ALL[..7].iter().map(|axis| self.count(*axis)).product()
    }

    /// Number of species and grades together.
    #[must_use]
    pub fn lumbers(&self) -> usize {
        self.count(Axis::Species) * self.count(Axis::Grade)
    }

    /// Number of candidates.
    #[must_use]
    pub fn candidates(&self) -> usize {
        self.options.iter().map(Vec::len).product()
    }

    /// The parts of a candidate, by its index.
    #[must_use]
    pub fn parts(&self, candidate: usize) -> Parts {
        let lumbers = self.lumbers();
        let (rest, lumber) = (candidate / lumbers, candidate % lumbers);
        let joists = self.count(Axis::Joist);
        let (rest, joist) = (rest / joists, rest % joists);
        let spacings = self.count(Axis::Spacing);
        Parts { pattern: rest / spacings, spacing: rest % spacings, joist, lumber }
    }

    /// The value of each axis of a candidate, in the order of [`Axis::ALL`].
    #[must_use]
    pub fn value_numbers(&self, candidate: usize) -> [usize; 11] {
        let mut rest = candidate;
        let mut values = [0; 11];
        for axis in Axis::ALL.into_iter().rev() {
            values[axis as usize] = rest % self.count(axis);
            rest /= self.count(axis);
        }
        values
    }

    /// The plan of a candidate, without its list of values used.
    #[must_use]
    pub fn plan(&self, candidate: usize) -> OrderPlan {
        let mut plan = self.bare.clone();
        for (axis, value) in Axis::ALL.into_iter().zip(self.value_numbers(candidate)) {
            axis.take(&self.of(axis)[value].plan, &mut plan);
        }
        plan
    }

    /// The index of the first candidate with these parts.
    #[must_use]
    pub fn candidate(&self, parts: Parts) -> usize {
        ((parts.pattern * self.count(Axis::Spacing) + parts.spacing) * self.count(Axis::Joist)
            + parts.joist)
            * self.lumbers()
            + parts.lumber
    }

    /// Species and grade by their number.
    #[must_use]
    pub fn lumber(&self, lumber: usize) -> (Option<Species>, Option<Grade>) {
        let grades = self.count(Axis::Grade);
        (
            self.of(Axis::Species)[lumber / grades].plan.checks.species,
            self.of(Axis::Grade)[lumber % grades].plan.checks.grade,
        )
    }

    /// The entries of a roof file for the candidate, in the same form as those of any roof file.
    #[must_use]
    pub fn entries(&self, candidate: usize) -> Entries {
        let mut entries = self.entries.clone();
        for (axis, value) in Axis::ALL.into_iter().zip(self.value_numbers(candidate)) {
            if let Some(text) = &self.of(axis)[value].text {
                let place = Asked::new(&self.entries).place(axis.key());
                entries = axis.written(&entries, text, place);
            }
        }
        entries
    }

    /// What to write in the roof file to have a candidate: each field that changes, with its new text, or
    /// none to take it out.
    #[must_use]
    pub fn changes(&self, candidate: usize) -> Vec<(Key, Option<String>)> {
        let entries = self.entries(candidate);
        let varied = Axis::ALL.into_iter().filter(|axis| self.count(*axis) > 1);
        let keys = varied.flat_map(|axis| axis.detail().into_iter().chain([axis.varies()]));
        let text = |of: &Entries, key: Key| of.get(key).map(|entry| entry.text.clone());
        keys.filter_map(|key| {
            let new = text(&entries, key);
            (new != text(&self.entries, key)).then_some((key, new))
        })
        .collect()
    }

    /// What was written for the present roof.
    #[must_use]
    pub fn present_entries(&self) -> &Entries {
        &self.entries
    }
}

/// The values to try if none are listed; `None` if the axis stays as it is.
fn usual(axis: Axis, present: &OrderPlan, entries: &Entries) -> Option<Vec<String>> {
    let gable = &present.gable;
    let own = |usual: &[&str]| -> Vec<String> {
        let mut list: Vec<String> = usual.iter().map(|text| (*text).to_owned()).collect();
        if let Some(entry) = entries.get(axis.varies()) {
            list.push(entry.text.clone());
        }
        list
    };
    match axis {
        Axis::Spacing => Some(own(&USUAL_SPACINGS)),
        Axis::Rafter => gable.rafter.stock.nominal.is_some().then(|| own(&USUAL_SECTIONS)),
        // a given depth is kept, unless boards are listed
        Axis::Ridge => (entries.get(key!("ridge.depth")).is_none()
            && entries.get(axis.varies()).is_some_and(|entry| entry.text.contains("2x")))
        .then(|| own(&USUAL_RIDGES)),
        Axis::Joist => (gable.joist.nominal.is_some() && gable.joists == Joists::Beside)
            .then(|| own(&USUAL_SECTIONS)),
        Axis::Species => present
            .checks
            .species
            .is_none()
            .then(|| Species::ALL.iter().map(|species| species.letters().to_owned()).collect()),
        Axis::Grade => present
            .checks
            .grade
            .is_none()
            .then(|| USUAL_GRADES.iter().map(|grade| (*grade).to_owned()).collect()),
        Axis::Pitch | Axis::Overhang | Axis::Tail | Axis::Fascia | Axis::Blocking => None,
    }
}

/// Reads each value as its own field would be read; equal ones are kept once.
fn read_options(axis: Axis, list: &[String], entries: &Entries, faults: &mut Faults) -> Vec<Value> {
    let place: Place = Asked::new(entries).place(axis.key());
    let roof = entries.without_table("compare");
    let mut options: Vec<Value> = Vec::new();
    for text in list {
        match OrderPlan::read(&axis.written(&roof, text, place.clone())) {
            Ok(plan) => {
                // the values used record the text and not its meaning
                let same = |option: &Value| {
                    let mut taken = option.plan.clone();
                    axis.take(&plan, &mut taken);
                    taken.gable == option.plan.gable && taken.checks == option.plan.checks
                };
                if !options.iter().any(same) {
                    options.push(Value { text: Some(text.clone()), plan });
                }
            }
            Err(refused) => faults.extend(refused.into_iter().map(|fault| Fault {
                message: format!("{text}: {}", fault.message),
                part: None,
                ..fault
            })),
        }
    }
    options
}
