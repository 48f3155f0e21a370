//! Hips, valleys, jacks and side cuts of manuals and old trade books, measured on the sticks of a roof.
//!
//! `tests/data/worked_examples.toml` and `tests/data/worked_examples_general.toml` name source and page of each. Where the
//! print is off, the exact value beside it is checked. The framing square's columns are checked in the same way.

use stepoff::catalog::lumber::Section;
use stepoff::frame::hung::measured::{Cheek, UnderEdgeStory, ends, under_edge};
use stepoff::frame::{Choices, HungRoof, Role, sticks_of};
use stepoff::measure::Pitch;
use stepoff::measure::quantity::{in_degrees, inches};
use stepoff::roof::shape::{Before, End, Main, Wing};
use stepoff::roof::{Shape, Wall};
use stepoff::square::SquareCorner;
use toml::{Table, Value};

/// A roof with hips at both ends, all numbers in inches.
struct Hips {
    run: f64,
    rise: f64,
    end_rise: f64,
    spacing: f64,
    hip: f64,
}

impl Hips {
    fn at(rise: f64) -> Hips {
        Hips { run: 180.0, rise, end_rise: rise, spacing: 16.0, hip: 1.5 }
    }

    fn built(&self, wing: Option<Wing>) -> HungRoof {
        let pitch = |rise: f64| Pitch::rise_in_12(rise).unwrap();
        let deep = |thick: f64, depth: f64| Section::actual(inches(thick), inches(depth));
        let main = Main {
            length: inches(6.0 * self.run),
            span: inches(2.0 * self.run),
            pitch: pitch(self.rise),
            pitch_b: Some(pitch(self.rise)),
            plate_b: inches(0.0),
            ends: [End::Hip(pitch(self.end_rise)); 2],
            overhang: inches(12.0),
            rake: inches(0.0),
            heel_stand: inches(4.0),
        };
        let choices = Choices {
            rafter: deep(1.5, 5.5),
            hip: deep(self.hip, 7.25),
            valley: deep(1.5, 7.25),
            ridge: inches(1.5),
            ridge_depth: None,
            spacing: inches(self.spacing),
            plate: inches(3.5),
            fascia: Some(deep(0.75, 7.25)),
            subfascia: None,
            square_tails: false,
            tail_face: None,
            from_rake: false,
            longest: inches(240.0),
            deck: inches(0.5),
            laid_over: Vec::new(),
            backed: false,
            infill: None,
        };
        let shape = Shape {
            main,
            wings: wing.into_iter().collect(),
            dormers: Vec::new(),
            openings: Vec::new(),
        };
        sticks_of(&shape, &choices).unwrap()
    }

    fn hip(&self) -> UnderEdgeStory {
        let roof = self.built(None);
        let hip = roof.sticks.iter().find(|hung| hung.id == "H-A-near").unwrap();
        under_edge(&roof.ground, hip).unwrap()
    }

    /// Length along the middle of the top edge from over the building line to the middle of the hip's thickness.
    fn line_lengths(&self, face: &str) -> Vec<f64> {
        let roof = self.built(None);
        let mut lengths: Vec<f64> = roof
            .sticks
            .iter()
            .filter(|hung| {
                // those at the corner of walls A and near
                let place = hung.axis.origin.truncate();
                hung.role == Role::HipJack
                    && hung.id.starts_with(&format!("HJ-{face}-"))
                    && place.x < 3.0 * self.run
                    && (face == "A" || place.y < self.run)
            })
            .map(|hung| {
                let stick = hung.stick().unwrap();
                let [_, head] = ends(&stick).unwrap();
                let top = stick.axis.origin + stick.axis.up * stick.section.depth_in();
                let number = hung.face.unwrap();
                let heel = roof.ground.seats(number)[0].heel;
                let foot = heel.along_line(top, stick.axis.along).unwrap();
                // the cheek stands half the hip's thickness before its middle
                let plane = head.cheeks[0];
                let clear = self.hip / 2.0 / slant(&plane);
                head.middle + clear - foot
            })
            .collect();
        lengths.sort_by(f64::total_cmp);
        lengths
    }

    fn cheek(&self, role: Role) -> Cheek {
        let roof = self.built(None);
        let mut all = roof.sticks.iter().filter(|hung| hung.role == role);
        let stick = all.next().unwrap().stick().unwrap();
        ends(&stick).unwrap()[1].cheeks[0]
    }
}

/// How much of a length along the stick lies square to its cheek.
fn slant(cheek: &Cheek) -> f64 {
    let radians =
        |angle: stepoff::measure::Angle| stepoff::measure::quantity::in_degrees(angle).to_radians();
    radians(cheek.bevel).cos() * radians(cheek.miter).cos()
}

fn number(table: &Table, key: &str) -> Option<f64> {
    match table.get(key)? {
        Value::Float(value) => Some(*value),
        Value::Integer(value) => Some(*value as f64),
        _ => None,
    }
}

/// The valleys of a wing before wall A, one pitch: the longer and the shorter.
fn valleys(run: f64, rise: f64) -> Vec<UnderEdgeStory> {
    let hips = Hips { run: 1.5 * run, ..Hips::at(rise) };
    let wing = Wing {
        name: "w".to_owned(),
        on: Before { wing: None, wall: Wall::A },
        start: inches(2.0 * run),
        span: inches(2.0 * run),
        projection: inches(96.0),
        pitch: Pitch::rise_in_12(rise).unwrap(),
        plate: inches(0.0),
        hip: false,
        overhang: inches(12.0),
        rake: inches(12.0),
    };
    let roof = hips.built(Some(wing));
    let valleys = roof.sticks.iter().filter(|hung| hung.role == Role::Valley);
    let mut told: Vec<UnderEdgeStory> =
        valleys.map(|hung| under_edge(&roof.ground, hung).unwrap()).collect();
    told.sort_by(|one, other| other.line_length.total_cmp(&one.line_length));
    told
}

/// The program's figure for one quantity of an example, from solids; `None` if it is not about such sticks.
fn measured(kind: &str, given: &Table, quantity: &str) -> Option<f64> {
    let rise = number(given, "rise_per_ft_in")
        .or_else(|| Some(number(given, "rise_mm_per_250")? * 12.0 / 250.0))
        .or_else(|| Some(12.0 * number(given, "rise_in")? / number(given, "run_in")?));
    let run = number(given, "common_run_in")
        .or(number(given, "run_in"))
        .or(number(given, "span_mm").map(|span| span / 50.8))
        .unwrap_or(180.0);
    let spacing = number(given, "jack_spacing_in")
        .or(number(given, "spacing_mm").map(|spacing| spacing / 25.4))
        .unwrap_or(16.0);
    let hips = Hips { run, spacing, ..Hips::at(rise.unwrap_or(8.0)) };
    let uneven = || {
        let feet = |key| number(given, key);
        let (side, end) = (feet("side_run_ft")?, feet("end_run_ft")?);
        let height = feet("rise_ft")?;
        let (rise, end_rise) = (12.0 * height / side, 12.0 * height / end);
        Some(Hips { run: 12.0 * side, rise, end_rise, spacing: 24.0, hip: 1.5 })
    };
    let mm = |inches: f64| inches * 25.4;
    let nth = |number: usize| hips.line_lengths("A").get(number).copied();
    let side_cut = |role: Role| hips.cheek(role).along_for_12_across;
    Some(match (kind, quantity) {
        ("hip", "hip_run_in") => 12.0 * run / 12.0 * hips.hip().run_for_12 / 12.0,
        ("hip", "hip_unit_run_in") => hips.hip().run_for_12,
        ("hip", "hip_run_part_in") => hips.hip().run_for_12 / 2.0,
        ("hip", "hip_bridge_measure_in" | "hip_per_ft_in") => hips.hip().length_for_12,
        ("hip", "hip_line_length_in") => hips.hip().line_length,
        ("hip", "hip_line_length_mm") => mm(hips.hip().line_length),
        ("hip", "hip_unit_run_mm") => hips.hip().run_for_12 * 250.0 / 12.0,
        ("hip", "hip_unit_length_mm") => hips.hip().length_for_12 * 250.0 / 12.0,
        ("hip", "hip_run_ft") => {
            let uneven = uneven()?;
            uneven.hip().run_for_12 * uneven.run / 144.0
        }
        (
            "hip" | "jack",
            "jack_common_difference_in"
            | "jack_common_difference_16oc_in"
            | "jack_difference_16oc_in",
        ) => nth(2)? - nth(1)?,
        ("jack", "jack_common_difference_20oc_in") => {
            let lengths = Hips { spacing: 20.0, ..hips }.line_lengths("A");
            lengths[2] - lengths[1]
        }
        ("jack", "shortest_jack_line_length_in") => nth(0)?,
        ("jack", "second_jack_line_length_in") => nth(2)? - nth(0)?,
        ("jack", "first_jack_line_length_mm") => mm(nth(1)? - nth(0)?),
        ("jack", "second_jack_line_length_mm") => mm(nth(2)? - nth(0)?),
        ("jack", quantity) if quantity.starts_with("end_jack_at_") => {
            let feet: f64 = quantity[12..].trim_end_matches("ft_in").parse().ok()?;
            let uneven = uneven()?;
            let step = uneven.line_lengths("near");
            *step.get((feet / 2.0) as usize - 1)?
        }
        ("side_cut", "side_cut_jack_figure_against_12_in" | "jack_side_cut_for_12_in") => {
            144.0 / side_cut(Role::HipJack)?
        }
        (
            "side_cut",
            "side_cut_jack_blade_against_12_tongue_in"
            | "jack_side_cut_blade_against_12_in"
            | "side_cut_jack_blade_against_12_in",
        ) => side_cut(Role::HipJack)?,
        (
            "side_cut",
            "side_cut_hip_blade_against_17_tongue_in" | "side_cut_hip_blade_against_17_in",
        ) => {
            // the square's 17 stands for the hip's run of 16.97 for each foot
            side_cut(Role::Hip)? / 12.0 * 288.0_f64.sqrt()
        }
        ("side_cut", "hip_side_cut_tongue_against_length_ft") => {
            // against the ridge, which runs as the end common does: of its two cheeks the longer one
            let uneven = uneven()?;
            let roof = uneven.built(None);
            let hip = roof.sticks.iter().find(|hung| hung.id == "H-A-near")?.stick()?;
            let [_, head] = ends(&hip)?;
            let along = head.cheeks.iter().filter_map(|cheek| cheek.along_for_12_across);
            uneven.hip().length_for_12 * 12.0 / along.reduce(f64::max)?
        }
        ("side_cut", "hip_side_cut_for_10_in") => 120.0 / side_cut(Role::Hip)?,
        ("valley", "valley_run_ft") => {
            let run = 6.0 * number(given, "addition_span_ft")?;
            valleys(run, rise?)[1].run_for_12 * run / 144.0
        }
        ("valley", "valley_bridge_measure_in") => valleys(120.0, rise?)[1].length_for_12,
        ("valley", "valley_line_length_in") => {
            valleys(6.0 * number(given, "addition_span_ft")?, rise?)[1].line_length
        }
        ("hip_drop_backing", "hip_drop_at_seat_in") => {
            Hips { hip: number(given, "hip_actual_thickness_in")?, ..hips }.hip().drop
        }
        _ => return None,
    })
}

#[test]
fn printed_examples_are_met_by_solids() {
    let mut met: Vec<String> = Vec::new();
    for file in ["worked_examples.toml", "worked_examples_general.toml"] {
        let text = std::fs::read_to_string(format!("tests/data/{file}")).unwrap();
        let table: Table = text.parse().unwrap();
        for example in table["example"].as_array().unwrap() {
            let example = example.as_table().unwrap();
            let (id, kind) = (example["id"].as_str().unwrap(), example["kind"].as_str().unwrap());
            let given = example["given"].as_table().unwrap();
            for expected in example["expected"].as_array().unwrap() {
                let expected = expected.as_table().unwrap();
                let quantity = expected["quantity"].as_str().unwrap();
                let Some(found) = measured(kind, given, quantity) else { continue };
                let exact = number(expected, "recomputed").unwrap();
                assert!((found - exact).abs() < 1e-5, "{id} {quantity}: {found}, not {exact}");
                let off = (found - number(expected, "value").unwrap()).abs();
                let agrees = expected["agrees"].as_bool().unwrap();
                let within = off <= number(expected, "tolerance").unwrap() + 1e-9;
                assert_eq!(within, agrees, "{id} {quantity}: {found}");
                met.push(format!("{id} {quantity}"));
            }
        }
    }
    assert!(met.len() >= 40, "only {} figures: {met:#?}", met.len());
}

#[test]
fn columns_of_the_framing_square_are_met_by_solids() {
    for rise in 3..=18 {
        let hips = Hips::at(f64::from(rise));
        let row = stepoff::square::SquareRow::at(Pitch::rise_in_12(f64::from(rise)).unwrap());
        let close =
            |one: f64, other: f64| assert!((one - other).abs() < 1e-9, "{rise}: {one}, {other}");
        close(hips.hip().length_for_12, row.hip_valley_per_ft());
        for spacing in [16.0, 24.0] {
            let lengths = Hips { spacing, ..Hips::at(f64::from(rise)) }.line_lengths("A");
            close(lengths[2] - lengths[1], row.jack_difference(spacing));
        }
        close(144.0 / hips.cheek(Role::HipJack).along_for_12_across.unwrap(), row.side_cut_jack());
        close(
            144.0 / hips.cheek(Role::Hip).along_for_12_across.unwrap(),
            row.side_cut_hip_valley(),
        );
    }
}

#[test]
fn unlike_slopes_are_met_by_the_two_unit_triangles() {
    let pitch = |rise: f64| Pitch::rise_in_12(rise).unwrap();
    for (rise, end_rise) in [(10.0, 7.5), (6.0, 9.0), (4.0, 12.0), (12.0, 5.0), (7.0, 7.0)] {
        let hips = Hips { rise, end_rise, run: 132.0, hip: 3.0, ..Hips::at(rise) };
        let side = SquareCorner::of(pitch(rise), pitch(end_rise));
        let end = SquareCorner::of(pitch(end_rise), pitch(rise));
        let close = |what: &str, solid: f64, square: f64| {
            assert!(
                (solid - square).abs() < 1e-9,
                "{rise} and {end_rise}, {what}: {solid}, {square}"
            );
        };
        let hip = hips.hip();
        close("run", hip.run_for_12, side.hip_run());
        close("length", hip.length_for_12, side.hip_length());
        close("drop", hip.drop, 1.5 * side.fall().max(end.fall()));
        // the near end lies on the left of its hip with wall A
        for (angle, corner) in hip.backing.into_iter().zip([end, side]) {
            close("backing", in_degrees(angle).to_radians().tan(), corner.backing());
        }
        for (face, corner) in [("A", side), ("near", end)] {
            let lengths = hips.line_lengths(face);
            close("difference", lengths[1] - lengths[0], corner.jack_difference(hips.spacing));
        }
        let roof = hips.built(None);
        let blades = |id: &str| {
            let stick = roof.sticks.iter().find(|hung| hung.id.starts_with(id)).unwrap().stick();
            let [_, head] = ends(&stick.unwrap()).unwrap();
            let mut along: Vec<f64> =
                head.cheeks.iter().filter_map(|cheek| cheek.along_for_12_across).collect();
            along.sort_by(f64::total_cmp);
            along
        };
        close("jack of A", blades("HJ-A-32")[0], side.jack_blade());
        close("jack of the end", blades("HJ-near-")[0], end.jack_blade());
        let mut cheeks = [side.hip_blade(), end.hip_blade()];
        cheeks.sort_by(f64::total_cmp);
        for (solid, square) in blades("H-A-near").into_iter().zip(cheeks) {
            close("cheek of the hip", solid, square);
        }
    }
}
