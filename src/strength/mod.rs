//! Loads, member spans and joints; decides no verdicts of code sections.
//!
//! What a member or a joint can carry and what it must carry, in numbers that can be redone by hand:
//! every answer can list its [`WorkingStep`]s. If the residential code prints a table for the case, the
//! user gets the printed cell, with the formula beside it. Otherwise the formula is rounded to the
//! cautious side, and the answer says that it is not in a code table. `docs/derivations/` has the
//! statics.
//!
//! Prescriptive framing only, as amended locally: the building department and a
//! licensed designer decide.

pub mod fault;
mod heel_entry;
pub mod heel_joint;
pub mod loads;
pub mod member;
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
