//! Loads, member spans and joints; knows no code sections' verdicts.
//!
//! What a member or a joint can do and what is asked of it, in numbers that can be
//! redone by hand: every answer can give its [`WorkingStep`]s. Where the residential code
//! prints a table, the printed cell is what the user gets and the formula stands
//! beside it; elsewhere the formula is rounded to the cautious side and said to be no
//! code table's figure. `docs/derivations/` holds the statics.
//!
//! Prescriptive framing only, as amended locally: the building department and a
//! licensed designer decide.

pub mod fault;
mod heel_entry;
pub mod heel_joint;
pub mod loads;
pub mod member;
pub mod nail_joint;
pub mod ridge_beam;
pub mod span_query;
mod span_working;
pub mod spans;
pub mod table_terms;
pub mod thrust;
pub mod uplift;
pub mod weight;
pub mod working;

pub use fault::StrengthFault;
pub use heel_joint::{HeelJoint, HeelJointAnswer};
pub use loads::RoofLoad;
pub use spans::{SpanAnswer, SpanCase};
pub use working::WorkingStep;
