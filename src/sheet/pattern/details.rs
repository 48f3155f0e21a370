//! Tail, birdsmouth and upper end of the pattern rafter in place, larger.

use crate::frame::{CommonRafter, Edge, HighEnd, SeatBy};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Length, Units, Writing, trim};
use crate::plan::{OverhangFrom, TailCut};

use super::super::Anchor;
use super::super::clip::clipped;
use super::super::dimensions::Dimensions;
use super::super::drawing::{Area, Drawing, Pen, TEXT_HEIGHT, View};
use super::super::paper::{HEAD, Job, LEADING, Orientation, Page, SMALL, lines};
use super::super::scale::fitting_scale;
use super::super::typeface::{self, Weight};
use super::matter::Pattern;
use super::place;
use crate::facts::caution::RAFTER;

/// Air between the details.
const GAP: f64 = 0.25;
/// Space between two sentences, as a part of the height of their letters.
const BETWEEN: f64 = 0.4;
/// Room for dimensions beside and below the work.
const SIDE: f64 = 0.4;

/// One detail: its name, the middle of what it shows, its dimensions and its words.
struct Detail {
    name: &'static str,
    middle: DVec2,
    sides: Vec<Side>,
    lines: Vec<[DVec2; 2]>,
    words: Vec<String>,
}

/// A dimension beside the work, toward `away`.
struct Side {
    away: DVec2,
    from: DVec2,
    to: DVec2,
    /// Its name; left out if there is no room, because the words below have it too.
    name: &'static str,
    length: String,
}

impl Side {
    /// Its text on paper, between ends that are `room` apart.
    fn text(&self, room: f64) -> String {
        let named = format!("{} {}", self.name, self.length);
        let wide = typeface::width(&named, TEXT_HEIGHT, Weight::Regular);
        if wide + 0.12 > room { self.length.clone() } else { named }
    }
}

/// It is no smaller than 1 to this, if the page has room.
const LEAST: f64 = 4.0;

/// The page.
pub(super) fn page(pattern: &Pattern<'_>, job: &Job) -> Page {
    let title = pattern.title("P", ": details");
    let blank = job.open(&title, Orientation::Portrait, RAFTER);
    let mut page = blank.page;
    let area = blank.area;
    let rafter = pattern.rafter;
    let wide = (area.size().x - 2.0 * GAP) / 3.0;
    let details = |region: DVec2| {
        [
            tail(rafter, job.writing, region),
            birdsmouth(rafter, job.writing),
            match rafter.high {
                None => ridge(rafter, job.writing, region),
                Some(high) => high_end(rafter, &high, job.writing, region),
            },
        ]
    };
    let words = details(DVec2::ZERO)
        .iter()
        .map(|detail| height_of(&detail.words, wide))
        .fold(0.0, f64::max);
    let plumb = rafter.plumb_height.inches();
    let level = rafter
        .seat
        .length
        .inches()
        .max(rafter.plan.boards().inches() + 2.0)
        .max(rafter.plan.ridge.inches() + 2.0);
    let units = job.writing.units;
    // no higher than it can be drawn between the others; the other part of the sheet is for more
    let across = fitting_scale(level * 1.3, wide - 2.0 * SIDE, units).max(LEAST);
    let around = words + HEAD * LEADING + 2.0 * SIDE;
    let high = (around + plumb * 1.1 / across).min(area.size().y);
    let area = area.split_top(high).0;
    let room = DVec2::new(wide - 2.0 * SIDE, high - around);
    let ratio = fitting_scale(plumb * 1.1, room.y + HAIR, units).max(across);
    for (index, detail) in details(room * ratio).into_iter().enumerate() {
        let left = area.low.x + index as f64 * (wide + GAP);
        let cell = Area::new(DVec2::new(left, area.low.y), DVec2::new(left + wide, area.high.y));
        draw(rafter, &detail, (ratio, units), (cell, words), &mut page.drawing);
    }
    page
}

/// Height of sentences in a column.
fn height_of(sentences: &[String], wide: f64) -> f64 {
    let count: usize = sentences.iter().map(|sentence| lines(sentence, SMALL, wide).len()).sum();
    (count as f64 * LEADING + sentences.len() as f64 * BETWEEN) * SMALL
}

/// Draws a detail into its cell, with `below` kept for its words.
fn draw(
    rafter: &CommonRafter,
    detail: &Detail,
    (ratio, units): (f64, Units),
    (cell, below): (Area, f64),
    drawing: &mut Drawing,
) {
    let (head, rest) = cell.split_top(HEAD * LEADING);
    let (work, words) = rest.split_top(rest.size().y - below);
    let box_ = work.inside(SIDE);
    let view = View { scale: 1.0 / ratio, origin: box_.middle() - detail.middle / ratio };
    drawing.bold(
        DVec2::new(head.low.x, head.high.y - HEAD),
        format!("{}, {}", detail.name, view.words(units)),
        HEAD,
        Anchor::Start,
    );
    let mut inner = Drawing::new(0.0, 0.0);
    place::around(rafter, &view, &mut inner);
    place::stick(rafter, &view, &mut inner);
    for line in &detail.lines {
        inner.line(line.map(|point| view.place(point)).to_vec(), Pen::Dashed);
    }
    for item in inner.items {
        drawing.items.extend(clipped(item, (box_.low, box_.high)));
    }
    let mut aways: Vec<DVec2> = Vec::new();
    for side in &detail.sides {
        if !aways.iter().any(|away| away.distance(side.away) < LAST_BITS) {
            aways.push(side.away);
        }
    }
    for away in aways {
        let upright = away.abs().max_element() > 1.0 - LAST_BITS;
        let of_side =
            || detail.sides.iter().filter(move |side| side.away.distance(away) < LAST_BITS);
        // letters are between the line and the work, except at the left: there they are beside the
        // frame or, slanted, beside what is measured
        let base = if upright {
            box_.corners()
                .map(|corner| corner.dot(away))
                .into_iter()
                .fold(f64::NEG_INFINITY, f64::max)
                + if away == DVec2::NEG_X { 0.08 } else { 0.2 }
        } else {
            let boards = rafter.plan.boards().inches() / ratio;
            of_side().map(|side| view.place(side.from).dot(away)).fold(f64::NEG_INFINITY, f64::max)
                + boards
                + 0.3
        };
        let mut row = Dimensions::new(away, base);
        for side in of_side() {
            let (from, to) = (view.place(side.from), view.place(side.to));
            row.add(from, to, side.text(from.distance(to)));
        }
        row.draw(drawing);
    }
    let mut y = words.high.y;
    for sentence in &detail.words {
        for line in lines(sentence, SMALL, words.size().x) {
            y -= SMALL;
            drawing.text(DVec2::new(words.low.x, y), line, SMALL, Anchor::Start);
            y -= SMALL * (LEADING - 1.0);
        }
        y -= SMALL * BETWEEN;
    }
}

/// The point of the rafter's mark with this name on this edge.
fn marked(rafter: &CommonRafter, edge: Edge, name: &str) -> Option<DVec2> {
    rafter
        .marks
        .iter()
        .find(|mark| mark.edge == edge && mark.name == name)
        .map(|mark| place::flat(mark.point))
}

/// How a cut is drawn and sawn.
fn setting(rafter: &CommonRafter, name: &str, writing: Writing) -> Option<String> {
    let cut = rafter.cuts.iter().find(|cut| cut.name == name)?;
    let mut head = name.chars();
    let first = head.next()?.to_ascii_uppercase();
    Some(format!(
        "{first}{} {}: draw {}, saw {} deg.",
        head.as_str(),
        writing.length(cut.length),
        cut.square,
        trim(in_degrees(cut.saw.miter), 2)
    ))
}

fn tail(rafter: &CommonRafter, writing: Writing, region: DVec2) -> Detail {
    let plan = &rafter.plan;
    let write = |length: Length| writing.length(length);
    let nothing = inches(0.0);
    let top = marked(rafter, Edge::Top, "tail").unwrap_or_default();
    let cut = match plan.tail {
        TailCut::Square => "tail square cut",
        TailCut::Plumb | TailCut::Level => "tail plumb cut",
    };
    let length = rafter.cuts.iter().find(|one| one.name == cut).map_or(nothing, |one| one.length);
    let (away, down) = match plan.tail {
        TailCut::Square => {
            (-place::flat(rafter.stick.axis.along), -place::flat(rafter.stick.axis.up))
        }
        TailCut::Plumb | TailCut::Level => (DVec2::NEG_X, DVec2::NEG_Y),
    };
    let foot = top + down * length.inches();
    let mut sides =
        vec![Side { away, from: top, to: foot, name: "tail cut", length: write(length) }];
    if let Some(corner) = marked(rafter, Edge::Bottom, "soffit cut, inner end") {
        let soffit = rafter.cuts.iter().find(|one| one.name == "soffit level cut");
        sides.push(Side {
            away: DVec2::NEG_Y,
            from: foot,
            to: corner,
            name: "soffit cut",
            length: soffit.map_or(String::new(), |one| write(one.length)),
        });
    }
    let mut words = vec![overhang(rafter, writing)];
    words
        .extend([cut, "soffit level cut"].iter().filter_map(|name| setting(rafter, name, writing)));
    for (name, thickness, depth, outer) in [
        ("Sub-fascia", plan.subfascia, rafter.subfascia_depth(), plan.subfascia),
        ("Fascia", plan.fascia, rafter.fascia_depth(nothing), plan.boards()),
    ] {
        if thickness > nothing {
            let drop = rafter.board_drop(outer);
            let set = if drop > nothing {
                format!(", its top {} below the tail's top corner", write(drop))
            } else {
                String::new()
            };
            words.push(format!("{name} {} x {}{set}.", write(thickness), write(depth)));
        }
    }
    // the tail with its boards at the left edge
    let boards = plan.boards().inches();
    Detail {
        name: "Tail",
        middle: DVec2::new(
            top.x - boards - region.x * 0.08 + region.x / 2.0,
            (top.y + foot.y) / 2.0,
        ),
        sides,
        lines: Vec::new(),
        words,
    }
}

/// The overhang as given, and also from the framing if that is another number.
fn overhang(rafter: &CommonRafter, writing: Writing) -> String {
    let plan = &rafter.plan;
    let nothing = inches(0.0);
    let reach = match plan.overhang_to {
        crate::plan::OverhangTo::Fascia if plan.boards() > nothing => "the fascia's outer face",
        _ => "the tail cut",
    };
    let asked = writing.length(plan.overhang);
    let mut words = match plan.overhang_from {
        OverhangFrom::Framing => format!("Overhang {asked}, level, building line to {reach}"),
        OverhangFrom::Finish => format!(
            "Overhang {asked}, level, finished wall to {reach}: {} from the building line",
            writing.length(plan.overhang_from_building_line())
        ),
    };
    if rafter.tail_projection != plan.overhang_from_building_line() {
        words.push_str(&format!("; {} to the tail cut", writing.length(rafter.tail_projection)));
    }
    words + "."
}

fn birdsmouth(rafter: &CommonRafter, writing: Writing) -> Detail {
    let write = |length: Length| writing.length(length);
    let [outer, inner] = rafter.seat_ends().map(place::flat);
    let heel = DVec2::new(0.0, -rafter.heel_plumb.inches());
    let stand = DVec2::new(0.0, rafter.heel_stand.inches());
    let mut sides = vec![
        Side {
            away: DVec2::NEG_Y,
            from: outer,
            to: inner,
            name: "seat",
            length: write(rafter.seat.length),
        },
        Side {
            away: DVec2::NEG_X,
            from: DVec2::ZERO,
            to: stand,
            name: "heel stand",
            length: write(rafter.heel_stand),
        },
    ];
    let cut = rafter.cuts.iter().find(|cut| cut.name == "heel plumb cut");
    if let Some(cut) = cut {
        sides.push(Side {
            away: DVec2::NEG_X,
            from: heel,
            to: DVec2::ZERO,
            name: "heel cut",
            length: write(cut.length),
        });
    }
    // the bottom edge across the notch, and the depths square to it
    let axis = &rafter.stick.axis;
    let up = place::flat(axis.up);
    let notch = rafter.notch_depth.inches();
    let lines = vec![[heel, inner], [-up * notch, up * (rafter.plan.stock.depth.inches() - notch)]];
    let mut words = vec![
        format!(
            "Seat {}: {}; {} bear on the plate.",
            write(rafter.seat.length),
            rafter.seat.decided_by.words().write(writing),
            write(rafter.bearing)
        ),
        format!(
            "Heel stand {}: plumb, from the plate to the top edge at the building line.",
            write(rafter.heel_stand)
        ),
        format!(
            "Square to the edge (dashed): notch {}, and {} of wood left over it.",
            write(rafter.notch_depth),
            write(rafter.remaining)
        ),
    ];
    words.extend(
        ["heel plumb cut", "plumb cut over the plate", "seat level cut"]
            .iter()
            .filter_map(|name| setting(rafter, name, writing)),
    );
    if rafter.seat.decided_by == SeatBy::LeastBearing {
        words.push("The notch fails its rule: see the rules on the sheet before.".to_owned());
    }
    Detail {
        name: "Birdsmouth",
        middle: DVec2::new(inner.x / 2.0, (heel.y + stand.y) / 2.0),
        sides,
        lines,
        words,
    }
}

fn ridge(rafter: &CommonRafter, writing: Writing, region: DVec2) -> Detail {
    let plan = &rafter.plan;
    let write = |length: Length| writing.length(length);
    let (run, half) = (plan.run().inches(), plan.ridge.inches() / 2.0);
    let top = DVec2::new(run - half, rafter.ridge_top.inches());
    let foot = top - DVec2::Y * rafter.plumb_height.inches();
    let mut sides = vec![Side {
        away: DVec2::X,
        from: foot,
        to: top,
        name: "plumb cut",
        length: write(rafter.plumb_height),
    }];
    let mut words: Vec<String> = setting(rafter, "ridge plumb cut", writing).into_iter().collect();
    if half > 0.0 {
        let depth = rafter.ridge_depth();
        sides.push(Side {
            away: DVec2::NEG_Y,
            from: DVec2::new(run - half, top.y),
            to: DVec2::new(run + half, top.y),
            name: "ridge",
            length: write(plan.ridge),
        });
        words.push(format!(
            "Ridge board {} x {}, its top at the rafters' long points, {} above the plate.",
            write(plan.ridge),
            write(depth),
            write(rafter.ridge_top)
        ));
        words.push(format!(
            "Half of it shortens the rafter by {} along the slope, {} level.",
            write(rafter.ridge_shortening),
            write(plan.ridge / 2.0)
        ));
        if depth < rafter.plumb_height {
            words.push("The ridge board is not as deep as the plumb cut.".to_owned());
        }
    } else {
        words.push(format!(
            "No ridge board: the rafters butt at the peak, {} above the plate; nothing is taken off.",
            write(rafter.apex)
        ));
    }
    Detail {
        name: "Ridge",
        middle: DVec2::new(run + half + region.x * 0.08 - region.x / 2.0, (top.y + foot.y) / 2.0),
        sides,
        lines: Vec::new(),
        words,
    }
}

/// The tail beyond the high plate, with the birdsmouth there in words: it is cut as the low one.
fn high_end(rafter: &CommonRafter, high: &HighEnd, writing: Writing, region: DVec2) -> Detail {
    let write = |length: Length| writing.length(length);
    let upper = rafter.upper();
    let top = marked(rafter, Edge::Top, upper.long_point).unwrap_or_default();
    let foot = top - DVec2::Y * rafter.plumb_height.inches();
    let sides = vec![Side {
        away: DVec2::X,
        from: foot,
        to: top,
        name: "tail cut",
        length: write(rafter.plumb_height),
    }];
    let mut words: Vec<String> = vec![
        format!(
            "The high plate is {} above the low one, run {} from heel to heel.",
            write(high.plate),
            write(rafter.plan.run())
        ),
        format!(
            "The high birdsmouth is cut as the low one, its heel at the inner face of the wall; {} bear on the plate.",
            write(high.bearing)
        ),
        format!(
            "High tail {} along the slope past the heel; {} level past the building line.",
            write(high.tail_length),
            write(high.tail_projection)
        ),
    ];
    words.extend(
        ["high heel plumb cut", "high seat level cut", upper.cut]
            .iter()
            .filter_map(|name| setting(rafter, name, writing)),
    );
    let nothing = inches(0.0);
    let plan = &rafter.plan;
    for (name, thickness, inner) in
        [("Sub-fascia", plan.subfascia, nothing), ("Fascia", plan.fascia, plan.subfascia)]
    {
        if thickness > nothing {
            let above = -rafter.high_board_drop(inner);
            let set = match above > nothing {
                true => format!("{} above the high tail's top corner", write(above)),
                false => "flush with the high tail's top corner".to_owned(),
            };
            words.push(format!("{name}: its top {set}."));
        }
    }
    // the tail with its boards at the right edge
    let boards = plan.boards().inches();
    Detail {
        name: "High tail",
        middle: DVec2::new(
            top.x + boards + region.x * 0.08 - region.x / 2.0,
            (top.y + foot.y) / 2.0,
        ),
        sides,
        lines: Vec::new(),
        words,
    }
}
