//! The inputs of the pattern rafter and its eave.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::field::Key;
use super::limits::{
    LARGEST_BUILDING_FT, LONGEST_OVERHANG_FT, THICKEST_BOARD_IN, THICKEST_FINISH_FT,
};
use super::stock::StockLengths;
use super::used::Used;
use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::quantity::inches;
use crate::measure::{Length, Note, Pitch};

/// What the overhang reaches to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OverhangTo {
    /// The fascia's outer face; the tail cut if there is no fascia.
    Fascia,
    /// The tail cut.
    Tail,
}

impl OverhangTo {
    pub(super) const CHOICES: [(&str, OverhangTo); 2] =
        [("fascia", OverhangTo::Fascia), ("tail", OverhangTo::Tail)];
}

/// The face that the overhang is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OverhangFrom {
    /// The outer face of the wall framing: the building line.
    Framing,
    /// The outer face of the finished wall.
    Finish,
}

impl OverhangFrom {
    pub(super) const CHOICES: [(&str, OverhangFrom); 2] =
        [("framing", OverhangFrom::Framing), ("finish", OverhangFrom::Finish)];
}

/// How the tail is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TailCut {
    /// Plumb.
    Plumb,
    /// Square to the rafter's edges.
    Square,
    /// Plumb, with a level soffit cut from its foot to the rafter's bottom edge.
    Level,
}

impl TailCut {
    pub(super) const CHOICES: [(&str, TailCut); 3] =
        [("plumb", TailCut::Plumb), ("square", TailCut::Square), ("level", TailCut::Level)];
}

/// The name of slope B, where it has a rafter of its own.
pub const SLOPE_B: &str = "slope B";

/// What a slope rises to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RisesTo {
    /// A ridge, where its rafters are cut off plumb.
    Ridge,
    /// The plate of a higher wall, which its rafters lie on and reach past: a shed's.
    HighWall,
}

/// Everything that decides the pattern rafter. Valid by construction as far as numbers alone can show;
/// the frame refuses what only the built solid shows.
#[derive(Debug, Clone, PartialEq)]
pub struct RafterPlan {
    /// Name of the job.
    pub name: Option<String>,
    /// Building line to building line.
    pub span: Length,
    /// Slope of both planes.
    pub pitch: Pitch,
    /// Ridge board thickness; zero if the rafters butt.
    pub ridge: Length,
    /// Ridge board depth, if it was given.
    pub ridge_depth: Option<Length>,
    /// Rafter section.
    pub stock: Section,
    /// Plate width.
    pub plate: Length,
    /// The user's seat.
    pub seat: Option<Length>,
    /// Level overhang between the faces named by the next two.
    pub overhang: Length,
    /// What the overhang reaches to.
    pub overhang_to: OverhangTo,
    /// Where the overhang starts.
    pub overhang_from: OverhangFrom,
    /// Thickness outside the wall framing.
    pub finish: Length,
    /// Fascia thickness, or zero.
    pub fascia: Length,
    /// Fascia depth, if it was given.
    pub fascia_depth: Option<Length>,
    /// Sub-fascia thickness, or zero.
    pub subfascia: Length,
    /// Sub-fascia depth, if it was given.
    pub subfascia_depth: Option<Length>,
    /// How the tail is cut.
    pub tail: TailCut,
    /// Plumb face above a level soffit cut; the rafter's depth if `None`.
    pub tail_face: Option<Length>,
    /// Set for one slope of a roof whose slopes are not all alike, and for a shed.
    pub of_slope: Option<OfSlope>,
    /// Lengths that lumber can be bought in.
    pub lengths: StockLengths,
    /// Every value used, defaults too.
    pub used: Vec<Used>,
}

/// One slope of a roof whose slopes are not all alike, or a shed's.
#[derive(Debug, Clone, PartialEq)]
pub struct OfSlope {
    /// Which one: `slope B`, the wing that it is of, or `shed`.
    pub name: String,
    /// Level, from its building line to the center of the ridge; of a shed's, to the inner face of the high wall, where the heel
    /// of its high birdsmouth stands.
    pub run: Length,
    /// The heel stand that it must have, as all slopes of a roof have the same; `None` if its own seat decides it.
    pub heel_stand: Option<Length>,
    /// What it rises to.
    pub rises_to: RisesTo,
}

impl RafterPlan {
    /// Level, from the building line to the center of the ridge: half the span, unless the slopes are unlike. Of a shed, to the
    /// inner face of the high wall.
    #[must_use]
    pub fn run(&self) -> Length {
        self.of_slope.as_ref().map_or(self.span / 2.0, |slope| slope.run)
    }

    /// The rafter of one slope of a roof: its pitch, its run, and the heel stand that all slopes have over their plates.
    #[must_use]
    pub fn of_slope(
        &self,
        name: &str,
        pitch: Pitch,
        run: Length,
        heel_stand: Length,
    ) -> RafterPlan {
        // a slope of the main pitch has the seat that was chosen for it
        let heel_stand = (pitch.tangent() != self.pitch.tangent()).then_some(heel_stand);
        let name = name.to_owned();
        let of_slope = OfSlope { name, run, heel_stand, rises_to: RisesTo::Ridge };
        RafterPlan { pitch, of_slope: Some(of_slope), ..self.clone() }
    }

    /// The rafter of a shed of this span: on the plates of both walls, with the heel of each birdsmouth on the lower side of its
    /// plate.
    #[must_use]
    pub fn of_shed(&self) -> RafterPlan {
        let of_slope = OfSlope {
            name: "shed".to_owned(),
            run: self.span - self.plate,
            heel_stand: None,
            rises_to: RisesTo::HighWall,
        };
        RafterPlan {
            ridge: inches(0.0),
            ridge_depth: None,
            of_slope: Some(of_slope),
            ..self.clone()
        }
    }

    /// True if it lies on two plates: a shed's.
    #[must_use]
    pub fn is_on_two_plates(&self) -> bool {
        self.of_slope.as_ref().is_some_and(|slope| slope.rises_to == RisesTo::HighWall)
    }

    /// Both boards at the tail together.
    #[must_use]
    pub fn boards(&self) -> Length {
        self.fascia + self.subfascia
    }

    /// Level overhang from the building line, whichever face it is given from.
    #[must_use]
    pub fn overhang_from_building_line(&self) -> Length {
        match self.overhang_from {
            OverhangFrom::Framing => self.overhang,
            OverhangFrom::Finish => self.overhang + self.finish,
        }
    }

    /// Level, from the building line to the outer face of the boards on the tails, also where the overhang is told to the
    /// tail cut. Boards on a square tail lean with it and take less of the level.
    #[must_use]
    pub fn eave_reach(&self) -> Length {
        let past_tail = match (self.overhang_to, self.tail) {
            (OverhangTo::Fascia, _) => Length::default(),
            (OverhangTo::Tail, TailCut::Square) => self.boards() / self.pitch.slope_factor(),
            (OverhangTo::Tail, TailCut::Plumb | TailCut::Level) => self.boards(),
        };
        self.overhang_from_building_line() + past_tail
    }

    /// Reads the plan from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<RafterPlan, Faults> {
        let (mut plan, used) = Asked::whole(entries, RafterPlan::ask)?;
        plan.used = used;
        Ok(plan)
    }

    /// Reads every field; `None` if a required one could not be read.
    pub fn ask(asked: &mut Asked<'_>) -> Option<RafterPlan> {
        let name = asked.text(key!("job.name"));
        asked.require(key!("building.span"));
        asked.require(key!("roof.pitch"));
        let span = asked.length(key!("building.span"));
        let pitch = asked.pitch(key!("roof.pitch"));
        let ridge = asked.thickness(key!("ridge.board"));
        let ridge_depth = board_depth(asked, key!("ridge.depth"), key!("ridge.board"));
        let stock = asked.section(key!("rafter.stock"));
        let plate = asked.width(key!("building.plate"));
        let seat = asked.length(key!("rafter.seat"));
        let overhang = asked.length(key!("eave.overhang"));
        let overhang_to = asked.choice(key!("eave.overhang_to"), &OverhangTo::CHOICES);
        let overhang_from = asked.choice(key!("eave.overhang_from"), &OverhangFrom::CHOICES);
        let finish = asked.length(key!("building.finish"));
        let fascia = asked.thickness(key!("eave.fascia"));
        let fascia_depth = board_depth(asked, key!("eave.fascia_depth"), key!("eave.fascia"));
        let subfascia = asked.thickness(key!("eave.subfascia"));
        let subfascia_depth =
            board_depth(asked, key!("eave.subfascia_depth"), key!("eave.subfascia"));
        let tail = asked.choice(key!("rafter.tail"), &TailCut::CHOICES);
        let tail_face = match tail {
            Some(TailCut::Level) => asked.length(key!("rafter.tail_face")),
            _ => {
                if asked.given(key!("rafter.tail_face")) {
                    asked.refuse(
                        key!("rafter.tail_face"),
                        "a tail face is only left by a level soffit cut",
                        "write tail = \"level\" too, or leave the tail face out",
                    );
                }
                None
            }
        };
        let lengths = StockLengths::ask(asked);
        let plan = RafterPlan {
            name,
            span: span?,
            pitch: pitch?,
            ridge: ridge?,
            ridge_depth,
            stock: stock?,
            plate: plate?,
            seat,
            overhang: overhang?,
            overhang_to: overhang_to?,
            overhang_from: overhang_from?,
            finish: finish?,
            fascia: fascia?,
            fascia_depth,
            subfascia: subfascia?,
            subfascia_depth,
            tail: tail?,
            tail_face,
            of_slope: None,
            lengths,
            used: Vec::new(),
        };
        // depths of boards that the roof does not have shaped nothing
        let nothing = inches(0.0);
        for (key, board) in [
            (key!("ridge.depth"), plan.ridge),
            (key!("eave.fascia_depth"), plan.fascia),
            (key!("eave.subfascia_depth"), plan.subfascia),
        ] {
            if board == nothing {
                asked.forget(&[key]);
            }
        }
        plan.refuse_what_numbers_tell(asked);
        Some(plan)
    }

    /// Defaults that were used and may surprise.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        let finish_given =
            self.used.iter().any(|used| used.field.key() == key!("building.finish") && used.given);
        if self.overhang_from == OverhangFrom::Finish && !finish_given {
            notes.push(Note::new(
                "the overhang starts at the finished wall, but no finish thickness was given: none was added",
            ));
        }
        notes
    }

    fn refuse_what_numbers_tell(&self, asked: &mut Asked<'_>) {
        self.refuse_span(asked);
        asked.refuse_pitch(key!("roof.pitch"), self.pitch);
        self.refuse_bearing(asked);
        self.refuse_eave(asked);
    }

    fn refuse_span(&self, asked: &mut Asked<'_>) {
        if self.span <= inches(0.0) {
            asked.refuse(
                key!("building.span"),
                "a span of zero can't be roofed",
                "write the width over the wall framing",
            );
        } else if self.ridge >= self.span {
            asked.refuse(
                key!("ridge.board"),
                "the ridge board is as thick as the building is wide",
                "write the thickness of the ridge board, not its depth",
            );
        }
        asked.refuse_over(
            key!("building.span"),
            self.span,
            LARGEST_BUILDING_FT,
            "a building over {} is beyond what this is for",
        );
    }

    /// The plate and the seat on it.
    fn refuse_bearing(&self, asked: &mut Asked<'_>) {
        let nothing = inches(0.0);
        if self.plate > nothing && self.plate >= self.run() && self.span > nothing {
            if asked.given(key!("building.plate")) {
                asked.refuse(
                    key!("building.plate"),
                    "two plates this wide would meet in the middle of the building",
                    "write the width of the plate, not a length along it",
                );
            } else {
                asked.refuse(
                    key!("building.span"),
                    "so small a span has no room for two plates",
                    "check the digits and the unit",
                );
            }
        }
        if self.plate <= nothing {
            asked.refuse(
                key!("building.plate"),
                "a plate of no width carries nothing",
                "write its width, or 2x4 or 2x6",
            );
        }
        if self.seat.is_some_and(|seat| seat <= nothing) {
            asked.refuse(
                key!("rafter.seat"),
                "a seat of zero leaves the rafter on an edge",
                "leave the seat out to have it chosen, or write its level length",
            );
        }
    }

    fn refuse_eave(&self, asked: &mut Asked<'_>) {
        for (key, board) in
            [(key!("eave.fascia"), self.fascia), (key!("eave.subfascia"), self.subfascia)]
        {
            if board > inches(THICKEST_BOARD_IN) {
                asked.refuse(
                    key,
                    "this is no thickness of a board",
                    "write the thickness, not the depth",
                );
            }
        }
        asked.refuse_over(
            key!("building.finish"),
            self.finish,
            THICKEST_FINISH_FT,
            "what stands outside the framing is thicker than {}",
        );
        asked.refuse_over(
            key!("eave.overhang"),
            self.overhang,
            LONGEST_OVERHANG_FT,
            "an overhang over {} is beyond what this is for",
        );
    }
}

/// A board's depth: its own value, or the wide side of the nominal size that gives its thickness.
fn board_depth(asked: &mut Asked<'_>, depth: Key, board: Key) -> Option<Length> {
    let written = asked.optional_width(depth);
    let nominal = asked.nominal_width(board);
    if let (None, Some(nominal)) = (written, nominal) {
        asked.resolve(depth, nominal);
    }
    written.or(nominal)
}
