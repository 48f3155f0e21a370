//! The order for the yard, by trade.

use crate::facts::caution;
use crate::measure::Units;

use super::super::order;
use super::super::paper::{Flow, Job, Orientation, Page};
use super::Kind;
use crate::order::Order;

/// The sheets; a note that the set has `said` on another sheet is not said again.
pub(super) fn pages(of: &Order, said: &[String], job: &Job) -> Vec<Page> {
    let metric = job.writing.units == Units::Millimeters;
    let mut flow = Flow::new(job, Kind::Order.title(), Orientation::Portrait, 1, caution::ORDER);
    flow.words(&sentence(&order::heading(of, None, metric)));
    for table in order::tables(of, job.writing) {
        flow.table(&table.without_empty_columns());
    }
    flow.words(&order::money_line(of, "", job.writing));
    flow.words(&order::weight_line(of, metric));
    let notes = of.notes.iter().map(|note| sentence(&note.write(job.writing)));
    let notes: Vec<String> = notes.filter(|note| !said.contains(note)).collect();
    if !notes.is_empty() {
        flow.head("Notes");
        for note in &notes {
            flow.words(note);
        }
    }
    if !of.left_out.is_empty() {
        flow.head("Not in this order");
        for words in &of.left_out {
            flow.words(&sentence(&words.write(job.writing)));
        }
    }
    flow.finish()
}

/// The same with a capital to begin with.
pub(super) fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
