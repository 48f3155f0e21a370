//! Choices made by an input's bytes, so that a fuzzer that changes bytes changes choices.

/// The bytes that are left to choose by; when they are used up, every choice is the first.
pub(super) struct Choices<'a>(&'a [u8]);

impl<'a> Choices<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Choices<'a> {
        Choices(bytes)
    }

    /// True if no byte is left.
    pub(super) fn are_made(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    /// A number from 0 to below `count`; 0 if there is none.
    pub(super) fn below(&mut self, count: usize) -> usize {
        let number = if count > 256 {
            usize::from(self.byte()) << 8 | usize::from(self.byte())
        } else {
            usize::from(self.byte())
        };
        number % count.max(1)
    }

    pub(super) fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }
}
