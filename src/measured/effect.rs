//! How a small change of each input changes each result: the roof is built again with the input larger
//! and smaller.

use crate::frame::eave::eaves;
use crate::frame::{CannotSlope, Eave, OfSlopes};
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Pitch};
use crate::plan::{EavesPlan, OverhangFrom};

/// An input that is measured or chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// Span.
    Span,
    /// Unit rise: the change of rise in the unit run. Of both slopes if they are alike, else of slope A.
    UnitRise,
    /// Unit rise of slope B, if it is another one.
    UnitRiseB,
    /// Floor to plate. Of both walls if they are alike, else of wall A.
    WallHeight,
    /// Floor to plate of wall B, if it is another one.
    WallHeightB,
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
    pub const ALL: [Input; 13] = [
        Input::Span,
        Input::UnitRise,
        Input::UnitRiseB,
        Input::WallHeight,
        Input::WallHeightB,
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
            Input::UnitRiseB => "unit rise of slope B",
            Input::WallHeight => "wall height",
            Input::WallHeightB => "wall height B",
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
    fn is_there(self, plan: &EavesPlan) -> bool {
        let nothing = inches(0.0);
        let rafter = &plan.eave.rafter;
        match self {
            Input::Finish => {
                rafter.overhang_from == OverhangFrom::Finish || rafter.finish > nothing
            }
            Input::Ridge => rafter.ridge > nothing && !plan.slopes.is_shed(),
            Input::Fascia => rafter.fascia > nothing,
            Input::Subfascia => rafter.subfascia > nothing,
            Input::UnitRiseB => has_pitch_b(plan),
            Input::WallHeightB => has_plate_b(plan),
            _ => true,
        }
    }

    /// The plan with this input larger by an amount.
    fn changed(
        self,
        plan: &EavesPlan,
        own: &Eave,
        by: Length,
        unit_run: Length,
    ) -> Option<EavesPlan> {
        let mut plan = plan.clone();
        let (pitch_is_own, plate_is_own) = (has_pitch_b(&plan), has_plate_b(&plan));
        let EavesPlan { eave, slopes } = &mut plan;
        let rafter = &mut eave.rafter;
        let more = 12.0 * by.inches() / unit_run.inches();
        let steeper = |pitch: Pitch| Pitch::rise_in_12(pitch.unit_rise() + more);
        match self {
            Input::Span => rafter.span += by,
            Input::UnitRise => {
                rafter.pitch = steeper(rafter.pitch)?;
                if !pitch_is_own && !slopes.is_shed() {
                    slopes.pitch_b = Some(rafter.pitch);
                }
            }
            Input::UnitRiseB => slopes.pitch_b = Some(steeper(slopes.pitch_b?)?),
            Input::WallHeight => {
                eave.wall_height += by;
                if plate_is_own {
                    slopes.plate_b -= by;
                }
            }
            Input::WallHeightB => slopes.plate_b += by,
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
                rafter.seat = Some(own.rafter.seat.length - by / rafter.pitch.tangent());
            }
            Input::Fascia => rafter.fascia += by,
            Input::Subfascia => rafter.subfascia += by,
        }
        Some(plan)
    }
}

/// True if slope B has a pitch of its own.
fn has_pitch_b(plan: &EavesPlan) -> bool {
    plan.slopes.pitch_b.is_some_and(|pitch| pitch.tangent() != plan.eave.rafter.pitch.tangent())
}

/// True if wall B has a height of its own.
fn has_plate_b(plan: &EavesPlan) -> bool {
    plan.slopes.plate_b != inches(0.0)
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
    /// Length of a shed's high tail.
    HighTail,
    /// Top of the plate of a shed's high wall above the floor.
    HighWall,
    /// Top of the fascia at a shed's high wall above the floor.
    HighFascia,
}

impl Outcome {
    /// All of them.
    pub const ALL: [Outcome; 11] = [
        Outcome::Rafter,
        Outcome::Body,
        Outcome::Tail,
        Outcome::Ridge,
        Outcome::Fascia,
        Outcome::Overhang,
        Outcome::Seat,
        Outcome::Soffit,
        Outcome::HighTail,
        Outcome::HighWall,
        Outcome::HighFascia,
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
            Outcome::HighTail => "high tail",
            Outcome::HighWall => "high wall",
            Outcome::HighFascia => "high fascia",
        }
    }

    /// Its value; `None` if the roof does not have it.
    fn of(self, eave: &Eave) -> Option<Length> {
        let rafter = &eave.rafter;
        Some(match self {
            Outcome::Rafter => rafter.rafter_length,
            Outcome::Body => rafter.body_length,
            Outcome::Tail => rafter.tail_length,
            Outcome::Ridge if eave.high.is_some() => return None,
            Outcome::Ridge => eave.above_floor(rafter.ridge_top),
            Outcome::Fascia => eave.above_floor(eave.fascia_top.above_plate),
            Outcome::Overhang => eave.fascia_top.out,
            Outcome::Seat => rafter.seat.length,
            Outcome::Soffit => eave.above_floor(eave.soffit),
            Outcome::HighTail => rafter.high?.tail_length,
            Outcome::HighWall => eave.high.as_ref()?.wall_height,
            Outcome::HighFascia => {
                let high = eave.high.as_ref()?;
                high.wall_height + high.fascia_top.above_plate
            }
        })
    }
}

/// For each outcome that a slope has, its change with the input larger and smaller; `None` if that can't be built.
pub type Changes = Vec<(Outcome, [Option<Length>; 2])>;

/// What one input does.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The input.
    pub input: Input,
    /// What it changes on slope A or on the only slope, and on slope B if its rafter is another one.
    pub changes: OfSlopes<Changes>,
    /// The greatest of all changes.
    pub worst: Length,
}

/// The effects of changing each input of the roof by `by` up and down, the largest first; equal ones in
/// the order of the inputs. Unit rise is changed by `by` in `unit_run` of run.
///
/// # Errors
/// [`CannotSlope`] if the roof itself can't be built.
pub fn effects(plan: &EavesPlan, by: Length, unit_run: Length) -> Result<Vec<Effect>, CannotSlope> {
    let own = eaves(plan)?;
    let inputs = Input::ALL.into_iter().filter(|input| input.is_there(plan));
    let mut effects: Vec<Effect> = inputs
        .map(|input| {
            let with = |by: Length| -> Option<OfSlopes<Eave>> {
                eaves(&input.changed(plan, &own.first, by, unit_run)?).ok()
            };
            let changed = [with(by), with(-by)];
            let first = changes(&own.first, |at| Some(&changed[at].as_ref()?.first));
            // a change of one of two slopes that are alike leaves slope A's rafter to both
            let of_b = |at: usize| {
                let eaves = changed[at].as_ref()?;
                Some(eaves.slope_b.as_ref().unwrap_or(&eaves.first))
            };
            let slope_b = own.slope_b.as_ref().map(|own| changes(own, of_b));
            let changes = OfSlopes { first, slope_b };
            let worst = changes
                .iter()
                .flatten()
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

/// The changes of the outcomes of a slope, with the input larger (0) and smaller (1).
fn changes<'a>(own: &Eave, changed: impl Fn(usize) -> Option<&'a Eave>) -> Changes {
    let of = |outcome: Outcome| {
        let was = outcome.of(own)?;
        Some((outcome, [0, 1].map(|at| Some(outcome.of(changed(at)?)? - was))))
    };
    Outcome::ALL.into_iter().filter_map(of).collect()
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
        let plan = EavesPlan::read(&entries).unwrap();
        let effects = effects(&plan, inches(0.125), inches(12.0)).unwrap();
        let change = |input: Input, outcome: Outcome| {
            let effect = effects.iter().find(|effect| effect.input == input).unwrap();
            let (_, changes) = effect.changes.first.iter().find(|(of, _)| *of == outcome).unwrap();
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
