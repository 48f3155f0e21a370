//! Sheathing panels on each roof plane: courses, joints, and the cutting of every sheet.
//!
//! Panels lie with their long edge across the rafters, end joints on rafter centers, neighboring
//! courses staggered. The number of whole sheets is the least possible under the rules of
//! `docs/sheathing.md`, and comes with its proof: a lower bound in integer arithmetic.
//!
//! Elsewhere: spans and loads of panels (`catalog::panels` has the table), nails and prices (`order`),
//! drawing (`sheet`).

mod ask;
mod bound;
mod courses;
mod cut;
pub mod faces;
mod grid;
mod layout;
mod lower;
mod master;
mod program;
mod question;
mod roof;
mod search;
mod stage;
mod support;
mod ticks;
mod words;
mod worth;

pub use ask::{DeckAsk, DeckFault, EaveDatum, LayingRules, PanelSheet, RafterLines, RoofPlane};
pub use courses::{Course, NarrowStrip};
pub use layout::{Deck, DeckProof, LaidPlane, Piece, lay};
pub use lower::{LowerStrip, lower_strips};
pub use roof::RoofDeck;
pub use search::{Progress, Watch};
pub use support::{EdgeSupport, edge_support, edge_support_at};
pub use ticks::Ticks;
