//! How a small change of each input changes each result: the roof is built again with the input larger
//! and smaller.

use crate::frame::{CannotBuild, Eave};
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Pitch};
use crate::plan::{EavePlan, OverhangFrom};

/// An input that is measured or chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// Span.
    Span,
    /// Unit rise: the change of rise in the unit run.
    UnitRise,
    /// Floor to plate.
    WallHeight,
    /// Plate width.
    Plate,
    /// Overhang.
    Overhang,
    /// Thickness of everything outside the wall framing.
    Finish,
    /// Ridge board thickness.
    Ridge,
    /// Rafter depth.
    Depth,
    /// Heel stand, with its seat.
    HeelStand,
    /// Fascia thickness.
    Fascia,
    /// Sub-fascia thickness.
    Subfascia,
}

impl Input {
    /// All of them.
    pub const ALL: [Input; 11] = [
        Input::Span,
        Input::UnitRise,
        Input::WallHeight,
        Input::Plate,
        Input::Overhang,
        Input::Finish,
        Input::Ridge,
        Input::Depth,
        Input::HeelStand,
        Input::Fascia,
        Input::Subfascia,
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Input::Span => "span",
            Input::UnitRise => "unit rise",
            Input::WallHeight => "wall height",
            Input::Plate => "plate width",
            Input::Overhang => "overhang",
            Input::Finish => "wall finish",
            Input::Ridge => "ridge board",
            Input::Depth => "rafter depth",
            Input::HeelStand => "heel stand",
            Input::Fascia => "fascia",
            Input::Subfascia => "sub-fascia",
        }
    }

    /// True if this roof has it.
    fn is_there(self, plan: &EavePlan) -> bool {
        let nothing = inches(0.0);
        match self {
            Input::Finish => {
                plan.rafter.overhang_from == OverhangFrom::Finish || plan.rafter.finish > nothing
            }
            Input::Ridge => plan.rafter.ridge > nothing,
            Input::Fascia => plan.rafter.fascia > nothing,
            Input::Subfascia => plan.rafter.subfascia > nothing,
            _ => true,
        }
    }

    /// The plan with this input larger by an amount.
    fn changed(
        self,
        plan: &EavePlan,
        eave: &Eave,
        by: Length,
        unit_run: Length,
    ) -> Option<EavePlan> {
        let mut plan = plan.clone();
        let rafter = &mut plan.rafter;
        match self {
            Input::Span => rafter.span += by,
            Input::UnitRise => {
                let more = 12.0 * by.inches() / unit_run.inches();
                rafter.pitch = Pitch::rise_in_12(rafter.pitch.unit_rise() + more)?;
            }
            Input::WallHeight => plan.wall_height += by,
            Input::Plate => rafter.plate += by,
            Input::Overhang => rafter.overhang += by,
            Input::Finish => rafter.finish += by,
            Input::Ridge => rafter.ridge += by,
            Input::Depth => {
                rafter.stock = crate::catalog::lumber::Section::actual(
                    rafter.stock.thickness,
                    rafter.stock.depth + by,
                );
            }
            Input::HeelStand => {
                rafter.seat = Some(eave.rafter.seat.length - by / rafter.pitch.tangent());
            }
            Input::Fascia => rafter.fascia += by,
            Input::Subfascia => rafter.subfascia += by,
        }
        Some(plan)
    }
}

/// A result that is cut, set or seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Rafter length.
    Rafter,
    /// Body length.
    Body,
    /// Tail length.
    Tail,
    /// Top of the ridge above the floor.
    Ridge,
    /// Top of the fascia above the floor.
    Fascia,
    /// Level, building line to the fascia's outer face.
    Overhang,
    /// Seat.
    Seat,
    /// Underside of the soffit above the floor.
    Soffit,
}

impl Outcome {
    /// All of them.
    pub const ALL: [Outcome; 8] = [
        Outcome::Rafter,
        Outcome::Body,
        Outcome::Tail,
        Outcome::Ridge,
        Outcome::Fascia,
        Outcome::Overhang,
        Outcome::Seat,
        Outcome::Soffit,
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Outcome::Rafter => "rafter",
            Outcome::Body => "body",
            Outcome::Tail => "tail",
            Outcome::Ridge => "ridge height",
            Outcome::Fascia => "fascia height",
            Outcome::Overhang => "overhang",
            Outcome::Seat => "seat",
            Outcome::Soffit => "soffit height",
        }
    }

    fn of(self, eave: &Eave) -> Length {
        let rafter = &eave.rafter;
        match self {
            Outcome::Rafter => rafter.rafter_length,
            Outcome::Body => rafter.body_length,
            Outcome::Tail => rafter.tail_length,
            Outcome::Ridge => eave.above_floor(rafter.ridge_top),
            Outcome::Fascia => eave.above_floor(eave.fascia_top.above_plate),
            Outcome::Overhang => eave.fascia_top.out,
            Outcome::Seat => rafter.seat.length,
            Outcome::Soffit => eave.above_floor(eave.soffit),
        }
    }
}

/// What one input does.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The input.
    pub input: Input,
    /// For each outcome, the change with the input larger and smaller; `None` if that can't be built.
    pub changes: Vec<(Outcome, [Option<Length>; 2])>,
    /// The greatest of all changes.
    pub worst: Length,
}

/// The effects of changing each input of the roof by `by` up and down, the largest first; equal ones in
/// the order of the inputs. Unit rise is changed by `by` in `unit_run` of run.
///
/// # Errors
/// [`CannotBuild`] if the roof itself can't be built.
pub fn effects(plan: &EavePlan, by: Length, unit_run: Length) -> Result<Vec<Effect>, CannotBuild> {
    let own = Eave::build(plan)?;
    let mut effects: Vec<Effect> = Input::ALL
        .into_iter()
        .filter(|input| input.is_there(plan))
        .map(|input| {
            let with = |by: Length| -> Option<Eave> {
                Eave::build(&input.changed(plan, &own, by, unit_run)?).ok()
            };
            let changed = [with(by), with(-by)];
            let changes: Vec<(Outcome, [Option<Length>; 2])> = Outcome::ALL
                .into_iter()
                .map(|outcome| {
                    let changes = changed
                        .each_ref()
                        .map(|eave| eave.as_ref().map(|eave| outcome.of(eave) - outcome.of(&own)));
                    (outcome, changes)
                })
                .collect();
            let worst = changes
                .iter()
                .flat_map(|(_, changes)| changes)
                .flatten()
                .map(|change| change.abs())
                .fold(inches(0.0), Length::max);
            Effect { input, changes, worst }
        })
        .collect();
    effects.sort_by(|a, b| b.worst.inches().total_cmp(&a.worst.inches()));
    Ok(effects)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Entries;
    use approx::assert_abs_diff_eq;

    #[test]
    fn changes_by_the_3_4_5_triangle() {
        // 9 in 12: secant 1.25, tangent 0.75; span 24 ft, seat given, overhang 12 in, no boards
        let mut entries = Entries::default();
        for (key, text) in
            [("building.span", "24'"), ("roof.pitch", "9/12"), ("rafter.seat", "2\"")]
        {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = EavePlan::read(&entries).unwrap();
        let effects = effects(&plan, inches(0.125), inches(12.0)).unwrap();
        let change = |input: Input, outcome: Outcome| {
            let effect = effects.iter().find(|effect| effect.input == input).unwrap();
            let (_, changes) = effect.changes.iter().find(|(of, _)| *of == outcome).unwrap();
            changes[0].unwrap().inches()
        };
        // 1/8 in of span: 1/16 in of run, 5/64 in of rafter, 3/64 in of height
        assert_abs_diff_eq!(change(Input::Span, Outcome::Rafter), 5.0 / 64.0, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::Span, Outcome::Ridge), 3.0 / 64.0, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::Span, Outcome::Fascia), 0.0, epsilon = 1e-9);
        // 1/8 in of overhang: 5/32 in of tail, the fascia 3/32 in lower
        assert_abs_diff_eq!(change(Input::Overhang, Outcome::Tail), 5.0 / 32.0, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::Overhang, Outcome::Fascia), -3.0 / 32.0, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::HeelStand, Outcome::Ridge), 0.125, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::HeelStand, Outcome::Seat), -1.0 / 6.0, epsilon = 1e-9);
        assert_abs_diff_eq!(change(Input::WallHeight, Outcome::Soffit), 0.125, epsilon = 1e-9);
        // the pitch has the largest effect: 1/8 in in 12 over 144 in of run less half the ridge
        assert_eq!(effects[0].input, Input::UnitRise);
        assert!(change(Input::UnitRise, Outcome::Ridge) > 1.4);
        assert!(effects.iter().all(|effect| effect.input != Input::Fascia));
    }
}
