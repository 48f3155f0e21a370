//! The rafter tables of framing squares as printed in books, with their misprints.

/// A quantity of the square's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Common rafter length for each foot of run.
    Common,
    /// Hip or valley length for each foot of common run.
    HipValley,
    /// Difference in length of jacks at 16 in centers.
    Jack16,
    /// Difference in length of jacks at 24 in centers.
    Jack24,
    /// Side cut of jacks, the figure used against 12.
    SideJack,
    /// Side cut of hip or valley, the figure used against 12.
    SideHipValley,
}

impl Quantity {
    /// All six, in the table's order.
    pub const ALL: [Quantity; 6] = [
        Quantity::Common,
        Quantity::HipValley,
        Quantity::Jack16,
        Quantity::Jack24,
        Quantity::SideJack,
        Quantity::SideHipValley,
    ];

    fn of(name: &str) -> Option<Quantity> {
        Some(match name {
            "common_per_ft_run_in" => Quantity::Common,
            "hip_valley_per_ft_run_in" => Quantity::HipValley,
            "jack_diff_16oc_in" => Quantity::Jack16,
            "jack_diff_24oc_in" => Quantity::Jack24,
            "side_cut_jack_in" => Quantity::SideJack,
            "side_cut_hip_valley_in" => Quantity::SideHipValley,
            _ => return None,
        })
    }
}

/// One printed cell.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintedCell {
    /// Book, figure or page.
    pub source: String,
    /// Inches of rise in 12.
    pub rise: f64,
    /// Which column.
    pub quantity: Quantity,
    /// As printed.
    pub printed_as: String,
    /// The printed figure, inches; `None` if it can't be read.
    pub printed_in: Option<f64>,
    /// Its last printed place, inches: 0.01, an eighth, a twelfth.
    pub resolution_in: f64,
    /// True if the printed figure can be read with certainty.
    pub clear: bool,
    /// True if the printed figure differs from the exact figure by more than half its last place.
    pub misprint: bool,
    /// What is known of the cell.
    pub note: String,
}

/// Every printed cell that was read, from `data/framing_square_check.csv` (its head names the books).
#[must_use]
pub fn cells() -> Vec<PrintedCell> {
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("data/framing_square_check.csv").as_bytes())
        .records()
        .filter_map(|record| {
            let record = record.ok()?;
            Some(PrintedCell {
                source: record.get(0)?.to_owned(),
                rise: record.get(1)?.parse().ok()?,
                quantity: Quantity::of(record.get(2)?)?,
                printed_as: record.get(3)?.to_owned(),
                printed_in: record.get(4)?.parse().ok(),
                resolution_in: record.get(7)?.parse().ok()?,
                clear: record.get(8)? == "clear",
                misprint: record.get(9)? == "differs",
                note: record.get(10)?.to_owned(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_file_is_read() {
        let rows = include_str!("data/framing_square_check.csv")
            .lines()
            .filter(|line| !line.starts_with('#'))
            .count();
        assert_eq!(cells().len(), rows - 1);
    }
}
