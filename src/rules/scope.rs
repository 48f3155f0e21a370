//! What the prescriptive rules cover, the height, and the distance to lot lines.

use crate::catalog::Edition;
use crate::catalog::code_rules::RuleId;
use crate::key;
use crate::measure::Amount::{Feet, Inches, Psf, RiseIn12, SquareFeet};
use crate::measure::quantity::{InInches, square_inches};
use crate::measure::tolerance::LAST_BITS;
use crate::measure::{Length, Note};
use crate::plan::{Key, Seismic};
use crate::strength::loads::{psf_figure, roof_live_rule};

use super::book::{Book, Code, show, step};
use super::finding::{Finding, Sense, Unit, Verdict};
use super::id::CheckId;

/// The findings about loads and reach.
pub(super) fn findings(book: &Book<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(roof_live(book));
    found.extend(of_any_roof(&book.code()));
    found.extend(wall_height(book));
    found.extend(on_the_lot(&book.code()));
    found
}

/// The findings about height and lot lines.
pub(super) fn on_the_lot(code: &Code<'_>) -> Vec<Finding> {
    let mut found = vec![height(code)];
    let sides: Vec<Near> = if code.has_gables() {
        vec![Near::eaves(code), Near::rakes(code)]
    } else {
        vec![Near::eaves(code)]
    };
    found.extend(sides.iter().filter_map(|near| lot_line(code, near)));
    found.extend(sides.iter().filter_map(|near| wall_near_line(code, near)));
    found
}

/// The findings about loads that hold for any shape of roof.
pub(super) fn of_any_roof(code: &Code<'_>) -> Vec<Finding> {
    [snow(code), wind(code), roof_dead(code)].into_iter().flatten().collect()
}

fn roof_live(book: &Book<'_>) -> Option<Finding> {
    let plan = book.plan();
    let rise = plan.rafter.pitch.unit_rise();
    // a rafter carries less than 200 sq ft; if it carried more, the load would be on the high side
    let id = roof_live_rule(rise, square_inches(0.0));
    let run_ft = plan.rafter.run().inches() / 12.0;
    let spacing_ft = plan.spacing.inches() / 12.0;
    Some(
        book.of_rule(id, "roof live load")?
            .held(Unit::Psf, psf_figure(book.checks.live), Sense::AtLeast, book.figure(id)?)
            .note(Note::with(
                "slope {}; one rafter carries {} x {} = {} of projection",
                [RiseIn12(rise), Feet(run_ft), Feet(spacing_ft), SquareFeet(run_ft * spacing_ft)],
            )),
    )
}

fn snow(book: &Code<'_>) -> Option<Finding> {
    let finding = book.of_rule(RuleId::SnowScope, "ground snow load")?.or_design();
    let limit = book.figure(RuleId::SnowScope)?;
    Some(match book.checks.snow {
        None => finding.missing(&[key!("loads.snow")]),
        Some(snow) => finding
            .held(Unit::Psf, psf_figure(snow), Sense::AtMost, limit)
            .note(if book.checks.edition == Edition::Irc2024 {
                "beyond it the building is engineered; this edition means the allowable-stress ground snow load"
            } else {
                "beyond it the building is engineered"
            }),
    })
}

fn wind(book: &Code<'_>) -> Option<Finding> {
    let id = [RuleId::ScopeWind, RuleId::ScopeWind2018]
        .into_iter()
        .find(|id| book.rule(*id).is_some())?;
    let finding = book.of_rule(id, "design wind speed")?.or_design();
    let limit = book.figure(id)?;
    Some(match book.checks.wind_mph {
        None => finding.missing(&[key!("loads.wind")]),
        Some(wind) => finding
            .held(Unit::MilesPerHour, wind, Sense::AtMost, limit)
            .note("and below it wherever the code's map requires wind design"),
    })
}

/// In seismic categories D0 to D2 the roof may weigh no more than the wall bracing assumes.
fn roof_dead(book: &Code<'_>) -> Option<Finding> {
    (book.checks.seismic == Some(Seismic::D)).then_some(())?;
    let id = [RuleId::ScopeRoofDead, RuleId::ScopeRoofDead2015]
        .into_iter()
        .find(|id| book.rule(*id).is_some())?;
    let limit = book.figure(id)?;
    let finding = book.of_rule(id, "dead load of roof and ceiling")?.or_design();
    Some(match book.checks.dead {
        None => finding.missing(&[key!("loads.dead")]),
        Some(dead) => finding
            .held(Unit::Psf, psf_figure(dead), Sense::AtMost, limit)
            .note(Note::with("of projection; up to {} the wall bracing is increased", [Psf(25.0)])),
    })
}

fn wall_height(book: &Book<'_>) -> Option<Finding> {
    let limit = book.figure(RuleId::ScopeStoryHeight)?;
    Some(
        book.of_rule(RuleId::ScopeStoryHeight, "height of the walls")?
            .or_design()
            .held(Unit::Inches, book.plan().wall_height.inches(), Sense::AtMost, limit)
            .note("floor to plate; for the wind and seismic provisions"),
    )
}

fn height(code: &Code<'_>) -> Finding {
    let finding = Finding {
        section: "your own limit".to_owned(),
        edition: "no code rule".to_owned(),
        ..Finding::of(CheckId::HeightCap, "height of the building")
    };
    let Some((_, own)) = code.checks.limits.iter().find(|(key, _)| *key == key!("limits.height"))
    else {
        return finding.note("zoning often caps it").missing(&[key!("limits.height")]);
    };
    let Some(floor) = code.checks.floor_height else {
        return finding.missing(&[key!("site.floor_height")]).own(own.limit, &own.reason);
    };
    let wall = code.plan().wall_height.inches();
    let apex = code.peak();
    let total = floor.inches() + wall + apex;
    let mut finding = finding
        .held(Unit::Inches, total, Sense::AtMost, own.limit)
        .note(
            "to the peak of the rafters' top edges; sheathing, roofing and ridge vent come on top",
        )
        .working([step(
            "height of the building",
            "floor above ground + wall + peak above the plate",
            format!("{} + {} + {}", show(floor.inches()), show(wall), show(apex)),
            Note::with("{}", [Inches(total)]),
        )])
        .own(own.limit, &own.reason);
    // the code has no limit to show beside it
    finding.limit = None;
    finding
}

/// A side of the building that faces a lot line.
struct Near {
    overhangs: &'static str,
    walls: &'static str,
    /// Field of the distance.
    key: Key,
    distance: Option<Length>,
    /// The farthest, level from the building line, inches.
    overhang: f64,
    /// Field that says the underside is rated.
    rated_key: Key,
    rated: Option<bool>,
    /// Why the underside needs no rating near the line, if it does not.
    exempt: Option<&'static str>,
}

impl Near {
    fn eaves(code: &Code<'_>) -> Near {
        Near {
            overhangs: "eaves near the lot line",
            walls: "eave walls near the lot line",
            key: key!("site.lot_line"),
            distance: code.checks.lot_line,
            overhang: code.eaves().iter().map(|eave| eave.overhang).fold(0.0, f64::max),
            rated_key: key!("site.eave_rated"),
            rated: code.checks.eave_rated,
            exempt: None,
        }
    }

    fn rakes(code: &Code<'_>) -> Near {
        // footnote b: without gable vents the rake's underside may stay unrated
        let exempt = (code.plan().vent.is_none() && code.rule(RuleId::RakeRatingNoVents).is_some())
            .then_some(if code.checks.edition == Edition::Irc2024 {
                "no vents in the gables: the rakes need no rating, if no vent leads into the attic in the overhang either (footnote b)"
            } else {
                "no vents in the gables: the rakes need no rating (footnote b)"
            });
        Near {
            overhangs: "rakes near the lot line",
            walls: "gable end walls near the lot line",
            key: key!("site.lot_line_rake"),
            distance: code.checks.lot_line_rake,
            overhang: code.rake(),
            rated_key: key!("site.rake_rated"),
            rated: code.checks.rake_rated,
            exempt,
        }
    }
}

/// Where a roof has walls of several blocks: the distance counts from the nearest.
fn from_which_wall(code: &Code<'_>, near: &Near) -> Note {
    if code.plan().blocks.wings.is_empty() {
        return Note::default();
    }
    format!(
        "{} counts from the wall that is nearest to the line, walls of wings among them",
        near.key.name()
    )
    .into()
}

/// A wall nearer to the lot line than an unrated wall may be.
fn wall_near_line(code: &Code<'_>, near: &Near) -> Option<Finding> {
    let id = if code.checks.sprinklers {
        RuleId::WallUnratedSprinklered
    } else {
        RuleId::WallUnratedDistance
    };
    let limit = code.figure(id)? * 12.0;
    let finding = code.of_rule(id, near.walls)?;
    let Some(distance) = near.distance else {
        return Some(finding.missing(&[near.key]));
    };
    let finding = finding
        .held(Unit::Inches, distance.inches(), Sense::AtLeast, limit)
        .note(from_which_wall(code, near));
    if finding.verdict == Verdict::Meets {
        return Some(finding);
    }
    let finding = finding.note(
        "nearer than the limit the wall is fire-rated for an hour from both sides; openings in it have rules of their own",
    );
    Some(match code.checks.wall_rated {
        Some(true) => finding.verdict(Verdict::Meets),
        Some(false) => finding,
        None => finding.missing(&[key!("site.wall_rated")]),
    })
}

/// Eaves or rakes near the lot line, by fire separation distance: the wall's face to the line.
fn lot_line(code: &Code<'_>, near: &Near) -> Option<Finding> {
    let feet = |id: RuleId| code.figure(id).map(|feet| feet * 12.0);
    let (title, overhang) = (near.overhangs, near.overhang);
    if overhang <= 0.0 {
        return None;
    }
    let Some(distance) = near.distance.map(InInches::inches) else {
        return Some(code.of_rule(RuleId::ProjectionUnrated, title)?.missing(&[near.key]));
    };
    let left = Note::with(
        "{} from the wall to the line; {} of overhang leave {}",
        [Inches(distance), Inches(overhang), Inches(distance - overhang)],
    );
    if overhang > distance + LAST_BITS {
        return Some(
            code.of_rule(RuleId::ProjectionNotAllowed, title)?
                .held(Unit::Inches, distance, Sense::AtLeast, overhang)
                .note(left)
                .note("it reaches over the lot line"),
        );
    }
    let none_under = feet(RuleId::ProjectionNotAllowed)?;
    let unrated = if code.checks.sprinklers {
        RuleId::ProjectionSprinklered
    } else {
        RuleId::ProjectionUnrated
    };
    let unrated_from = feet(unrated)?;
    let held = |id: RuleId, limit| -> Option<Finding> {
        Some(
            code.of_rule(id, title)?
                .held(Unit::Inches, distance, Sense::AtLeast, limit)
                .note(left.clone())
                .note(from_which_wall(code, near)),
        )
    };
    if distance < none_under && code.checks.garage {
        let limit = code.figure(RuleId::GarageEaveLotLine)?;
        return Some(
            code.of_rule(RuleId::GarageEaveLotLine, title)?
                .held(Unit::Inches, overhang, Sense::AtMost, limit)
                .note(left),
        );
    }
    if distance < none_under {
        return Some(
            held(RuleId::ProjectionNotAllowed, none_under)?.note("no eave or rake so near"),
        );
    }
    if distance >= unrated_from {
        return held(unrated, unrated_from);
    }
    let id = if code.checks.sprinklers {
        RuleId::ProjectionSprinklered
    } else {
        RuleId::ProjectionRated
    };
    let finding = held(id, unrated_from)?;
    let blocks = code
        .rule(RuleId::OrEaveFireblock)
        .map_or("", |_| "; Oregon: that fireblocking is two layers of 2x lumber");
    let finding = finding.note(format!(
        "nearer than the limit the underside is fire-rated for an hour, or the eave fireblocked to the roof sheathing{blocks}"
    ));
    if let Some(why) = near.exempt {
        return Some(finding.verdict(Verdict::Meets).note(why));
    }
    Some(match near.rated {
        Some(true) => finding.verdict(Verdict::Meets),
        Some(false) => finding,
        None => finding.missing(&[near.rated_key]),
    })
}
