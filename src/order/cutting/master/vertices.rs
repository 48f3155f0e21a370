//! Other vertices of the relaxation, and duals from the middle of their face.

use super::super::control::Control;
use super::{End, Master, Relaxed};
use crate::solve::Random;

/// How far demands are shaken to find other best duals.
const SHAKE: f64 = 1e-3;

impl Master<'_> {
    /// Changes the demands a little, to get another vertex of the relaxation. For heuristics: `commit`
    /// corrects what it touches.
    pub(in super::super) fn shake(&mut self, seed: u64) {
        let mut random = Random::new(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        for i in 0..self.instance.items() {
            let less = SHAKE * random.fraction();
            if self.demand[i] > 0 {
                self.want(i, -less);
            }
        }
    }

    /// Raises the demands unevenly by up to `size`, so that fewer pivots are degenerate; 0 restores
    /// them.
    pub(in super::super) fn spread(&mut self, size: f64) {
        let mut random = Random::new(0x2545_F491_4F6C_DD1D);
        for i in 0..self.instance.items() {
            let more = size * random.fraction();
            self.want(i, more);
        }
    }

    /// Wants so much more of a kind of piece than its demand in the program.
    fn want(&mut self, item: usize, more: f64) {
        let d = self.demand[item] as f64;
        self.lp.set_row_bounds(item, d + more, 1e6 + 2.0 * d);
    }

    /// Duals from the middle of the face of best duals: the mean of several solved for demands shaken a little.
    ///
    /// A pattern that any of the duals finds dear is dear for the mean, so far fewer patterns stay within reach of
    /// a better plan. Half of the shakes are random, half lean on long pieces against short ones or the other way, because it
    /// is the bars of many short pieces that make lists long.
    pub(in super::super) fn central(
        &mut self,
        target: i64,
        samples: usize,
        control: &Control<'_>,
    ) -> Option<Relaxed> {
        let n = self.instance.items();
        let mut seed = 12_345_u64;
        let best = self.solve(i64::MAX / 4, control);
        let mut sum: Vec<i128> = best.profit.iter().map(|&p| i128::from(p)).collect();
        let mut toll = i128::from(best.toll);
        let mut taken = 1_i128;
        for sample in 0..samples {
            let heavy = self.instance.weight[n * ((sample * 7 + 3) % 16) / 16];
            let lean = match sample % 4 {
                2 => 2.0,
                3 => -2.0,
                _ => 0.0,
            };
            for i in 0..n {
                seed = seed
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                let random = (seed >> 40) as f64 / (1_u64 << 24) as f64 * 2.0 - 1.0;
                let side = if self.instance.weight[i] >= heavy { lean } else { -lean };
                if self.demand[i] > 0 {
                    self.want(i, SHAKE * (random + side));
                }
            }
            let shaken = self.solve(i64::MAX / 4, control);
            if shaken.end != End::Solved {
                break;
            }
            for (s, &p) in sum.iter_mut().zip(&shaken.last.0) {
                *s += i128::from(p);
            }
            toll += i128::from(shaken.last.2);
            taken += 1;
        }
        for i in 0..n {
            self.want(i, 0.0);
        }
        if control.stopped() {
            return None;
        }
        let profit: Vec<i64> = sum.iter().map(|s| (s / taken) as i64).collect();
        let price = self.price_of(&profit);
        let toll = (toll / taken) as i64;
        let bound = self.lagrangian(&profit, &price, toll, target - 1);
        Some(Relaxed {
            end: End::Solved,
            value: best.value,
            bound,
            last: (profit.clone(), price.clone(), toll),
            profit,
            price,
            toll,
        })
    }
}
