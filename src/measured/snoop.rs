//! Which of several readings is wrong: one rule for walls and for heights.
//!
//! Every reading is compared with the others by its standardized residual w = v / (sigma sqrt(r)), with
//! r its share of the redundancy (W. Baarda, A Testing Procedure for Use in Geodetic Networks, 1968;
//! data snooping). A reading is wrong if the greatest |w| is over [`CRITICAL`]. Leaving a reading out
//! reduces the weighted sum of squares by its w squared. So `suspects` are all readings that would
//! reduce it nearly as much as the greatest.

/// A standardized residual that happens by chance once in a thousand readings: two-sided normal at
/// 0.001 (memory).
pub const CRITICAL: f64 = 3.29;

/// One reading compared with the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// Read less what the readings together make it, inches.
    pub residual: f64,
    /// Its share of the redundancy, 0 to 1: how far the others check it.
    pub redundancy: f64,
    /// Standardized residual; `None` if nothing checks the reading.
    pub standardized: Option<f64>,
}

impl Check {
    /// Standardizes a residual in inches with the readings' standard deviation.
    #[must_use]
    pub fn new(residual: f64, redundancy: f64, sigma: f64) -> Check {
        let redundancy = redundancy.clamp(0.0, 1.0);
        Check {
            residual,
            redundancy,
            standardized: (redundancy > 1e-6).then(|| residual / (sigma * redundancy.sqrt())),
        }
    }
}

/// A reading that may be wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspect {
    /// Its place among the readings.
    pub index: usize,
    /// Its standardized residual.
    pub standardized: f64,
    /// By how much it is wrong, if it alone is, inches: the reading less its value from the others.
    pub wrong_by: f64,
}

/// Readings that disagree with the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The likeliest first; several if the readings can't show which of them is wrong.
    pub suspects: Vec<Suspect>,
    /// Greatest standardized residual of the others after the single suspect is left out; `None` if
    /// none is left out, because there are several or because the others alone do not fix the result.
    pub left: Option<f64>,
}

impl Doubt {
    /// True if the wrong reading is known and left out.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.left.is_some()
    }
}

/// The result of comparing all readings with each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Snooped<S> {
    /// The result without the readings left out.
    pub solution: S,
    /// Every reading, with none left out.
    pub checks: Vec<Check>,
    /// Indices of the readings left out.
    pub left_out: Vec<usize>,
    /// The disagreements, in order; each found after leaving out the ones before it.
    pub doubts: Vec<Doubt>,
}

/// Solves for all of `count` readings, then leaves out one wrong reading after another, as long as it
/// is clear which.
///
/// `solve` takes the indices of the readings that it may use, and returns a check for each of them.
///
/// # Errors
/// That of `solve` with all readings.
pub fn snoop<S, E>(
    count: usize,
    solve: impl Fn(&[usize]) -> Result<(S, Vec<Check>), E>,
) -> Result<Snooped<S>, E> {
    let mut kept: Vec<usize> = (0..count).collect();
    let (mut solution, checks) = solve(&kept)?;
    let mut of = checks.clone();
    let mut doubts = Vec::new();
    loop {
        let suspects = suspects(&kept, &of);
        let alone = match suspects.as_slice() {
            [] => break,
            [one] => Some(one.index),
            _ => None,
        };
        let without = alone.and_then(|wrong| {
            let rest: Vec<usize> = kept.iter().copied().filter(|at| *at != wrong).collect();
            solve(&rest).ok().map(|(next, checks)| (rest, next, checks))
        });
        let Some((rest, next, checks)) = without else {
            doubts.push(Doubt { suspects, left: None });
            break;
        };
        (kept, solution, of) = (rest, next, checks);
        doubts.push(Doubt { suspects, left: Some(greatest(&of)) });
    }
    Ok(Snooped {
        solution,
        checks,
        left_out: (0..count).filter(|at| !kept.contains(at)).collect(),
        doubts,
    })
}

fn greatest(checks: &[Check]) -> f64 {
    checks.iter().filter_map(|check| check.standardized).map(f64::abs).fold(0.0, f64::max)
}

/// The readings of which one is wrong, the likeliest first; empty if the greatest |w| is [`CRITICAL`]
/// or less.
///
/// If a suspect is left out instead of the likeliest one, the difference of their squares remains
/// unexplained. A reading with a square smaller by `CRITICAL` squared or more is no suspect: if it were
/// the wrong one, so great a difference would happen by chance in fewer than one of two thousand
/// surveys (`docs/derivations/measured.md`).
fn suspects(kept: &[usize], checks: &[Check]) -> Vec<Suspect> {
    let most = greatest(checks);
    if most <= CRITICAL {
        return Vec::new();
    }
    let mut list: Vec<Suspect> = kept
        .iter()
        .zip(checks)
        .filter_map(|(index, check)| {
            let standardized = check.standardized?;
            let short_by = most * most - standardized * standardized;
            (short_by < CRITICAL * CRITICAL).then(|| Suspect {
                index: *index,
                standardized,
                wrong_by: check.residual / check.redundancy,
            })
        })
        .collect();
    list.sort_by(|a, b| b.standardized.abs().total_cmp(&a.standardized.abs()));
    list
}
