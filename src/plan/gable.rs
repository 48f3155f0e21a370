//! The inputs of a whole gable roof.

use super::asked::{Asked, PLIES, YES_NO};
use super::blocks::{AtticOpening, Blocks, Defaults};
use super::entry::Entries;
use super::fault::Faults;
use super::rafter::RafterPlan;
use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::Length;
use crate::measure::quantity::inches;

/// Where the layout of rafters starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayoutFrom {
    /// At the end wall's outer framing face.
    Wall,
    /// At the sheathing's edge on the rake.
    Rake,
}

impl LayoutFrom {
    pub(super) const CHOICES: [(&str, LayoutFrom); 2] =
        [("wall", LayoutFrom::Wall), ("rake", LayoutFrom::Rake)];
}

/// Where two pieces of ridge board meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RidgeJoints {
    /// Midway between two pairs of rafters.
    Between,
    /// At the middle of a pair, which clasps the joint.
    Pair,
    /// Nowhere: one piece, however long.
    None,
}

impl RidgeJoints {
    pub(super) const CHOICES: [(&str, RidgeJoints); 3] = [
        ("between", RidgeJoints::Between),
        ("pair", RidgeJoints::Pair),
        ("none", RidgeJoints::None),
    ];
}

/// Blocking between rafters over the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocking {
    /// Up to the roof plane.
    Full,
    /// Held down for air.
    Held,
    /// None.
    None,
}

impl Blocking {
    pub(super) const CHOICES: [(&str, Blocking); 3] =
        [("full", Blocking::Full), ("held", Blocking::Held), ("none", Blocking::None)];
}

/// How the rake overhang is supported.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RakeFraming {
    /// A ladder of rungs between the barge rafter and the end rafter.
    Ladder,
    /// Outlookers over a ripped end rafter.
    Over,
    /// Outlookers let into the end rafter.
    Notched,
}

impl RakeFraming {
    pub(super) const CHOICES: [(&str, RakeFraming); 3] = [
        ("ladder", RakeFraming::Ladder),
        ("over", RakeFraming::Over),
        ("notched", RakeFraming::Notched),
    ];
}

/// How ceiling joists run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joists {
    /// Beside the rafters, which they tie.
    Beside,
    /// Across the rafters: separate rafter ties hold the walls.
    Across,
    /// There are none.
    None,
}

impl Joists {
    pub(super) const CHOICES: [(&str, Joists); 3] =
        [("beside", Joists::Beside), ("across", Joists::Across), ("none", Joists::None)];
}

/// How two lengths of joist stay beside their rafters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meeting {
    /// They lap, and the rafters are offset across the ridge by a joist's thickness.
    Offset,
    /// They meet end to end with a splice piece beside the joint.
    Splice,
    /// They lap, and a filler keeps the second one beside its rafter.
    Filler,
}

impl Meeting {
    pub(super) const CHOICES: [(&str, Meeting); 3] =
        [("offset", Meeting::Offset), ("splice", Meeting::Splice), ("filler", Meeting::Filler)];
}

/// Everything that decides the frame of a gable roof.
#[derive(Debug, Clone, PartialEq)]
pub struct GablePlan {
    /// The common rafter and its eave.
    pub rafter: RafterPlan,
    /// End wall framing to end wall framing, along the ridge.
    pub length: Length,
    /// Floor to plate.
    pub wall_height: Length,
    /// Top of floor to the window head, if it was written.
    pub window_head: Option<Length>,
    /// Wall sheathing.
    pub sheathing: Length,
    /// Gable stud section.
    pub stud: Section,
    /// Rafter spacing on center.
    pub spacing: Length,
    /// Where the layout starts.
    pub layout_from: LayoutFrom,
    /// Where ridge pieces meet.
    pub ridge_joints: RidgeJoints,
    /// Blocking over the plate.
    pub blocking: Blocking,
    /// Air above held-down blocking.
    pub air_gap: Length,
    /// Soffit panel thickness.
    pub soffit: Length,
    /// True if the soffit has framing.
    pub soffit_framing: bool,
    /// Rake overhang; zero for none.
    pub rake: Length,
    /// How it is supported.
    pub rake_framing: RakeFraming,
    /// Outlooker section, laid flat.
    pub outlooker: Section,
    /// Spacing of rungs or outlookers along the slope.
    pub rake_spacing: Length,
    /// How joists run.
    pub joists: Joists,
    /// Joist section.
    pub joist: Section,
    /// Middle of the inside bearing, from eave A's building line.
    pub bearing: Option<Length>,
    /// Width of the inside bearing.
    pub bearing_width: Length,
    /// How two lengths of joist meet.
    pub meeting: Meeting,
    /// Their lap.
    pub lap: Length,
    /// Rafter tie section.
    pub tie: Section,
    /// Greatest spacing of rafter ties.
    pub tie_spacing: Length,
    /// Bottom of joists or ties above the plate, if it was given.
    pub tie_height: Option<Length>,
    /// True if there are collar ties.
    pub collars: bool,
    /// Collar tie section.
    pub collar: Section,
    /// Greatest spacing of collar ties.
    pub collar_spacing: Length,
    /// Bottom of the collar ties above the plate, if it was given.
    pub collar_height: Option<Length>,
    /// True if there are gable studs.
    pub gable_studs: bool,
    /// Gable stud spacing.
    pub gable_spacing: Length,
    /// Vent opening: clear width, height and sill height above the plate.
    pub vent: Option<Vent>,
    /// The opening to the attic.
    pub access: Access,
    /// Longest piece of ridge, fascia, ledgers and plates.
    pub longest: Length,
    /// What there is beside one gable.
    pub blocks: Blocks,
}

/// The rough opening to the attic in the ceiling, as given.
#[derive(Debug, Clone, PartialEq)]
pub struct Access {
    /// The name of the `[[opening]]` that tells it; `None` if the table `attic` does.
    pub opening: Option<String>,
    /// One side.
    pub width: Option<Length>,
    /// The other side.
    pub length: Option<Length>,
    /// True if the longer side lies along the ridge.
    pub along_ridge: bool,
    /// Its middle along the ridge, from the near end wall's framing face.
    pub x: Option<Length>,
    /// Its middle across the building, from eave A's building line.
    pub y: Option<Length>,
    /// Headers told to be doubled, or single.
    pub headers_doubled: Option<bool>,
    /// Trimmers told to be doubled, or single.
    pub trimmers_doubled: Option<bool>,
}

impl Access {
    fn ask(asked: &mut Asked<'_>) -> Option<Access> {
        let plies = |asked: &mut Asked<'_>, key| asked.choice(key, &PLIES);
        Some(Access {
            opening: None,
            width: asked.optional_length(key!("attic.access_width")),
            length: asked.optional_length(key!("attic.access_length")),
            along_ridge: asked
                .choice(key!("attic.access_along"), &[("joists", false), ("ridge", true)])?,
            x: asked.optional_length(key!("attic.access_x")),
            y: asked.optional_length(key!("attic.access_y")),
            headers_doubled: asked.where_given(key!("attic.access_headers"), plies),
            trimmers_doubled: asked.where_given(key!("attic.access_trimmers"), plies),
        })
    }

    /// The same as an opening in the ceiling tells it.
    fn told_by(self, opening: &AtticOpening) -> Access {
        let AtticOpening { name, start, width, from, length, .. } = opening;
        Access {
            opening: Some(name.clone()),
            width: Some(*width),
            length: Some(*length),
            along_ridge: width > length,
            x: Some(*start + *width / 2.0),
            y: Some(*from + *length / 2.0),
            ..self
        }
    }

    /// How far it reaches along the ridge and across the building; `None` unless both sides are known.
    #[must_use]
    pub fn sides(&self) -> Option<(Length, Length)> {
        let (a, b) = (self.width?, self.length?);
        let (short, long) = (a.min(b), a.max(b));
        (short > inches(0.0)).then_some(if self.along_ridge {
            (long, short)
        } else {
            (short, long)
        })
    }
}

/// A vent opening in the middle of each gable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vent {
    /// Clear width.
    pub width: Length,
    /// Clear height.
    pub height: Length,
    /// Bottom above the plate.
    pub sill: Length,
}

impl Vent {
    /// `None` where no width, or none above zero, was written.
    fn ask(asked: &mut Asked<'_>) -> Option<Vent> {
        let width = asked.optional_length(key!("gable.vent_width"));
        let height = asked.length(key!("gable.vent_height"));
        let sill = asked.length(key!("gable.vent_sill"));
        let width = width.filter(|width| *width > inches(0.0))?;
        Some(Vent { width, height: height?, sill: sill? })
    }
}

impl GablePlan {
    /// Reads the plan from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<GablePlan, Faults> {
        let (mut plan, used) = Asked::whole(entries, GablePlan::ask)?;
        plan.rafter.used = used;
        Ok(plan)
    }

    /// Reads every field; `None` if a required one could not be read.
    pub fn ask(asked: &mut Asked<'_>) -> Option<GablePlan> {
        let rafter = RafterPlan::ask(asked);
        asked.require(key!("building.length"));
        let length = asked.length(key!("building.length"));
        let wall_height = asked.length(key!("building.wall_height"));
        let sheathing = asked.length(key!("building.sheathing"));
        let stud = asked.section(key!("building.stud"));
        let spacing = asked.length(key!("roof.spacing"));
        let layout_from = asked.choice(key!("roof.layout_from"), &LayoutFrom::CHOICES);
        let ridge_joints = asked.choice(key!("ridge.joints"), &RidgeJoints::CHOICES);
        let blocking = asked.choice(key!("eave.blocking"), &Blocking::CHOICES);
        let air_gap = asked.length(key!("eave.air_gap"));
        let window_head = asked.optional_length(key!("building.window_head"));
        let soffit = asked.thickness(key!("eave.soffit"));
        let soffit_framing = asked.choice(key!("eave.soffit_framing"), &YES_NO);
        let rake = asked.length(key!("rake.overhang"));
        let rake_framing = asked.choice(key!("rake.framing"), &RakeFraming::CHOICES);
        let outlooker = asked.section(key!("rake.stock"));
        let rake_spacing = asked.length(key!("rake.spacing"));
        let joists = asked.choice(key!("ceiling.joists"), &Joists::CHOICES);
        let joist = asked.section(key!("ceiling.stock"));
        let bearing = asked.optional_length(key!("ceiling.bearing"));
        let bearing_width = asked.width(key!("ceiling.bearing_width"));
        let meeting = asked.choice(key!("ceiling.meeting"), &Meeting::CHOICES);
        let lap = asked.length(key!("ceiling.lap"));
        let tie = asked.section(key!("ceiling.tie_stock"));
        let tie_spacing = asked.length(key!("ceiling.tie_spacing"));
        let tie_height = asked.optional_length(key!("ceiling.tie_height"));
        let collars = asked.choice(key!("collar.ties"), &YES_NO);
        let collar = asked.section(key!("collar.stock"));
        let collar_spacing = asked.length(key!("collar.spacing"));
        let collar_height = asked.optional_length(key!("collar.height"));
        let gable_studs = asked.choice(key!("gable.studs"), &YES_NO);
        let gable_spacing = asked.length(key!("gable.spacing"));
        let access = Access::ask(asked);
        let vent = Vent::ask(asked);
        let rafter = rafter?;
        let blocks = Blocks::ask(
            asked,
            &Defaults {
                pitch: rafter.pitch,
                wall_height: wall_height?,
                overhang: rafter.overhang,
                past: rafter.eave_reach() - rafter.overhang,
                rake: rake?,
                depth: inches(rafter.stock.depth_in()),
            },
        );
        let longest = rafter.lengths.longest_joined();
        let plan = GablePlan {
            rafter,
            length: length?,
            wall_height: wall_height?,
            window_head,
            sheathing: sheathing?,
            stud: stud?,
            spacing: spacing?,
            layout_from: layout_from?,
            ridge_joints: ridge_joints?,
            blocking: blocking?,
            air_gap: air_gap?,
            soffit: soffit?,
            soffit_framing: soffit_framing?,
            rake: rake?,
            rake_framing: rake_framing?,
            outlooker: outlooker?,
            rake_spacing: rake_spacing?,
            joists: joists?,
            joist: joist?,
            bearing,
            bearing_width: bearing_width?,
            meeting: meeting?,
            lap: lap?,
            tie: tie?,
            tie_spacing: tie_spacing?,
            tie_height,
            collars: collars?,
            collar: collar?,
            collar_spacing: collar_spacing?,
            collar_height,
            gable_studs: gable_studs?,
            gable_spacing: gable_spacing?,
            vent,
            access: match &blocks.as_ref()?.attic {
                Some((_, opening)) => access?.told_by(opening),
                None => access?,
            },
            longest,
            blocks: blocks?,
        };
        plan.forget_what_shaped_nothing(asked);
        plan.refuse_what_numbers_tell(asked);
        Some(plan)
    }

    /// Defaults of parts that this roof does not have are not worth listing.
    fn forget_what_shaped_nothing(&self, asked: &mut Asked<'_>) {
        if self.rafter.ridge == inches(0.0) {
            asked.forget(&[key!("ridge.joints")]);
        }
        if self.blocking != Blocking::Held {
            asked.forget(&[key!("eave.air_gap")]);
        }
        asked.forget(&[
            key!("roof.shape"),
            key!("roof.pitch_b"),
            key!("roof.near_end"),
            key!("roof.far_end"),
            key!("roof.hip_pitch"),
            key!("roof.hip_stock"),
            key!("roof.valley_stock"),
            key!("roof.backed"),
            key!("building.wall_height_b"),
        ]);
        if self.rake == inches(0.0) {
            asked.forget(&[key!("rake.framing"), key!("rake.stock"), key!("rake.spacing")]);
        } else if self.rake_framing == RakeFraming::Ladder {
            asked.forget(&[key!("rake.stock")]);
        }
        if self.joists != Joists::Beside {
            asked.forget(&[
                key!("ceiling.bearing"),
                key!("ceiling.meeting"),
                key!("ceiling.lap"),
                key!("ceiling.bearing_width"),
            ]);
        } else if self.bearing.is_none() {
            asked.forget(&[
                key!("ceiling.meeting"),
                key!("ceiling.lap"),
                key!("ceiling.bearing_width"),
            ]);
        }
        if self.joists == Joists::None {
            asked.forget(&[key!("ceiling.stock"), key!("ceiling.tie_height")]);
        }
        if self.access.sides().is_none() || self.joists == Joists::None {
            asked.forget(&[
                key!("attic.access_along"),
                key!("attic.access_x"),
                key!("attic.access_y"),
                key!("attic.access_headers"),
                key!("attic.access_trimmers"),
            ]);
        }
        if self.joists != Joists::Across {
            asked.forget(&[key!("ceiling.tie_stock"), key!("ceiling.tie_spacing")]);
        }
        if !self.collars {
            asked.forget(&[key!("collar.stock"), key!("collar.spacing"), key!("collar.height")]);
        }
        if !self.gable_studs {
            asked.forget(&[
                key!("gable.spacing"),
                key!("gable.vent_width"),
                key!("gable.vent_height"),
                key!("gable.vent_sill"),
            ]);
        } else if self.vent.is_none() {
            asked.forget(&[key!("gable.vent_height"), key!("gable.vent_sill")]);
        }
    }
}
