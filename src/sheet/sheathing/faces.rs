//! `sheathing` of a roof with any faces: what to cut, the chalk lines, a map of every face and of every sheet.

use crate::deck::faces::{FaceCourse, FacePiece, FacesAsk, FacesDeck, OnSheet};
use crate::facts::caution;
use crate::facts::datum::Inches;
use crate::facts::record::row;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::{Amount, Note, Writing};

use super::super::clash::has_room;
use super::super::drawing::{Anchor, Area, Drawing, Fill, Ink, Item, Pen, View};
use super::super::page::Page;
use super::super::paper::{self, FINE, LEADING, SMALL};
use super::super::scale::fitting_scale;
use super::super::table::wrapped;
use super::super::typeface::{self, Weight};
use super::super::{Look, Options, Table, terminal};
use super::map::low;
use super::words::{Rated, edges as edge_words};

/// Height of the numbers of sheets on a face, where there is little room.
const NUMBER: f64 = 0.091;

/// The page.
#[must_use]
pub fn faces_text(
    ask: &FacesAsk,
    deck: &FacesDeck,
    rated: Option<Rated>,
    decided: &[Note],
    look: &Look,
    Options { drawing, depth }: Options,
) -> String {
    let writing = look.writing;
    let mut page = Page::new(look, depth);
    page.say(&headline(ask, deck, writing));
    page.say_all(rated.map(|(panel, support)| edge_words(panel, support, writing)));
    page.say_all(not_kept(ask, deck));
    if drawing {
        let largest = (0..ask.faces.len()).max_by(|one, other| {
            let area = |face: &usize| ask.faces[*face].region.area();
            area(one).total_cmp(&area(other))
        });
        page.first(|page| {
            page.gap();
            page.text(largest.map_or(String::new(), |face| face_map(ask, deck, face, look, true)));
        });
        page.more("every map", || {
            let maps = (0..ask.faces.len()).map(|face| face_map(ask, deck, face, look, false));
            maps.collect::<Vec<_>>().join("\n")
        });
    }
    page.list(chalk_lines(ask, deck, writing));
    page.more("pieces", || pieces(ask, deck, writing).text(look));
    page.list(sheets(ask, deck, writing));
    page.gap();
    page.say_all(decided.iter().map(|note| note.write(writing)));
    page.more("hints", || wrapped(&rules(ask, writing), 2, look));
    page.caution(caution::SHEATHING_IN_SHORT, caution::SHEATHING);
    page.end()
}

pub(in crate::sheet) fn headline(ask: &FacesAsk, deck: &FacesDeck, writing: Writing) -> String {
    let size = [ask.sheet.height, ask.sheet.length].map(|side| writing.length(side)).join(" x ");
    let proof = if deck.is_at_bound() {
        format!(
            "at the lower bound: no such layout takes fewer with {}",
            ask.rules.words(|length| writing.length(length))
        )
    } else {
        format!(
            "not proven to be the fewest: at least {} are needed, the gap is {}",
            deck.least,
            deck.sheets - deck.least
        )
    };
    format!(
        "Sheathing: {} sheets of {size} for {} face{}, {} pieces, {proof}. {} covered, {:.0} percent of the sheets is waste.",
        deck.sheets,
        ask.faces.len(),
        if ask.faces.len() == 1 { "" } else { "s" },
        deck.pieces.len(),
        writing.square_feet(deck.area / 144.0, 1),
        100.0 * deck.waste(&ask.sheet)
    )
}

pub(in crate::sheet) fn rules(ask: &FacesAsk, writing: Writing) -> String {
    format!(
        "Rules: gap {}, saw cut {}, courses of at least {}, pieces of at least {} from joint to joint, joints on sticks that run up the \
         face, neighboring courses never on the same one; a sheet is ripped into tracks, pieces lie side by side in a track, \
         two with one slant share its cut, and none is turned with its lower face up.",
        writing.length(ask.rules.gap),
        writing.length(ask.sheet.kerf),
        writing.length(ask.rules.least_strip),
        writing.length(ask.rules.least_piece),
    )
}

/// The rules that some faces left no way to keep.
pub(in crate::sheet) fn not_kept<'a>(
    ask: &'a FacesAsk,
    deck: &'a FacesDeck,
) -> impl Iterator<Item = String> + 'a {
    ask.faces.iter().zip(&deck.faces).flat_map(|(face, laid)| {
        laid.broken.iter().map(|broken| format!("Face {}: {}.", face.name, broken.words()))
    })
}

row! {
    /// The chalk line of a course.
    FaceChalkLine from (faces: &str, number: usize, course: &FaceCourse) {
        faces "face": String = faces;
        course "course": usize = number;
        height "height": Inches = course.high - course.low;
        chalk_line "chalk line": Inches = course.high;
    }
}

/// Chalk lines, those of faces with the same courses once.
pub(in crate::sheet) fn chalk_lines(ask: &FacesAsk, deck: &FacesDeck, writing: Writing) -> Table {
    let mut rows = Vec::new();
    let mut told: Vec<&[FaceCourse]> = Vec::new();
    for laid in &deck.faces {
        if told.iter().any(|other| alike(other, &laid.courses)) {
            continue;
        }
        told.push(&laid.courses);
        let same = ask.faces.iter().zip(&deck.faces);
        let same = same.filter(|(_, other)| alike(&other.courses, &laid.courses));
        let names: Vec<&str> = same.map(|(face, _)| face.name.as_str()).collect();
        let names = names.join(", ");
        let courses = (1..).zip(&laid.courses);
        rows.extend(courses.map(|(number, course)| FaceChalkLine::of(&names, number, course)));
    }
    let title = "Chalk lines, up the slope from the face's lowest edge: snap each course's line before laying it";
    Table::of(title, rows, writing)
}

/// True if two faces have the same courses, to what a tape shows.
fn alike(one: &[FaceCourse], other: &[FaceCourse]) -> bool {
    let near =
        |(one, other): (&FaceCourse, &FaceCourse)| (one.high - other.high).abs() < 1.0 / 64.0;
    one.len() == other.len() && one.iter().zip(other).all(near)
}

row! {
    /// The pieces of a course of a face.
    FacePieces from (face: &str, course: usize, pieces: Vec<Note>) {
        face "face": String = face;
        course "course": usize = course;
        pieces "pieces": Vec<Note> = pieces;
    }
}

pub(in crate::sheet) fn pieces(ask: &FacesAsk, deck: &FacesDeck, writing: Writing) -> Table {
    let mut rows = Vec::new();
    for (number, (face, laid)) in ask.faces.iter().zip(&deck.faces).enumerate() {
        for course in 0..laid.courses.len() {
            let here =
                deck.pieces.iter().filter(|piece| (piece.face, piece.course) == (number, course));
            let told = here.map(|piece| {
                let sheet = (piece.place.sheet + 1).to_string();
                Note::with("{} ({})", [edges(piece), sheet.into()])
            });
            rows.push(FacePieces::of(&face.name, course + 1, told.collect()));
        }
    }
    let title =
        "Pieces from the left, by course from the eave: length at the foot/at the top (sheet)";
    Table::of(title, rows, writing)
}

/// The length of a piece along its foot, and along its top if that is another.
fn edges(piece: &FacePiece) -> Amount {
    let along = |y: f64| {
        let here = piece.outline.iter().filter(|corner| (corner.y - y).abs() < 1e-6);
        let (low, high) = here.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), corner| {
            (low.min(corner.x), high.max(corner.x))
        });
        (high - low).max(0.0)
    };
    let heights = piece.outline.iter().map(|corner| corner.y);
    let (low, high) = heights
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)));
    let (foot, top) = (along(low), along(high));
    if (foot - top).abs() < 1e-6 {
        Amount::from(inches(foot))
    } else {
        Amount::Said(Note::with("{}/{}", [inches(foot), inches(top)]))
    }
}

row! {
    /// A sheet and what is cut from it.
    SheetCuts from (sheet: usize, pieces: Note) {
        sheet "sheet": usize = sheet;
        pieces "pieces": Note = pieces;
    }
}

pub(in crate::sheet) fn sheets(ask: &FacesAsk, deck: &FacesDeck, writing: Writing) -> Table {
    let rows = (0..deck.sheets).map(|sheet| {
        let own = on_sheet(deck, sheet).into_iter().map(|piece| {
            let name = &ask.faces[piece.face].name;
            let head = format!("{name} {}: {{}} x {{}}", piece.course + 1);
            Note::with(head, [Amount::from(inches(piece.height)), edges(piece)])
        });
        SheetCuts::of(sheet + 1, Note::list(own.collect(), " + "))
    });
    Table::of(
        "Sheets to cut: face and course of each piece, height x length at the foot/at the top",
        rows,
        writing,
    )
}

fn on_sheet(deck: &FacesDeck, sheet: usize) -> Vec<&FacePiece> {
    let mut own: Vec<&FacePiece> =
        deck.pieces.iter().filter(|piece| piece.place.sheet == sheet).collect();
    own.sort_by(|one, other| {
        let (one, other) = (one.place.at, other.place.at);
        one.y.total_cmp(&other.y).then(one.x.total_cmp(&other.x))
    });
    own
}

/// The outline of a piece as it lies on its sheet.
fn lying(piece: &FacePiece) -> Vec<DVec2> {
    let low = piece.outline.iter().fold(DVec2::INFINITY, |low, corner| low.min(*corner));
    let OnSheet { at, turned, .. } = piece.place;
    let size = DVec2::new(piece.length, piece.height);
    let own = piece.outline.iter().map(|corner| *corner - low);
    own.map(|corner| at + if turned { size - corner } else { corner }).collect()
}

fn face_map(ask: &FacesAsk, deck: &FacesDeck, face: usize, look: &Look, small: bool) -> String {
    let drawing = map(ask, deck, face);
    let of_map = if small { low(&drawing, look) } else { *look };
    wrapped(&title(ask, face), 2, look) + &terminal::draw(&drawing, &of_map)
}

fn title(ask: &FacesAsk, face: usize) -> String {
    format!(
        "face {}, seen from the ground, eave below; each number is the sheet that the piece is cut from",
        ask.faces[face].name
    )
}

/// The map of a face at the scale of 1 to 1.
fn map(ask: &FacesAsk, deck: &FacesDeck, face: usize) -> Drawing {
    const LETTERS: f64 = 8.0;
    let (_, size) = ask.faces[face].region.extent();
    let mut drawing = Drawing::new(size.x, size.y);
    for piece in deck.pieces.iter().filter(|piece| piece.face == face) {
        drawing.outline(piece.outline.clone(), Pen::Outline, Fill::None);
        let at = middle(piece) - DVec2::Y * LETTERS / 2.0;
        drawing.text(at, (piece.place.sheet + 1).to_string(), LETTERS, Anchor::Middle);
    }
    drawing
}

/// The middle of the largest convex part of a piece.
fn middle(piece: &FacePiece) -> DVec2 {
    let parts = piece.region.parts();
    let largest = parts.iter().max_by(|one, other| one.area().total_cmp(&other.area()));
    let corners = largest.map_or(&[][..], |part| part.corners());
    corners.iter().sum::<DVec2>() / corners.len().max(1) as f64
}

/// All faces and all sheets on one page, 16 in wide.
#[must_use]
pub fn faces_page(ask: &FacesAsk, deck: &FacesDeck, writing: Writing) -> Drawing {
    const PAPER: f64 = 16.0;
    const MARGIN: f64 = 0.5;
    let room = PAPER - 2.0 * MARGIN;
    let widest = ask.faces.iter().map(|face| face.region.extent().1.x).fold(1.0, f64::max);
    let scale = fitting_scale(widest, room - 1.8, writing.units);
    let view = View { scale: 1.0 / scale, origin: DVec2::ZERO };
    let mut words = vec![
        headline(ask, deck, writing),
        format!(
            "Scale {}. Bold: the sheet that a piece is cut from. Dashed: sticks that run up the face. Left: chalk lines, up the slope from the \
             face's lowest edge. Low in each course: joints, from the face's left end.",
            view.words(writing.units)
        ),
        rules(ask, writing),
    ];
    words = words.iter().flat_map(|words| paper::lines(words, SMALL, room)).collect();
    let mut parts: Vec<(String, Drawing)> = (0..ask.faces.len())
        .map(|face| {
            let head = format!("face {}, seen from the ground, eave below", ask.faces[face].name);
            (head, large_map(ask, deck, face, scale, writing))
        })
        .collect();
    parts.push(("sheets to cut".to_owned(), cut_sheets(ask, deck, room, writing)));
    let line = SMALL * LEADING;
    let height: f64 = parts.iter().map(|(_, map)| map.height + 0.5).sum();
    let mut drawing = Drawing::new(PAPER, height + words.len() as f64 * line + 2.0 * MARGIN);
    let mut y = drawing.height - MARGIN;
    for text in words {
        y -= line;
        drawing.text(DVec2::new(MARGIN, y), text, SMALL, Anchor::Start);
    }
    for (title, map) in parts {
        y -= 0.4;
        drawing.bold(DVec2::new(MARGIN, y), title, SMALL, Anchor::Start);
        y -= map.height + 0.1;
        drawing.place(map, DVec2::new(MARGIN, y));
    }
    drawing
}

/// One face with its rafters, pieces, joints and chalk lines.
pub(in crate::sheet) fn large_map(
    ask: &FacesAsk,
    deck: &FacesDeck,
    face: usize,
    scale: f64,
    writing: Writing,
) -> Drawing {
    const LEFT: f64 = 0.9;
    const BELOW: f64 = 0.3;
    let own = &ask.faces[face];
    let (_, size) = own.region.extent();
    let view = View { scale: 1.0 / scale, origin: DVec2::new(LEFT, BELOW) };
    let mut drawing = Drawing::new(LEFT + size.x / scale + 0.1, BELOW + size.y / scale + 0.1);
    for rafter in &own.rafters {
        let ends = [rafter.from.max(0.0), rafter.to.min(size.y)];
        let line = ends.map(|y| view.place(DVec2::new(rafter.at, y))).to_vec();
        drawing.line(line, Pen::Dashed);
    }
    for piece in deck.pieces.iter().filter(|piece| piece.face == face) {
        let outline = piece.outline.iter().map(|corner| view.place(*corner)).collect();
        drawing.outline(outline, Pen::Outline, Fill::None);
    }
    for piece in deck.pieces.iter().filter(|piece| piece.face == face) {
        let number = (piece.place.sheet + 1).to_string();
        let at = view.place(middle(piece));
        let half = DVec2::new(typeface::width(&number, NUMBER, Weight::Bold), NUMBER) / 2.0;
        drawing.blank(Area::new(at - half - DVec2::splat(0.02), at + half + DVec2::splat(0.02)));
        drawing.bold(at - DVec2::Y * NUMBER / 2.0, number, NUMBER, Anchor::Middle);
    }
    let all = joints(deck, face);
    for &(joint, low) in &all {
        let text = writing.length(inches(joint));
        let at = view.place(DVec2::new(joint, low)) + DVec2::new(0.04, 0.045);
        let wide = typeface::width(&text, FINE, Weight::Regular);
        let next = all.iter().filter(|(other, there)| *there == low && *other > joint);
        let next = next.map(|(other, _)| *other).fold(size.x, f64::min);
        let item = Item::Text {
            at,
            text,
            height: FINE,
            anchor: Anchor::Start,
            turn: 0.0,
            weight: Weight::Regular,
            ink: Ink::Black,
        };
        // rafters may pass behind it; the table of pieces has what has no room
        let free = has_room(&drawing, &item, &[Pen::Thin, Pen::Dashed]);
        if free && wide + 0.08 < (next - joint) / scale {
            drawing.blank(Area::new(at - DVec2::splat(0.01), at + DVec2::new(wide, FINE + 0.01)));
            drawing.items.push(item);
        }
    }
    for course in &deck.faces[face].courses {
        let at = view.place(DVec2::new(0.0, course.high));
        drawing.line(vec![at - DVec2::X * 0.12, at], Pen::Thin);
        let text = writing.length(inches(course.high));
        let at = at - DVec2::new(0.16, FINE / 2.0);
        drawing.text(at, text, FINE, Anchor::End);
    }
    drawing
}

/// The joints of a face: place along the eave, and the lower edge of the course.
fn joints(deck: &FacesDeck, face: usize) -> Vec<(f64, f64)> {
    let own: Vec<&FacePiece> = deck.pieces.iter().filter(|piece| piece.face == face).collect();
    let side = |piece: &FacePiece, is_left: bool| {
        let places = piece.outline.iter().map(|corner| corner.x);
        if is_left { places.fold(f64::INFINITY, f64::min) } else { places.fold(0.0, f64::max) }
    };
    let mut joints: Vec<(f64, f64)> = Vec::new();
    for two in own.windows(2).filter(|two| two[0].course == two[1].course) {
        let (end, start) = (side(two[0], false), side(two[1], true));
        if start > end && start - end < 1.0 {
            let low = deck.faces[face].courses[two[0].course].low;
            joints.push((f64::midpoint(start, end), low));
        }
    }
    joints
}

/// Every sheet with its pieces, four in a row.
fn cut_sheets(ask: &FacesAsk, deck: &FacesDeck, room: f64, writing: Writing) -> Drawing {
    let rows = sheet_rows(ask, deck, room, writing);
    let mut drawing = Drawing::new(room, rows.iter().map(|row| row.height).sum());
    let mut y = drawing.height;
    for row in rows {
        y -= row.height;
        drawing.place(row, DVec2::Y * y);
    }
    drawing
}

/// The same, a drawing for each row.
pub(in crate::sheet) fn sheet_rows(
    ask: &FacesAsk,
    deck: &FacesDeck,
    room: f64,
    writing: Writing,
) -> Vec<Drawing> {
    const IN_A_ROW: usize = 4;
    let size = DVec2::new(ask.sheet.length.inches(), ask.sheet.height.inches());
    let wide = room / IN_A_ROW as f64 - 0.2;
    let scale = fitting_scale(size.x, wide, writing.units);
    let high = size.y / scale + 0.35;
    let sheets: Vec<usize> = (0..deck.sheets).collect();
    let row = |sheets: &[usize]| {
        let mut drawing = Drawing::new(room, high);
        for (column, sheet) in sheets.iter().enumerate() {
            let low = DVec2::new(column as f64 * (wide + 0.2), 0.05);
            let view = View { scale: 1.0 / scale, origin: low };
            let corners = [DVec2::ZERO, DVec2::new(size.x, 0.0), size, DVec2::new(0.0, size.y)];
            drawing.outline(corners.map(|at| view.place(at)).to_vec(), Pen::Context, Fill::Hatch);
            drawing.bold(
                low + DVec2::Y * (size.y / scale + 0.05),
                (sheet + 1).to_string(),
                FINE,
                Anchor::Start,
            );
            for piece in on_sheet(deck, *sheet) {
                let lying: Vec<DVec2> = lying(piece).into_iter().map(|at| view.place(at)).collect();
                drawing.outline(lying.clone(), Pen::Outline, Fill::Paper);
                drawing.outline(lying, Pen::Context, Fill::None);
            }
            for piece in on_sheet(deck, *sheet) {
                let lying: Vec<DVec2> = lying(piece).into_iter().map(|at| view.place(at)).collect();
                let name = format!("{} {}", ask.faces[piece.face].name, piece.course + 1);
                letter(&mut drawing, &lying, &name);
            }
        }
        drawing
    };
    sheets.chunks(IN_A_ROW).map(row).collect()
}

/// The name of a piece inside its outline, near its middle; left out if there is no room, because the table has it.
fn letter(drawing: &mut Drawing, outline: &[DVec2], name: &str) {
    const STEPS: usize = 16;
    let middle = outline.iter().sum::<DVec2>() / outline.len().max(1) as f64;
    let (low, high) =
        outline.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
            (low.min(*at), high.max(*at))
        });
    let mut places = vec![middle];
    for across in 1..STEPS {
        for up in 1..STEPS {
            let part = DVec2::new(across as f64, up as f64) / STEPS as f64;
            places.push(low + (high - low) * part);
        }
    }
    places.sort_by(|one, other| one.distance(middle).total_cmp(&other.distance(middle)));
    let texts = places.into_iter().flat_map(|at| {
        [0.0, 90.0].map(|turn: f64| Item::Text {
            at: at - DVec2::from_angle(turn.to_radians()).perp() * (FINE / 2.0),
            text: name.to_owned(),
            height: FINE,
            anchor: Anchor::Middle,
            turn,
            weight: Weight::Regular,
            ink: Ink::Black,
        })
    });
    let mut texts = texts.filter(|text| {
        let inside = |corners: [DVec2; 4]| corners.iter().all(|corner| holds(outline, *corner));
        text.text_box().is_some_and(inside) && has_room(drawing, text, &[Pen::Thin])
    });
    if let Some(text) = texts.next() {
        drop(texts);
        drawing.items.push(text);
    }
}

/// True if a closed line contains a place.
fn holds(ring: &[DVec2], place: DVec2) -> bool {
    let crossed = ring.iter().zip(ring.iter().cycle().skip(1)).filter(|(from, to)| {
        (from.y > place.y) != (to.y > place.y)
            && place.x < from.x + (to.x - from.x) * (place.y - from.y) / (to.y - from.y)
    });
    crossed.count() % 2 == 1
}
