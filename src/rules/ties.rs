//! What keeps the walls from spreading: kind, height, spacing, laps and the nails at the heel.

use crate::catalog::code_rules::RuleId;
use crate::catalog::heel_nails;
use crate::frame::{TieKind, TieStory};
use crate::measure::Amount::{Inches, Pounds};
use crate::measure::Note;
use crate::measure::quantity::{InInches, in_pounds};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{Key, Meeting};
use crate::strength::thrust::RATIO_LIMIT;

use super::book::{Book, Code, least_section, show, step};
use super::extent::Extent;
use super::finding::{Finding, Sense, Unit, Verdict};
use super::heel::Heel;
use super::opening::CutTies;
use super::tie_zone::{heel, ridge_height};
use super::{opening, ridge, tie_zone};

/// The findings about ties.
#[must_use]
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let ties = &book.frame.ties;
    let mut found: Vec<Finding> = kind(book, ties).into_iter().collect();
    if ties.kind == TieKind::None {
        return found;
    }
    let code = &book.code();
    found.extend(height(code, ties.height.inches(), ridge_height(book)));
    if ties.kind == TieKind::RafterTies {
        let how = "greatest distance between tied pairs, as ceiling.tie_spacing sets it";
        found.extend(tie_spacing(code, ties.spacing.inches(), how));
        found.extend(tie_size(code));
    } else {
        found.extend(taper(code, ties.clip_height.inches()));
    }
    found.extend(table_span(code, book.plan().rafter.span.inches()));
    found.extend(heel_nails_finding(book, ties));
    found.extend(ties.joist_lap.and_then(|length| lap(code, length.inches())));
    found.extend(ties.lap_nails_that_fit.and_then(|fits| lap_nails(code, fits, heel(book))));
    found.extend(opening::findings(&book.code()));
    found
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
        .map(|finding| past_the_opening(book, finding)),
        TieKind::RafterTies => Some(
            book.of_rule(RuleId::CjPerpendicularTie, TITLE)?
                .met_if(ties.count > 0 || ties.inner_pairs == 0, "no rafter tie")
                .note(format!(
                    "joists run across, {} rafter tie(s) on {} pair(s) between the end walls; every rafter end without a tie beside it \
                     hands its thrust along the plate",
                    ties.count, ties.inner_pairs
                )),
        )
        .map(|finding| past_the_opening(book, finding)),
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

/// The finding on ties with those that the attic opening cuts.
fn past_the_opening(book: &Book<'_>, finding: Finding) -> Finding {
    let ties = &book.frame.ties;
    let Some(opening) = ties.opening.as_ref() else { return finding };
    let cut = CutTies {
        opening,
        pairs: opening.cut_rows.len(),
        are_all: ties.nailed_pairs() >= ties.inner_pairs || ties.kind == TieKind::RafterTies,
        carried: tie_zone::carried(book),
        beside: book.carried_width(),
        heel: &|spacing| tie_zone::heel_of(book, spacing).ok(),
        nails_that_fit: ties.nails_that_fit,
    };
    opening::of_ties(&book.code(), &cut, finding)
}

/// The bottom of ties, so high above the plate, against a third of the ridge's height, which is measured as told.
pub(super) fn height(
    code: &Code<'_>,
    rise: f64,
    (ridge, measured): (f64, &'static str),
) -> Option<Finding> {
    const TITLE: &str = "height of the ties";
    let finding = code
        .of_rule(RuleId::RidgeTieAboveThird, TITLE)
        .or_else(|| code.of_rule(RuleId::RafterTableTieAssumption, TITLE))?;
    let ratio = rise / ridge;
    Some(
        finding
            .or_design()
            .held(Unit::Inches, rise, Sense::AtMost, RATIO_LIMIT * ridge)
            .note(Note::with(
                format!(
                    "bottom of the tie above the plate, held against one third of {measured}, {{}}; its part of that height, H_C/H_R, is {}; above the third the ridge is designed as a beam",
                    show(ratio)
                ),
                [Inches(ridge)],
            ))
            .working([step(
                "tie height ratio",
                "H_C / H_R",
                format!("{} / {}", show(rise), show(ridge)),
                show(ratio),
            )]),
    )
}

/// How far apart the ties are, inches, and how that is measured.
pub(super) fn tie_spacing(code: &Code<'_>, found: f64, how: &'static str) -> Option<Finding> {
    const TITLE: &str = "spacing of the rafter ties";
    for id in [RuleId::NcRafterTieSpacing, RuleId::RafterTieSpacing2021] {
        if let (Some(finding), Some(limit)) = (code.of_rule(id, TITLE), code.figure(id)) {
            return Some(finding.held(Unit::Inches, found, Sense::AtMost, limit).note(how));
        }
    }
    if let Some(finding) = code.of_rule(RuleId::RafterTieSpacing2018, TITLE) {
        let every = code.plan().spacing.inches();
        return Some(
            finding.held(Unit::Inches, found, Sense::AtMost, every).note("a tie at each rafter"),
        );
    }
    let mut finding = code
        .of_rule(RuleId::RafterTieSpacing2015, TITLE)?
        .verdict(Verdict::Meets)
        .note("this edition states no spacing; the heel nails are counted for it");
    (finding.unit, finding.found) = (Unit::Inches, Some(found));
    Some(finding)
}

/// The section of the rafter ties.
pub(super) fn tie_size(code: &Code<'_>) -> Option<Finding> {
    let tie = &code.plan().tie;
    let finding = code.of_rule(RuleId::RafterTieSize, "size of the rafter ties")?.note(Note::with(
        format!("{} nominal; {{}} thick", RuleId::RafterTieSize.value_words()),
        [Inches(tie.thickness_in())],
    ));
    // of thickness and depth, the one that falls short
    let (thick, deep) = least_section(RuleId::RafterTieSize)?;
    Some(if tie.thickness_in() < thick - LAST_BITS {
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

/// What the clip under the roof takes off the joists' ends, plumb, inches.
pub(super) fn taper(code: &Code<'_>, clip: f64) -> Option<Finding> {
    let depth = code.plan().joist.depth_in();
    let part = code.figure(RuleId::CjTaperCut)?;
    // no more than is there
    let clip = clip.min(depth);
    Some(
        code.of_rule(RuleId::CjTaperCut, "joist ends clipped to the roof plane")?
            .held(Unit::Inches, clip, Sense::AtMost, part * depth)
            .note(if clip > 0.0 {
                Note::with(
                    "plumb height that the clip takes off the joist's end; 1/4 of {} allowed",
                    [Inches(depth)],
                )
            } else {
                "the joist's end stays under the roof plane".into()
            }),
    )
}

/// The roof's span, inches, against the widest one that the heel joint table is for.
pub(super) fn table_span(code: &Code<'_>, span: f64) -> Option<Finding> {
    let limit = code.figure(RuleId::HeelTableSpanLimit)? * 12.0;
    Some(
        code.of_rule(RuleId::HeelTableSpanLimit, "roof span for the heel joint table")?
            .or_design()
            .held(Unit::Inches, span, Sense::AtMost, limit)
            .note("beyond it the heel joint is designed"),
    )
}

fn heel_nails_finding(book: &Book<'_>, ties: &TieStory) -> Option<Finding> {
    // so short a building has no pair between its end walls
    (ties.count > 0).then_some(())?;
    let finding = heel_joint_finding(&book.code())?;
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
    let contact = Note::with("{} of contact at the heel", [Inches(ties.heel_lap.inches())]);
    let specified = book.checks.heel_nails;
    Some(nails_of(finding, &heel, specified, ties.nails_that_fit).note(contact))
}

/// The finding about the nails of a heel, before its figures.
pub(super) fn heel_joint_finding(code: &Code<'_>) -> Option<Finding> {
    let table = heel_nails::table_number(code.checks.edition);
    let finding = code.of_rule(RuleId::NailCjHeel, "16d common nails at each heel")?;
    Some(finding.section(format!("Table {table}")))
}

/// The finding with the nails that a heel joint needs, those in the plan and those that fit.
pub(super) fn nails_of(
    finding: Finding,
    heel: &Heel,
    specified: Option<f64>,
    fits: usize,
) -> Finding {
    let outside = heel.outside();
    let finding = match heel.nails() {
        Some(nails) => nailed(finding, nails, specified, fits, "the heel"),
        None => finding,
    };
    let mut finding = finding
        .note(Note::with(
            format!("thrust {{}}; {}", heel.rests_on_in_words()),
            [Pounds(in_pounds(heel.thrust()))],
        ))
        .working(heel.working());
    if let (Some(covering), Some(nails)) = (heel.covering(), heel.nails())
        && covering > nails
    {
        finding = finding.told().note(format!(
            "the next heavier row of the table has {covering}: an inspector may read that"
        ));
    }
    if outside.is_empty() {
        finding
    } else {
        finding.verdict(Verdict::NeedsDesign).notes(outside.iter().map(|why| why.reason()))
    }
}

/// The nails of a joint by three figures: how many it requires, how many the plan specifies, and how
/// many fit without splitting. Nails that would fit are never counted as driven: the figure only fails
/// a joint that has no room for the required or specified nails.
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

/// How far joists of two lengths lap over the bearing, inches.
pub(super) fn lap(code: &Code<'_>, lap: f64) -> Option<Finding> {
    let finding = code.of_rule(RuleId::CjLap, "lap of ceiling joists over the bearing")?;
    Some(if code.plan().meeting == Meeting::Splice {
        finding
            .verdict(Verdict::Meets)
            .note("the joists butt over the bearing with a splice piece: toenail them to it")
    } else {
        finding.held(Unit::Inches, lap, Sense::AtLeast, code.figure(RuleId::CjLap)?)
    })
}

/// The lap carries the tie's whole force, so it needs the heel's nails.
pub(super) fn lap_nails(
    code: &Code<'_>,
    fits: usize,
    heel: Result<Heel, Vec<Key>>,
) -> Option<Finding> {
    let finding = code.of_rule(RuleId::CjLapTieNails, "16d common nails in the joists' lap")?;
    if code.plan().meeting == Meeting::Splice {
        // a splice piece is nailed to both lengths: half of its nails in each
        return Some(match heel {
            Err(missing) => finding.missing(&missing),
            Ok(heel) => finding
                .verdict(Verdict::NeedsDesign)
                .note(Note::with(
                    "the splice piece hands {} from one length to the other; the rules count nails for laps only, at least {} each side",
                    [
                        Pounds(in_pounds(heel.thrust())),
                        heel.nails().map_or("?".to_owned(), |nails| nails.to_string()).into(),
                    ],
                )),
        });
    }
    Some(match heel {
        Err(missing) => {
            let mut finding = finding.missing(&missing);
            (finding.unit, finding.sense, finding.found) =
                (Unit::Count, Sense::AtLeast, code.checks.lap_nails);
            finding
        }
        Ok(heel) => match heel.nails() {
            Some(nails) => nailed(finding, nails, code.checks.lap_nails, fits, "the lap")
                .note("the lap is part of the tie: the same nails as the heel"),
            None => finding.verdict(Verdict::NeedsDesign),
        },
    })
}
