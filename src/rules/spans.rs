//! How far rafters and ceiling joists can span, and how far they have to.

use crate::catalog::adjustment::{self, AppliesTo};
use crate::catalog::code_rules::RuleId;
use crate::catalog::lumber::Section;
use crate::catalog::sizes::{self, LumberClass, LumberSize};
use crate::catalog::span_tables::{SpanTable, TableLoad};
use crate::catalog::{Edition, Grade, Species};
use crate::frame::TieKind;
use crate::key;
use crate::measure::Amount::{Inches, Psf, RiseIn12};
use crate::measure::quantity::{InInches, inches, psf};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Note};
use crate::plan::{Joists, Key};
use crate::strength::thrust::{
    Gable, adjusted_span, adjusted_span_working, printed_factor_hundredths,
};
use crate::strength::{SpanCase, StrengthFault};

use super::attic_space::{clear_height, joist_top, longest_joist};
use super::book::{Book, Code, show, step};
use super::finding::{Finding, Sense, Unit, Verdict};
use super::held_span::Held;
use super::id::CheckId;

/// Slope up to which R301.7 gives rafters without a ceiling the limit of other members (`defl_other`),
/// inches of rise in 12.
fn low_rise_in_12() -> f64 {
    RuleId::DeflRafterNoCeiling.rule().slope_in_12.unwrap_or_default()
}

/// The findings about spans.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = vec![rafter(book)];
    found.extend(joists(&book.code(), book.carried_width()));
    found
}

/// The findings about ceiling joists, each of which carries so wide a strip.
pub(super) fn joists(code: &Code<'_>, carried: Length) -> Vec<Finding> {
    if code.plan().joists == Joists::None {
        return Vec::new();
    }
    let (load, storage) = attic_load(code);
    storage.into_iter().chain([joist(code, &load, carried)]).collect()
}

/// The listed size used for a section: its own, or the largest that fits inside it.
fn listed(section: &Section) -> Option<&'static LumberSize> {
    section.size().or_else(|| {
        sizes::sizes()
            .iter()
            .filter(|size| size.class == LumberClass::Dimension)
            .filter(|size| {
                size.thickness_in <= section.thickness_in() + LAST_BITS
                    && size.depth_in <= section.depth_in() + LAST_BITS
            })
            .max_by(|a, b| a.section_modulus_in3.total_cmp(&b.section_modulus_in3))
    })
}

/// Thickness that only engineered lumber has, and depths that no sawn lumber has, inches (common
/// practice: laminated veneer and strand lumber, I-joists).
const ENGINEERED_THICK_IN: f64 = 1.75;
const ENGINEERED_DEEP_IN: [f64; 7] = [9.5, 11.875, 14.0, 16.0, 18.0, 20.0, 24.0];

/// True if engineered lumber is made in this section and sawn lumber is not.
fn is_engineered(section: &Section) -> bool {
    const HAIR_IN: f64 = 1.0 / 64.0;
    let near = |a: f64, b: f64| (a - b).abs() < HAIR_IN;
    section.nominal.is_none()
        && (near(section.thickness_in(), ENGINEERED_THICK_IN)
            || ENGINEERED_DEEP_IN.iter().any(|deep| near(section.depth_in(), *deep)))
}

/// The finding with a note on its section: which other size is used for it, or that the maker's table
/// decides for engineered lumber.
fn of_section(finding: Finding, section: &Section, size: &LumberSize) -> Finding {
    if section.nominal.is_some() {
        finding
    } else if is_engineered(section) {
        finding.verdict(Verdict::NeedsDesign).note(Note::with(
            format!(
                "{{}} x {{}} is a size of engineered lumber, which no table of the code has: its maker's span table decides, and its maker's rules on \
                 cuts and holes; a sawn {} that fits inside it stands here for comparison",
                size.nominal
            ),
            [inches(section.thickness_in()), inches(section.depth_in())],
        ))
    } else {
        finding.told().note(Note::with(
            format!(
                "{{}} x {{}} is no listed size: {} that fits inside it stands for it",
                size.nominal
            ),
            [inches(section.thickness_in()), inches(section.depth_in())],
        ))
    }
}

/// The case with the deflection limit of its ceiling (Table R301.7): the tables' own, or that of
/// plaster, for which there is no table.
fn under_ceiling(book: &Code<'_>, case: SpanCase) -> SpanCase {
    let brittle =
        book.figure(RuleId::DeflCeilingBrittle).filter(|_| book.checks.ceiling_is_brittle);
    SpanCase {
        deflection_limit: brittle.map_or(case.deflection_limit, |limit| limit.round() as u32),
        ..case
    }
}

/// The finding with what the finish of its ceiling requires.
fn of_finish(book: &Code<'_>, finding: Finding) -> Finding {
    match book.figure(RuleId::DeflCeilingBrittle).filter(|_| book.checks.ceiling_is_brittle) {
        Some(limit) => finding.told().note(format!(
            "a ceiling of plaster or stucco: L/{} under live load (Table R301.7), which no span table has",
            show(limit)
        )),
        None => finding,
    }
}

/// Cuts that this plan makes in engineered lumber: no rule of the code allows them, but the maker may.
pub(super) fn engineered_cuts(code: &Code<'_>) -> Option<Finding> {
    let plan = code.plan();
    let cuts = [
        (is_engineered(&plan.rafter.stock), "the birdsmouth in the rafters"),
        (
            plan.joists == Joists::Beside
                && is_engineered(&plan.joist)
                && code.has_clipped_joists(),
            "the clip at the joists' ends",
        ),
    ];
    let cut: Vec<&str> = cuts.iter().filter(|(is_cut, _)| *is_cut).map(|(_, what)| *what).collect();
    (!cut.is_empty()).then_some(())?;
    Some(
        code.of_rule(RuleId::EngineeredNoCuts, "cuts in engineered lumber")?
            .or_design()
            .met_if(false, "cut without its maker's word")
            .note(format!(
                "{}: only the maker or an engineer may allow it; set on a hanger or a beveled plate, the member stays whole",
                cut.join(" and ")
            )),
    )
}

/// Species and grade, or the fields that are missing.
fn lumber(book: &Code<'_>) -> Result<(Species, Grade), Vec<Key>> {
    match (book.checks.species, book.checks.grade) {
        (Some(species), Some(grade)) => Ok((species, grade)),
        (species, grade) => Err([
            (key!("lumber.species"), species.is_none()),
            (key!("lumber.grade"), grade.is_none()),
        ]
        .into_iter()
        .filter_map(|(key, is_missing)| is_missing.then_some(key))
        .collect()),
    }
}

fn rafter(book: &Book<'_>) -> Finding {
    let plan = book.plan();
    let run = plan.rafter.run().inches();
    let of = Rafters { run, carried: book.carried_width(), rise: plan.rafter.pitch.unit_rise() };
    let note = "level, building line to the middle of the ridge";
    of.held(&book.code(), note.into(), |finding, span_in| adjusted(book, finding, run, span_in))
}

/// The rafters that the tables are asked about.
pub(super) struct Rafters {
    /// How far the longest of them spans, level, inches.
    pub(super) run: f64,
    /// The width of roof that one carries.
    pub(super) carried: Length,
    /// Rise in 12 of the lowest of their slopes.
    pub(super) rise: f64,
}

impl Rafters {
    /// The finding of the tables' span; `against` compares it with what the rafters have to span.
    pub(super) fn held(
        &self,
        book: &Code<'_>,
        how: Note,
        against: impl FnOnce(Finding, u32) -> Finding,
    ) -> Finding {
        let plan = book.plan();
        let section = off_the_table(book.checks.edition, true);
        let finding =
            book.of_table(CheckId::RafterSpan, "span of the rafters", section.to_owned()).note(how);
        let mut bare = finding.clone();
        (bare.unit, bare.found) = (Unit::Inches, Some(self.run));
        let (loads, lumber) = match (book.roof_loads(), lumber(book)) {
            (Ok(loads), Ok(lumber)) => (loads, lumber),
            (loads, lumber) => {
                let missing = [loads.err(), lumber.err()].into_iter().flatten().flatten();
                return bare.missing(&missing.collect::<Vec<_>>());
            }
        };
        let (Some(size), Some(dead)) = (listed(&plan.rafter.stock), book.checks.dead) else {
            return bare
                .verdict(Verdict::NeedsDesign)
                .note("no listed size fits inside this section");
        };
        let low = self.rise <= low_rise_in_12() + LAST_BITS;
        let answers = loads.into_iter().map(|load| {
            let case = SpanCase::rafter(
                lumber.0,
                lumber.1,
                size,
                self.carried,
                load,
                dead,
                book.checks.ceiling_on_rafters || low,
            );
            let case =
                if book.checks.ceiling_on_rafters { under_ceiling(book, case) } else { case };
            Held::new(case, book.checks.edition)
        });
        let held = match shortest(answers) {
            Ok(shortest) => shortest,
            Err(why) => return bare.verdict(Verdict::NeedsDesign).note(why),
        };
        let mut finding = held.tell(finding, section, book.checks.edition);
        if low && !book.checks.ceiling_on_rafters {
            finding = finding.told().note(Note::with(
                format!(
                    "at {{}} and lower the deflection limit is L/{} (Table R301.7), that of the tables with the ceiling attached; \
                     L/{} is for steeper slopes",
                    show(RuleId::DeflOther.figure()),
                    show(RuleId::DeflRafterNoCeiling.figure())
                ),
                [RiseIn12(low_rise_in_12())],
            ));
        }
        if book.checks.ceiling_on_rafters {
            finding = of_finish(book, finding);
        }
        let finding = held.or_design(against(finding, held.span_in));
        of_section(finding, &plan.rafter.stock, size)
    }
}

/// The span with the code's factor for a raised tie, compared with the run.
fn adjusted(book: &Book<'_>, finding: Finding, run: f64, span_in: u32) -> Finding {
    let plan = book.plan();
    let ties = &book.frame.ties;
    let bare = |finding: Finding, verdict| {
        let mut finding = finding.verdict(verdict);
        (finding.unit, finding.found) = (Unit::Inches, Some(run));
        finding
    };
    if ties.kind == TieKind::None {
        return bare(finding, Verdict::NeedsDesign).note(
            "the tables assume ties at the plate; this roof has none, and the ridge carries the rafters",
        );
    }
    let gable = Gable::new(plan.rafter.span, plan.rafter.pitch.unit_rise(), ties.height);
    let (Ok(gable), Some(span)) = (gable, adjusted_span(span_in, ties.hc_over_hr)) else {
        return bare(finding, Verdict::NeedsDesign).note(
            "the ties lie above one third of the height: the tables do not cover the rafters",
        );
    };
    let mut finding = finding.held(Unit::Inches, run, Sense::AtMost, span.inches());
    if gable.tie_ratio > 0.0 {
        let printed = adjustment::table_number(AppliesTo::RafterSpan, book.checks.edition);
        let exact = gable.span_factor_by_greatest_moment();
        let code = printed_factor_hundredths(AppliesTo::RafterSpan, gable.tie_ratio)
            .map_or(1.0, |hundredths| f64::from(hundredths) / 100.0);
        finding = finding.note(Note::with(
            format!(
                "ties at {} of the height: {{}} x {} ({printed})",
                show(gable.tie_ratio),
                show(code)
            ),
            [Inches(f64::from(span_in))],
        ));
        if code > exact + 5e-4 {
            finding = finding.told().note(Note::with(
                format!(
                    "that printed factor is above exact statics, {}: by the greatest moment the rafter spans {{}}",
                    show(exact)
                ),
                [Inches((f64::from(span_in) * exact).floor())],
            ));
        }
        if let Some(steps) = adjusted_span_working(span_in, &gable, book.checks.edition) {
            finding = finding.working(steps);
        }
    }
    finding
}

/// The case with the shortest span.
fn shortest(answers: impl Iterator<Item = Result<Held, StrengthFault>>) -> Result<Held, String> {
    let all: Result<Vec<_>, _> = answers.collect();
    all.map_err(|fault| fault.to_string())?
        .into_iter()
        .min_by_key(|held| held.span_in)
        .ok_or_else(|| "no load".to_owned())
}

/// The section on spans to cite if no table is named.
pub(super) fn off_the_table(edition: Edition, is_rafter: bool) -> &'static str {
    match (edition, is_rafter) {
        (Edition::Irc2015, true) => "R802.5",
        (Edition::Irc2015, false) => "R802.4",
        (_, true) => "R802.4.1",
        (_, false) => "R802.5.1",
    }
}

/// The load on the joists, psf.
struct AtticLoad {
    live_psf: f64,
    dead_psf: f64,
}

/// The attic live load from height, access, stairs and insulation (table R301.5).
fn attic_load(code: &Code<'_>) -> (AtticLoad, Option<Finding>) {
    let checks = code.checks;
    let storage = RuleId::AtticLiveLimitedStorage.rule();
    let storage_in = storage.height_in.unwrap_or_default();
    let access = (storage.width_in.unwrap_or_default(), storage.length_in.unwrap_or_default());
    let clear = clear_height(code);
    let small_access = match (code.plan().access.width, code.plan().access.length) {
        (Some(width), Some(length)) => {
            let (a, b) = (width.inches(), length.inches());
            a.min(b) < access.0 || a.max(b) < access.1
        }
        _ => false,
    };
    let deep_insulation =
        checks.insulation.is_some_and(|depth| depth.inches() >= code.plan().joist.depth_in());
    let (id, why) = if checks.attic_stairs {
        (RuleId::AtticLiveFixedStairs, "fixed stairs, or lived in")
    } else if clear < storage_in {
        (RuleId::AtticLiveNoStorage, "lower than {}: no storage")
    } else if small_access {
        (
            RuleId::AtticLiveNoStorage,
            "high enough for storage, but the access is smaller than {} by {}",
        )
    } else if deep_insulation {
        (
            RuleId::AtticLiveNoStorage,
            "high enough for storage, but the insulation is as deep as the joists",
        )
    } else {
        (RuleId::AtticLiveLimitedStorage, "{} or more: limited storage is taken")
    };
    let live_psf = id.figure();
    let no_storage = id == RuleId::AtticLiveNoStorage;
    let table = if no_storage { TableLoad::AtticNoStorage } else { TableLoad::AtticLimitedStorage };
    let dead_psf = SpanTable::joists(table).dead_loads_psf()[0];
    let finding = code.of_rule(id, "clear height of the attic, for its live load").map(|finding| {
        let mut finding = finding
            .verdict(Verdict::Meets)
            .told()
            .note(Note::with(
                why,
                if small_access && clear >= storage_in {
                    vec![Inches(access.0), Inches(access.1)]
                } else {
                    vec![Inches(storage_in)]
                },
            ))
            .note(Note::with(
                "the joists are held against {} live and {} dead",
                [Psf(live_psf), Psf(dead_psf)],
            ))
            .working([step(
                "clear height at the ridge's face",
                "underside of the rafters - top of the joists",
                format!("{} - {}", show(clear + joist_top(code)), show(joist_top(code))),
                Note::with("{}", [Inches(clear)]),
            )]);
        (finding.unit, finding.found) = (Unit::Inches, Some(clear));
        (finding.sense, finding.limit) = (
            if no_storage { Sense::AtMost } else { Sense::AtLeast },
            (!checks.attic_stairs && (clear < storage_in || !no_storage)).then_some(storage_in),
        );
        finding
    });
    (AtticLoad { live_psf, dead_psf }, finding)
}

fn joist(code: &Code<'_>, load: &AtticLoad, carried: Length) -> Finding {
    let plan = code.plan();
    let finding = code.of_table(
        CheckId::CeilingJoistSpan,
        "span of the ceiling joists",
        off_the_table(code.checks.edition, false).to_owned(),
    );
    let longest = match (plan.joists, code.checks.joist_span) {
        (Joists::Across, None) => {
            return finding
                .note("no other number says where joists that run along the ridge bear")
                .missing(&[key!("ceiling.joist_span")]);
        }
        (Joists::Across, Some(span)) => span.inches(),
        _ => longest_joist(code),
    };
    let mut bare = finding.clone();
    (bare.unit, bare.found) = (Unit::Inches, Some(longest));
    let lumber = match lumber(code) {
        Ok(lumber) => lumber,
        Err(missing) => return bare.missing(&missing),
    };
    let Some(size) = listed(&plan.joist) else {
        return bare.verdict(Verdict::NeedsDesign).note("no listed size fits inside this section");
    };
    let case = SpanCase::ceiling_joist(
        lumber.0,
        lumber.1,
        size,
        carried,
        psf(load.live_psf),
        psf(load.dead_psf),
    );
    let held = match Held::new(under_ceiling(code, case), code.checks.edition) {
        Ok(held) => held,
        Err(fault) => return bare.verdict(Verdict::NeedsDesign).note(fault.to_string()),
    };
    let finding = finding.held(Unit::Inches, longest, Sense::AtMost, f64::from(held.span_in)).note(
        match plan.bearing {
            _ if plan.joists == Joists::Across => "the span that ceiling.joist_span gives",
            Some(_) => "the longer of the two lengths, building line to the middle of the bearing",
            None => "building line to building line",
        },
    );
    let finding = held.or_design(held.tell(
        finding,
        off_the_table(code.checks.edition, false),
        code.checks.edition,
    ));
    of_section(of_finish(code, finding), &plan.joist, size)
}
