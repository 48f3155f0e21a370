//! The ties of a roof with the forces on them.

use crate::catalog::Edition;
use crate::frame::{Frame, Role};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::plan::Key;

use super::book::Book;
use super::check::of_ties;
use super::finding::{Finding, Verdict};
use super::heel::{Heel, HeelQuestion};
use super::tie_zone::{TieZone, hc_over_hr, heel, zone};

/// The ties with the forces on them: the answer of `ties`.
#[derive(Debug, Clone)]
pub struct Tied<'a> {
    /// The frame; `None` if the question had only numbers.
    pub frame: Option<&'a Frame>,
    /// The heel joint, or the fields that are missing. `None` if nothing ties the walls.
    pub heel: Option<Result<Heel, Vec<Key>>>,
    /// 16d common nails that the plan specifies at each heel; `None` for as many as required.
    pub specified: Option<f64>,
    /// Spacing of the ties.
    pub spacing: Length,
    /// Bottom of the ties above the plate.
    pub height: Length,
    /// Height of the ties over that of the ridge.
    pub hc_over_hr: f64,
    /// Where ties and collar ties belong; `None` if the question had only numbers.
    pub zone: Option<TieZone>,
    /// Edition of the code.
    pub edition: Edition,
    /// The findings about ties.
    pub findings: Vec<Finding>,
}

impl<'a> Tied<'a> {
    /// The story of a frame.
    #[must_use]
    pub fn of_frame(book: &Book<'a>) -> Tied<'a> {
        let ties = &book.frame.ties;
        Tied {
            frame: Some(book.frame),
            heel: (ties.count > 0).then(|| heel(book)),
            specified: book.checks.heel_nails,
            spacing: ties.spacing,
            height: ties.height,
            hc_over_hr: hc_over_hr(book),
            zone: Some(zone(book)),
            edition: book.checks.edition,
            findings: of_ties(book),
        }
    }

    /// The joint alone, without a frame.
    #[must_use]
    pub fn of_numbers(question: &HeelQuestion, heel: Heel) -> Tied<'static> {
        let ridge = question.roof_span.inches() / 2.0 * question.rise_in_12 / 12.0;
        Tied {
            frame: None,
            heel: Some(Ok(heel)),
            specified: None,
            spacing: question.spacing,
            height: question.tie_height,
            hc_over_hr: question.tie_height.inches() / ridge,
            zone: None,
            edition: question.edition,
            findings: Vec::new(),
        }
    }

    /// The joint, if it has an answer.
    #[must_use]
    pub fn solved(&self) -> Option<&Heel> {
        self.heel.as_ref().and_then(|heel| heel.as_ref().ok())
    }

    /// The worst verdict; for numbers alone, only whether the prescriptive rules cover the case.
    #[must_use]
    pub fn verdict(&self) -> Option<Verdict> {
        let worst = self.findings.iter().map(|finding| finding.verdict).min();
        worst.or_else(|| {
            self.solved().filter(|heel| !heel.outside().is_empty()).map(|_| Verdict::NeedsDesign)
        })
    }

    /// Distance along the rafter's bottom edge from the seat's inner end up to a level
    /// above the plate.
    #[must_use]
    pub fn along_bottom_edge(&self, above_plate: Length) -> Option<Length> {
        let pitch = self.frame?.plan.rafter.pitch;
        Some(above_plate * pitch.slope_factor() / pitch.tangent())
    }

    /// Near faces of the rafter ties from the near end wall's framing face.
    #[must_use]
    pub fn tie_marks(&self) -> Vec<Length> {
        let mut marks: Vec<f64> = self
            .frame
            .into_iter()
            .flat_map(|frame| &frame.members)
            .filter(|member| member.role == Role::RafterTie)
            .flat_map(|member| {
                let half = member.stick.section.thickness_in() / 2.0;
                member.placements.iter().map(move |axis| axis.origin.x - half)
            })
            .collect();
        marks.sort_by(f64::total_cmp);
        marks.into_iter().map(inches).collect()
    }
}
