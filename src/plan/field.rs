//! The table of fields: everything that can be asked for, in the words of the roof file.

use std::fmt;

use super::fit_terms::{Find, Quantity};
use super::text::{LONGEST_LIST, LONGEST_TEXT, LONGEST_VALUE};
use crate::measure::load::{Counted, LOAD_IS_WRITTEN, SPEED_IS_WRITTEN};
use crate::measure::read::{LENGTH_IS_WRITTEN, PITCH_IS_WRITTEN};

/// What kind of value a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A length of zero or more.
    Length,
    /// A board's thickness: a length, a nominal size whose thin side is meant, or `none`.
    Thickness,
    /// A plate's width: a length, or a nominal size whose wide side is meant.
    Width,
    /// A lumber section: nominal, or actual sides.
    Section,
    /// A pitch.
    Pitch,
    /// One of the words listed.
    Choice(&'static [&'static str]),
    /// A load on an area.
    Load,
    /// A wind speed.
    Speed,
    /// A plain number, in the unit named.
    Number(&'static str),
    /// A number of a US unit, or of a metric one that stands behind it.
    Counted(Counted),
    /// A species group of the code's span tables.
    Species,
    /// A visual grade.
    Grade,
    /// A panel's span rating.
    Panel,
    /// A state whose amendments are known.
    Jurisdiction,
    /// A limit of the user's own, with the reason for it: `24" because ...`.
    Limit(LimitOf),
    /// A length that may be less than zero.
    SignedLength,
    /// Several lengths, separated by commas.
    Lengths,
    /// Sticks with section, length and count, separated by commas.
    Sticks,
    /// One or more readings of one length, separated by commas; heights may lie below the level line.
    Readings,
    /// Spans with where they were taken, separated by commas.
    Stations,
    /// Values that the field named may take in a search: a list, or a range with its step.
    Sweep(&'static str),
    /// Free text.
    Text,
}

/// What a limit of the user's own is a limit of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitOf {
    /// A length.
    Length,
    /// A load.
    Load,
    /// A plain number, in the unit named.
    Number(&'static str),
}

impl Kind {
    /// Most characters of such a value.
    #[must_use]
    pub fn longest(self) -> usize {
        match self {
            Kind::Text => LONGEST_TEXT,
            Kind::Lengths
            | Kind::Sticks
            | Kind::Readings
            | Kind::Stations
            | Kind::Sweep(_)
            | Kind::Limit(_) => LONGEST_LIST,
            _ => LONGEST_VALUE,
        }
    }

    /// How such a value is written, for people.
    #[must_use]
    pub fn how_written(self) -> String {
        match self {
            Kind::Length => LENGTH_IS_WRITTEN.into(),
            Kind::Thickness => {
                "a thickness (1-1/2in, 38mm), a nominal size (2x8: its thin side), or none".into()
            }
            Kind::Width => "a width (3-1/2in, 89mm) or a nominal size (2x4: its wide side)".into(),
            Kind::Section => {
                "a nominal size (2x6) or actual sides (1.5inx5.5in, 45x195mm)".into()
            }
            Kind::Pitch => PITCH_IS_WRITTEN.into(),
            Kind::Choice(words) => format!("one of: {}", words.join(", ")),
            Kind::Load => format!("a load: {LOAD_IS_WRITTEN}"),
            Kind::Speed => format!("a wind speed: {SPEED_IS_WRITTEN}"),
            Kind::Number(unit) => format!("a number of {unit}"),
            Kind::Counted(counted) => format!("a number of {}", counted.is_written()),
            Kind::Species => "a species: DFL, HF, SP, SPF or the full name, such as Hem-fir".into(),
            Kind::Grade => "a grade: SS, No.1 & Btr, No.1, No.2, No.3".into(),
            Kind::Panel => "a span rating as stamped on the panel: 24/16, 32/16, 24 o.c.".into(),
            Kind::Jurisdiction => {
                "a state whose amendments are known: North Carolina, Oregon".into()
            }
            Kind::Limit(of) => format!(
                "{}, the word because, and the reason",
                match of {
                    LimitOf::Length => "a length".to_owned(),
                    LimitOf::Load => "a load".to_owned(),
                    LimitOf::Number(unit) => format!("a number of {unit}"),
                }
            ),
            Kind::SignedLength => "a length, with a dash before it for less than zero: 3/4in, -1/2in, 20mm".into(),
            Kind::Lengths => "lengths separated by commas: 8ft, 10ft, 12ft or 2.4m, 3m".into(),
            Kind::Sticks => {
                "sticks separated by commas, each a section, a length and how many: 2x4 92-5/8in x 6, 2x6 14ft x 2".into()
            }
            Kind::Readings => "one reading or several, separated by commas: 24ft0-1/8in, 24ft0-1/4in".into(),
            Kind::Stations => "spans with where they were taken, separated by commas: 14ft0-1/8in at 5ft4in, 14ft at 16ft".into(),
            Kind::Sweep(of) => match Field::of(of).map(|field| field.kind) {
                Some(Kind::Length) => "lengths separated by commas, or a range: 12in, 16in or 6in to 18in by 2in".into(),
                Some(Kind::Pitch) => "pitches separated by commas, or a range: 5/12, 7/12 or 4/12 to 8/12 by 1/12".into(),
                Some(Kind::Section) => "sections separated by commas: 2x6, 2x8, 45x195mm".into(),
                Some(Kind::Choice(words)) => format!("some of these, separated by commas: {}", words.join(", ")),
                other => format!(
                    "values separated by commas, each {}",
                    other.map_or(String::new(), Kind::how_written)
                ),
            },
            Kind::Text => "any text".into(),
        }
    }
}

/// One thing that can be asked for.
#[derive(Debug, PartialEq, Eq)]
pub struct Field {
    /// Where it stands in the roof file: `table.name`.
    pub key: &'static str,
    /// The flag that sets it, with its dashes.
    pub flag: Option<&'static str>,
    /// What kind of value it takes.
    pub kind: Kind,
    /// What it is, in the trade's words, with its datum.
    pub about: &'static str,
    /// What holds if nothing is written.
    pub default: Default,
}

/// A field of [`FIELDS`], by its key: `key!("roof.pitch")` makes one while this compiles, so that a
/// mistyped key does not compile.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key(u8);

/// The [`Key`](crate::plan::Key) of a field, from its name in the roof file; one that no field has does not compile.
///
/// ```
/// use stepoff::key;
///
/// assert_eq!(key!("roof.pitch").name(), "roof.pitch");
/// ```
///
/// ```compile_fail
/// stepoff::key!("roof.pich");
/// ```
#[macro_export]
macro_rules! key {
    ($name:literal) => {{
        const KEY: $crate::plan::Key = $crate::plan::Key::named($name);
        KEY
    }};
}

impl Key {
    /// The key of that name.
    ///
    /// # Panics
    /// If no field has it: while this compiles, where [`key!`](crate::key) calls it.
    #[must_use]
    #[allow(clippy::panic, reason = "key! calls it while this compiles")]
    pub const fn named(name: &str) -> Key {
        let mut at = 0;
        while at < FIELDS.len() {
            if same(FIELDS[at].key, name) {
                return Key(at as u8);
            }
            at += 1;
        }
        panic!("no field has this key")
    }

    /// The key that is written so, if a field has it.
    #[must_use]
    pub fn of(name: &str) -> Option<Key> {
        FIELDS.iter().position(|field| field.key == name).map(|at| Key(at as u8))
    }

    /// Several names, separated by commas.
    #[must_use]
    pub fn list(keys: &[Key]) -> String {
        keys.iter().map(|key| key.name()).collect::<Vec<_>>().join(", ")
    }

    /// Its field.
    #[must_use]
    pub const fn field(self) -> &'static Field {
        &FIELDS[self.0 as usize]
    }

    /// Its name in the roof file: `table.name`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.field().key
    }
}

/// Equal texts, while this compiles.
const fn same(one: &str, other: &str) -> bool {
    let (one, other) = (one.as_bytes(), other.as_bytes());
    if one.len() != other.len() {
        return false;
    }
    let mut at = 0;
    while at < one.len() {
        if one[at] != other[at] {
            return false;
        }
        at += 1;
    }
    true
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Debug for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.name(), f)
    }
}

/// What holds if nothing is written for a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Default {
    /// A value must be written.
    Needed,
    /// This, as it would be written; `none` if there is then none.
    Value(&'static str),
    /// A value that follows from others, told in words.
    Words(&'static str),
    /// The same with lengths in it: in US words, then in metric ones.
    Either(&'static str, &'static str),
}

impl Field {
    /// The field with the key `key`.
    #[must_use]
    pub fn of(key: &str) -> Option<&'static Field> {
        FIELDS.iter().find(|field| field.key == key)
    }

    /// Its key.
    #[must_use]
    pub fn key(&'static self) -> Key {
        Key(FIELDS.iter().position(|field| std::ptr::eq(field, self)).unwrap_or_default() as u8)
    }

    /// The field with this name in a table of the roof file.
    #[must_use]
    pub fn within(table: &str, name: &str) -> Option<&'static Field> {
        FIELDS.iter().find(|field| field.name() == name && field.table() == table)
    }

    /// The table of the roof file that the field stands in.
    #[must_use]
    pub fn table(&self) -> &'static str {
        self.key.split_once('.').map_or("", |(table, _)| table)
    }

    /// The field's name within its table.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.key.split_once('.').map_or(self.key, |(_, name)| name)
    }
}

/// What each table of the roof file is about, in the file's order.
pub const TABLES: &[(&str, &str)] = &[
    ("job", "What the sheets are headed with."),
    ("building", "The walls that carry the roof."),
    ("roof", "The roof as a whole."),
    ("rafter", "The common rafter."),
    ("ridge", "What the rafters meet at the top."),
    ("eave", "The overhang and what closes it."),
    ("rake", "The overhang at the gable ends."),
    ("ceiling", "Ceiling joists, and what ties the rafters where they do not."),
    ("collar", "Collar ties in the upper third."),
    ("gable", "The gable end walls above the plate."),
    ("lumber", "What can be bought."),
    ("code", "The code that the roof is held against (stepoff check, stepoff ties)."),
    ("loads", "What the roof must carry: ask the building department."),
    ("sheathing", "The panels on the rafters."),
    ("roofing", "What keeps the water out."),
    ("attic", "The room under the roof."),
    ("insulation", "What lies on the ceiling."),
    ("site", "Where the building stands."),
    ("deck", "How the roof panels are laid (stepoff sheathing)."),
    ("order", "How the roof is bought (stepoff order, stepoff cuts)."),
    (
        "compare",
        "What may be varied when roofs are compared (stepoff compare): lists separated by commas, or ranges as 4/12 to 8/12 by 1/12.",
    ),
    (
        "measured",
        "The walls as they stand (stepoff measured): each of one reading or several. Near and far are the two ends along the ridge, A and B the two eaves.",
    ),
    ("fit", "What is fixed, and what is to be found (stepoff fit)."),
    (
        "limits",
        "Limits of your own, stricter or local ones, each with its reason: \"16' because the zoning caps it\".",
    ),
];

/// What holds where a count of nails is left to the rules.
const AS_NEEDED: &str = "as many as are needed";
/// What holds where a field has no default: findings that need it are not checked.
pub const NOT_SET: &str = "not set";
/// What holds where a search does not vary a field.
const AS_IS: &str = "the roof's own";
/// What holds where no limit of the user's own is set.
const THE_CODE: &str = "the code's";

/// Every field, table by table in the order of [`TABLES`].
pub static FIELDS: &[Field] = &[
    Field {
        key: "job.name",
        flag: None,
        kind: Kind::Text,
        about: "name of the job",
        default: Default::Words("no name"),
    },
    Field {
        key: "building.length",
        flag: None,
        kind: Kind::Length,
        about: "length of the building along the ridge, outer face to outer face of the end wall framing",
        default: Default::Needed,
    },
    Field {
        key: "building.span",
        flag: Some("--span"),
        kind: Kind::Length,
        about: "width of the building across the ridge, outer face to outer face of the eave wall framing",
        default: Default::Needed,
    },
    Field {
        key: "building.wall_height",
        flag: Some("--wall-height"),
        kind: Kind::Length,
        about: "top of the floor to the top of the plate",
        default: Default::Value("8' 1-1/8\""),
    },
    Field {
        key: "building.plate",
        flag: Some("--plate"),
        kind: Kind::Width,
        about: "width of the plate the rafters sit on",
        default: Default::Value("2x4"),
    },
    Field {
        key: "building.finish",
        flag: Some("--finish"),
        kind: Kind::Length,
        about: "thickness of all that stands outside the wall framing: sheathing and finish",
        default: Default::Value("0\""),
    },
    Field {
        key: "building.window_head",
        flag: Some("--window-head"),
        kind: Kind::Length,
        about: "top of the floor to the head of the windows in the eave wall",
        default: Default::Value("none"),
    },
    Field {
        key: "building.sheathing",
        flag: None,
        kind: Kind::Length,
        about: "thickness of the wall sheathing alone, which a soffit ledger stands against",
        default: Default::Value("0\""),
    },
    Field {
        key: "building.wall_strap",
        flag: None,
        kind: Kind::Counted(Counted::PoundsAFoot),
        about: "rated uplift of the connectors from the top plates down to the foundation, pounds per foot of eave wall; nails alone if there are none",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "building.stud",
        flag: None,
        kind: Kind::Section,
        about: "section of the wall studs; gable studs are cut from it",
        default: Default::Value("2x4"),
    },
    Field {
        key: "roof.pitch",
        flag: Some("--pitch"),
        kind: Kind::Pitch,
        about: "slope of both roof planes",
        default: Default::Needed,
    },
    Field {
        key: "roof.spacing",
        flag: Some("--spacing"),
        kind: Kind::Length,
        about: "spacing of the rafters on center",
        default: Default::Value("16\""),
    },
    Field {
        key: "roof.layout_from",
        flag: None,
        kind: Kind::Choice(&["wall", "rake"]),
        about: "where the layout starts: at the end wall's framing face, or at the rake's sheathing edge, so that panel ends fall on rafter centers",
        default: Default::Value("wall"),
    },
    Field {
        key: "rafter.stock",
        flag: Some("--stock"),
        kind: Kind::Section,
        about: "section of the rafter",
        default: Default::Value("2x6"),
    },
    Field {
        key: "rafter.seat",
        flag: Some("--seat"),
        kind: Kind::Length,
        about: "length of the level seat cut from the building line inward",
        default: Default::Words("the plate's width, or less where the notch rule asks"),
    },
    Field {
        key: "rafter.tail",
        flag: Some("--tail"),
        kind: Kind::Choice(&["plumb", "square", "level"]),
        about: "tail cut: plumb; square to the rafter; or plumb with a level soffit cut",
        default: Default::Value("plumb"),
    },
    Field {
        key: "rafter.tail_face",
        flag: Some("--tail-face"),
        kind: Kind::Length,
        about: "plumb face left at the tail above a level soffit cut",
        default: Default::Words("the rafter's depth"),
    },
    Field {
        key: "rafter.bridging",
        flag: None,
        kind: Kind::Length,
        about: "greatest spacing of bridging along deep rafters and joists",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "rafter.tie_down",
        flag: None,
        kind: Kind::Counted(Counted::Pounds),
        about: "rated uplift of the rafter tie-down at each plate, pounds; nails alone if there is none",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "ridge.board",
        flag: Some("--ridge"),
        kind: Kind::Thickness,
        about: "thickness of the ridge board, or none where the rafters butt",
        default: Default::Value("1-1/2\""),
    },
    Field {
        key: "ridge.depth",
        flag: None,
        kind: Kind::Width,
        about: "depth of the ridge board",
        default: Default::Words(
            "that of a nominal ridge board, else the next board that covers the plumb cut",
        ),
    },
    Field {
        key: "ridge.joints",
        flag: None,
        kind: Kind::Choice(&["between", "pair", "none"]),
        about: "where pieces of ridge board meet: between rafters, at a pair, or one piece only",
        default: Default::Value("between"),
    },
    Field {
        key: "ridge.gussets",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "gusset plates join rafters that butt without a ridge board",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "ridge.straps",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "ridge straps join the rafters where there are no collar ties",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "eave.overhang",
        flag: Some("--overhang"),
        kind: Kind::Length,
        about: "level overhang, from the face that overhang_from names to what overhang_to names",
        default: Default::Value("1'"),
    },
    Field {
        key: "eave.overhang_to",
        flag: Some("--overhang-to"),
        kind: Kind::Choice(&["fascia", "tail"]),
        about: "the overhang reaches to the fascia's outer face, or to the tail cut",
        default: Default::Value("fascia"),
    },
    Field {
        key: "eave.overhang_from",
        flag: Some("--overhang-from"),
        kind: Kind::Choice(&["framing", "finish"]),
        about: "the overhang starts at the wall framing (the building line), or at the finished wall",
        default: Default::Value("framing"),
    },
    Field {
        key: "eave.fascia",
        flag: Some("--fascia"),
        kind: Kind::Thickness,
        about: "thickness of the fascia, or none",
        default: Default::Value("none"),
    },
    Field {
        key: "eave.fascia_depth",
        flag: Some("--fascia-depth"),
        kind: Kind::Width,
        about: "depth of the fascia, or a nominal size whose wide side is meant",
        default: Default::Words("the wide side of a fascia given by a nominal size"),
    },
    Field {
        key: "eave.subfascia",
        flag: Some("--subfascia"),
        kind: Kind::Thickness,
        about: "thickness of the sub-fascia behind the fascia, or none",
        default: Default::Value("none"),
    },
    Field {
        key: "eave.soffit",
        flag: Some("--soffit"),
        kind: Kind::Thickness,
        about: "thickness of the soffit panel under the tail, or none",
        default: Default::Value("none"),
    },
    Field {
        key: "eave.subfascia_depth",
        flag: None,
        kind: Kind::Width,
        about: "depth of the sub-fascia",
        default: Default::Words("the rafter's depth, or that of a nominal sub-fascia"),
    },
    Field {
        key: "eave.blocking",
        flag: None,
        kind: Kind::Choice(&["full", "held", "none"]),
        about: "blocking between rafters over the plate: full to the roof, held down for air, or none",
        default: Default::Value("full"),
    },
    Field {
        key: "eave.air_gap",
        flag: None,
        kind: Kind::Length,
        about: "how far held-down blocking stays under the roof plane, plumb at the building line",
        default: Default::Value("1\""),
    },
    Field {
        key: "eave.soffit_framing",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "level soffit framing: a ledger on the wall and a lookout beside each tail",
        default: Default::Value("no"),
    },
    Field {
        key: "rake.overhang",
        flag: None,
        kind: Kind::Length,
        about: "level, end wall's framing face to the barge rafter's outer face; 0 for none",
        default: Default::Value("0\""),
    },
    Field {
        key: "rake.framing",
        flag: None,
        kind: Kind::Choice(&["ladder", "over", "notched"]),
        about: "how the rake is carried: a flush ladder, outlookers over a ripped end rafter (dropped gable), or outlookers let into the end rafter",
        default: Default::Value("ladder"),
    },
    Field {
        key: "rake.stock",
        flag: None,
        kind: Kind::Section,
        about: "section of the outlookers, laid flat",
        default: Default::Value("2x4"),
    },
    Field {
        key: "rake.spacing",
        flag: None,
        kind: Kind::Length,
        about: "spacing of ladder rungs or outlookers along the slope",
        default: Default::Value("2'"),
    },
    Field {
        key: "ceiling.joists",
        flag: None,
        kind: Kind::Choice(&["beside", "across", "none"]),
        about: "ceiling joists beside the rafters, across them (then separate rafter ties hold the walls), or none",
        default: Default::Value("beside"),
    },
    Field {
        key: "ceiling.stock",
        flag: None,
        kind: Kind::Section,
        about: "section of the ceiling joists",
        default: Default::Value("2x6"),
    },
    Field {
        key: "ceiling.bearing",
        flag: None,
        kind: Kind::Length,
        about: "inside bearing line, from the building line of eave A to its middle; joists then come in two lengths",
        default: Default::Value("none"),
    },
    Field {
        key: "ceiling.joist_span",
        flag: None,
        kind: Kind::Length,
        about: "greatest span of joists that run across (along the ridge), bearing to bearing",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "ceiling.heel_nails",
        flag: None,
        kind: Kind::Number("nails"),
        about: "16d common nails that the plan specifies at each heel, rafter to tie",
        default: Default::Words(AS_NEEDED),
    },
    Field {
        key: "ceiling.lap_nails",
        flag: None,
        kind: Kind::Number("nails"),
        about: "16d common nails that the plan specifies in each lap of two joists",
        default: Default::Words(AS_NEEDED),
    },
    Field {
        key: "ceiling.bearing_width",
        flag: None,
        kind: Kind::Width,
        about: "width of the inside bearing's plate",
        default: Default::Value("2x4"),
    },
    Field {
        key: "ceiling.meeting",
        flag: None,
        kind: Kind::Choice(&["offset", "splice", "filler"]),
        about: "how two lengths of joist stay beside their rafters: rafters offset across the ridge, joists in line with a splice piece, or lapped with a filler",
        default: Default::Value("offset"),
    },
    Field {
        key: "ceiling.lap",
        flag: None,
        kind: Kind::Length,
        about: "lap of two lengths over the bearing",
        default: Default::Value("3\""),
    },
    Field {
        key: "ceiling.tie_stock",
        flag: None,
        kind: Kind::Section,
        about: "section of rafter ties where joists run across",
        default: Default::Value("2x4"),
    },
    Field {
        key: "ceiling.tie_spacing",
        flag: None,
        kind: Kind::Length,
        about: "greatest spacing of rafter ties",
        default: Default::Value("2'"),
    },
    Field {
        key: "ceiling.tie_height",
        flag: Some("--tie-height"),
        kind: Kind::Length,
        about: "bottom of the ties above the plate",
        default: Default::Words(
            "on the plate for joists; on top of the joists for ties across them",
        ),
    },
    Field {
        key: "ceiling.on_rafters",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "a finished ceiling hangs on the rafters themselves",
        default: Default::Value("no"),
    },
    Field {
        key: "ceiling.finish",
        flag: None,
        kind: Kind::Choice(&["gypsum", "plaster"]),
        about: "finish of the ceiling: gypsum board, which bends, or plaster and stucco, which crack",
        default: Default::Value("gypsum"),
    },
    Field {
        key: "collar.ties",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "collar ties in the upper third",
        default: Default::Value("yes"),
    },
    Field {
        key: "collar.stock",
        flag: None,
        kind: Kind::Section,
        about: "section of the collar ties",
        default: Default::Value("2x4"),
    },
    Field {
        key: "collar.spacing",
        flag: None,
        kind: Kind::Length,
        about: "greatest spacing of the collar ties",
        default: Default::Value("4'"),
    },
    Field {
        key: "collar.height",
        flag: None,
        kind: Kind::Length,
        about: "bottom of the collar ties above the plate",
        default: Default::Words("at the lower edge of the upper third"),
    },
    Field {
        key: "gable.studs",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "studs between the end walls' plates and the end rafters",
        default: Default::Value("yes"),
    },
    Field {
        key: "gable.spacing",
        flag: None,
        kind: Kind::Length,
        about: "spacing of the gable studs on center",
        default: Default::Value("16\""),
    },
    Field {
        key: "gable.vent_width",
        flag: None,
        kind: Kind::Length,
        about: "clear width of a vent opening in the middle of each gable",
        default: Default::Value("none"),
    },
    Field {
        key: "gable.vent_height",
        flag: None,
        kind: Kind::Length,
        about: "clear height of the vent opening",
        default: Default::Value("1'"),
    },
    Field {
        key: "gable.vent_sill",
        flag: None,
        kind: Kind::Length,
        about: "bottom of the vent opening above the plate",
        default: Default::Value("1'"),
    },
    Field {
        key: "gable.vent_area",
        flag: None,
        kind: Kind::Counted(Counted::SquareInches),
        about: "net free vent area of the vent in each gable, square inches",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "lumber.longest",
        flag: None,
        kind: Kind::Length,
        about: "longest stock that can be bought; ridge, fascia and plates are joined from it",
        default: Default::Either(
            "the longest of order.lengths, else 20'",
            "the longest of order.lengths, else 6.1 m",
        ),
    },
    Field {
        key: "lumber.species",
        flag: None,
        kind: Kind::Species,
        about: "species of rafters and joists, as stamped",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "lumber.grade",
        flag: None,
        kind: Kind::Grade,
        about: "grade of rafters and joists, as stamped",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "code.edition",
        flag: Some("--edition"),
        kind: Kind::Choice(&["2015", "2018", "2021", "2024"]),
        about: "edition of the model residential code (IRC) that was adopted",
        default: Default::Value("2021"),
    },
    Field {
        key: "code.jurisdiction",
        flag: Some("--jurisdiction"),
        kind: Kind::Jurisdiction,
        about: "state whose known amendments count",
        default: Default::Words("the model text"),
    },
    Field {
        key: "loads.live",
        flag: Some("--live"),
        kind: Kind::Load,
        about: "roof live load, per area of level projection",
        default: Default::Value("20 psf"),
    },
    Field {
        key: "loads.snow",
        flag: Some("--snow"),
        kind: Kind::Load,
        about: "ground snow load of the place; 0 where there is none",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "loads.dead",
        flag: Some("--dead"),
        kind: Kind::Load,
        about: "what the roof itself weighs, per area of level projection; 10 psf is usual under shingles",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "loads.wind",
        flag: None,
        kind: Kind::Speed,
        about: "ultimate design wind speed of the place",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "loads.exposure",
        flag: None,
        kind: Kind::Choice(&["b", "c", "d"]),
        about: "wind exposure: b among houses and trees, c open country, d open water",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "loads.seismic",
        flag: None,
        kind: Kind::Choice(&["a", "b", "c", "d0", "d1", "d2"]),
        about: "seismic design category of the place",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "sheathing.panel",
        flag: None,
        kind: Kind::Panel,
        about: "span rating of the roof panels, as stamped",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "sheathing.thickness",
        flag: None,
        kind: Kind::Length,
        about: "thickness of the roof panels",
        default: Default::Words("the least that the rating is made in"),
    },
    Field {
        key: "sheathing.edges",
        flag: None,
        kind: Kind::Choice(&["none", "clips", "blocking", "tongue"]),
        about: "what supports the panel edges between rafters",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "sheathing.nail_edge",
        flag: None,
        kind: Kind::Length,
        about: "spacing of the nails along panel edges",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "sheathing.nail_field",
        flag: None,
        kind: Kind::Length,
        about: "spacing of the nails over the rafters between",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "sheathing.nail_zone",
        flag: None,
        kind: Kind::Length,
        about: "spacing of the nails within 4 ft of eaves, ridge and rakes",
        default: Default::Words("as between"),
    },
    Field {
        key: "roofing.kind",
        flag: None,
        kind: Kind::Choice(&[
            "shingles",
            "metal-lapped",
            "metal-sealed",
            "metal-standing",
            "metal-shingles",
            "roll",
            "slate",
            "wood-shingles",
            "wood-shakes",
            "tile",
        ]),
        about: "roof covering",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "roofing.underlayment",
        flag: None,
        kind: Kind::Choice(&["single", "double"]),
        about: "layers of underlayment",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "roofing.drip_edge",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "drip edge at eaves and rakes",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "roofing.ice",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "the place is designated for ice at the eaves, so that an ice barrier is asked for",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "roofing.ice_barrier",
        flag: None,
        kind: Kind::Length,
        about: "width of the ice barrier up the slope from the roof edge",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "roofing.cover_width",
        flag: None,
        kind: Kind::Length,
        about: "width that one metal panel covers",
        default: Default::Value("36\""),
    },
    Field {
        key: "roofing.starter",
        flag: None,
        kind: Kind::Choice(&["eaves", "all"]),
        about: "where starter strip lies under shingles: along the eaves, or along eaves and rakes",
        default: Default::Value("eaves"),
    },
    Field {
        key: "attic.stairs",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "fixed stairs lead to the attic, or it is lived in",
        default: Default::Value("no"),
    },
    Field {
        key: "attic.access_width",
        flag: None,
        kind: Kind::Length,
        about: "shorter side of the rough opening to the attic",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.access_length",
        flag: None,
        kind: Kind::Length,
        about: "longer side of the rough opening to the attic",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.access_along",
        flag: None,
        kind: Kind::Choice(&["joists", "ridge"]),
        about: "along what the longer side of that opening lies",
        default: Default::Value("joists"),
    },
    Field {
        key: "attic.access_x",
        flag: None,
        kind: Kind::Length,
        about: "middle of that opening along the ridge, from the near end wall's framing face",
        default: Default::Words("where it cuts fewest joists, near the middle"),
    },
    Field {
        key: "attic.access_y",
        flag: None,
        kind: Kind::Length,
        about: "middle of that opening across the building, from eave A's building line",
        default: Default::Words(
            "under the ridge; beside an inside bearing the middle of the longer joists",
        ),
    },
    Field {
        key: "attic.access_headers",
        flag: None,
        kind: Kind::Choice(&["single", "double"]),
        about: "headers between the joists that stay, where that opening cuts joists",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.access_trimmers",
        flag: None,
        kind: Kind::Choice(&["single", "double"]),
        about: "joists beside that opening, where it cuts joists",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.access_tie",
        flag: None,
        kind: Kind::Counted(Counted::Pounds),
        about: "rated pull, by a designer's detail, of what carries a joist cut by that opening to the joists beside it",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.vented",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "the attic is ventilated",
        default: Default::Value("yes"),
    },
    Field {
        key: "attic.soffit_vent",
        flag: None,
        kind: Kind::Counted(Counted::SquareInchesAFoot),
        about: "net free vent area of one foot of soffit, square inches",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.ridge_vent",
        flag: None,
        kind: Kind::Counted(Counted::SquareInchesAFoot),
        about: "net free vent area of one foot of ridge vent, square inches; both slopes together",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.inside_envelope",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "of an attic without vents: all of it lies inside the insulated shell, under insulation at the roof",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.no_class_1",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "of an attic without vents: no Class I vapor retarder lies on the ceiling side",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.airtight_insulation",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "of an attic without vents: air-impermeable insulation lies against the deck, or over it as the code's table has it",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.class_2",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "of an attic without vents in climate zones 5 to 8: that insulation is a Class II vapor retarder or has one on it",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.shingle_airspace",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "of an attic without vents under wood shingles or shakes: 1/4 in of vented air under them",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "attic.climate_zone",
        flag: None,
        kind: Kind::Choice(&["1", "2", "3", "4", "5", "6", "7", "8"]),
        about: "climate zone, for the smaller vent area",
        default: Default::Words("not set, so the larger vent area is asked"),
    },
    Field {
        key: "attic.vapor_retarder",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "a Class I or II vapor retarder lies on the warm side of the ceiling",
        default: Default::Value("no"),
    },
    Field {
        key: "insulation.depth",
        flag: None,
        kind: Kind::Length,
        about: "depth of the insulation on the ceiling",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "insulation.baffles",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "baffles keep an air space over the insulation at the eaves",
        default: Default::Value("no"),
    },
    Field {
        key: "site.floor_height",
        flag: None,
        kind: Kind::Length,
        about: "top of the floor above the ground, as the height limit is measured",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.lot_line",
        flag: None,
        kind: Kind::Length,
        about: "eave wall to the nearest lot line, square to the wall",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.lot_line_rake",
        flag: None,
        kind: Kind::Length,
        about: "gable end wall to the nearest lot line, square to the wall",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.eave_rated",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "the underside of eaves near a lot line is fire-rated for an hour, or fireblocked as footnote a allows",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.rake_rated",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "the underside of rakes near a lot line is fire-rated for an hour",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.wall_rated",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "walls near a lot line are fire-rated for an hour from both sides",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "site.sprinklers",
        flag: None,
        kind: Kind::Choice(&["yes", "no"]),
        about: "the dwelling has automatic sprinklers",
        default: Default::Value("no"),
    },
    Field {
        key: "site.building",
        flag: None,
        kind: Kind::Choice(&["dwelling", "garage"]),
        about: "a dwelling, or a detached garage or shed without heat",
        default: Default::Value("dwelling"),
    },
    Field {
        key: "deck.sheet_length",
        flag: None,
        kind: Kind::Length,
        about: "actual length of a panel, laid along the eave",
        default: Default::Value("96\""),
    },
    Field {
        key: "deck.sheet_height",
        flag: None,
        kind: Kind::Length,
        about: "actual width of a panel, laid up the slope",
        default: Default::Value("48\""),
    },
    Field {
        key: "deck.gap",
        flag: Some("--gap"),
        kind: Kind::Length,
        about: "space between panels",
        default: Default::Value("1/8\""),
    },
    Field {
        key: "deck.kerf",
        flag: Some("--kerf"),
        kind: Kind::Length,
        about: "width of a saw cut in a panel",
        default: Default::Value("1/8\""),
    },
    Field {
        key: "deck.least_strip",
        flag: Some("--min-strip"),
        kind: Kind::Length,
        about: "least height of a course of panels",
        default: Default::Value("24\""),
    },
    Field {
        key: "deck.least_piece",
        flag: Some("--min-length"),
        kind: Kind::Length,
        about: "least length of a piece of panel, joint to joint",
        default: Default::Value("24\""),
    },
    Field {
        key: "deck.past_fascia",
        flag: Some("--past-tail"),
        kind: Kind::SignedLength,
        about: "how far the panels reach past the fascia's outer face (the tail cut where there is none), along the slope; less than zero for short of it",
        default: Default::Value("0\""),
    },
    Field {
        key: "deck.past_rake",
        flag: None,
        kind: Kind::Length,
        about: "how far the panels reach past the barge rafter's outer face (the end wall's framing where there is none)",
        default: Default::Value("0\""),
    },
    Field {
        key: "deck.ridge_slot",
        flag: Some("--ridge-slot"),
        kind: Kind::Length,
        about: "left open at the ridge on each plane, along the slope from the ridge's center line",
        default: Default::Either(
            "half the ridge board and 3/4\" more where there is a ridge vent, else none",
            "half the ridge board and 19 mm more where there is a ridge vent, else none",
        ),
    },
    Field {
        key: "order.buildings",
        flag: None,
        kind: Kind::Number("buildings"),
        about: "equal buildings of this roof that are ordered and cut together; the other commands speak of one",
        default: Default::Value("1"),
    },
    Field {
        key: "order.lengths",
        flag: None,
        kind: Kind::Lengths,
        about: "lengths in which lumber can be bought, for rafter, frame and order alike; a section that has prices is bought in the lengths priced",
        default: Default::Either(
            "even feet from 8' to 24'; metric sections by metric lengths",
            "sections in millimeters from 1.8 m to 7.2 m by 0.3 m; nominal ones from 2.44 m to 7.32 m by 0.61 m",
        ),
    },
    Field {
        key: "order.long",
        flag: None,
        kind: Kind::Length,
        about: "without prices, sticks longer than this are bought only where a piece needs one",
        default: Default::Value("16'"),
    },
    Field {
        key: "order.different_lengths",
        flag: None,
        kind: Kind::Number("lengths"),
        about: "without prices, at most so many different lengths of a section are bought, so that the pile stays easy to sort",
        default: Default::Value("3"),
    },
    Field {
        key: "order.kerf",
        flag: Some("--kerf"),
        kind: Kind::Length,
        about: "width of a saw cut in lumber; it lies on the waste side of the mark",
        default: Default::Value("1/8\""),
    },
    Field {
        key: "order.end_trim",
        flag: Some("--end-trim"),
        kind: Kind::Length,
        about: "taken off every stick before the first piece, to square its end; joined boards are so much shorter",
        default: Default::Value("0\""),
    },
    Field {
        key: "order.plates",
        flag: None,
        kind: Kind::Choice(&["apart", "double", "out"]),
        about: "top plates, which belong to the walls: the upper layer listed apart, both layers (double), or left out",
        default: Default::Value("apart"),
    },
    Field {
        key: "order.extra",
        flag: None,
        kind: Kind::Sticks,
        about: "pieces to cut beyond the frame, such as braces",
        default: Default::Value("none"),
    },
    Field {
        key: "order.in_hand",
        flag: None,
        kind: Kind::Sticks,
        about: "sticks on site already, to be used before any is bought",
        default: Default::Value("none"),
    },
    Field {
        key: "order.culls",
        flag: None,
        kind: Kind::Number("percent"),
        about: "sticks beyond the cutting plan, for crooked ones and slips of the saw, percent of each length",
        default: Default::Value("0"),
    },
    Field {
        key: "order.spare_nails",
        flag: None,
        kind: Kind::Number("percent"),
        about: "nails and clips beyond the count, percent",
        default: Default::Value("10"),
    },
    Field {
        key: "order.spare_roofing",
        flag: None,
        kind: Kind::Number("percent"),
        about: "covering beyond the area of the roof, percent",
        default: Default::Value("10"),
    },
    Field {
        key: "compare.pitch",
        flag: Some("--pitch"),
        kind: Kind::Sweep("roof.pitch"),
        about: "pitches that may be built",
        default: Default::Words(AS_IS),
    },
    Field {
        key: "compare.spacing",
        flag: Some("--spacing"),
        kind: Kind::Sweep("roof.spacing"),
        about: "spacings of the rafters that may be built",
        default: Default::Either(
            "12, 16, 19.2 and 24 in and the roof's own",
            "305, 406, 488 and 610 mm and the roof's own",
        ),
    },
    Field {
        key: "compare.rafter",
        flag: Some("--rafter"),
        kind: Kind::Sweep("rafter.stock"),
        about: "sections that the rafters may have",
        default: Default::Words(
            "2x6, 2x8, 2x10 and the roof's own; its own alone where that is no nominal size",
        ),
    },
    Field {
        key: "compare.ridge",
        flag: Some("--ridge"),
        kind: Kind::Sweep("ridge.board"),
        about: "ridge boards that may be bought",
        default: Default::Words(
            "2x8, 2x10, 2x12 and the roof's own; its own alone where that is no nominal size",
        ),
    },
    Field {
        key: "compare.joist",
        flag: Some("--joist"),
        kind: Kind::Sweep("ceiling.stock"),
        about: "sections that the ceiling joists may have",
        default: Default::Words(
            "2x6, 2x8, 2x10 and the roof's own; its own alone where that is no nominal size or there are none beside the rafters",
        ),
    },
    Field {
        key: "compare.species",
        flag: Some("--species"),
        kind: Kind::Sweep("lumber.species"),
        about: "species that may be bought",
        default: Default::Words("the roof's own; all four if it has none"),
    },
    Field {
        key: "compare.grade",
        flag: Some("--grade"),
        kind: Kind::Sweep("lumber.grade"),
        about: "grades that may be bought",
        default: Default::Words("the roof's own; No.1 and No.2 if it has none"),
    },
    Field {
        key: "compare.overhang",
        flag: Some("--overhang"),
        kind: Kind::Sweep("eave.overhang"),
        about: "level overhangs that may be built",
        default: Default::Words(AS_IS),
    },
    Field {
        key: "compare.tail",
        flag: Some("--tail"),
        kind: Kind::Sweep("rafter.tail"),
        about: "tail cuts that may be made",
        default: Default::Words(AS_IS),
    },
    Field {
        key: "compare.fascia",
        flag: Some("--fascia"),
        kind: Kind::Sweep("eave.fascia"),
        about: "fascias that may be nailed on",
        default: Default::Words(AS_IS),
    },
    Field {
        key: "compare.blocking",
        flag: Some("--blocking"),
        kind: Kind::Sweep("eave.blocking"),
        about: "blocking that may stand over the plates",
        default: Default::Words(AS_IS),
    },
    Field {
        key: "measured.width_near",
        flag: None,
        kind: Kind::Readings,
        about: "width over the wall framing at the near end, eave A to eave B",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.width_far",
        flag: None,
        kind: Kind::Readings,
        about: "width over the wall framing at the far end",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.length_a",
        flag: None,
        kind: Kind::Readings,
        about: "length over the wall framing along eave A",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.length_b",
        flag: None,
        kind: Kind::Readings,
        about: "length over the wall framing along eave B",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.diagonal_near_a",
        flag: None,
        kind: Kind::Readings,
        about: "diagonal from the near corner of eave A to the far corner of eave B",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.diagonal_near_b",
        flag: None,
        kind: Kind::Readings,
        about: "diagonal from the near corner of eave B to the far corner of eave A",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.spans",
        flag: None,
        kind: Kind::Stations,
        about: "spans square to eave A's wall, each with its distance from the near end along that wall",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.plate_near_a",
        flag: None,
        kind: Kind::Readings,
        about: "top of the plate at that corner above one level line anywhere",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.plate_far_a",
        flag: None,
        kind: Kind::Readings,
        about: "the same at the far corner of eave A",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.plate_near_b",
        flag: None,
        kind: Kind::Readings,
        about: "the same at the near corner of eave B",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.plate_far_b",
        flag: None,
        kind: Kind::Readings,
        about: "the same at the far corner of eave B",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.ridge_near",
        flag: None,
        kind: Kind::Readings,
        about: "top of a ridge board that stands already, at the near end, above the same level line",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.ridge_far",
        flag: None,
        kind: Kind::Readings,
        about: "the same at the far end",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "measured.tape",
        flag: None,
        kind: Kind::Length,
        about: "how far one tape reading may be off: its standard deviation",
        default: Default::Value("1/8\""),
    },
    Field {
        key: "measured.level",
        flag: None,
        kind: Kind::Length,
        about: "how far one height may be off: its standard deviation",
        default: Default::Value("1/8\""),
    },
    Field {
        key: "measured.square",
        flag: None,
        kind: Kind::Length,
        about: "how far a corner may lie off its place and still count as square",
        default: Default::Value("1/4\""),
    },
    Field {
        key: "measured.as_planned",
        flag: None,
        kind: Kind::Length,
        about: "how far a wall, or a ridge that stands, may be off the plan and still count as planned (common practice)",
        default: Default::Value("1\""),
    },
    Field {
        key: "fit.find",
        flag: Some("--find"),
        kind: Kind::Choice(&Find::WORDS),
        about: "what is not fixed and is to be found",
        default: Default::Words("must be written for stepoff fit"),
    },
    Field {
        key: "fit.meet",
        flag: Some("--meet"),
        kind: Kind::Choice(&Quantity::NAMES),
        about: "the measurement to be met where several are given",
        default: Default::Words("each of them in turn"),
    },
    Field {
        key: "fit.above",
        flag: Some("--above"),
        kind: Kind::Choice(&["plate", "floor", "grade", "mark"]),
        about: "what the heights below are measured from: the top of the plate, the floor, the ground, or a mark on the existing building",
        default: Default::Value("plate"),
    },
    Field {
        key: "fit.mark",
        flag: Some("--mark"),
        kind: Kind::SignedLength,
        about: "the mark above the top of the plate; a dash before it for below",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.ridge_top",
        flag: Some("--ridge-top"),
        kind: Kind::SignedLength,
        about: "height that the top of the ridge board (the rafters' top edge at its face) has to come to",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.peak",
        flag: Some("--peak"),
        kind: Kind::SignedLength,
        about: "height that the rafters' top edges, carried on to the center of the ridge, have to come to",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.fascia_top",
        flag: Some("--fascia-top"),
        kind: Kind::SignedLength,
        about: "height that the top of the fascia's outer face has to come to; the tail's top corner where there is no fascia",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.fascia_bottom",
        flag: Some("--fascia-bottom"),
        kind: Kind::SignedLength,
        about: "height that the bottom of the fascia's outer face has to come to",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.soffit_under",
        flag: Some("--soffit-under"),
        kind: Kind::SignedLength,
        about: "height that the underside of the soffit has to come to",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.heel_stand",
        flag: Some("--heel-stand"),
        kind: Kind::Length,
        about: "plumb, plate to the rafter's top edge at the building line",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.fascia_out",
        flag: Some("--fascia-out"),
        kind: Kind::Length,
        about: "level, building line to the fascia's outer face",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.rise_48",
        flag: Some("--rise-48"),
        kind: Kind::Length,
        about: "rise of the existing roof over 48 in level; it gives the pitch where that is not what is to be found",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.board",
        flag: Some("--board"),
        kind: Kind::Length,
        about: "longest board that the rafter may be cut from",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.cap",
        flag: Some("--cap"),
        kind: Kind::Length,
        about: "greatest height of the peak, above what above names",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.avoid",
        flag: Some("--avoid"),
        kind: Kind::Choice(&["narrow-row"]),
        about: "no row of panels under the least strip",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.deeper",
        flag: Some("--deeper"),
        kind: Kind::Section,
        about: "deeper stock that is to lie in the same roof plane on a lower plate",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.wall_b",
        flag: Some("--wall-b"),
        kind: Kind::SignedLength,
        about: "plate of eave B above that of eave A; a dash before it for below",
        default: Default::Words("both at one height"),
    },
    Field {
        key: "fit.pitch_b",
        flag: Some("--pitch-b"),
        kind: Kind::Pitch,
        about: "slope of plane B",
        default: Default::Words("that of plane A"),
    },
    Field {
        key: "fit.ridge_at",
        flag: Some("--ridge-at"),
        kind: Kind::Length,
        about: "level, building line A to the center of the ridge",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "fit.fascia_line",
        flag: Some("--fascia-line"),
        kind: Kind::Choice(&["own", "level"]),
        about: "where eave B's fascia comes: wherever the plan's own overhang brings it, or level with eave A's by an overhang of its own",
        default: Default::Value("own"),
    },
    Field {
        key: "limits.height",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest height of the building",
        default: Default::Words(NOT_SET),
    },
    Field {
        key: "limits.snow",
        flag: None,
        kind: Kind::Limit(LimitOf::Load),
        about: "greatest ground snow load for prescriptive framing",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.notch",
        flag: None,
        kind: Kind::Limit(LimitOf::Number("parts of the depth")),
        about: "greatest depth of the birdsmouth, as a part of the rafter depth",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.bearing",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "least bearing of a rafter on the plate",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.tail",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "least wood left over the notch of a tail",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.cantilever",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest cantilever of a notched tail",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.tie_spacing",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest spacing of rafter ties",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.collar_spacing",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest spacing of collar ties",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.lap",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "least lap of ceiling joists",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.heel_nails",
        flag: None,
        kind: Kind::Limit(LimitOf::Number("nails")),
        about: "least number of nails in a heel joint",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.rafter_span",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest level span of the rafters",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.joist_span",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest span of the ceiling joists",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.uplift",
        flag: None,
        kind: Kind::Limit(LimitOf::Number("pounds")),
        about: "greatest uplift that toenails alone may hold",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.panel_span",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest span of the roof panels",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.rake",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "greatest rake overhang without framing of its own",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.ice_barrier",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "least width of the ice barrier up the slope",
        default: Default::Words(THE_CODE),
    },
    Field {
        key: "limits.lot_line",
        flag: None,
        kind: Kind::Limit(LimitOf::Length),
        about: "least distance of a wall with eaves from the lot line",
        default: Default::Words(THE_CODE),
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_stands_in_a_table_and_the_order_is_the_tables() {
        let order: Vec<usize> = FIELDS
            .iter()
            .map(|field| TABLES.iter().position(|(name, _)| *name == field.table()).unwrap())
            .collect();
        assert!(order.is_sorted());
    }
}
