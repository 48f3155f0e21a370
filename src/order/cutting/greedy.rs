//! Quick plans to start from: longest piece first into the bar where it leaves least, for each stock length, and the
//! cheapest mixture of them.

use super::instance::{Instance, Packing, Pattern};

/// Best-fit falling for the demand given, opening bars of one preferred kind where the piece fits it (else the
/// cheapest that holds the piece). `None` when limited stock runs out.
pub(super) fn best_fit(
    instance: &Instance,
    demand: &[i64],
    counts: &[(i64, i64)],
    preferred: usize,
) -> Option<Packing> {
    struct Open {
        bar: usize,
        room: i64,
        takes: Vec<(u32, u32)>,
    }
    let mut open: Vec<Open> = Vec::new();
    let mut used = vec![0_i64; instance.bars.len()];
    for (i, &d) in demand.iter().enumerate() {
        let w = instance.weight[i];
        for _ in 0..d {
            let spot = (0..open.len())
                .filter(|&b| open[b].room >= w)
                .min_by_key(|&b| open[b].room);
            let b = match spot {
                Some(b) => b,
                None => {
                    let has = |k: usize| used[k] < counts[k].1;
                    let bar = if instance.bars[preferred].capacity >= w && has(preferred) {
                        preferred
                    } else {
                        instance.cheapest_bar(w, has)?
                    };
                    used[bar] += 1;
                    open.push(Open {
                        bar,
                        room: instance.bars[bar].capacity,
                        takes: Vec::new(),
                    });
                    open.len() - 1
                }
            };
            open[b].room -= w;
            match open[b].takes.last_mut() {
                Some((j, a)) if *j as usize == i => *a += 1,
                _ => open[b].takes.push((i as u32, 1)),
            }
        }
    }
    let mut packing = Packing::default();
    for bar in open {
        packing.push(
            instance,
            Pattern {
                bar: bar.bar,
                takes: bar.takes,
            },
            1,
        );
    }
    Some(packing)
}

/// Fills bar after bar, each with the pattern that wastes the least money per worth, worth being the profit given.
pub(super) fn best_pattern_each(
    instance: &Instance,
    demand: &[i64],
    counts: &[(i64, i64)],
    profit: &[f64],
) -> Option<Packing> {
    let mut left = demand.to_vec();
    let mut most: Vec<i64> = counts.iter().map(|c| c.1).collect();
    let mut packing = Packing::default();
    while left.iter().any(|&d| d > 0) {
        let open: Vec<bool> = most.iter().map(|&m| m > 0).collect();
        let price = vec![0.0; instance.bars.len()];
        let priced = super::pricing::price(instance, &left, profit, &price, &open, 1);
        let (_, pattern) = priced.patterns.into_iter().max_by(|a, b| {
            let x = a.0 / instance.bars[a.1.bar].cost.max(1) as f64;
            let y = b.0 / instance.bars[b.1.bar].cost.max(1) as f64;
            x.total_cmp(&y).then_with(|| b.1.cmp(&a.1))
        })?;
        if pattern.takes.is_empty() {
            return None;
        }
        let times = pattern
            .takes
            .iter()
            .map(|&(i, a)| left[i as usize] / i64::from(a))
            .min()
            .unwrap_or(1)
            .min(most[pattern.bar])
            .max(1);
        for &(i, a) in &pattern.takes {
            left[i as usize] -= i64::from(a) * times;
        }
        most[pattern.bar] -= times;
        packing.push(instance, pattern, times);
    }
    Some(packing)
}
