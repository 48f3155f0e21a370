//! What the title block of the sheets says beyond the job's name.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::field::Key;
use crate::key;

/// The title block, as far as it was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobPlan {
    /// Where the building stands.
    pub address: Option<String>,
    /// Who drew the sheets.
    pub drawn: Option<String>,
    /// Who checked them.
    pub checked: Option<String>,
    /// Which issue of the sheets this is.
    pub revision: Option<String>,
}

impl JobPlan {
    /// Reads it from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<JobPlan, Faults> {
        let ask = |asked: &mut Asked<'_>| {
            let mut text = |key: Key| asked.text(key);
            Some(JobPlan {
                address: text(key!("job.address")),
                drawn: text(key!("job.drawn")),
                checked: text(key!("job.checked")),
                revision: text(key!("job.revision")),
            })
        };
        Asked::whole(entries, ask).map(|(plan, _)| plan)
    }

    /// What was given, each with its word.
    #[must_use]
    pub fn given(self) -> Vec<(&'static str, String)> {
        [
            ("address", self.address),
            ("drawn by", self.drawn),
            ("checked by", self.checked),
            ("revision", self.revision),
        ]
        .into_iter()
        .filter_map(|(word, text)| text.filter(|text| !text.is_empty()).map(|text| (word, text)))
        .collect()
    }
}
