//! Long members made of parts.

/// Partings tried of one member at most.
const MOST_PARTINGS: usize = 24;

/// The lengths of the parts of a member of `length` from bars that give at most `longest`: as few parts
/// as possible, whole bars first. A last part shorter than a quarter bar is evened out with the one
/// before it, so that no splice ends in a scrap.
///
/// Parts are butted end to end; no wood is lost or doubled in the joint. Each member has its own rule
/// for where the joints may fall (over a post, on a rafter, staggered in two plies), which this code
/// does not know. Common practice.
pub(super) fn parts(length: i64, longest: i64) -> Vec<i64> {
    if longest <= 0 || length <= longest {
        return vec![length];
    }
    let count = (length + longest - 1) / longest;
    let mut parts = vec![longest; (count - 1) as usize];
    let rest = length - longest * (count - 1);
    parts.push(rest);
    if rest * 4 < longest
        && let [.., before, last] = parts.as_mut_slice()
    {
        let both = *before + *last;
        *before = both - both / 2;
        *last = both / 2;
    }
    parts
}

/// Other splices of the same member worth a try: as few parts, none under a quarter bar, with the joint
/// between the last two placed so that one of them fills a bar together with pieces that are wanted
/// anyway.
///
/// `fills` are lengths that fill a bar: its usable length less pieces and saw cuts.
pub(super) fn others(length: i64, longest: i64, fills: &[i64]) -> Vec<Vec<i64>> {
    let first = parts(length, longest);
    let [before @ .., a, b] = first.as_slice() else {
        return Vec::new();
    };
    let both = a + b;
    let shortest = (longest + 3) / 4;
    let mut lasts: Vec<i64> = Vec::new();
    let mut offer = |last: i64| {
        // The longer of the two first; a bar must hold either.
        let last = last.min(both - last);
        if last >= shortest.min(both / 2) && both - last <= longest && last != *a.min(b) {
            lasts.push(last);
        }
    };
    offer(shortest);
    offer(both - longest);
    offer(both / 2);
    for &fill in fills {
        offer(fill);
    }
    lasts.sort_unstable();
    lasts.dedup();
    lasts
        .into_iter()
        .take(MOST_PARTINGS)
        .map(|last| {
            let mut parts = before.to_vec();
            parts.extend([both - last, last]);
            parts
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(length: i64, longest: i64, expected: &[i64]) {
        let parts = parts(length, longest);
        assert_eq!(parts, expected);
        assert_eq!(parts.iter().sum::<i64>(), length);
    }

    #[test]
    fn few_parts_and_no_scrap() {
        case(200, 240, &[200]);
        case(240, 240, &[240]);
        case(400, 240, &[240, 160]);
        // 21 ft from 20 ft bars: not 20 + 1 but 10-1/2 twice.
        case(252, 240, &[126, 126]);
        case(253, 240, &[127, 126]);
        case(490, 240, &[240, 125, 125]);
        // a last part of just a quarter bar stays: 60 of 240; one unit less is evened out
        case(300, 240, &[240, 60]);
        case(299, 240, &[150, 149]);
        // no bar gives anything: the member is left whole, and whoever asked says that it fits none
        case(5, 0, &[5]);
        case(5, -3, &[5]);
    }

    #[test]
    fn other_partings_end_in_no_scrap_either() {
        // a quarter bar is 60: 192 + 60 is the least last part; 130 fills a bar with something else
        let others = others(252, 240, &[130, 20, 300]);
        assert_eq!(others, [vec![192, 60], vec![130, 122]]);
    }
}
