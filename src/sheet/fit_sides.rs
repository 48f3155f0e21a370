//! `fit` for two unequal sides, and for deeper stock on a lower plate.

use crate::facts::caution;
use crate::facts::datum::{Datum, Feet, Figure, Inches, tape};
use crate::facts::record::row;
use crate::fit::held::NO_MISMATCH_IN;
use crate::fit::sides::SidesAnswer;
use crate::fit::{PlateDrop, Side, TwoSides};
use crate::frame::CommonRafter;
use crate::measure::quantity::inches;
use crate::measure::{Direction, Length, Note, Tape, Writing, trim};
use crate::plan::text::toml_length;
use crate::plan::{FasciaLine, Find, FitPlan, Unknown};

use super::fit::{CAUTION, CAUTION_IN_SHORT};
use super::fit_answer::residual;
use super::fit_words::exact;
use super::page::Page;
use super::rafter::{self, stock_words};
use super::table::wrapped;
use super::{Depth, Look, Table};

/// What is found between two sides, in words.
fn sought(find: Find) -> &'static str {
    match find {
        Find::Ridge => "where the ridge stands, level from building line A to its center",
        Find::WallB => "how much higher the plate of eave B stands than that of eave A",
        _ => "the pitch of plane B",
    }
}

/// The page of two sides: where the planes meet, the two rafters, and how ridge and fascia meet.
#[must_use]
pub fn text(plan: &FitPlan, found: &TwoSides, look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    page.say(&format!(
        "{}find {}, so that both planes meet at the ridge",
        named(plan),
        sought(plan.find)
    ));
    page.say(&verdict(found, look));
    for answer in &found.answers {
        page.gap();
        sides(&mut page, plan, found, answer);
    }
    page.gap();
    page.say("Note: gable studs, ceiling joists and ties of unequal sides are not framed here; each side's rafter is half of a gable twice as wide.");
    page.used(&plan.eave.rafter.used);
    page.gap();
    page.first(|page| page.say(CAUTION_IN_SHORT));
    page.more("", || wrapped(CAUTION, 2, look));
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

fn named(plan: &FitPlan) -> String {
    plan.eave.rafter.name.as_ref().map_or(String::new(), |name| format!("{name}: "))
}

/// The value of what is found, not rounded.
fn value(find: Find, value: f64, look: &Look) -> String {
    match find {
        Find::PitchB => exact(Unknown::Pitch, value, look),
        _ => look.writing.exact(inches(value)),
    }
}

fn verdict(found: &TwoSides, look: &Look) -> String {
    let looked = format!(
        "from {} to {}",
        value(found.find, found.looked_through.0, look),
        value(found.find, found.looked_through.1, look)
    );
    match found.answers.len() {
        0 => {
            let apart = found.reach.map_or(String::new(), |(least, most)| {
                if least > 0.0 {
                    format!(
                        " Plane A's peak stays above plane B's, by {} at least.",
                        look.writing.length(inches(least))
                    )
                } else {
                    format!(
                        " Plane B's peak stays above plane A's, by {} at least.",
                        look.writing.length(inches(-most))
                    )
                }
            });
            format!("NO SOLUTION: none {looked} does it.{apart}")
        }
        1 => "One way:".to_owned(),
        count => format!("{count} SOLUTIONS; the choice is yours:"),
    }
}

fn sides(page: &mut Page<'_>, plan: &FitPlan, found: &TwoSides, answer: &SidesAnswer) {
    let look = page.look();
    let what = match found.find {
        Find::Ridge => "Ridge, from building line A",
        Find::WallB => "Plate B above plate A",
        _ => "Pitch of plane B",
    };
    page.say(&format!("{what}: {}.", value(found.find, answer.value, look)));
    page.say_all(answer.buildable.iter().map(|buildable| {
        format!(
            "To build {}: the peaks are then {} apart.",
            buildable.written,
            look.writing.exact(buildable.peaks_apart.abs())
        )
    }));
    let [a, b] = &answer.sides;
    let alone = |side: &Side| {
        format!(
            "span = {}, pitch = {}, overhang = {}",
            toml_length(&look.writing.length(side.run * 2.0)),
            toml_length(&look.writing.pitch_for_file(side.eave.rafter.plan.pitch)),
            toml_length(&look.writing.length(side.eave.rafter.plan.overhang))
        )
    };
    page.say(&format!(
        "Write a roof file for each side, as half of a gable twice as wide: A: {}; B: {}.",
        alone(a),
        alone(b)
    ));
    for side in &answer.sides {
        page.open(&side.findings);
    }
    page.list(numbers(answer, look.writing));
    page.gap();
    page.text(meeting(plan, answer, look));
    page.more("marks of both rafters", || {
        answer.sides.iter().map(|side| marks(side, look)).collect::<Vec<_>>().join("\n")
    });
    page.workings(|| {
        wrapped(
            &format!(
                "Proof: at the two ends of a stretch {:.0e} wide different peaks are the higher one, closed in {} halvings; {} is left; both sides built {} times.",
                answer.root.bracket.1 - answer.root.bracket.0,
                answer.root.halvings,
                residual(answer.root.residual, look),
                found.built
            ),
            2,
            look,
        ) + "\n"
            + &explained(answer, look)
    });
    for side in &answer.sides {
        if side.findings.iter().any(crate::rules::Finding::has_to_be_told) || page.explains() {
            page.gap();
            page.text(format!("Rafter {}\n", side.name));
            page.findings(&side.findings);
        }
    }
}

row! {
    /// A number of both sides.
    BothSides from (what: &'static str, sides: [Note; 2]) with {
        let [a, b] = sides;
    } {
        what "": &'static str = what;
        a "A": Figure = a;
        b "B": Figure = b;
    }
}

/// A number of the side by side table: its name and how it is had from a side.
type NumberRow = (&'static str, fn(&Side) -> Length);

fn numbers(answer: &SidesAnswer, writing: Writing) -> Table {
    const LENGTHS: [NumberRow; 13] = [
        ("run, to the ridge's center", |side| side.run),
        ("plate above plate A", |side| side.plate),
        ("overhang", |side| side.eave.rafter.plan.overhang),
        ("seat", |side| side.eave.rafter.seat.length),
        ("heel stand", |side| side.eave.rafter.heel_stand),
        ("line length", |side| side.eave.rafter.line_length),
        ("ridge shortening", |side| side.eave.rafter.ridge_shortening),
        ("body length", |side| side.eave.rafter.body_length),
        ("tail length", |side| side.eave.rafter.tail_length),
        ("rafter length", |side| side.eave.rafter.rafter_length),
        ("top edge at the ridge's face, above plate A", |side| {
            side.above_plate_a(side.eave.rafter.ridge_top)
        }),
        ("peak above plate A", |side| side.above_plate_a(side.eave.rafter.apex)),
        ("fascia's top above plate A", |side| side.above_plate_a(side.eave.fascia_top.above_plate)),
    ];
    let row =
        |what, of: &dyn Fn(&Side) -> Note| BothSides::of(what, answer.sides.each_ref().map(of));
    let mut rows = vec![row("pitch", &|side| writing.pitch(side.eave.rafter.plan.pitch).into())];
    rows.extend(LENGTHS.map(|(what, of)| row(what, &|side| tape(of(side)))));
    rows.push(row("blank length", &|side| writing.blank(side.eave.rafter.blank_length).into()));
    rows.push(row("board to order", &|side| {
        let stock = stock_words(&side.eave.rafter, writing);
        stock.unwrap_or_else(|| Feet::NONE.to_owned()).into()
    }));
    Table::of("Two rafters", rows, writing)
}

/// How ridge and fascia meet, and the remaining difference.
fn meeting(plan: &FitPlan, answer: &SidesAnswer, look: &Look) -> String {
    let mut text = String::new();
    let mut line = |words: String| text.push_str(&wrapped(&words, 2, look));
    let nothing = inches(NO_MISMATCH_IN);
    let apart = answer.ridge_tops_apart();
    if apart.abs() > nothing {
        let (lower, higher) = if apart > inches(0.0) { ("B", "A") } else { ("A", "B") };
        line(format!(
            "At the ridge board's faces the rafters' tops of side {higher} stand {} above those of side {lower}: set the board's top to side {lower}'s, so that it keeps under both planes.",
            look.writing.length(apart.abs())
        ));
    }
    let fascia = &answer.fascia;
    if fascia.b_above_a.abs() <= nothing {
        line("Both fascias come to one height.".to_owned());
        return text;
    }
    line(format!(
        "With these overhangs fascia B stands {} {} than fascia A.",
        look.writing.length(fascia.b_above_a.abs()),
        if fascia.b_above_a > inches(0.0) { "higher" } else { "lower" }
    ));
    match fascia.overhangs.as_slice() {
        [] => line(format!(
            "NO overhang of eave B up to 20 ft brings it level{}.",
            fascia.reach.map_or(String::new(), |(least, most)| format!(
                ": it would stand from {} to {} above fascia A (a dash: below)",
                look.writing.length(inches(least)),
                look.writing.length(inches(most))
            ))
        )),
        roots => {
            let overhangs: Vec<String> =
                roots.iter().map(|root| look.writing.length(inches(root.value))).collect();
            let how = if plan.sides.fascia_line == FasciaLine::Own {
                "; write fascia_line = \"level\" to have it"
            } else {
                ""
            };
            line(format!(
                "An overhang of {} on eave B brings both level{how}.",
                overhangs.join(" or ")
            ));
        }
    }
    text
}

fn marks(side: &Side, look: &Look) -> String {
    let title = format!("Rafter {}: marks, tape hooked at the ridge", side.name);
    rafter::marks(title, side.eave.rafter.marks.iter(), look.writing).text(look)
}

fn explained(answer: &SidesAnswer, look: &Look) -> String {
    let exact = |length: Length| look.writing.exact(length);
    let mut text = String::from("How both peaks come to one height\n");
    for side in &answer.sides {
        let rafter = &side.eave.rafter;
        text.push_str(&wrapped(
            &format!(
                "  {}: plate {} + heel stand {} + run {} x {} = {}",
                side.name,
                exact(side.plate),
                exact(rafter.heel_stand),
                exact(side.run),
                trim(rafter.plan.pitch.tangent(), 6),
                exact(side.above_plate_a(rafter.apex))
            ),
            6,
            look,
        ));
    }
    text
}

row! {
    /// A rafter of a plate drop.
    Beside from (rafter: &CommonRafter) {
        stock "stock": Note = &rafter.plan.stock;
        seat "seat": Inches = rafter.seat.length;
        decided_by "decided by": Note = rafter.seat.decided_by.words();
        heel_stand "heel stand": Inches = rafter.heel_stand;
        remaining "left over the notch": Inches = rafter.remaining;
    }
}

/// The page of a plate drop.
#[must_use]
pub fn drop_text(plan: &FitPlan, drop: &PlateDrop, look: &Look, depth: Depth) -> String {
    let write = |length: Length| look.writing.length(length);
    let (shallow, deep) = (&drop.rafter.rafter, &drop.deeper.rafter);
    let stock = |rafter: &CommonRafter| rafter.plan.stock.write(look.writing.units);
    let mut page = Page::new(look, depth);
    page.say(&format!(
        "{}find the plate drop for {} beside rafters of {}, both top edges in one plane",
        named(plan),
        stock(deep),
        stock(shallow)
    ));
    let tape = Tape::read(drop.drop, look.writing.step, Direction::Nearest);
    let mut line = |words: String| page.say(&words);
    line(format!(
        "Plate drop: {} (exact {}). The plate under the {} lies so much lower.",
        look.writing.tape(tape),
        look.writing.exact(drop.drop),
        stock(deep)
    ));
    line(format!(
        "Rounded so, the {} lies {} off the plane.",
        stock(deep),
        look.writing.exact((tape.length() - drop.drop).abs())
    ));
    line(format!(
        "Its tail reaches {} lower than the {}'s: rip it, or take a deeper fascia.",
        write(drop.hangs_lower),
        stock(shallow)
    ));
    page.open(&drop.findings);
    page.table(&Table::of("Both rafters", [shallow, deep].map(Beside::of), look.writing));
    page.gap();
    page.text(seats(drop, look));
    page.workings(|| {
        let each = [shallow, deep].map(|rafter| {
            wrapped(
                &format!(
                    "  heel stand of {} = depth {} x {} - seat {} x {} = {}",
                    stock(rafter),
                    look.writing.exact(rafter.plan.stock.depth),
                    trim(rafter.plan.pitch.slope_factor(), 6),
                    look.writing.exact(rafter.seat.length),
                    trim(rafter.plan.pitch.tangent(), 6),
                    look.writing.exact(rafter.heel_stand)
                ),
                6,
                look,
            )
        });
        each.concat()
    });
    page.findings(&drop.findings);
    page.used(&plan.eave.rafter.used);
    page.caution(caution::RAFTER_IN_SHORT, caution::RAFTER);
    page.end()
}

fn seats(drop: &PlateDrop, look: &Look) -> String {
    let mut text = String::new();
    if drop.seats.is_empty() {
        return wrapped("No seat keeps both on one plate.", 2, look);
    }
    for (root, fails) in &drop.seats {
        let how = if fails.is_empty() {
            "which keeps the rules".to_owned()
        } else {
            format!("which fails: {}", fails.join(", "))
        };
        text.push_str(&wrapped(
            &format!(
                "On one plate instead: a seat of {} ({} plate), {how}.",
                look.writing.length(inches(root.value)),
                if inches(root.value) > drop.deeper.rafter.plan.plate {
                    "longer than the"
                } else {
                    "within the"
                }
            ),
            2,
            look,
        ));
    }
    text
}
