//! What keeps the walls from spreading: kind, height, spacing, laps and the nails at the heel.

use crate::catalog::code_rules::RuleId;
use crate::catalog::{Edition, heel_nails};
use crate::frame::{Frame, Role, TieKind, TieStory};
use crate::measure::Length;
use crate::measure::quantity::{in_inches, in_pounds, inches};
use crate::plan::Meeting;
use crate::strength::heel_joint;
use crate::strength::thrust::RATIO_LIMIT;

use super::book::{Book, show, step};
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::heel::{Heel, HeelQuestion};
use super::{opening, ridge};

/// Actual sides of a nominal 2x4 (PS 20), inches.
const TWO_BY_FOUR_IN: (f64, f64) = (1.5, 3.5);

/// The findings about ties.
#[must_use]
pub fn findings(book: &Book<'_>) -> Vec<Finding> {
    let ties = &book.frame.ties;
    let mut found: Vec<Finding> = kind(book, ties).into_iter().collect();
    if ties.kind == TieKind::None {
        return found;
    }
    found.extend(height(book, ties));
    if ties.kind == TieKind::RafterTies {
        found.extend(tie_spacing(book, ties));
        found.extend(tie_size(book));
    } else {
        found.extend(taper(book, ties));
    }
    found.extend(table_span(book));
    found.extend(heel_nails_finding(book, ties));
    found.extend(lap(book, ties));
    found.extend(lap_nails(book, ties));
    found.extend(opening::findings(book));
    found
}

/// The heel joint of the frame under its loads.
///
/// # Errors
/// The fields that are missing, or why the joint has no answer.
pub fn heel(book: &Book<'_>) -> Result<Heel, Vec<&'static str>> {
    // a tie at every pair carries what its rafters carry
    heel_of(book, book.frame.ties.spacing.max(book.carried_width()))
}

/// The heel joint of a tie that carries rafters over so much of the wall.
///
/// # Errors
/// The fields that are missing, or why the joint has no answer.
pub(super) fn heel_of(book: &Book<'_>, spacing: Length) -> Result<Heel, Vec<&'static str>> {
    let loads = book.roof_loads()?;
    let Some(dead) = book.checks.dead else {
        return Err(vec!["loads.dead"]);
    };
    let plan = book.plan();
    let ties = &book.frame.ties;
    HeelQuestion {
        roof_span: plan.rafter.span,
        rise_in_12: plan.rafter.pitch.unit_rise(),
        spacing,
        loads,
        dead,
        edition: book.checks.edition,
        // as a part of run times slope, which the joint's statics go by
        tie_height: plan.rafter.run() * plan.rafter.pitch.tangent() * hc_over_hr(book),
        tie: match ties.kind {
            TieKind::RafterTies => heel_joint::TieKind::RafterTie,
            _ => heel_joint::TieKind::CeilingJoist,
        },
    }
    .solve()
    // a tie at or over the ridge is refused when the frame is built
    .map_err(|_| vec!["ceiling.tie_height"])
}

/// Height of the ridge that tie heights are held against, and how it is measured: to the
/// underside of the ridge in the editions that say so (head of `heel_joint_nails.csv`), never more
/// than run times slope, which is what the statics use.
fn ridge_height(book: &Book<'_>) -> (f64, &'static str) {
    let plan = &book.plan().rafter;
    let rise = in_inches(plan.run()) * plan.pitch.tangent();
    let under = in_inches(book.frame.ridge_bottom());
    match book.checks.edition {
        Edition::Irc2021 | Edition::Irc2024 if under < rise => {
            (under, "the underside of the ridge")
        }
        _ => (rise, "run times slope"),
    }
}

/// Where ties and collar ties belong, by thirds of the height from plate to ridge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TieZone {
    /// Top of the lower third, above which the code knows no tie of the walls: above the plate.
    pub lower: Length,
    /// To what the lower third's height is measured.
    pub lower_of: &'static str,
    /// Where the upper third begins, below which no collar tie belongs: above the plate.
    pub upper: Length,
}

/// The thirds of a frame, as the findings hold them: the lower one measured as the edition says, the
/// upper one to the peak.
#[must_use]
pub fn zone(book: &Book<'_>) -> TieZone {
    let (ridge, lower_of) = ridge_height(book);
    TieZone {
        lower: inches(RATIO_LIMIT * ridge),
        lower_of,
        upper: inches(ridge::upper_third(book)),
    }
}

/// Height of the ties over that of the ridge.
fn hc_over_hr(book: &Book<'_>) -> f64 {
    in_inches(book.frame.ties.height) / ridge_height(book).0
}

fn kind(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    const TITLE: &str = "what ties each pair";
    let tied = ties.count as f64;
    let all = ties.inner_pairs as f64;
    match ties.kind {
        TieKind::JoistsContinuous | TieKind::JoistsLapped => Some(
            book.of_rule(RuleId::CjContinuity, TITLE)?
                .held(Unit::Count, tied, Sense::AtLeast, all)
                .note(format!(
                    "{}; pairs tied, of those between the end walls",
                    ties.kind.words()
                )),
        )
        .map(|finding| opening::of_ties(book, finding)),
        TieKind::RafterTies => Some(
            book.of_rule(RuleId::CjPerpendicularTie, TITLE)?
                .met_if(ties.count > 0 || ties.inner_pairs == 0, "no rafter tie")
                .note(format!(
                    "joists run across, {} rafter tie(s) on {} pair(s) between the end walls; every rafter end without a tie beside it \
                     hands its thrust along the plate",
                    ties.count, ties.inner_pairs
                )),
        )
        .map(|finding| opening::of_ties(book, finding)),
        TieKind::None => {
            let finding = book
                .of_rule(RuleId::RidgeNoTieBeam, TITLE)
                .or_else(|| book.of_rule(RuleId::CjPerpendicularTie, TITLE))?
                .verdict(Verdict::NeedsDesign)
                .note("nothing ties the walls: a wall or an engineered ridge beam carries the ridge");
            Some(ridge::with_beam(book, finding))
        }
    }
}

fn height(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    const TITLE: &str = "height of the ties";
    let finding = book
        .of_rule(RuleId::RidgeTieAboveThird, TITLE)
        .or_else(|| book.of_rule(RuleId::RafterTableTieAssumption, TITLE))?;
    let rise = in_inches(ties.height);
    let (ridge, measured) = ridge_height(book);
    let ratio = hc_over_hr(book);
    Some(
        finding
            .or_design()
            .held(Unit::Inches, rise, Sense::AtMost, RATIO_LIMIT * ridge)
            .note(format!(
                "bottom of the tie above the plate, held against one third of {measured}, {} in; its part of that height, H_C/H_R, is {}; above the third the ridge is designed as a beam",
                show(ridge),
                show(ratio)
            ))
            .working([step(
                "tie height ratio",
                "H_C / H_R",
                format!("{} / {}", show(rise), show(ridge)),
                show(ratio),
            )]),
    )
}

fn tie_spacing(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    const TITLE: &str = "spacing of the rafter ties";
    let found = in_inches(ties.spacing);
    for id in [RuleId::NcRafterTieSpacing, RuleId::RafterTieSpacing2021] {
        if let (Some(finding), Some(limit)) = (book.of_rule(id, TITLE), book.figure(id)) {
            return Some(
                finding
                    .held(Unit::Inches, found, Sense::AtMost, limit)
                    .note("greatest distance between tied pairs, as ceiling.tie_spacing sets it"),
            );
        }
    }
    if let Some(finding) = book.of_rule(RuleId::RafterTieSpacing2018, TITLE) {
        let every = in_inches(book.plan().spacing);
        return Some(
            finding.held(Unit::Inches, found, Sense::AtMost, every).note("a tie at each rafter"),
        );
    }
    let mut finding = book
        .of_rule(RuleId::RafterTieSpacing2015, TITLE)?
        .verdict(Verdict::Meets)
        .note("this edition states no spacing; the heel nails are counted for it");
    (finding.unit, finding.found) = (Unit::Inches, Some(found));
    Some(finding)
}

fn tie_size(book: &Book<'_>) -> Option<Finding> {
    let tie = &book.plan().tie;
    let finding = book
        .of_rule(RuleId::RafterTieSize, "size of the rafter ties")?
        .note(format!("2x4 nominal; {} in thick", show(tie.thickness_in())));
    // of thickness and depth, the one that falls short
    let (thick, deep) = TWO_BY_FOUR_IN;
    Some(if tie.thickness_in() < thick - 1e-9 {
        finding.extent(Extent::Thickness).held(
            Unit::Inches,
            tie.thickness_in(),
            Sense::AtLeast,
            thick,
        )
    } else {
        finding.held(Unit::Inches, tie.depth_in(), Sense::AtLeast, deep)
    })
}

fn taper(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    let depth = book.plan().joist.depth_in();
    let part = book.figure(RuleId::CjTaperCut)?;
    let clip = in_inches(ties.clip_height);
    Some(
        book.of_rule(RuleId::CjTaperCut, "joist ends clipped to the roof plane")?
            .held(Unit::Inches, clip, Sense::AtMost, part * depth)
            .note(if clip > 0.0 {
                format!(
                    "plumb height that the clip takes off the joist's end; 1/4 of {} in allowed",
                    show(depth)
                )
            } else {
                "the joist's end stays under the roof plane".to_owned()
            }),
    )
}

fn table_span(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure(RuleId::HeelTableSpanLimit)? * 12.0;
    Some(
        book.of_rule(RuleId::HeelTableSpanLimit, "roof span for the heel joint table")?
            .or_design()
            .held(Unit::Inches, in_inches(book.plan().rafter.span), Sense::AtMost, limit)
            .note("beyond it the heel joint is designed"),
    )
}

fn heel_nails_finding(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    // so short a building has no pair between its end walls
    (ties.count > 0).then_some(())?;
    let table = heel_nails::table_number(book.checks.edition);
    let finding = book
        .of_rule(RuleId::NailCjHeel, "16d common nails at each heel")?
        .section(format!("Table {table}"));
    let heel = match heel(book) {
        Ok(heel) => heel,
        Err(missing) => {
            let mut finding = finding
                .note(format!("{} fit the heel without splitting", ties.nails_that_fit))
                .missing(&missing);
            (finding.unit, finding.sense, finding.found) =
                (Unit::Count, Sense::AtLeast, book.checks.heel_nails);
            return Some(finding);
        }
    };
    let outside = heel.outside();
    let specified = book.checks.heel_nails;
    let finding = match heel.nails() {
        Some(nails) => nailed(finding, nails, specified, ties.nails_that_fit, "the heel"),
        None => finding,
    };
    let lap = show(in_inches(ties.heel_lap));
    let mut finding = finding
        .note(format!(
            "{lap} in of contact at the heel; thrust {} lb; {}",
            show(in_pounds(heel.thrust())),
            heel.rests_on()
        ))
        .working(heel.working());
    if let (Some(covering), Some(nails)) = (heel.covering(), heel.nails())
        && covering > nails
    {
        finding = finding.told().note(format!(
            "the next heavier place that is printed has {covering}: an inspector may read that"
        ));
    }
    Some(if outside.is_empty() {
        finding
    } else {
        let reasons: Vec<&str> = outside.iter().map(|why| why.reason()).collect();
        finding.verdict(Verdict::NeedsDesign).note(reasons.join("; "))
    })
}

/// The nails of a joint by three figures: how many it needs, how many the plan specifies, and how
/// many fit it without splitting. What fits is no nail that was driven: it only fails a joint that
/// has no room for what it needs or for what is specified.
fn nailed(
    finding: Finding,
    needed: u32,
    specified: Option<f64>,
    fits: usize,
    place: &str,
) -> Finding {
    let needs = f64::from(needed);
    let room = fits as f64;
    let said = match specified {
        Some(specified) => format!("needs {needed}, {} specified; {fits} fit", show(specified)),
        None => format!("needs {needed}; {fits} fit"),
    };
    let no_room = || format!("{place} has room for {fits} without splitting");
    match specified {
        _ if room < needs => finding.held(Unit::Count, room, Sense::AtLeast, needs).note(no_room()),
        Some(specified) if specified > room => {
            finding.held(Unit::Count, specified, Sense::AtMost, room).note(no_room())
        }
        Some(specified) => finding.held(Unit::Count, specified, Sense::AtLeast, needs),
        None => {
            let mut finding = finding.verdict(Verdict::Meets).told();
            (finding.unit, finding.sense, finding.limit) =
                (Unit::Count, Sense::AtLeast, Some(needs));
            finding
        }
    }
    .note(said)
}

fn lap(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    let lap = in_inches(ties.joist_lap?);
    let finding = book.of_rule(RuleId::CjLap, "lap of ceiling joists over the bearing")?;
    Some(if book.plan().meeting == Meeting::Splice {
        finding
            .verdict(Verdict::Meets)
            .note("the joists butt over the bearing with a splice piece: toenail them to it")
    } else {
        finding.held(Unit::Inches, lap, Sense::AtLeast, book.figure(RuleId::CjLap)?)
    })
}

/// The lap carries the tie's whole force: it needs the heel's nails.
fn lap_nails(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    let fits = ties.lap_nails_that_fit?;
    let finding = book.of_rule(RuleId::CjLapTieNails, "16d common nails in the joists' lap")?;
    if book.plan().meeting == Meeting::Splice {
        // a splice piece is nailed to both lengths: each has half of it
        return Some(match heel(book) {
            Err(missing) => finding.missing(&missing),
            Ok(heel) => finding
                .verdict(Verdict::NeedsDesign)
                .note(format!(
                    "the splice piece hands {} lb from one length to the other; the rules count nails for laps only, at least {} each side",
                    show(in_pounds(heel.thrust())),
                    heel.nails().map_or("?".to_owned(), |nails| nails.to_string())
                )),
        });
    }
    Some(match heel(book) {
        Err(missing) => {
            let mut finding = finding.missing(&missing);
            (finding.unit, finding.sense, finding.found) =
                (Unit::Count, Sense::AtLeast, book.checks.lap_nails);
            finding
        }
        Ok(heel) => match heel.nails() {
            Some(nails) => nailed(finding, nails, book.checks.lap_nails, fits, "the lap")
                .note("the lap is part of the tie: the same nails as the heel"),
            None => finding.verdict(Verdict::NeedsDesign),
        },
    })
}

/// The tie story with what it has to hold: what `ties` tells.
#[derive(Debug, Clone)]
pub struct Tied<'a> {
    /// The frame; `None` where only numbers were asked for.
    pub frame: Option<&'a Frame>,
    /// The heel joint, or the fields it waits for. `None` where nothing ties the walls.
    pub heel: Option<Result<Heel, Vec<&'static str>>>,
    /// 16d common nails that the plan specifies at each heel; `None` for as many as are needed.
    pub specified: Option<f64>,
    /// Spacing of the ties.
    pub spacing: Length,
    /// Bottom of the ties above the plate.
    pub height: Length,
    /// Height of the ties over that of the ridge.
    pub hc_over_hr: f64,
    /// Where ties and collar ties belong; `None` where only numbers were asked for.
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
            findings: super::check::of_ties(book),
        }
    }

    /// The joint alone, without a frame.
    #[must_use]
    pub fn of_numbers(question: &HeelQuestion, heel: Heel) -> Tied<'static> {
        let ridge = in_inches(question.roof_span) / 2.0 * question.rise_in_12 / 12.0;
        Tied {
            frame: None,
            heel: Some(Ok(heel)),
            specified: None,
            spacing: question.spacing,
            height: question.tie_height,
            hc_over_hr: in_inches(question.tie_height) / ridge,
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

    /// The worst verdict; of numbers alone only whether the prescriptive rules reach so far.
    #[must_use]
    pub fn verdict(&self) -> Option<Verdict> {
        let worst = self.findings.iter().map(|finding| finding.verdict).min();
        worst.or_else(|| {
            self.solved().filter(|heel| !heel.outside().is_empty()).map(|_| Verdict::NeedsDesign)
        })
    }

    /// Along the rafter's bottom edge from the seat's inner end up to a level `above_plate` inches.
    #[must_use]
    pub fn along_bottom_edge(&self, above_plate: f64) -> Option<f64> {
        let pitch = self.frame?.plan.rafter.pitch;
        Some(above_plate * pitch.slope_factor() / pitch.tangent())
    }

    /// Near faces of the rafter ties from the near end wall's framing face, inches.
    #[must_use]
    pub fn tie_marks(&self) -> Vec<f64> {
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
        marks
    }
}
