//! Words that people try, and what they mean here. A word is written as [`super::hint`] looks it up: small letters,
//! one space between, no signs; a plural with s is found by its singular.

/// What a word means.
#[derive(Debug)]
pub(super) enum Meaning {
    /// A field of the roof file, which may be a flag too.
    Field(Key),
    /// What to write or to do, in words.
    Say(&'static str),
}

use crate::key;
use crate::plan::Key;
use Meaning::{Field, Say};

type Words = &'static [&'static str];

const ALONE: &str =
    "leave it out to frame the gable alone; lengths along hips, valleys and jacks: stepoff square";
const OPENING: &str = "leave it out to frame the roof without the opening; its headers and doubled rafters need a design of their own";
const ONE_SLOPE: &str = "a roof of one slope has no ridge to thrust against and carries otherwise; its rafters can't be taken from a gable";

/// Roofs and parts of roofs that are not framed here, each with what can be had instead.
pub(super) const SHAPES: &[(Words, &str)] = &[
    (
        &[
            "hip",
            "hip roof",
            "hipped",
            "hip rafter",
            "valley",
            "valley rafter",
            "jack",
            "jack rafter",
            "cripple",
            "cripple jack",
            "gambrel",
            "mansard",
            "jerkinhead",
            "dutch",
            "dutch gable",
            "dutch hip",
            "half hip",
            "pyramid",
            "turret",
            "cross gable",
            "cross",
            "intersecting",
            "ell",
            "l",
            "l shape",
            "l shaped",
            "t",
            "t shape",
            "t shaped",
            "u shape",
            "u shaped",
            "wing",
            "addition",
            "butterfly",
            "saltbox",
            "gablet",
            "monitor",
            "dome",
            "barrel",
            "conical",
            "hexagon",
            "octagon",
            "gazebo",
        ],
        ALONE,
    ),
    (
        &[
            "shed",
            "shed roof",
            "lean to",
            "leanto",
            "skillion",
            "mono",
            "mono pitch",
            "monopitch",
            "monoslope",
            "single slope",
            "single pitch",
            "flat",
            "flat roof",
            "porch",
            "porch roof",
            "veranda",
            "carport",
            "pent",
            "pent roof",
        ],
        ONE_SLOPE,
    ),
    (
        &[
            "dormer",
            "gable dormer",
            "shed dormer",
            "eyebrow",
            "skylight",
            "roof window",
            "roof light",
            "rooflight",
            "sky light",
            "chimney",
            "cricket",
            "saddle",
            "clerestory",
            "cupola",
        ],
        OPENING,
    ),
    (
        &[
            "truss",
            "trusses",
            "roof truss",
            "scissor",
            "scissors",
            "scissor truss",
            "attic truss",
            "fink",
            "howe",
        ],
        "order trusses from their maker, whose drawings hold for them; stepoff frames rafters, ridge and ceiling joists",
    ),
];

/// Settings under other names.
pub(super) const SETTINGS: &[(Words, Meaning)] = &[
    (
        &[
            "width",
            "building width",
            "house width",
            "breadth",
            "wide",
            "width ft",
            "width in",
            "roof span",
            "clear span",
            "total span",
        ],
        Field(key!("building.span")),
    ),
    (
        &["length", "building length", "house length", "ridge length", "roof length", "long"],
        Field(key!("building.length")),
    ),
    (
        &["run", "total run", "rafter run", "run length", "half span"],
        Say(
            "write the span, which is twice the run: a run of 12ft is span 24ft (--span 24ft, or span under [building])",
        ),
    ),
    (
        &[
            "rise",
            "rise run",
            "rise and run",
            "unit rise",
            "total rise",
            "ridge height",
            "height of ridge",
            "roof height",
        ],
        Say(
            "write the pitch, the rise in 12 of run: --pitch 6/12, or pitch under [roof]; a ridge that must come to a height: stepoff fit",
        ),
    ),
    (
        &[
            "slope",
            "angle",
            "roof angle",
            "roof slope",
            "roof pitch",
            "degree",
            "deg",
            "incline",
            "inclination",
            "gradient",
            "grade of roof",
            "steepness",
            "twelfths",
        ],
        Field(key!("roof.pitch")),
    ),
    (
        &[
            "oc",
            "on center",
            "on centre",
            "center",
            "centre",
            "centers",
            "centres",
            "rafter spacing",
            "space",
            "spaced",
            "stud spacing",
            "crs",
            "rafter centers",
            "layout",
        ],
        Field(key!("roof.spacing")),
    ),
    (
        &["joist spacing", "ceiling spacing", "ceiling joist spacing"],
        Say(
            "write spacing under [roof]: ceiling joists stand beside the rafters, at the rafters' spacing",
        ),
    ),
    (
        &[
            "rafter",
            "rafter size",
            "rafter stock",
            "rafter depth",
            "rafter section",
            "board",
            "timber",
            "section",
            "size",
            "dimension",
            "lumber size",
            "member",
            "stick",
            "rafter lumber",
        ],
        Field(key!("rafter.stock")),
    ),
    (
        &["rafter length"],
        Say("leave it out: the rafter's length follows from span, pitch and overhang"),
    ),
    (
        &[
            "birdsmouth",
            "birds mouth",
            "bird mouth",
            "seat cut",
            "seat length",
            "rafter notch",
            "notch",
            "notch depth",
        ],
        Field(key!("rafter.seat")),
    ),
    (
        &["hap", "height above plate", "heel", "heel height", "raised heel", "energy heel"],
        Say(
            "set seat under [rafter], from which it follows; a height above the plate that must be met: stepoff fit --heel-stand",
        ),
    ),
    (
        &["tail cut", "tail style", "tail end", "end cut", "rafter tail", "plumb", "plumb cut"],
        Field(key!("rafter.tail")),
    ),
    (
        &["hurricane tie", "hurricane clip", "tie downs", "tiedown", "strap down", "uplift clip"],
        Field(key!("rafter.tie_down")),
    ),
    (
        &["ridge board", "ridgeboard", "ridge size", "ridge stock", "ridge thickness"],
        Field(key!("ridge.board")),
    ),
    (
        &["ridge beam", "structural ridge", "beam", "purlin", "collar beam"],
        Say(
            "write board under [ridge] for a ridge board; a beam that carries the rafters needs a design of its own",
        ),
    ),
    (
        &["wall plate", "top plate", "plate width", "wall thickness", "wall", "sill"],
        Field(key!("building.plate")),
    ),
    (&["wall finish", "siding", "cladding", "brick", "veneer"], Field(key!("building.finish"))),
    (
        &["ceiling height", "plate height", "storey height", "story height", "storey"],
        Field(key!("building.wall_height")),
    ),
    (
        &["height", "high", "total height", "building height"],
        Say(
            "write wall_height under [building] for the walls; a ridge that must come to a height: stepoff fit; a cap on the whole: height under [limits]",
        ),
    ),
    (&["stud", "stud size", "wall stud"], Field(key!("building.stud"))),
    (
        &[
            "eave",
            "eave overhang",
            "soffit overhang",
            "soffit width",
            "projection",
            "soffit depth",
            "eave width",
            "tail length",
            "over hang",
            "oh",
        ],
        Field(key!("eave.overhang")),
    ),
    (&["fascia board", "fascia size", "gutter board"], Field(key!("eave.fascia"))),
    (&["sub fascia", "rough fascia"], Field(key!("eave.subfascia"))),
    (
        &[
            "bird block",
            "birdblock",
            "frieze",
            "frieze block",
            "freeze block",
            "solid blocking",
            "eave block",
        ],
        Field(key!("eave.blocking")),
    ),
    (&["lookout", "soffit framing", "soffit ledger"], Field(key!("eave.soffit_framing"))),
    (
        &["rake", "gable overhang", "rake overhang", "verge", "barge", "end overhang"],
        Field(key!("rake.overhang")),
    ),
    (
        &["outlooker", "barge board", "bargeboard", "fly rafter", "barge rafter", "ladder"],
        Field(key!("rake.framing")),
    ),
    (
        &["ceiling joist", "joist", "joist size", "ceiling joist size", "ceiling joist stock"],
        Field(key!("ceiling.stock")),
    ),
    (
        &["cathedral", "vaulted", "vault", "cathedral ceiling", "vaulted ceiling", "open ceiling"],
        Say(
            "write joists = \"none\" under [ceiling]: then nothing ties the walls, and the ridge needs a design",
        ),
    ),
    (&["rafter tie", "cross tie", "tie", "tie beam"], Field(key!("ceiling.tie_spacing"))),
    (&["collar tie", "collar"], Field(key!("collar.ties"))),
    (&["gable stud", "gable wall", "gable end"], Field(key!("gable.studs"))),
    (
        &["wood", "timber species", "wood species", "lumber species", "wood type", "lumber type"],
        Field(key!("lumber.species")),
    ),
    (&["lumber grade", "wood grade", "stress grade"], Field(key!("lumber.grade"))),
    (&["max length", "longest board", "max stock"], Field(key!("lumber.longest"))),
    (&["irc", "building code", "code year", "code edition", "year"], Field(key!("code.edition"))),
    (&["state", "region", "county"], Field(key!("code.jurisdiction"))),
    (
        &["snow load", "ground snow", "ground snow load", "snowload", "pg"],
        Field(key!("loads.snow")),
    ),
    (&["live load", "roof live load", "roof live"], Field(key!("loads.live"))),
    (&["dead load", "roof dead load", "roof weight", "weight"], Field(key!("loads.dead"))),
    (
        &["wind speed", "wind load", "windspeed", "gust", "basic wind speed"],
        Field(key!("loads.wind")),
    ),
    (&["sdc", "seismic category", "earthquake"], Field(key!("loads.seismic"))),
    (
        &[
            "plywood",
            "osb",
            "decking",
            "roof deck",
            "panel size",
            "sheathing thickness",
            "sheet thickness",
        ],
        Field(key!("sheathing.panel")),
    ),
    (&["sheet size", "panel length", "sheet"], Field(key!("deck.sheet_length"))),
    (
        &["shingle", "covering", "roof covering", "roof material", "roofing", "asphalt"],
        Field(key!("roofing.kind")),
    ),
    (
        &["metal", "metal roof", "steel roof", "tin", "tin roof", "corrugated"],
        Say(
            "write kind = \"metal-lapped\" under [roofing], or metal-sealed or metal-standing, by its seams",
        ),
    ),
    (&["slate", "slates"], Say("write kind = \"slate\" under [roofing]")),
    (&["clay", "roof tile"], Say("write kind = \"tile\" under [roofing]")),
    (
        &["nail", "nails", "nailing", "screw", "fastener", "fasteners"],
        Say(
            "leave it out: stepoff order counts nails by the code's schedule; what the plan has at a heel: heel_nails under [ceiling]",
        ),
    ),
    (
        &["load", "roof load", "total load", "psf", "design load"],
        Say("write snow, live and dead under [loads] in a roof file, such as snow = \"30psf\""),
    ),
    (&["felt", "tar paper", "membrane"], Field(key!("roofing.underlayment"))),
    (
        &["ice dam", "ice shield", "ice and water", "ice and water shield"],
        Field(key!("roofing.ice")),
    ),
    (&["vent", "venting", "ventilation", "vented attic"], Field(key!("attic.vented"))),
    (&["ridge venting"], Field(key!("attic.ridge_vent"))),
    (&["soffit venting", "eave vent"], Field(key!("attic.soffit_vent"))),
    (&["gable vent", "louver"], Field(key!("gable.vent_width"))),
    (
        &["hatch", "attic hatch", "attic access", "access", "scuttle", "attic opening"],
        Field(key!("attic.access_width")),
    ),
    (
        &["insulation", "insulation depth", "insulation thickness", "r value", "r"],
        Field(key!("insulation.depth")),
    ),
    (&["zone", "climate"], Field(key!("attic.climate_zone"))),
    (&["saw kerf", "blade", "saw cut", "blade width", "cut width"], Field(key!("order.kerf"))),
    (
        &["stock length", "lumber length", "board length", "available length"],
        Field(key!("order.lengths")),
    ),
    (
        &["waste", "waste factor", "waste percent", "allowance"],
        Say(
            "leave it out: every stick and sheet is counted; spares: spare_nails and spare_roofing under [order]",
        ),
    ),
    (
        &[
            "building",
            "unit",
            "house",
            "home",
            "cabin",
            "cottage",
            "number of building",
            "how many building",
            "building count",
            "quantity",
            "qty",
            "count",
            "copy",
            "copie",
            "repeat",
        ],
        Field(key!("order.buildings")),
    ),
    (&["project", "title", "job name", "customer", "client"], Field(key!("job.name"))),
    (
        &["price", "cost", "pricing"],
        Say(
            "write stepoff prices FILE for a prices file of this roof to fill in, then --prices with stepoff order",
        ),
    ),
];

/// Ways of showing a result, under other names.
pub(super) const OUTPUT: &[(Words, Meaning)] = &[
    (
        &[
            "imperial",
            "imperial units",
            "us units",
            "us",
            "english",
            "customary",
            "feet",
            "foot",
            "ft",
            "feet inches",
        ],
        Say("write --units feet, which is how a US roof is written anyway"),
    ),
    (&["inch", "inches", "in", "decimal"], Say("write --units inches")),
    (
        &[
            "metric",
            "metric units",
            "mm",
            "millimeter",
            "millimetre",
            "cm",
            "centimeter",
            "meter",
            "metre",
            "si",
        ],
        Say("write --units metric"),
    ),
    (
        &[
            "precision",
            "rounding",
            "accuracy",
            "fraction",
            "denominator",
            "nearest",
            "tolerance",
            "sixteenth",
        ],
        Say("write --round 1/16, or 1/2, 1/4, 1/8, 1/32, 1/64, mm"),
    ),
    (&["json"], Say("write --format json")),
    (&["csv"], Say("write --format csv")),
    (
        &["xlsx", "spreadsheet", "workbook"],
        Say(
            "write stepoff order FILE --xlsx NAME.xlsx, or stepoff export FILE --to xlsx -o NAME.xlsx",
        ),
    ),
    (
        &[
            "pdf",
            "print",
            "html",
            "png",
            "svg",
            "draw",
            "drawing",
            "picture",
            "plans",
            "blueprint",
            "scale",
        ],
        Say("write stepoff sheets FILE -o NAME.pdf (or NAME.html, NAME.svg, NAME.png)"),
    ),
    (
        &["dxf", "cad", "ifc", "bim", "gltf", "glb", "obj", "stl", "3d"],
        Say("write stepoff export FILE --to dxf -o NAME.dxf (or ifc, gltf, obj)"),
    ),
    (&["verbose", "debug", "details", "steps", "show work", "why"], Say("write --explain")),
    (&["silent"], Say("write --quiet")),
    (
        &["o", "out", "output", "output file", "file", "save as"],
        Say(
            "results go to the terminal: write > NAME after the command; drawings: stepoff sheets FILE -o NAME.pdf, other programs: stepoff export FILE -o NAME.dxf",
        ),
    ),
    (
        &["color", "colour", "no color"],
        Say(
            "set NO_COLOR=1 before the command for none; there is no color where the output is no terminal",
        ),
    ),
    (&["date", "paper"], Say("it goes with stepoff sheets")),
];

/// What people ask of the program, under the names of its commands.
pub(super) const COMMANDS: &[(Words, Meaning)] = &[
    (
        &["calc", "calculate", "compute", "solve", "length", "common", "common rafter", "rafters"],
        Say("write stepoff rafter --span 24ft --pitch 6/12"),
    ),
    (
        &["gable", "roof", "build", "framing", "cut list", "cutlist", "sticks"],
        Say("write stepoff frame FILE for the cut list of the whole gable"),
    ),
    (
        &[
            "material",
            "materials",
            "takeoff",
            "take off",
            "bom",
            "estimate",
            "buy",
            "shopping",
            "list",
            "quantities",
            "lumber",
            "quote",
        ],
        Say("write stepoff order FILE for one list of all that is bought"),
    ),
    (
        &["optimize", "optimise", "nest", "cutting", "cut", "stock"],
        Say("write stepoff cuts FILE for a cutting plan"),
    ),
    (
        &["new", "init", "create", "template", "example", "setup"],
        Say("write stepoff start roof.toml for a roof file to fill in"),
    ),
    (
        &["inspect", "inspection", "code", "verify", "validate", "irc"],
        Say("write stepoff check FILE to hold the roof against the code"),
    ),
    (
        &["plan", "plot", "view", "show", "sheet"],
        Say("write stepoff sheets FILE -o NAME.pdf for drawings and lists"),
    ),
    (
        &["plywood", "osb", "deck", "panel", "panels"],
        Say("write stepoff sheathing FILE for the panels"),
    ),
    (
        &["wall", "walls", "out of square", "as built", "asbuilt"],
        Say("write stepoff measured FILE for walls as they stand"),
    ),
    (
        &["table", "tables", "speed square", "framing square", "rafter table"],
        Say("write stepoff square for the rafter table"),
    ),
    (&["span", "span table", "joist", "joists"], Say("write stepoff spans for the span tables")),
    (
        &["overhang", "soffit", "fascia"],
        Say("write stepoff eave --span 24ft --pitch 6/12 --overhang 12in"),
    ),
    (&["convert", "save", "model"], Say("write stepoff export FILE --to dxf -o NAME.dxf")),
    (&["version", "about"], Say("write stepoff --version")),
    (
        &["price", "cost"],
        Say("write stepoff prices FILE for a prices file of this roof to fill in"),
    ),
    (&["exit", "quit"], Say("each command ends by itself; stepoff help lists them")),
];

/// Values under other names: for these flags or fields (none listed: for any), these words, what to write.
pub(super) const VALUES: &[(Words, Words, &str)] = &[
    (
        &["units"],
        &[
            "imperial",
            "us",
            "english",
            "customary",
            "american",
            "standard",
            "ft",
            "foot",
            "feet inches",
            "fractional",
        ],
        "write --units feet (14' 5-1/16\") or --units inches (173-1/16\")",
    ),
    (&["units"], &["inch", "in", "decimal"], "write --units inches"),
    (
        &["units"],
        &["mm", "cm", "m", "meter", "metre", "millimeter", "millimetre", "si", "international"],
        "write --units metric",
    ),
    (&["unit"], &["millimeter", "millimetre", "metric", "m", "meter", "cm"], "write --unit mm"),
    (&["unit"], &["inch", "in", "imperial", "us", "feet", "ft"], "write --unit inches"),
    (&["format"], &["text", "txt", "plain", "human", "pretty"], "write --format table"),
    (
        &["format"],
        &["pdf", "html", "svg", "png", "drawing"],
        "write stepoff sheets FILE -o NAME.pdf (or NAME.html, NAME.svg, NAME.png)",
    ),
    (
        &["format"],
        &["xlsx", "spreadsheet", "workbook"],
        "write stepoff order FILE --xlsx NAME.xlsx, or stepoff export FILE --to xlsx -o NAME.xlsx",
    ),
    (
        &["format"],
        &["dxf", "ifc", "gltf", "obj", "cad"],
        "write stepoff export FILE --to dxf -o NAME.dxf",
    ),
    (&["to"], &["cad", "drawing"], "write --to dxf, which drawing programs open"),
    (&["to"], &["stl", "step", "mesh"], "write --to obj or --to gltf"),
    (&["to"], &["pdf", "svg", "png", "html"], "write stepoff sheets FILE -o NAME.pdf"),
    (&["to"], &["glb", "3d"], "write --to gltf"),
    (&["to"], &["bim"], "write --to ifc"),
    (&["to"], &["spreadsheet", "workbook"], "write --to xlsx"),
    (&["paper"], &["legal"], "write --paper letter, or tabloid for twice its size"),
    (&["paper"], &["ledger", "11x17", "b"], "write --paper tabloid"),
    (&["paper"], &["us", "8 5x11", "85x11", "a"], "write --paper letter"),
    (&["paper"], &["a0", "a1", "a2", "a5"], "write --paper a4 or a3"),
    (&["tail", key!("rafter.tail").name()], &["vertical", "straight", "normal"], "write plumb"),
    (
        &["tail", key!("rafter.tail").name()],
        &["perpendicular", "90", "right angle"],
        "write square",
    ),
    (
        &["tail", key!("rafter.tail").name()],
        &["horizontal", "soffit", "boxed", "box"],
        "write level",
    ),
    (
        &[key!("rake.framing").name()],
        &["outlooker", "lookout", "dropped", "dropped gable"],
        "write over for outlookers over a dropped end rafter, or notched",
    ),
    (&[key!("rake.framing").name()], &["flush", "fly", "fly rafter", "barge"], "write ladder"),
    (
        &[key!("eave.blocking").name()],
        &["vented", "vent", "air", "half", "short"],
        "write held for blocking that leaves air above it",
    ),
    (&[key!("eave.blocking").name()], &["solid", "yes", "true"], "write full"),
    (
        &[key!("roofing.kind").name()],
        &["asphalt", "asphalt shingle", "composition", "comp", "fiberglass"],
        "write shingles",
    ),
    (
        &[key!("roofing.kind").name()],
        &["metal", "steel", "tin", "corrugated"],
        "write metal-lapped, metal-sealed or metal-standing, by its seams",
    ),
    (&[key!("roofing.kind").name()], &["standing seam"], "write metal-standing"),
    (&[key!("roofing.kind").name()], &["shake", "cedar", "cedar shake"], "write wood-shakes"),
    (&[key!("roofing.kind").name()], &["clay", "concrete", "clay tile"], "write tile"),
    (&[key!("sheathing.edges").name()], &["h clip", "hclip", "clip"], "write clips"),
    (
        &[key!("sheathing.edges").name()],
        &["tongue and groove", "t g", "tg", "t and g"],
        "write tongue",
    ),
    (
        &[key!("ceiling.joists").name()],
        &["cathedral", "vaulted", "open", "no", "false"],
        "write none: then nothing ties the walls, and the ridge needs a design",
    ),
    (
        &[key!("ceiling.joists").name()],
        &["yes", "true", "parallel"],
        "write beside for joists beside the rafters",
    ),
    (&[key!("ceiling.joists").name()], &["perpendicular", "90"], "write across"),
    (
        &[key!("loads.seismic").name()],
        &["d", "e", "f"],
        "write d0, d1 or d2; a place in E or F needs a design",
    ),
    (
        &[key!("lumber.species").name(), "species"],
        &["pine", "southern", "yellow pine"],
        "write SP for Southern pine",
    ),
    (
        &[key!("lumber.species").name(), "species"],
        &["doug fir", "fir", "larch", "douglas"],
        "write DFL for Douglas fir-larch",
    ),
    (&[key!("lumber.species").name(), "species"], &["hemlock"], "write HF for Hem-fir"),
    (
        &[key!("lumber.species").name(), "species"],
        &["spruce", "whitewood", "canadian"],
        "write SPF for Spruce-pine-fir",
    ),
    (&[], &["true", "on", "y"], "write yes"),
    (&[], &["false", "off", "n"], "write no"),
];
