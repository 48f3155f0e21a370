//! `eave` on one page.

use crate::facts::caution;
use crate::facts::datum::Inches;
use crate::facts::eave::MeasuredJson;
use crate::facts::record::row;
use crate::frame::Eave;
use crate::frame::eave::{HighEave, Spot};
use crate::measure::quantity::inches;
use crate::measure::{Length, Writing, trim};
use crate::plan::{MeasuredTo, OverhangFrom, OverhangTo, TailCut};
use crate::rules::Finding;

use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

/// The page: the places of everything at the eave, and how to set the boards.
#[must_use]
pub fn text(eave: &Eave, found: &[Finding], look: &Look, depth: Depth) -> String {
    let plan = &eave.rafter.plan;
    let mut page = Page::new(look, depth);
    let of_slope = plan.of_slope.as_ref().map_or(String::new(), |of| format!(", {}", of.name));
    page.say(&format!(
        "Eave{of_slope}: overhang {} at {}, fascia {}, sub-fascia {}.",
        look.writing.length(plan.overhang),
        look.writing.pitch(plan.pitch),
        board(plan.fascia, look),
        board(plan.subfascia, look),
    ));
    page.open(found);
    page.table(&places(eave, look.writing));
    page.gap();
    page.text(boards(eave, look));
    if let Some(high) = &eave.high {
        page.table(&high_places(eave, high, look.writing));
        page.gap();
        page.text(high_boards(eave, high, look));
    }
    if !eave.measured.is_empty() {
        page.list(measured(eave, look.writing));
        if let Some(reached) = eave.reached_by_all {
            page.say(&format!(
                "A straight string that every tail reaches gives an overhang of {}, against {} planned.",
                look.writing.length(reached),
                look.writing.length(plan.overhang)
            ));
        }
    }
    page.workings(|| explained(eave, look));
    page.notes(&plan.notes());
    page.findings(found);
    page.used(&plan.used);
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

fn board(thickness: Length, look: &Look) -> String {
    if thickness == inches(0.0) { "none".into() } else { look.writing.length(thickness) }
}

fn has_fascia(eave: &Eave) -> bool {
    eave.rafter.plan.fascia > inches(0.0)
}

row! {
    /// Where something lies at the eave.
    Place from (eave: &Eave, name: &'static str, out: Option<Length>, above: Length) {
        name "": &'static str = name;
        out "out from the building line": Option<Inches> = out;
        above_plate "above the plate": Inches = above;
        above_floor "above the floor": Inches = eave.above_floor(above);
    }
}

fn places(eave: &Eave, writing: Writing) -> Table {
    let place = |name, out, above| Place::of(eave, name, out, above);
    let spot = |name, spot: &Spot| place(name, Some(spot.out), spot.above_plate);
    let mut places = vec![spot("tail, top corner", &eave.tail_top)];
    if has_fascia(eave) {
        places.push(spot("fascia's outer face, top", &eave.fascia_top));
    }
    places.extend(eave.fascia_bottom.iter().map(|at| spot("fascia's outer face, bottom", at)));
    places.push(spot("tail, lowest point", &eave.tail_foot));
    places.push(place("soffit, underside", None, eave.soffit));
    places.push(place("top of the plate", Some(inches(0.0)), inches(0.0)));
    let head = eave.plan.window_head;
    places.extend(head.map(|head| place("window head", None, head - eave.plan.wall_height)));
    Table::of("Where things lie", places, writing)
}

row! {
    /// Where something lies at the eave of a shed's high wall.
    HighPlace from (high: &HighEave, name: &'static str, out: Option<Length>, above: Length) {
        name "": &'static str = name;
        out "out from the building line": Option<Inches> = out;
        above_plate "above the high plate": Inches = above;
        above_floor "above the floor": Inches = high.wall_height + above;
    }
}

fn high_places(eave: &Eave, high: &HighEave, writing: Writing) -> Table {
    let place = |name, out, above| HighPlace::of(high, name, out, above);
    let spot = |name, spot: &Spot| place(name, Some(spot.out), spot.above_plate);
    let mut places = vec![spot("high tail, top corner", &high.tail_top)];
    if has_fascia(eave) {
        places.push(spot("fascia's outer face, top", &high.fascia_top));
    }
    places.extend(high.fascia_bottom.iter().map(|at| spot("fascia's outer face, bottom", at)));
    places.push(spot("high tail, foot of its cut", &high.tail_foot));
    places.push(place("soffit along the rafters, at the wall", None, high.soffit_at_wall));
    places.push(place("soffit along the rafters, at the boards", None, high.soffit_at_boards));
    places.push(place("top of the high plate", Some(inches(0.0)), inches(0.0)));
    Table::of("Where things lie at the high wall", places, writing)
}

fn high_boards(eave: &Eave, high: &HighEave, look: &Look) -> String {
    let write = |length: Length| look.writing.length(length);
    let mut text = String::new();
    let mut line = |words: String| text.push_str(&wrapped(&words, 2, look));
    let outer = if has_fascia(eave) { "Fascia's outer face" } else { "Tail cut" };
    line(format!("{outer} from the finished high wall: {}.", write(high.fascia_from_finish)));
    if has_fascia(eave) {
        line(match high.fascia_rise > inches(0.0) {
            true => format!(
                "Set the high fascia's square top edge {} above the tail's top corner: its inner edge meets the roof plane.",
                write(high.fascia_rise)
            ),
            false => {
                "Set the high fascia's square top edge flush with the tail's top corner.".into()
            }
        });
        line(format!(
            "Least fascia depth there that covers tail and soffit: {}.",
            write(high.least_fascia_depth)
        ));
    }
    line(format!(
        "Soffit along the rafters, finished wall to the back of the boards: {}.",
        write(high.soffit_width)
    ));
    text
}

fn boards(eave: &Eave, look: &Look) -> String {
    let write = |length: Length| look.writing.length(length);
    let plan = &eave.rafter.plan;
    let mut text = String::new();
    let mut line = |words: String| text.push_str(&wrapped(&words, 2, look));
    let outer = if has_fascia(eave) { "Fascia's outer face" } else { "Tail cut" };
    line(format!("{outer} from the finished wall: {}.", write(eave.fascia_from_finish)));
    if plan.tail == TailCut::Square {
        line("Boards on a square tail lean with it: set their top edges flush with the rafters' top edges.".into());
    } else {
        if plan.subfascia > inches(0.0) {
            line(format!(
                "Set the sub-fascia's square top edge {} below the tail's top corner, so that it keeps under the roof plane.",
                write(eave.subfascia_drop)
            ));
        }
        if plan.fascia > inches(0.0) {
            line(format!(
                "Set the fascia's square top edge {} below the tail's top corner, so that it keeps under the roof plane.",
                write(eave.fascia_drop)
            ));
        }
    }
    if has_fascia(eave) {
        line(format!(
            "Least fascia depth that covers tail and soffit: {}.",
            write(eave.least_fascia_depth)
        ));
    }
    line(format!("Soffit, finished wall to the back of the boards: {}.", write(eave.soffit_width)));
    if let Some(over) = eave.over_window_head {
        line(if over < inches(0.0) {
            format!("The soffit hangs {} BELOW the window head.", write(-over))
        } else {
            format!("The soffit clears the window head by {}.", write(over))
        });
    }
    text
}

fn measured(eave: &Eave, writing: Writing) -> Table {
    let to = match eave.plan.measured_to {
        MeasuredTo::Tail => "the tail cut",
        MeasuredTo::Fascia => "the fascia's outer face",
    };
    let from = match eave.rafter.plan.overhang_from {
        OverhangFrom::Framing => "the wall framing",
        OverhangFrom::Finish => "the finished wall",
    };
    let tails = (1..).zip(&eave.measured).map(|(number, tail)| MeasuredJson::of(number, tail));
    Table::of(format!("Measured, level, {from} to {to}"), tails, writing)
}

fn explained(eave: &Eave, look: &Look) -> String {
    let exact = |length: Length| look.writing.exact(length);
    let plan = &eave.rafter.plan;
    let rise = trim(plan.pitch.unit_rise(), 4);
    let mut text = String::from("How each number comes about\n");
    let mut line = |words: String| text.push_str(&wrapped(&format!("  {words}"), 6, look));
    let out = exact(plan.overhang_from_building_line());
    let boards = eave.fascia_top.out - eave.tail_top.out;
    line(match plan.overhang_to {
        OverhangTo::Tail => {
            format!("tail, top corner: out = overhang from the building line = {out}")
        }
        OverhangTo::Fascia => format!(
            "tail, top corner: out = overhang from the building line {out} - boards, level {} = {}",
            exact(boards),
            exact(eave.tail_top.out)
        ),
    });
    line(format!(
        "tail, top corner above the plate = heel stand {} - {} x {rise} / 12 = {}",
        exact(eave.rafter.heel_stand),
        exact(eave.tail_top.out),
        exact(eave.tail_top.above_plate)
    ));
    if plan.tail != TailCut::Square {
        line(format!(
            "fascia drop = (fascia {} + sub-fascia {}) x {rise} / 12 = {}",
            exact(plan.fascia),
            exact(plan.subfascia),
            exact(eave.fascia_drop)
        ));
    }
    line(format!(
        "fascia's top above the plate = {} - {} x {rise} / 12 = {}",
        exact(eave.rafter.heel_stand),
        exact(eave.fascia_top.out),
        exact(eave.fascia_top.above_plate)
    ));
    if let Some(high) = &eave.high {
        line(format!(
            "high tail, top corner above its plate = heel stand {} + (plate {} + {}) x {rise} / 12 = {}",
            exact(eave.rafter.heel_stand),
            exact(plan.plate),
            exact(high.tail_top.out),
            exact(high.tail_top.above_plate)
        ));
    }
    line(format!(
        "soffit's underside = lowest point of the tail {} - soffit {} = {}",
        exact(eave.tail_foot.above_plate),
        exact(eave.plan.soffit),
        exact(eave.soffit)
    ));
    text
}
