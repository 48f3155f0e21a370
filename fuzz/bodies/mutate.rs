//! Inputs made from other inputs, for toolchains without a fuzzer's own: no coverage leads it, words and seeds do.

/// Makes inputs; the same seed makes the same row of them.
pub(crate) struct Mutator {
    state: u64,
    words: Vec<String>,
}

impl Mutator {
    pub(crate) fn new(seed: u64, words: Vec<String>) -> Mutator {
        // one round of splitmix64 (Steele, Lea, Flood 2014), from memory: seeds that are alike start far apart
        let mut state = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        state = (state ^ state >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        state = (state ^ state >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
        Mutator { state: (state ^ state >> 31) | 1, words }
    }

    fn draw(&mut self) -> u64 {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        self.state.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, count: usize) -> usize {
        ((self.draw() >> 32) as usize) % count.max(1)
    }

    /// A new input out of `corpus`: one of its own with some changes.
    pub(crate) fn input(&mut self, corpus: &[Vec<u8>]) -> Vec<u8> {
        let mut input =
            corpus.get(self.below(corpus.len() + 1)).cloned().unwrap_or_else(|| self.bytes(64));
        // one change mostly, at times very many
        let changes = 1 << self.below(5);
        for _ in 0..1 + self.below(changes) {
            self.change(&mut input, corpus);
        }
        input.truncate(1 << 16);
        input
    }

    fn bytes(&mut self, most: usize) -> Vec<u8> {
        (0..self.below(most + 1)).map(|_| self.draw() as u8).collect()
    }

    fn change(&mut self, input: &mut Vec<u8>, corpus: &[Vec<u8>]) {
        let at = self.below(input.len() + 1);
        let end = (at + 1 + self.below(16)).min(input.len());
        match self.below(9) {
            0 => {
                if let Some(byte) = input.get_mut(at) {
                    *byte ^= 1 << self.below(8);
                }
            }
            1 => {
                if let Some(byte) = input.get_mut(at) {
                    *byte = self.draw() as u8;
                }
            }
            2 => drop(input.drain(at..end)),
            3 => {
                let again = input[at..end].to_vec();
                let times = 1 << self.below(8);
                drop(input.splice(at..at, again.repeat(times)));
            }
            4 => {
                let new = self.bytes(8);
                drop(input.splice(at..at, new));
            }
            5 => {
                let Some(other) = corpus.get(self.below(corpus.len())) else { return };
                let from = self.below(other.len() + 1);
                let to = (from + self.below(80)).min(other.len());
                drop(input.splice(at..end, other[from..to].iter().copied()));
            }
            6 => {
                // a figure becomes another
                let figures: Vec<usize> =
                    (0..input.len()).filter(|&at| input[at].is_ascii_digit()).collect();
                let Some(&place) = figures.get(self.below(figures.len())) else { return };
                let new = ["0", "1", "7", "16", "99", "1000", "1e9", "0.001", "-1", "1/2"];
                let new = new[self.below(new.len())];
                drop(input.splice(place..=place, new.bytes()));
            }
            _ => {
                let number = self.below(self.words.len());
                let Some(word) = self.words.get(number).cloned() else {
                    let new = self.bytes(4);
                    return drop(input.splice(at..end, new));
                };
                let to = if self.below(2) == 0 { at } else { end };
                drop(input.splice(at..to, word.into_bytes()));
            }
        }
    }
}
