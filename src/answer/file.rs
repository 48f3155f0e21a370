//! Files that go with an answer.

use super::NotWritten;

/// A file that comes with an answer; its bytes are made when needed.
pub struct File<'a> {
    /// Its default name: `set-02.svg`.
    pub name: String,
    write: Box<dyn Fn() -> Result<Vec<u8>, NotWritten> + 'a>,
}

impl<'a> File<'a> {
    /// A file with its name and the function that writes it.
    pub(super) fn new(
        name: impl Into<String>,
        write: impl Fn() -> Result<Vec<u8>, NotWritten> + 'a,
    ) -> File<'a> {
        File { name: name.into(), write: Box::new(write) }
    }

    /// Its bytes.
    ///
    /// # Errors
    /// What can't be written.
    pub fn bytes(&self) -> Result<Vec<u8>, NotWritten> {
        (self.write)()
    }
}
