//! What the title block of the sheets says beyond the job's name, and how sheets are written.

use super::asked::Asked;
use super::entry::Entries;
use super::fault::Faults;
use super::field::Key;
use super::revision::Revision;
use crate::key;
use crate::measure::FeetInches;

/// The title block, as far as it was given.
#[derive(Debug, Clone, PartialEq)]
pub struct JobPlan {
    /// Where the building stands.
    pub address: Option<String>,
    /// Who drew the sheets.
    pub drawn: Option<String>,
    /// Who checked them.
    pub checked: Option<String>,
    /// Which issue of the sheets this is.
    pub revision: Option<String>,
    /// Their date, as written.
    pub date: Option<String>,
    /// Their revisions, the first one first.
    pub revisions: Vec<Revision>,
    /// Bearing of wall A from its near end to its far end, degrees clockwise from north.
    pub north_deg: Option<f64>,
    /// How feet and inches are written on them.
    pub feet_inches: FeetInches,
}

impl JobPlan {
    /// Reads it from the entries.
    ///
    /// # Errors
    /// Every fault found.
    pub fn read(entries: &Entries) -> Result<JobPlan, Faults> {
        let ask = |asked: &mut Asked<'_>| {
            let mut text = |key: Key| asked.text(key).filter(|text| !text.trim().is_empty());
            let address = text(key!("job.address"));
            let drawn = text(key!("job.drawn"));
            let checked = text(key!("job.checked"));
            let revision = text(key!("job.revision"));
            let date = text(key!("sheet.date"));
            let styles = [("space", FeetInches::Space), ("dash", FeetInches::Dash)];
            let revisions = asked.revisions(key!("sheet.revisions"));
            let north_deg = asked.bearing(key!("sheet.north"));
            let feet_inches = asked.choice(key!("sheet.feet_inches"), &styles)?;
            let revisions = revisions?;
            Some(JobPlan {
                address,
                drawn,
                checked,
                revision,
                date,
                revisions,
                north_deg,
                feet_inches,
            })
        };
        Asked::whole(entries, ask).map(|(plan, _)| plan)
    }

    /// What was given, each with its word.
    #[must_use]
    pub fn given(&self) -> Vec<(&'static str, String)> {
        let last = self.revisions.last().map(Revision::words);
        [
            ("address", &self.address),
            ("drawn by", &self.drawn),
            ("checked by", &self.checked),
            ("revision", &self.revision.clone().or(last)),
        ]
        .into_iter()
        .filter_map(|(word, text)| text.clone().map(|text| (word, text)))
        .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::file;

    fn read(text: &str) -> Result<JobPlan, Faults> {
        let mut entries = Entries::default();
        assert!(file::read(text, &mut entries).faults.is_empty(), "{text}");
        JobPlan::read(&entries)
    }

    #[test]
    fn nothing_told_is_nothing_said() {
        let plan = read("").unwrap();
        assert_eq!(plan.given(), []);
        assert_eq!((plan.north_deg, plan.feet_inches), (None, FeetInches::Space));
    }

    #[test]
    fn the_last_revision_is_the_issue() {
        let plan = read(
            "[sheet]\ndate = \"2026-05-04\"\nrevisions = \"A 2026-05-04 first issue; B 2026-06-02 rafters are 2x8\"\nnorth = \"90\"\nfeet_inches = \"dash\"\n",
        )
        .unwrap();
        assert_eq!(plan.revisions.len(), 2);
        assert_eq!(plan.given(), [("revision", "B 2026-06-02 rafters are 2x8".to_owned())]);
        assert_eq!((plan.north_deg, plan.feet_inches), (Some(90.0), FeetInches::Dash));
    }

    #[test]
    fn what_can_not_be_read_is_refused() {
        for (text, help) in [
            ("north = \"360\"", "degrees clockwise from north"),
            ("north = \"-3\"", "degrees clockwise from north"),
            ("north = \"up\"", "degrees clockwise from north"),
            ("revisions = \"A 2026-05-04\"", "a mark, a date"),
            ("feet_inches = \"dots\"", "space"),
        ] {
            let faults = read(&format!("[sheet]\n{text}\n")).unwrap_err();
            let told: Vec<&str> = faults.iter().map(|fault| fault.help.as_str()).collect();
            assert!(told.len() == 1 && told[0].contains(help), "{text}: {told:?}");
        }
    }
}
