//! Numbers that look random and are the same in every run (Marsaglia's xorshift).

/// A row of such numbers.
#[derive(Clone, Debug)]
pub(crate) struct Random(u64);

impl Random {
    /// The row that begins at `seed`; of 0 all are 0.
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number of 64 bits.
    pub(crate) fn draw(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// The next number from 0 to below 1, of its first 24 bits.
    pub(crate) fn fraction(&mut self) -> f64 {
        (self.draw() >> 40) as f64 / (1_u64 << 24) as f64
    }
}
