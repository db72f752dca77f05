//! Every sensible cutting of a small job, board by board, given up after a counted number of boards looked at.
//!
//! The next board always holds the longest piece left, and is always filled until nothing more fits: a piece moved to an
//! earlier board with room never makes a cutting dearer, so nothing better is passed over. Pruned by the worths of the
//! linear bound, which bound any rest of the job as well.

use super::pattern::{Bench, Lot, Pattern};
use std::collections::BTreeMap;

/// Boards looked at before giving up.
const MOST_BOARDS: usize = 60_000;

struct Search<'a> {
    bench: &'a Bench,
    worth: &'a [f64],
    best: Lot,
    best_cost: f64,
    seen: BTreeMap<Vec<u32>, f64>,
    budget: usize,
}

/// The best cutting found and whether the search was complete, so that it is the best there is.
pub(super) fn all(bench: &Bench, worth: &[f64], best: Lot) -> (Lot, bool) {
    let best_cost = bench.cost(&best);
    let mut search = Search { bench, worth, best, best_cost, seen: BTreeMap::new(), budget: MOST_BOARDS };
    search.go(bench.demand.clone(), &mut Vec::new(), 0.0);
    (search.best, search.budget > 0)
}

impl Search<'_> {
    fn go(&mut self, left: Vec<u32>, fixed: &mut Vec<Pattern>, cost: f64) {
        let Some(longest) = self.longest(&left) else {
            if cost < self.best_cost - 1e-9 {
                self.best_cost = cost;
                self.best = Lot { patterns: fixed.clone(), missing: left };
            }
            return;
        };
        let rest: f64 = left.iter().zip(self.worth).map(|(n, w)| f64::from(*n) * w).sum();
        if self.bench.round_up(cost + rest - 1e-7) >= self.best_cost - 1e-9 || self.been_here(&left, fixed, cost) {
            return;
        }
        for pattern in self.boards(&left, longest, fixed) {
            if self.budget == 0 {
                return;
            }
            self.budget -= 1;
            let after = left.iter().zip(&pattern.counts).map(|(l, n)| l - n).collect();
            let price = self.bench.costs[pattern.stock];
            fixed.push(pattern);
            self.go(after, fixed, cost + price);
            fixed.pop();
        }
    }

    /// Whether the same rest with the same boards used was reached as cheaply before.
    fn been_here(&mut self, left: &[u32], fixed: &[Pattern], cost: f64) -> bool {
        let mut key = left.to_vec();
        for (stock, limit) in self.bench.at_most.iter().enumerate() {
            if limit.is_some() {
                key.push(fixed.iter().filter(|p| p.stock == stock).count() as u32);
            }
        }
        match self.seen.get(&key) {
            Some(before) if *before <= cost + 1e-9 => true,
            _ => {
                self.seen.insert(key, cost);
                false
            }
        }
    }

    fn longest(&self, left: &[u32]) -> Option<usize> {
        (0..left.len()).filter(|i| left[*i] > 0).max_by_key(|i| (self.bench.length(*i), std::cmp::Reverse(*i)))
    }

    /// Full boards that hold `longest`, fullest for their price first.
    fn boards(&self, left: &[u32], longest: usize, fixed: &[Pattern]) -> Vec<Pattern> {
        let mut order: Vec<usize> = (0..left.len()).filter(|i| left[*i] > 0).collect();
        order.sort_by_key(|i| (std::cmp::Reverse(self.bench.length(*i)), *i));
        let mut out: Vec<(f64, Pattern)> = Vec::new();
        for stock in 0..self.bench.stocks() {
            let used = fixed.iter().filter(|p| p.stock == stock).count() as u32;
            let room = self.bench.room(stock);
            if room < self.bench.length(longest) || self.bench.at_most[stock].is_some_and(|n| used >= n) {
                continue;
            }
            let mut counts = vec![0; left.len()];
            counts[longest] = 1;
            let mut found = Vec::new();
            self.fill(left, &order, room - self.bench.length(longest), &mut counts, &mut found);
            for counts in found {
                let worth: f64 = counts.iter().zip(self.worth).map(|(n, w)| f64::from(*n) * w).sum();
                out.push((self.bench.costs[stock] - worth, Pattern { stock, counts }));
            }
        }
        out.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
        out.into_iter().map(|o| o.1).collect()
    }

    /// All ways to fill `room` until no piece left fits (bounded by the budget).
    fn fill(&self, left: &[u32], order: &[usize], room: usize, counts: &mut Vec<u32>, found: &mut Vec<Vec<u32>>) {
        if found.len() > self.budget {
            return;
        }
        let Some((piece, later)) = order.split_first() else {
            let full = (0..left.len()).all(|i| counts[i] >= left[i] || self.bench.length(i) > room);
            if full {
                found.push(counts.clone());
            }
            return;
        };
        let before = counts[*piece];
        let most = ((room / self.bench.length(*piece)) as u32).min(left[*piece] - before);
        for n in (0..=most).rev() {
            counts[*piece] = before + n;
            self.fill(left, later, room - n as usize * self.bench.length(*piece), counts, found);
        }
        counts[*piece] = before;
    }
}
