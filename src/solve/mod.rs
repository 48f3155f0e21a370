//! Linear and integer programs, exact bounds in whole numbers, and the one checker that can say [`Proven`].
//!
//! Nothing here knows about wood. A [`Question`] is stated as a [`Model`]: rows to be filled, and
//! families of columns (packs of a capacity, paths through a net, single columns) that fill them at a
//! cost. A search, wherever it is, gives a plan and a [`Certificate`] made of plain whole numbers.
//! [`settle`] counts the plan again, recomputes the bound from the certificate, and only if the two are
//! equal makes a [`Proven`]. No search can make one, and no floating-point number takes part.
//!
//! The linear programs (`lp`) only guide searches.
//! The linear programs (`lp`) only guide searches.

mod certificate;
mod check;
pub(crate) mod lp;
mod model;
mod random;

pub use certificate::{Certificate, Form, Limit, Listed, Node, On, Prices, Proof, ROUNDED};
pub use check::{
    Fault, Floor, Impossible, Kind, Open, Proven, Rate, Refusal, Settled, Total, impossible,
    settle, settle_choice,
};
pub(crate) use random::Random;

pub use model::{
    Arc, Entry, Family, Item, Members, Model, Paths, Pick, Plan, Question, Row, Strips, Taken,
};
