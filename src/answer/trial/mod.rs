//! Questions of the page that try something out: the six questions for a new roof, one number found from
//! what is fixed, many roofs compared, and changes that mend what fails, and a wing, dormer or opening more. Each answer is in words, with
//! the values that the page writes into the roof file if they are taken.

pub(super) mod add;
pub(super) mod compare;
pub(super) mod cures;
pub(super) mod fit;
mod held;
pub(super) mod start;
mod taken;
mod ways;

#[cfg(test)]
mod tests;
