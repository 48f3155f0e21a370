//! What keeps the walls from spreading, and how many nails that takes.

use crate::facts;
use crate::frame::Frame;
use crate::key;
use crate::measure::quantity::{inches, psf};
use crate::plan::checks::EDITIONS;
use crate::plan::{Asked, ChecksPlan, Entries, Fault, Faults};
use crate::rules::Book;
use crate::rules::Tied;
use crate::rules::heel::HeelQuestion;
use crate::sheet::{self, Depth, Look};
use crate::strength::RoofLoad;
use crate::strength::heel_joint::{TABLE_DEAD_PSF, TieKind};

use super::{Found, Input, NotWritten, Refused, Status, csv, json};

/// The ties of a roof, or the heel joint of numbers.
pub(super) struct Ties {
    frame: Option<Frame>,
    /// Without its frame, which is the field beside it.
    tied: Tied<'static>,
}

impl Ties {
    fn tied(&self) -> Tied<'_> {
        Tied { frame: self.frame.as_ref(), ..self.tied.clone() }
    }
}

impl Found for Ties {
    fn status(&self) -> Status {
        Status::of(self.tied.verdict())
    }

    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::ties::TiesReport::of(&self.tied(), explain))
    }

    fn csv(&self, look: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::ties::rows(&self.tied(), look.writing))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::ties::text(&self.tied(), look, depth)
    }
}

/// All ties of a roof file; without a file the heel joint of the given numbers.
pub(super) fn find(input: &Input) -> Result<Ties, Refused> {
    if input.file.is_none() {
        let question = input.plan(question)?;
        let heel = question.solve().map_err(|fault| {
            let place = Asked::new(&input.entries).place(key!("ceiling.tie_height"));
            let help = "write a height from the plate to below the ridge";
            input.refused(Faults::from(Fault::new(place, fault.to_string(), help)))
        })?;
        return Ok(Ties { frame: None, tied: Tied::of_numbers(&question, heel) });
    }
    let (plan, checks, _) = input.plan(ChecksPlan::read)?;
    let frame = Frame::build(&plan).map_err(|why| input.cannot_build(why))?;
    let tied = Tied::of_frame(&Book { frame: &frame, checks: &checks });
    let tied = Tied { frame: None, ..tied };
    Ok(Ties { tied, frame: Some(frame) })
}

/// The heel joint of numbers alone.
fn question(entries: &Entries) -> Result<HeelQuestion, Faults> {
    let mut asked = Asked::new(entries);
    asked.require(key!("building.span"));
    asked.require(key!("roof.pitch"));
    let span = asked.length(key!("building.span"));
    let pitch = asked.pitch(key!("roof.pitch"));
    let spacing = asked.length(key!("roof.spacing"));
    let live = asked.load(key!("loads.live"));
    let snow = asked.load(key!("loads.snow"));
    let dead = asked.load(key!("loads.dead"));
    let edition = asked.choice(key!("code.edition"), &EDITIONS);
    let tie_height = asked.optional_length(key!("ceiling.tie_height"));
    // the code's least live load is used only if the question has no snow load
    let live = live.filter(|_| asked.given(key!("loads.live")) || snow.is_none());
    for (key, load) in [(key!("loads.live"), live), (key!("loads.snow"), snow)] {
        if load.is_some_and(|load| load <= psf(0.0)) {
            asked.refuse(
                key,
                "a load of zero puts nothing on the joint",
                "write the load, or leave the flag out",
            );
        }
    }
    for (key, length) in [(key!("building.span"), span), (key!("roof.spacing"), spacing)] {
        if length.is_some_and(|length| length <= inches(0.0)) {
            asked.refuse(key, "zero can't be tied", "write a length above zero");
        }
    }
    if pitch.is_some_and(|pitch| pitch.unit_rise() <= 0.0) {
        asked.refuse(
            key!("roof.pitch"),
            "a flat roof has no heel joint",
            "write a pitch above 0 and up to 24/12",
        );
    }
    match (span, pitch, spacing) {
        (Some(roof_span), Some(pitch), Some(spacing)) if asked.faults.is_empty() => {
            Ok(HeelQuestion {
                roof_span,
                rise_in_12: pitch.unit_rise(),
                spacing,
                loads: live
                    .map(RoofLoad::Live)
                    .into_iter()
                    .chain(snow.map(RoofLoad::GroundSnow))
                    .collect(),
                dead: dead.unwrap_or(psf(TABLE_DEAD_PSF)),
                edition: edition.unwrap_or_default(),
                tie_height: tie_height.unwrap_or(inches(0.0)),
                tie: TieKind::CeilingJoist,
            })
        }
        _ => Err(asked.faults),
    }
}
