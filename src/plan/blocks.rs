//! The blocks that a roof file tells beside its one gable: hip ends, a shed, unlike slopes, wings, dormers, openings.

use std::collections::HashSet;

use super::asked::{Asked, YES_NO};
use super::entry::Entries;
use super::field::Key;
use super::limits::{LARGEST_BUILDING_FT, LONGEST_OVERHANG_FT, LONGEST_RAKE_FT};
use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Length, Note, Pitch};

/// A wall that something stands before, or a face it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Wall {
    /// The eave wall at y = 0; of a wing its first side wall.
    A,
    /// The eave wall across; of a wing its second side wall.
    B,
    /// The end wall at x = 0; of a wing its end wall.
    Near,
    /// The end wall at the other end.
    Far,
}

impl Wall {
    /// All four.
    pub const ALL: [Wall; 4] = [Wall::A, Wall::B, Wall::Near, Wall::Far];

    /// Its word in the roof file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Wall::A => "A",
            Wall::B => "B",
            Wall::Near => "near",
            Wall::Far => "far",
        }
    }
}

/// What is behind an end wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// A gable: the side slopes run out over it.
    Gable,
    /// A slope of its own, with this pitch.
    Hip(Pitch),
}

/// The main block.
#[derive(Debug, Clone, PartialEq)]
pub struct Main {
    /// Along the ridge, framing face to framing face.
    pub length: Length,
    /// Across the ridge, building line to building line.
    pub span: Length,
    /// Pitch of slope A.
    pub pitch: Pitch,
    /// Pitch of slope B; `None` for a shed, which rises from wall A to wall B.
    pub pitch_b: Option<Pitch>,
    /// Plate of wall B above that of wall A.
    pub plate_b: Length,
    /// What is behind the near and the far end wall.
    pub ends: [End; 2],
    /// How far eaves and hip ends reach past the building line.
    pub overhang: Length,
    /// How far gable ends and the sides of a shed reach past it.
    pub rake: Length,
    /// Plumb height of every slope over its own plate at its building line.
    pub heel_stand: Length,
}

/// What a wing stands before.
#[derive(Debug, Clone, PartialEq)]
pub struct Before {
    /// Name of another wing; `None` for the main block.
    pub wing: Option<String>,
    /// The wall.
    pub wall: Wall,
}

/// A wing.
#[derive(Debug, Clone, PartialEq)]
pub struct Wing {
    /// Its name.
    pub name: String,
    /// The wall it stands before.
    pub on: Before,
    /// From the near end wall, or from wall A, to its first side wall.
    pub start: Length,
    /// Across its ridge.
    pub span: Length,
    /// From the wall's framing face to its end wall.
    pub projection: Length,
    /// Pitch of its slopes.
    pub pitch: Pitch,
    /// Its plates above the main plate.
    pub plate: Length,
    /// True for a hip end, which has the pitch of its sides.
    pub hip: bool,
    /// How far its side eaves and its hip end reach past the building line.
    pub overhang: Length,
    /// How far its gable end reaches past it.
    pub rake: Length,
}

/// A dormer.
#[derive(Debug, Clone, PartialEq)]
pub struct Dormer {
    /// Its name.
    pub name: String,
    /// The face it stands in.
    pub on: Wall,
    /// From the near end wall, or from wall A, to its first side wall.
    pub start: Length,
    /// Across it, side wall to side wall.
    pub span: Length,
    /// Level, from the building line to its front wall.
    pub face: Length,
    /// Its plates above the main plate: the side plates of a gable dormer, the front plate of a shed dormer.
    pub wall: Length,
    /// Its pitch.
    pub pitch: Pitch,
    /// True for one slope that rises from the front.
    pub shed: bool,
    /// Plumb height of its slopes over its plates at its building lines; `None` for that of the main roof.
    pub heel_stand: Option<Length>,
    /// How far its level edges reach past its walls.
    pub overhang: Length,
    /// How far its sloped edges reach past its walls.
    pub rake: Length,
}

/// What goes through an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Through {
    /// A skylight.
    Skylight,
    /// A chimney, clear of wood all round.
    Chimney,
    /// A roof hatch.
    Hatch,
}

impl Through {
    const CHOICES: [(&str, Through); 3] =
        [("skylight", Through::Skylight), ("chimney", Through::Chimney), ("hatch", Through::Hatch)];

    /// Its word in the roof file.
    #[must_use]
    pub fn word(self) -> &'static str {
        Through::CHOICES.iter().find(|(_, one)| *one == self).map_or("", |(word, _)| word)
    }
}

/// An opening in a face of the main block.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// Its name.
    pub name: String,
    /// The face it lies in.
    pub on: Wall,
    /// From the near end wall, or from wall A, to its first side.
    pub start: Length,
    /// Clear, level.
    pub width: Length,
    /// Level, from the building line to its low edge.
    pub from: Length,
    /// Clear, along the slope.
    pub length: Length,
    /// What goes through it.
    pub through: Through,
}

/// The opening to the attic in the ceiling of the main block, as a roof file tells it among the openings.
#[derive(Debug, Clone, PartialEq)]
pub struct AtticOpening {
    /// Its name.
    pub name: String,
    /// From the near end wall to its first side.
    pub start: Length,
    /// Clear, along the ridge.
    pub width: Length,
    /// From the building line of wall A to its edge.
    pub from: Length,
    /// Clear, across the building.
    pub length: Length,
}

/// The words of `roof.shape`, and whether the roof is a shed.
pub(super) const SHAPES: [(&str, bool); 2] = [("gable", false), ("shed", true)];

/// What a roof file tells of the roof's shape beside length, span, pitch and overhangs.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocks {
    /// True for one slope, which rises from wall A to wall B.
    pub shed: bool,
    /// Pitch of slope B, if it has one of its own.
    pub pitch_b: Option<Pitch>,
    /// Plate of wall B above that of wall A.
    pub plate_b: Length,
    /// What is behind the near and the far end wall.
    pub ends: [End; 2],
    /// Wings.
    pub wings: Vec<Wing>,
    /// Names of the wings that are laid on the sheathed main roof.
    pub laid_over: Vec<String>,
    /// Thickness of the roof panels, which dormers and such wings stand on.
    pub deck: Length,
    /// Dormers.
    pub dormers: Vec<Dormer>,
    /// Openings in the roof.
    pub openings: Vec<Opening>,
    /// The opening in the ceiling, and how many openings the file tells before it.
    pub attic: Option<(usize, AtticOpening)>,
    /// Hip rafters; `None` for one size deeper than the rafters, or as they are where the table of sizes has none.
    pub hip: Option<Section>,
    /// Valley rafters, likewise.
    pub valley: Option<Section>,
    /// True if the tops of hips are cut to both faces, false if the hips are dropped.
    pub backed: bool,
}

/// The numbers of the main block that the others take where they have none of their own.
#[derive(Debug, Clone, Copy)]
pub(super) struct Defaults {
    /// Pitch of slope A.
    pub(super) pitch: Pitch,
    /// Top of the floor to the top of the plate.
    pub(super) wall_height: Length,
    /// As written.
    pub(super) overhang: Length,
    /// What is added to an overhang as written: from the finished wall to the framing, if it is told from there, and the boards past the
    /// tail cut, if it is told to that.
    pub(super) past: Length,
    /// As written.
    pub(super) rake: Length,
    /// Depth of the rafters.
    pub(super) depth: Length,
}

impl Blocks {
    /// Everything that is written and makes more of the roof than one gable: where it is told, and its word. Nothing if the
    /// pitch can't be read, which is a fault of its own.
    #[must_use]
    pub fn beyond(entries: &Entries) -> Vec<(Key, &'static str)> {
        let mut asked = Asked::new(entries);
        let nothing = inches(0.0);
        let pitch = asked.pitch(key!("roof.pitch"));
        let wall_height = asked.length(key!("building.wall_height"));
        let blocks = pitch.zip(wall_height).and_then(|(pitch, wall_height)| {
            let of = Defaults {
                pitch,
                wall_height,
                overhang: nothing,
                past: nothing,
                rake: nothing,
                depth: asked
                    .section(key!("rafter.stock"))
                    .map_or(nothing, |one| inches(one.depth_in())),
            };
            Some(Blocks::ask(&mut asked, &of)?.beyond_one_gable(pitch))
        });
        blocks.unwrap_or_default()
    }

    /// Everything that makes more of the roof than one gable with slope A at `pitch`: where it is told, and its word.
    #[must_use]
    pub fn beyond_one_gable(&self, pitch: Pitch) -> Vec<(Key, &'static str)> {
        let unlike = |other: Pitch| other.tangent() != pitch.tangent();
        let hip = |end: End| matches!(end, End::Hip(_));
        [
            (self.shed, key!("roof.shape"), "a shed"),
            (self.pitch_b.is_some_and(unlike), key!("roof.pitch_b"), "slopes of unlike pitch"),
            (self.plate_b != inches(0.0), key!("building.wall_height_b"), "walls of unlike height"),
            (hip(self.ends[0]), key!("roof.near_end"), "a hip end"),
            (hip(self.ends[1]), key!("roof.far_end"), "a hip end"),
            (!self.wings.is_empty(), key!("wing.name"), "a wing"),
            (!self.dormers.is_empty(), key!("dormer.name"), "a dormer"),
            (!self.openings.is_empty(), key!("opening.name"), "an opening"),
        ]
        .into_iter()
        .filter_map(|(is_so, key, word)| is_so.then_some((key, word)))
        .collect()
    }

    /// Reads them; `None` if a value that has to be there could not be read.
    pub(super) fn ask(asked: &mut Asked<'_>, of: &Defaults) -> Option<Blocks> {
        let shed = asked.choice(key!("roof.shape"), &SHAPES)?;
        let pitch_b = pitch(asked, key!("roof.pitch_b"));
        let hip_pitch = pitch(asked, key!("roof.hip_pitch"));
        let end = |asked: &mut Asked<'_>, key| {
            let hip = asked.choice(key, &[("gable", false), ("hip", true)])?;
            Some(if hip { End::Hip(hip_pitch.unwrap_or(of.pitch)) } else { End::Gable })
        };
        let ends = [end(asked, key!("roof.near_end"))?, end(asked, key!("roof.far_end"))?];
        let height_b = asked.optional_length(key!("building.wall_height_b"));
        refuse_of_a_shed(asked, shed, pitch_b, height_b);
        if hip_pitch.is_some() && ends == [End::Gable; 2] {
            asked.refuse(
                key!("roof.hip_pitch"),
                "neither end of the roof is a hip",
                "write near_end = \"hip\" or far_end = \"hip\", or leave hip_pitch out",
            );
        }
        let mut names = HashSet::new();
        let wings = asked.items("wing", |asked| wing(asked, of, &mut names));
        let dormers = asked.items("dormer", |asked| dormer(asked, of, &mut names));
        let openings = asked.items("opening", |asked| opening(asked, &mut names));
        let attic = attic(asked, &openings);
        let openings = openings.into_iter().filter_map(|opening| match opening {
            Opened::Roof(opening) => Some(opening),
            Opened::Ceiling(_) => None,
        });
        let laid_over = wings.iter().filter(|(_, over)| *over).map(|(wing, _)| wing.name.clone());
        let laid_over: Vec<String> = laid_over.collect();
        let has_any_on_deck = !laid_over.is_empty() || !dormers.is_empty();
        Some(Blocks {
            shed,
            pitch_b,
            plate_b: height_b.map_or(inches(0.0), |height| height - of.wall_height),
            ends,
            deck: if has_any_on_deck { deck(asked) } else { inches(USUAL_DECK_IN) },
            laid_over,
            wings: wings.into_iter().map(|(wing, _)| wing).collect(),
            dormers,
            openings: openings.collect(),
            attic,
            hip: asked.where_given(key!("roof.hip_stock"), Asked::section),
            valley: asked.where_given(key!("roof.valley_stock"), Asked::section),
            backed: asked.choice(key!("roof.backed"), &YES_NO)?,
        })
    }
}

/// Refuses what a shed does not have: a slope B, and a wall B whose height can be told.
pub(super) fn refuse_of_a_shed(
    asked: &mut Asked<'_>,
    shed: bool,
    pitch_b: Option<Pitch>,
    height_b: Option<Length>,
) {
    if shed && pitch_b.is_some() {
        asked.refuse(
            key!("roof.pitch_b"),
            "a shed has one slope, and slope B is none",
            "leave pitch_b out, or write shape = \"gable\"",
        );
    }
    if shed && height_b.is_some() {
        asked.refuse(
            key!("building.wall_height_b"),
            "wall B of a shed is as high as its slope makes it",
            "leave wall_height_b out: stepoff frame says how high the wall is",
        );
    }
}

/// Thickness of roof panels where none is told, inches.
const USUAL_DECK_IN: f64 = 0.5;

/// Thickness of the roof panels.
fn deck(asked: &mut Asked<'_>) -> Length {
    let told = asked.optional_length(key!("sheathing.thickness"));
    let rated = asked.panel(key!("sheathing.panel"));
    let least = rated.map(|panel| inches(panel.least_thickness_in()));
    told.or(least).unwrap_or(inches(USUAL_DECK_IN))
}

/// A pitch that a slope can have, if one is written.
fn pitch(asked: &mut Asked<'_>, key: Key) -> Option<Pitch> {
    let pitch = asked.pitch(key)?;
    asked.refuse_pitch(key, pitch);
    Some(pitch)
}

/// A length that has to be written.
fn needed(asked: &mut Asked<'_>, key: Key) -> Option<Length> {
    asked.require(key);
    let length = asked.length(key)?;
    asked.refuse_over(key, length, LARGEST_BUILDING_FT, "over {} is beyond what this is for");
    Some(length)
}

/// A length that has to be written and to be more than zero.
fn above_zero(asked: &mut Asked<'_>, key: Key) -> Option<Length> {
    let length = needed(asked, key)?;
    if length <= inches(0.0) {
        asked.refuse(key, "this has to be more than zero", "write its size over the framing");
    }
    Some(length)
}

/// An overhang, or that of the main block.
fn overhang(asked: &mut Asked<'_>, key: Key, main: Length, most_ft: f64) -> Length {
    let own = asked.optional_length(key);
    if let Some(own) = own {
        asked.refuse_over(key, own, most_ft, "an overhang over {} is beyond what this is for");
    }
    own.unwrap_or(main)
}

/// Most letters of a name.
const LONGEST_NAME: usize = 20;

/// A name that nothing else has.
fn name(asked: &mut Asked<'_>, key: Key, names: &mut HashSet<String>) -> Option<String> {
    asked.require(key);
    let name = asked.text(key)?;
    let plain = name.chars().all(|letter| letter.is_ascii_alphanumeric());
    if name.is_empty() || !plain || name.len() > LONGEST_NAME {
        asked.refuse(
            key,
            format!("a name has letters and digits, at most {LONGEST_NAME}, for marks carry it"),
            "write a short name, such as north or d1",
        );
    } else if name == "main" || Wall::ALL.iter().any(|wall| wall.word() == name) {
        asked.refuse(
            key,
            format!("{name} is a name of the main block"),
            "write another name, such as north or d1",
        );
    } else if !names.insert(name.clone()) {
        asked.refuse(
            key,
            format!("{name} is the name of two things"),
            "give each wing, dormer and opening a name of its own",
        );
    }
    Some(name)
}

/// What a wing stands before.
fn before(asked: &mut Asked<'_>) -> Option<Before> {
    let key = key!("wing.on");
    let text = asked.text(key).unwrap_or_else(|| Wall::A.word().to_owned());
    let (wing, wall) = match text.rsplit_once('.') {
        Some((wing, wall)) => (Some(wing.to_owned()), wall),
        None => (None, text.as_str()),
    };
    let found = Wall::ALL.into_iter().find(|known| known.word() == wall);
    let of_wing = wing.is_some() && found == Some(Wall::Far);
    if found.is_none() || of_wing {
        asked.refuse(
            key,
            if of_wing {
                "a wing has no far wall: it ends in the roof before it".to_owned()
            } else {
                format!("{text} is no wall")
            },
            "write A, B, near or far; of a wing named north, north.A, north.B or north.near",
        );
        return None;
    }
    Some(Before { wing, wall: found? })
}

fn wing(asked: &mut Asked<'_>, of: &Defaults, names: &mut HashSet<String>) -> Option<(Wing, bool)> {
    let name = name(asked, key!("wing.name"), names);
    let on = before(asked);
    let start = needed(asked, key!("wing.start"));
    let span = above_zero(asked, key!("wing.span"));
    let projection = above_zero(asked, key!("wing.projection"));
    let own_pitch = pitch(asked, key!("wing.pitch"));
    let hip = asked.choice(key!("wing.end"), &[("gable", false), ("hip", true)]);
    let height = asked.optional_length(key!("wing.wall_height"));
    let over = asked.choice(key!("wing.joined"), &[("valleys", false), ("over", true)]);
    let overhang_ = overhang(asked, key!("wing.overhang"), of.overhang, LONGEST_OVERHANG_FT);
    let rake = overhang(asked, key!("wing.rake"), of.rake, LONGEST_RAKE_FT);
    let wing = Wing {
        name: name?,
        on: on?,
        start: start?,
        span: span?,
        projection: projection?,
        pitch: own_pitch.unwrap_or(of.pitch),
        plate: height.map_or(inches(0.0), |height| height - of.wall_height),
        hip: hip?,
        overhang: overhang_ + of.past,
        rake,
    };
    Some((wing, over?))
}

/// The face of the main block that something lies in.
fn face(asked: &mut Asked<'_>, key: Key) -> Option<Wall> {
    asked.choice(key, &Wall::ALL.map(|wall| (wall.word(), wall)))
}

fn dormer(asked: &mut Asked<'_>, of: &Defaults, names: &mut HashSet<String>) -> Option<Dormer> {
    let name = name(asked, key!("dormer.name"), names);
    let on = face(asked, key!("dormer.on"));
    let start = needed(asked, key!("dormer.start"));
    let span = above_zero(asked, key!("dormer.span"));
    let in_from_wall = needed(asked, key!("dormer.face"));
    let wall = above_zero(asked, key!("dormer.wall"));
    let shed = asked.choice(key!("dormer.shape"), &SHAPES);
    let own_pitch = pitch(asked, key!("dormer.pitch"));
    let overhang_ = overhang(asked, key!("dormer.overhang"), of.overhang, LONGEST_OVERHANG_FT);
    let rake = overhang(asked, key!("dormer.rake"), of.rake, LONGEST_RAKE_FT);
    let pitch = own_pitch.unwrap_or(of.pitch);
    let heel_stand = dormer_heel(asked, of.depth, pitch);
    Some(Dormer {
        name: name?,
        on: on?,
        start: start?,
        span: span?,
        face: in_from_wall?,
        wall: wall?,
        pitch,
        shed: shed?,
        heel_stand,
        overhang: overhang_ + of.past,
        rake,
    })
}

/// The heel stand that the seat of a dormer's rafters leaves, if one is told.
fn dormer_heel(asked: &mut Asked<'_>, depth: Length, pitch: Pitch) -> Option<Length> {
    let key = key!("dormer.seat");
    let seat = asked.optional_length(key)?;
    let plumb = depth * pitch.tangent().hypot(1.0);
    let heel = plumb - seat * pitch.tangent();
    if seat <= inches(0.0) || heel <= inches(0.0) {
        // half the rafter is left: the notch rule asks for more
        let most = plumb / (2.0 * pitch.tangent());
        asked.refuse(
            key,
            "this seat leaves no rafter over the plate, or no seat",
            Note::with("write a seat of more than zero and less than {}", [most]),
        );
    }
    Some(heel)
}

/// An opening as it is told.
enum Opened {
    /// In the roof.
    Roof(Opening),
    /// In the ceiling.
    Ceiling(AtticOpening),
}

fn opening(asked: &mut Asked<'_>, names: &mut HashSet<String>) -> Option<Opened> {
    let name = name(asked, key!("opening.name"), names);
    let places = Wall::ALL.map(|wall| (wall.word(), Some(wall)));
    let [a, b, near, far] = places;
    let on = asked.choice(key!("opening.on"), &[a, b, near, far, ("ceiling", None)]);
    let start = needed(asked, key!("opening.start"));
    let width = above_zero(asked, key!("opening.width"));
    let from = needed(asked, key!("opening.from"));
    let length = above_zero(asked, key!("opening.length"));
    let through = asked.choice(key!("opening.kind"), &Through::CHOICES);
    let Some(on) = on? else {
        if asked.given(key!("opening.kind")) && through? != Through::Hatch {
            asked.refuse(
                key!("opening.kind"),
                "an opening in the ceiling is a hatch",
                "leave kind out: what is framed here is the way to the attic",
            );
        }
        return Some(Opened::Ceiling(AtticOpening {
            name: name?,
            start: start?,
            width: width?,
            from: from?,
            length: length?,
        }));
    };
    Some(Opened::Roof(Opening {
        name: name?,
        on,
        start: start?,
        width: width?,
        from: from?,
        length: length?,
        through: through?,
    }))
}

/// The opening in the ceiling, with how many openings come before it in the file.
fn attic(asked: &mut Asked<'_>, openings: &[Opened]) -> Option<(usize, AtticOpening)> {
    let mut found = openings.iter().enumerate().filter_map(|(at, opening)| match opening {
        Opened::Ceiling(attic) => Some((at, attic)),
        Opened::Roof(_) => None,
    });
    let (at, attic) = found.next()?;
    for (_, other) in found {
        asked.refuse_item(
            (&other.name, "on"),
            "one opening in the ceiling is framed, and this is the second",
            "leave this one out",
        );
    }
    for key in [key!("attic.access_width"), key!("attic.access_length")] {
        if asked.given(key) {
            let help = format!("leave it out, or the [[opening]] named {}", attic.name);
            asked.refuse(key, "the opening to the attic is told twice", help);
        }
    }
    Some((at, attic.clone()))
}
