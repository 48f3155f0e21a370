//! The heel, enlarged: the space for insulation over the plate, and how the rules measure heights; the walk has the findings.

use crate::catalog::code_rules::RuleId;
use crate::frame::site::Site;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Length, Writing};
use crate::rules::{CheckId, Finding, FindingId, HeelSpace, heel_space};

use super::super::super::callout::Detail;
use super::super::super::clip::clipped;
use super::super::super::drawing::{Area, Drawing, Pen, View};
use super::super::super::paper::notes::{self, Note, Side};
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::{Kind, Matter};
use super::slice::Section;
use crate::facts::caution::CHECK;

/// Height of the drawing, and width of its notes at the right and at the left.
const HIGH: f64 = 3.2;
const LEAST_HIGH: f64 = 2.4;
const NOTES: f64 = 2.0;
const LEFT: f64 = 1.15;
/// How far inside the plate's inner edge the drawing reaches, inches of work.
const INSIDE_IN: f64 = 12.0;
/// Round the work, outside and below; twice as much above, inches of work.
const ROUND: f64 = 1.0;
/// Of the wall below the plate's top, inches of work, where no fascia hangs lower.
const WALL_SHOWN: f64 = 4.0;

/// The findings that are about heights of the section.
const OF_HEIGHTS: [FindingId; 8] = [
    FindingId::Rule(RuleId::RidgeTieAboveThird),
    FindingId::Rule(RuleId::RafterTableTieAssumption),
    FindingId::Rule(RuleId::CollarTieLocation),
    FindingId::Rule(RuleId::VentAirGap),
    FindingId::Check(CheckId::SoffitOverWindowHead),
    FindingId::Rule(RuleId::AtticAccessTrigger),
    FindingId::Rule(RuleId::AtticAccessHeadroom),
    FindingId::Check(CheckId::HeightCap),
];

/// The sheets of a set with these kinds. The detail of the eave shows the same work larger: the heel is in words beside that, but in a plan
/// set, whose sections have sheets of their own.
pub(super) fn pages(matter: &Matter<'_>, with: &[Kind], job: &Job) -> Vec<Page> {
    let title = format!("{}, heel", Kind::Section.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, CHECK);
    if with.contains(&Kind::Details) && job.plan_set.is_none() {
        let told = in_words(matter, job);
        if !told.is_empty() {
            flow.indented(&format!("insulation at the heel, eave A: {}.", told.join("; ")), 0.2);
        }
    } else {
        let (drawing, scale) = heel(matter, job, flow.width());
        flow.head(&Detail::Heel.head(&format!("Heel and insulation, eave A, {scale}")));
        flow.drawing(drawing);
        flow.gap(0.15);
    }
    let found: Vec<&Finding> =
        matter.findings.iter().filter(|finding| OF_HEIGHTS.contains(&finding.id)).collect();
    for finding in found.iter().filter(|finding| !finding.notes.is_empty()) {
        flow.indented(&format!("{}: {}.", finding.title, finding.noted(job.writing)), 0.2);
    }
    flow.finish()
}

/// What the notes at the heel say of its insulation.
fn in_words(matter: &Matter<'_>, job: &Job) -> Vec<String> {
    let site = &matter.frame.site;
    let Some(space) = heel_space(&matter.book) else { return Vec::new() };
    let view = View { scale: 1.0, origin: DVec2::ZERO };
    let inner = site.plate + INSIDE_IN;
    let heel = Heel { site, space, inner, view, writing: job.writing };
    let mut notes = vec![heel.room_at_the_building_line()];
    notes.extend(heel.notes(site.roof_height(inner)));
    notes.into_iter().map(|note| note.words).collect()
}

/// The heel in section with notes beside it, and its scale in words.
fn heel(matter: &Matter<'_>, job: &Job, wide: f64) -> (Drawing, String) {
    let frame = matter.frame;
    let site = &frame.site;
    let mut drawing = Drawing::new(wide, HIGH);
    let area = Area::new(DVec2::new(LEFT + 0.25, 0.0), DVec2::new(wide - NOTES - 0.3, HIGH));
    let space = heel_space(&matter.book);
    let out = matter.eave.fascia_top.out.inches().max(0.0);
    let foot = matter.eave.fascia_bottom.map_or(matter.eave.soffit, |spot| spot.above_plate);
    let nothing = inches(0.0);
    let insulated =
        space.map_or(nothing, |space| space.ceiling + space.depth.unwrap_or(nothing)).inches();
    let low = DVec2::new(-out - ROUND, foot.inches().min(-WALL_SHOWN) - ROUND);
    let high = DVec2::new(
        site.plate + INSIDE_IN,
        site.roof_height(site.plate).max(insulated).max(site.depth) + 2.0 * ROUND,
    );
    let view = View::fitting(low, high, area, job.writing.units);
    // no higher than the work needs, or the notes beside it
    let tall = ((high - low).y * view.scale + 0.15).clamp(LEAST_HIGH, HIGH);
    let view = View { origin: view.origin - DVec2::Y * ((HIGH - tall) / 2.0), ..view };
    drawing.height = tall;
    let mut work = Drawing::new(wide, HIGH);
    Section::of(frame).draw(&mut work, &view);
    for x in [0.0, site.plate] {
        let wall = [DVec2::new(x, 0.0), DVec2::new(x, low.y)];
        work.line(wall.map(|at| view.place(at)).to_vec(), Pen::Context);
    }
    let stand = job.writing.length(inches(site.heel_stand));
    let mut left = vec![Note {
        at: view.place(DVec2::new(0.0, site.heel_stand)),
        words: format!("heel stand {stand}"),
    }];
    let mut right = Vec::new();
    if let Some(space) = space {
        let heel = Heel { site, space, inner: high.x, view, writing: job.writing };
        work.line(heel.insulation(), Pen::Accent);
        left.push(heel.room_at_the_building_line());
        right = heel.notes(high.y);
    }
    for item in work.items {
        drawing.items.extend(clipped(item, (view.place(low), view.place(high))));
    }
    let column = |from: f64, to: f64| Area::new(DVec2::new(from, 0.2), DVec2::new(to, tall - 0.05));
    notes::draw(&mut drawing, column(wide - NOTES, wide), Side::Right, right, SMALL);
    notes::draw(&mut drawing, column(0.0, LEFT), Side::Left, left, SMALL);
    (drawing, view.words(job.writing.units))
}

/// The insulation over the plate, as the air leaves it room, on the drawing.
struct Heel<'a> {
    site: &'a Site,
    space: HeelSpace,
    /// Where the drawing ends inside, inches from the building line.
    inner: f64,
    view: View,
    writing: Writing,
}

impl Heel<'_> {
    fn write(&self, length: Length) -> String {
        self.writing.length(length)
    }

    fn note(&self, at: DVec2, words: String) -> Note {
        Note { at: self.view.place(at), words }
    }

    /// Top of the insulation so far inside of the building line: up the slope under the air until the whole depth fits.
    fn top(&self, y: f64) -> f64 {
        let under = (self.space.room.inches() + y * self.site.tangent).max(0.0);
        let thick = self.space.depth.map_or(under, |depth| depth.inches().min(under));
        self.space.ceiling.inches() + thick
    }

    /// From where inside of the building line it lies in its full depth.
    fn full_from(&self) -> f64 {
        self.space.full_from.map_or(self.inner, InInches::inches)
    }

    /// Its outline on the drawing.
    fn insulation(&self) -> Vec<DVec2> {
        let (full, inner, ceiling) = (self.full_from(), self.inner, self.space.ceiling.inches());
        let mut ring = vec![DVec2::new(0.0, ceiling), DVec2::new(0.0, self.top(0.0))];
        if full > 0.0 && full < inner {
            ring.push(DVec2::new(full, self.top(full)));
        }
        ring.extend([
            DVec2::new(inner, self.top(inner)),
            DVec2::new(inner, ceiling),
            DVec2::new(0.0, ceiling),
        ]);
        ring.into_iter().map(|at| self.view.place(at)).collect()
    }

    fn room_at_the_building_line(&self) -> Note {
        let room = self.write(self.space.room.max(inches(0.0)));
        self.note(
            DVec2::new(0.0, self.top(0.0)),
            format!("fits at the building line under that air: {room}"),
        )
    }

    /// What is said of air, room and depth; `high` is where the drawing ends above, inches over the plate.
    fn notes(&self, high: f64) -> Vec<Note> {
        let (site, space) = (self.site, &self.space);
        // where the drawing still shows the rafter's top
        let seen = (high - ROUND - site.heel_stand) / site.tangent;
        let y = (site.plate + INSIDE_IN * 0.3).min(seen).max(0.0);
        let in_the_air = site.roof_height(y) - space.least_air.inches() * site.secant / 2.0;
        let least = self.write(space.least_air);
        let inside = self.write(space.room_inside.max(inches(0.0)));
        let mut notes = vec![
            self.note(
                DVec2::new(y, in_the_air),
                format!("air over the insulation: at least {least}, square to the slope"),
            ),
            self.note(
                DVec2::new(site.plate, self.top(site.plate)),
                format!("fits at the plate's inner edge: {inside}"),
            ),
        ];
        notes.extend(space.depth.map(|depth| {
            let full = self.full_from();
            let from = if full > 0.0 {
                format!("{} inside the building line", self.write(inches(full)))
            } else {
                "the building line".to_owned()
            };
            self.note(
                DVec2::new(self.inner - 2.0, space.ceiling.inches() + 0.5),
                format!("insulation {} deep, in full from {from}", self.write(depth)),
            )
        }));
        notes
    }
}
