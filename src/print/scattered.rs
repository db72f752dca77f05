//! An order in which the squares of a tile get ink so that they always lie evenly scattered: void and cluster (Ulichney 1993). The tile
//! meets itself at its edges. Made once, from a fixed start.

use std::sync::OnceLock;

/// Squares along a side of the tile.
pub const SIDE: usize = 64;
const ALL: usize = SIDE * SIDE;
/// How far a square is felt, and the width of the bell by which.
const REACH: i64 = 7;
const SIGMA: f64 = 1.5;

/// Threshold of each square, evenly spread over 0 to 65535.
pub fn tile() -> &'static [u16] {
    static TILE: OnceLock<Vec<u16>> = OnceLock::new();
    TILE.get_or_init(make)
}

/// The pattern in hand, and how crowded each square is.
struct Pattern {
    ink: Vec<bool>,
    crowd: Vec<f64>,
    bell: Vec<f64>,
}

impl Pattern {
    fn new() -> Pattern {
        let bell = |i: usize| {
            let (dx, dy) = (i as i64 % (2 * REACH + 1) - REACH, i as i64 / (2 * REACH + 1) - REACH);
            libm::exp(-((dx * dx + dy * dy) as f64) / (2.0 * SIGMA * SIGMA))
        };
        let side = (2 * REACH + 1) as usize;
        Pattern { ink: vec![false; ALL], crowd: vec![0.0; ALL], bell: (0..side * side).map(bell).collect() }
    }
    fn set(&mut self, at: usize, ink: bool) {
        self.ink[at] = ink;
        let sign = if ink { 1.0 } else { -1.0 };
        let (x, y) = ((at % SIDE) as i64, (at / SIDE) as i64);
        let mut n = 0;
        for dy in -REACH..=REACH {
            for dx in -REACH..=REACH {
                let (x, y) = ((x + dx).rem_euclid(SIDE as i64), (y + dy).rem_euclid(SIDE as i64));
                self.crowd[y as usize * SIDE + x as usize] += sign * self.bell[n];
                n += 1;
            }
        }
    }
    /// The most crowded square with ink, or the emptiest without.
    fn extreme(&self, ink: bool) -> usize {
        let mut best = None;
        for at in 0..ALL {
            if self.ink[at] != ink {
                continue;
            }
            let better =
                |old: usize| if ink { self.crowd[at] > self.crowd[old] } else { self.crowd[at] < self.crowd[old] };
            if best.is_none_or(better) {
                best = Some(at);
            }
        }
        best.unwrap_or(0)
    }
}

fn make() -> Vec<u16> {
    let mut pattern = Pattern::new();
    let mut seed = 0x2545_f491u32;
    let first = ALL / 10;
    let mut laid = 0;
    while laid < first {
        seed ^= seed << 13;
        seed ^= seed >> 17;
        seed ^= seed << 5;
        let at = seed as usize % ALL;
        if !pattern.ink[at] {
            pattern.set(at, true);
            laid += 1;
        }
    }
    // the start evened out: from where it is most crowded to where it is emptiest, until nothing moves
    for _ in 0..ALL {
        let from = pattern.extreme(true);
        pattern.set(from, false);
        let to = pattern.extreme(false);
        pattern.set(to, true);
        if to == from {
            break;
        }
    }
    let start = (pattern.ink.clone(), pattern.crowd.clone());
    let mut order = vec![0usize; ALL];
    for rank in (0..first).rev() {
        let at = pattern.extreme(true);
        pattern.set(at, false);
        order[at] = rank;
    }
    (pattern.ink, pattern.crowd) = start;
    for rank in first..ALL {
        let at = pattern.extreme(false);
        pattern.set(at, true);
        order[at] = rank;
    }
    order.into_iter().map(|rank| ((2 * rank + 1) * 65535 / (2 * ALL)) as u16).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rank_stands_once_and_no_two_neighbours_come_early() {
        let tile = tile();
        let mut sorted = tile.to_vec();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), ALL);
        // at a twentieth no two squares with ink touch
        let ink: Vec<bool> = tile.iter().map(|t| *t < 3277).collect();
        for at in 0..ALL {
            let right = at / SIDE * SIDE + (at + 1) % SIDE;
            let below = (at + SIDE) % ALL;
            assert!(!(ink[at] && (ink[right] || ink[below])), "{at}");
        }
    }
}
