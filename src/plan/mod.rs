//! The user's input: flags or a roof file, defaults, and every fault found at once.
//!
//! Flags, roof file, starter file and the file's schema all come from one table of fields ([`field`]).
//! Computes no geometry.

pub mod address;
pub mod asked;
pub mod blocks;
pub mod checks;
pub mod document;
pub mod eave;
pub mod edit;
pub mod entry;
pub mod fault;
pub mod field;
pub mod file;
pub mod fit;
mod fit_faults;
mod fit_keys;
mod fit_terms;
pub mod gable;
mod gable_faults;
pub mod hint;
mod hint_words;
mod job;
pub mod limits;
pub mod measured;
pub mod nudge;
pub mod order;
pub mod rafter;
pub mod reader;
mod reading;
pub mod revision;
mod slopes;
pub mod starter;
mod stock;
mod sweep;
pub mod text;
pub mod used;

pub use address::Address;
pub use asked::{Asked, place_of};
pub use blocks::Blocks;
pub use checks::{ChecksPlan, PanelEdges, RoofingKind, Seismic, WindExposure};
pub use document::Document;
pub use eave::{EavePlan, EavesPlan, MeasuredTo};
pub use entry::{Entries, Entry, Place};
pub use fault::{Fault, Faults};
pub use field::{Field, Key, Kind, LimitOf};
pub use fit::{Caps, FasciaLine, FitPlan, Sides};
pub use fit_terms::{Datum, Find, Measurement, Quantity, Unknown};
pub use gable::{Blocking, GablePlan, Joists, LayoutFrom, Meeting, RakeFraming, RidgeJoints, Vent};
pub use job::JobPlan;
pub use measured::{HeightAt, MeasuredPlan, Reading, What};
pub use order::{Apart, BuyPlan, DeckPlan, OrderPlan, Starter, together};
pub use rafter::{OfSlope, OverhangFrom, OverhangTo, RafterPlan, RisesTo, SLOPE_B, TailCut};
pub use reader::Reader;
pub use reading::Sticks;
pub use slopes::{Slopes, SlopesPlan};
pub use stock::StockLengths;
pub use used::{OwnLimit, Used, Value};
