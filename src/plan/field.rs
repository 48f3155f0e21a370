//! The table of fields: everything that can be asked for, in the words of the roof file.

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
    /// Free text.
    Text,
}

impl Kind {
    /// How such a value is written, for people.
    #[must_use]
    pub fn how_written(self) -> String {
        match self {
            Kind::Length => "a length: 24', 24' 3-1/2\", 291.5\", 7.4 m, 7400mm".into(),
            Kind::Thickness => {
                "a thickness (1-1/2\", 38mm), a nominal size (2x8: its thin side), or none".into()
            }
            Kind::Width => "a width (3-1/2\", 89mm) or a nominal size (2x4: its wide side)".into(),
            Kind::Section => {
                "a nominal size (2x6) or actual sides (1.5in x 5.5in, 45x195mm)".into()
            }
            Kind::Pitch => "a pitch: 6/12, 6:12, 6 in 12, 26.57deg, 50%".into(),
            Kind::Choice(words) => format!("one of: {}", words.join(", ")),
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

/// What holds if nothing is written for a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Default {
    /// A value must be written.
    Needed,
    /// This, as it would be written; `none` if there is then none.
    Value(&'static str),
    /// A value that follows from others, told in words.
    Words(&'static str),
}

impl Field {
    /// The field with the key `key`.
    #[must_use]
    pub fn of(key: &str) -> Option<&'static Field> {
        FIELDS.iter().find(|field| field.key == key)
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

    /// The known field most like the key `written`, for a hint; `None` if nothing is near.
    #[must_use]
    pub fn nearest(written: &str) -> Option<&'static Field> {
        let (table, name) = written.split_once('.').unwrap_or(("", written));
        FIELDS
            .iter()
            .map(|field| {
                let other_table = 2 * usize::from(field.table() != table);
                (edits(name, field.name()) + other_table, field)
            })
            .min_by_key(|(distance, _)| *distance)
            .filter(|(distance, _)| *distance <= 1 + name.len() / 3)
            .map(|(_, field)| field)
    }
}

/// Fewest single-letter changes between two words.
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (down, letter) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = down + 1;
        for (across, other) in to.iter().enumerate() {
            let change = diagonal + usize::from(letter != *other);
            diagonal = row[across + 1];
            row[across + 1] = change.min(diagonal + 1).min(row[across] + 1);
        }
    }
    row[to.len()]
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
    (
        "ceiling",
        "Ceiling joists, and what ties the rafters where they do not.",
    ),
    ("collar", "Collar ties in the upper third."),
    ("gable", "The gable end walls above the plate."),
    ("lumber", "What can be bought."),
];

/// Every field, table by table in the order of [`TABLES`].
pub const FIELDS: &[Field] = &[
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
        flag: None,
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
        flag: None,
        kind: Kind::Length,
        about: "bottom of the ties above the plate",
        default: Default::Words(
            "on the plate for joists; on top of the joists for ties across them",
        ),
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
        key: "lumber.longest",
        flag: None,
        kind: Kind::Length,
        about: "longest stock that is bought for ridge, fascia and plates",
        default: Default::Value("20'"),
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_stands_in_a_table_and_the_order_is_the_tables() {
        let order: Vec<usize> = FIELDS
            .iter()
            .map(|field| {
                TABLES
                    .iter()
                    .position(|(name, _)| *name == field.table())
                    .unwrap()
            })
            .collect();
        assert!(order.is_sorted());
    }

    #[test]
    fn a_slip_of_the_pen_finds_its_field() {
        assert_eq!(
            Field::nearest("building.spam").unwrap().key,
            "building.span"
        );
        assert_eq!(Field::nearest("roof.span").unwrap().key, "building.span");
        assert_eq!(Field::nearest("pitch").unwrap().key, "roof.pitch");
        assert_eq!(Field::nearest("zzzzzzzz"), None);
    }
}
