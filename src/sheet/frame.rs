//! `frame` on one page: the cut list.

use crate::facts::caution;
use crate::facts::frame::{self as facts, StickJson};
use crate::facts::record::keys;
use crate::frame::{Edge, Frame, Member, Sticks};
use crate::measure::{Length, Writing, trim};
use crate::rules::Finding;

use super::page::Page;
use super::table::wrapped;
use super::{Depth, Look, Table};

pub use crate::facts::frame::ends;

/// The page: what is framed, and the cut list.
#[must_use]
pub fn text(frame: &Frame, found: &[Finding], look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    page.text(heading(frame, look));
    page.open(found);
    page.first(|page| {
        let columns = keys!(StickJson: mark, what, count, section, blank_in, order_length_ft);
        page.list(cut_list("Cut list", frame.sticks(), &frame.members, columns, look.writing));
    });
    page.more("end cuts", || {
        let columns = keys!(StickJson: mark, what, count, section, blank_in, order_length_ft, end_cuts, other_settings);
        let title = "Cut list (angles in degrees off a square cut)";
        let list = cut_list(title, frame.sticks(), &frame.members, columns, look.writing);
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

/// Other cuts of a member, in words.
#[must_use]
pub fn other_cuts(member: &Member, writing: Writing) -> String {
    facts::other_cuts(member).write(writing)
}

/// The sticks of some of a frame's members.
fn sticks<'a>(
    of: Sticks<'a>,
    members: impl IntoIterator<Item = &'a Member>,
) -> impl Iterator<Item = StickJson> {
    members.into_iter().map(move |member| StickJson::of(facts::Pattern::of(of, member)))
}

/// The cut list of some of a frame's members: every pattern, with the columns asked for.
#[must_use]
pub fn cut_list<'a>(
    title: &str,
    of: Sticks<'a>,
    members: impl IntoIterator<Item = &'a Member>,
    columns: &[&str],
    writing: Writing,
) -> Table {
    Table::of(title, sticks(of, members), writing).picked(columns)
}

/// Marks along the edges of every pattern that has more than its two ends, or a long and a short side.
fn marks(frame: &Frame, look: &Look) -> String {
    // nothing to mark if each remaining edge runs the whole blank, and reads as it does
    let is_marked = |member: &&Member| {
        let blank = look.writing.blank(member.blank());
        let whole = |edge: Edge| {
            let marks = member.marks(edge);
            marks.is_empty() || (marks.len() == 2 && look.writing.length(marks[1]) == blank)
        };
        !(whole(Edge::Top) && whole(Edge::Bottom))
    };
    let title = "Marks: rafters with the tape hooked at the ridge (stepoff rafter names them), all others from their first end";
    let table = Table::of(
        title,
        sticks(frame.sticks(), frame.members.iter().filter(is_marked)),
        look.writing,
    )
    .picked(keys!(StickJson: mark, hook, top_edge, bottom_edge));
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
