//! Quick plans to start from: the longest piece first, into the bar where it leaves the least, for each
//! stock length, and the cheapest mixture of them.

use std::collections::BTreeMap;

use super::instance::{Instance, Packing, Pattern};

/// Best-fit decreasing for the given demand. It opens bars of one preferred kind if the piece fits it,
/// otherwise the cheapest that holds the piece. `None` if limited stock runs out.
pub(super) fn best_fit(
    instance: &Instance,
    demand: &[i64],
    counts: &[(i64, i64)],
    preferred: usize,
) -> Option<Packing> {
    /// Equal bars: their kind, their pieces, and their number.
    type Alike = (usize, Vec<(u32, u32)>, i64);
    let mut open: BTreeMap<i64, Vec<Alike>> = BTreeMap::new();
    let put = |open: &mut BTreeMap<i64, Vec<Alike>>, room: i64, alike: Alike| {
        if alike.2 > 0 {
            open.entry(room).or_default().push(alike);
        }
    };
    let mut used = vec![0_i64; instance.bars.len()];
    for (i, &d) in demand.iter().enumerate() {
        let w = instance.weight[i];
        let mut left = d;
        while left > 0 {
            // The bar with the least room that is enough. An open bar has the least, so it is filled
            // before the next is opened.
            let spot = open.range(w..).next().map(|(&room, _)| room);
            let (room, (bar, takes, many)) = match spot {
                Some(room) => {
                    let alike = open.get_mut(&room)?.pop()?;
                    if open[&room].is_empty() {
                        open.remove(&room);
                    }
                    (room, alike)
                }
                None => {
                    let has = |k: usize| used[k] < counts[k].1;
                    let bar = if instance.bars[preferred].capacity >= w && has(preferred) {
                        preferred
                    } else {
                        instance.cheapest_bar(w, has)?
                    };
                    let room = instance.bars[bar].capacity;
                    let each = room / w;
                    let many = ((left + each - 1) / each).min(counts[bar].1 - used[bar]);
                    used[bar] += many;
                    (room, (bar, Vec::new(), many))
                }
            };
            let each = room / w;
            let whole = many.min(left / each);
            let with = |n: i64| {
                let mut takes = takes.clone();
                takes.push((i as u32, n as u32));
                takes
            };
            put(&mut open, room - each * w, (bar, with(each), whole));
            left -= whole * each;
            let mut rest = many - whole;
            if rest > 0 && left > 0 {
                put(&mut open, room - left * w, (bar, with(left), 1));
                left = 0;
                rest -= 1;
            }
            put(&mut open, room, (bar, takes, rest));
        }
    }
    let cut = open.into_values().flatten();
    Some(Packing::of(instance, cut.map(|(bar, takes, many)| (Pattern { bar, takes }, many))))
}

/// Fills bar after bar, each with the pattern that wastes the least money per worth, where worth is the
/// given profit.
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
