//! Linear and integer programs, exact bounds in whole numbers, and the one checker that can say [`Proven`].
//!
//! Nothing here knows wood. A [`Question`] is put as a [`Model`]: rows to be filled, and families of columns (packs of a
//! capacity, paths through a net, single columns) that fill them at a cost. A search, wherever it lives, hands over a plan and a
//! [`Certificate`] made of plain whole numbers; [`settle`] counts the plan anew, works the bound out of the certificate anew, and
//! only where the two meet does it give out a [`Proven`]. No search can make one, and no floating-point number takes part.
//!
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
