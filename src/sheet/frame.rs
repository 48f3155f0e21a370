//! `frame` on one page: the cut list.

use crate::facts::caution;
use crate::frame::stick::SawSetting;
use crate::frame::{Edge, Frame, Member, Role};
use crate::measure::quantity::{InInches, in_degrees, in_millimeters};
use crate::measure::tolerance::HAIR;
use crate::measure::{Length, Units, Writing, trim};
use crate::rules::Finding;

use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The page: what is framed, and the cut list.
#[must_use]
pub fn text(frame: &Frame, found: &[Finding], look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    page.text(heading(frame, look));
    page.open(found);
    let list = cut_list(frame, look.writing);
    page.first(|page| {
        let heads = ["mark", "what", "count", "section", "blank", list_from(look.writing)];
        page.list(list.picked(&heads).titled("Cut list"));
    });
    page.more("end cuts", || {
        let from = "\"from\" is the shortest stock that one stick can be cut from; short pieces come several out of one board.";
        list.text(look) + &wrapped(from, 2, look)
    });
    page.more("marks", || marks(frame, look));
    page.workings(|| explained(frame, look));
    page.notes(&frame.notes);
    page.findings(found);
    page.more("", || {
        wrapped("stepoff check holds this roof against every rule known; only what is open and the eave's rules are listed here.", 2, look)
    });
    page.used(&frame.plan.rafter.used);
    page.first(|page| {
        page.say("Crown up. Try one pair before you cut the rest; brace ridge and first pairs.");
    });
    page.more("", || {
        wrapped(
            "Crown up on every rafter and joist. Cut one pair, try it on the walls, then the rest. Brace the ridge and the \
             first pairs before anything is loaded.",
            2,
            look,
        )
    });
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

/// Head of the stock that a stick comes from.
fn list_from(writing: Writing) -> &'static str {
    if writing.units == Units::Millimeters { "from m" } else { "from ft" }
}

/// The frame in one sentence.
pub(super) fn heading_words(frame: &Frame, writing: Writing) -> String {
    let plan = &frame.plan;
    let write = |length: Length| writing.length(length);
    let name = plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    format!(
        "{name}gable frame {} long, {} wide, {}, rafters {} at {} on center: {} sticks in {} patterns",
        write(plan.length),
        write(plan.rafter.span),
        writing.pitch(plan.rafter.pitch),
        plan.rafter.stock.write(writing.units),
        write(plan.spacing),
        frame.stick_count(),
        frame.members.len(),
    )
}

fn heading(frame: &Frame, look: &Look) -> String {
    let write = |length: Length| look.writing.length(length);
    let mut text = wrapped(&heading_words(frame, look.writing), 2, look);
    if frame.site.half_ridge > 0.0 {
        text.push_str(&wrapped(
            &format!(
                "Ridge board: top {} and bottom {} above the plate; temporary posts {} from the floor.",
                write(frame.rafter.ridge_top),
                write(frame.ridge_bottom()),
                write(frame.ridge_post()),
            ),
            2,
            look,
        ));
    } else {
        text.push_str(&wrapped(
            &format!(
                "No ridge board: rafters butt, peak {} above the plate.",
                write(frame.rafter.apex)
            ),
            2,
            look,
        ));
    }
    text
}

/// `plumb cut 26.57`, with the tilt where there is one.
fn told(name: &str, saw: SawSetting) -> String {
    let (miter, bevel) = (in_degrees(saw.miter), in_degrees(saw.bevel));
    let mut words = name.to_owned();
    if miter > HAIR {
        words.push_str(&format!(" {}", trim(miter, 2)));
    }
    if bevel > HAIR {
        words.push_str(&format!(", tilt {}", trim(bevel, 2)));
    }
    words
}

/// The settings of both end cuts, that of the first end before that of the last.
#[must_use]
pub fn ends(member: &Member) -> String {
    let mut list: Vec<String> = member.ends().iter().map(|end| told(end.cut, end.saw)).collect();
    list.dedup();
    if list.len() == 1 { format!("both {}", list[0]) } else { list.join(" / ") }
}

/// Other cuts: notches by name, plain cuts with their setting, rips with what they leave.
#[must_use]
pub fn other_cuts(member: &Member, writing: Writing) -> String {
    member
        .other_cuts()
        .into_iter()
        .map(|cut| match cut.rip {
            Some((high, low)) if high == low => {
                format!("{}, leaves {}", cut.name, writing.length(high))
            }
            Some((high, low)) => {
                let tilt = ((high - low).inches() / member.stick.section.thickness_in()).atan();
                format!(
                    "{}, tilt {}, leaves {} and {}",
                    cut.name,
                    trim(tilt.to_degrees(), 2),
                    writing.length(high),
                    writing.length(low)
                )
            }
            None if cut.planes == 1 => told(cut.name, cut.saw),
            None => cut.name.to_owned(),
        })
        .collect::<Vec<_>>()
        .join("; ")
}

/// The cut list: every pattern with its mark, count, section, blank and cuts.
#[must_use]
pub fn cut_list(frame: &Frame, writing: Writing) -> Table {
    let title = "Cut list (angles in degrees off a square cut)";
    cut_table(title, frame, &frame.members, writing)
}

/// The cut list of some of a frame's members.
#[must_use]
pub fn cut_table<'a>(
    title: &str,
    frame: &Frame,
    members: impl IntoIterator<Item = &'a Member>,
    writing: Writing,
) -> Table {
    let metric = writing.units == Units::Millimeters;
    let mut table = Table::new(
        title,
        &[
            ("mark", Align::Left),
            ("what", Align::Left),
            ("count", Align::Right),
            ("section", Align::Left),
            ("blank", Align::Right),
            (list_from(writing), Align::Right),
            ("end cuts", Align::Left),
            ("other cuts", Align::Left),
        ],
    );
    for member in members {
        let single = frame.members.iter().filter(|other| other.role == member.role).count() == 1;
        let eave = match member.role {
            Role::CeilingJoist | Role::Filler if !single => member.only_eave(frame.site.run),
            _ => None,
        };
        let what = match eave {
            Some(eave) => format!("{}, eave {}", member.role.words(), eave.name()),
            None => member.role.words().to_owned(),
        };
        let stock = match member.order_length(&frame.plan.rafter.lengths) {
            None => "none so long".to_owned(),
            Some(length) if metric => trim(in_millimeters(length) / 1000.0, 2),
            Some(length) => trim(length.inches() / 12.0, 2),
        };
        table.row([
            member.mark.clone(),
            what,
            member.count().to_string(),
            member.stick.section.write(writing.units),
            writing.blank(member.blank()),
            stock,
            ends(member),
            other_cuts(member, writing),
        ]);
    }
    table
}

/// Marks along the edges of every pattern that has more than its two ends, or a long and a short side.
fn marks(frame: &Frame, look: &Look) -> String {
    let mut table = Table::new(
        "Marks: rafters with the tape hooked at the ridge (stepoff rafter names them), all others from their first end",
        &[
            ("mark", Align::Left),
            ("hooked at", Align::Left),
            ("top edge", Align::Left),
            ("bottom edge", Align::Left),
        ],
    );
    for member in &frame.members {
        let (top, bottom) = (member.marks(Edge::Top), member.marks(Edge::Bottom));
        // nothing to mark where each edge that is left runs the whole blank, and reads as it does
        let blank = look.writing.blank(member.blank());
        let whole = |marks: &[Length]| {
            marks.is_empty() || (marks.len() == 2 && look.writing.length(marks[1]) == blank)
        };
        if whole(&top) && whole(&bottom) {
            continue;
        }
        let list = |marks: &[Length]| {
            marks
                .iter()
                .skip(1)
                .map(|mark| look.writing.length(*mark))
                .collect::<Vec<_>>()
                .join(", ")
        };
        let hook = match member.role {
            _ if member.hooked_at_end() => "ridge",
            Role::GableStud => "foot",
            _ => "first end",
        };
        table.row([member.mark.clone(), hook.to_owned(), list(&top), list(&bottom)]);
    }
    if table.is_empty() { String::new() } else { table.text(look) }
}

fn explained(frame: &Frame, look: &Look) -> String {
    let exact = |length: Length| look.writing.exact(length);
    let rafter = &frame.rafter;
    let mut text = String::from("How the main numbers come about\n");
    let mut line = |words: String| text.push_str(&wrapped(&format!("  {words}"), 6, look));
    line(format!(
        "ridge board top = heel stand {} + (run {} - half the ridge {}) x {} / 12 = {}",
        exact(rafter.heel_stand),
        exact(frame.plan.rafter.run()),
        exact(frame.plan.rafter.ridge / 2.0),
        trim(frame.plan.rafter.pitch.unit_rise(), 4),
        exact(rafter.ridge_top)
    ));
    line(format!(
        "temporary post = wall height {} + bottom of the ridge board {} = {}",
        exact(frame.plan.wall_height),
        exact(frame.ridge_bottom()),
        exact(frame.ridge_post())
    ));
    line(format!(
        "rafters on each slope = {} between the end walls + 2 at them = {}; at {} on center over {}",
        frame.pairs.iter().filter(|pair| !pair.at_end).count(),
        frame.pairs.len(),
        exact(frame.plan.spacing),
        exact(frame.plan.length)
    ));
    line(
        "blank, marks and angles are measured on the solid that the cuts leave; stepoff rafter --explain shows the pattern \
         rafter's numbers one by one"
            .to_owned(),
    );
    text
}
