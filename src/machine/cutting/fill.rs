//! Quick answers: the everyday rule, and filling one board after another as full as it goes.

use super::pattern::{Bench, Lot, Pattern};

/// Longest piece first into the first board that still holds it; the board opened is the cheapest for its length.
pub(super) fn plain_rule(bench: &Bench) -> Lot {
    let mut order: Vec<usize> = (0..bench.kinds()).collect();
    order.sort_by_key(|i| (std::cmp::Reverse(bench.length(*i)), *i));
    let mut used = vec![0u32; bench.stocks()];
    let mut open: Vec<(Pattern, usize)> = Vec::new();
    let mut missing = vec![0u32; bench.kinds()];
    for piece in order {
        for _ in 0..bench.demand[piece] {
            let length = bench.length(piece);
            if let Some((pattern, room)) = open.iter_mut().find(|(_, room)| *room >= length) {
                pattern.counts[piece] += 1;
                *room -= length;
                continue;
            }
            let stock = (0..bench.stocks())
                .filter(|s| bench.room(*s) >= length && bench.left(*s, &used))
                .min_by(|a, b| rate(bench, *a).total_cmp(&rate(bench, *b)).then(a.cmp(b)));
            match stock {
                Some(stock) => {
                    used[stock] += 1;
                    let mut counts = vec![0; bench.kinds()];
                    counts[piece] = 1;
                    open.push((Pattern { stock, counts }, bench.room(stock) - length));
                }
                None => missing[piece] += 1,
            }
        }
    }
    Lot { patterns: open.into_iter().map(|o| o.0).collect(), missing }
}

fn rate(bench: &Bench, stock: usize) -> f64 {
    bench.costs[stock] / bench.room(stock).max(1) as f64
}

/// A way of filling: the first piece is forced to be the longest left; worth of a piece grows as length to this power.
#[derive(Clone, Copy)]
pub(super) struct Way {
    longest_first: bool,
    power_tenths: u32,
}

/// The ways tried, in this order.
pub(super) const WAYS: [Way; 6] = [
    Way { longest_first: true, power_tenths: 10 },
    Way { longest_first: true, power_tenths: 11 },
    Way { longest_first: false, power_tenths: 11 },
    Way { longest_first: true, power_tenths: 13 },
    Way { longest_first: false, power_tenths: 10 },
    Way { longest_first: true, power_tenths: 20 },
];

/// Fills board after board as full as it goes (after Gupta and Ho's least slack, Production Planning & Control 10, 1999).
pub(super) fn fullest(bench: &Bench, way: Way) -> Lot {
    finish(bench, way, bench.demand.clone(), Vec::new())
}

/// Goes on from boards already cut, with `left` still to make.
pub(super) fn finish(bench: &Bench, way: Way, mut left: Vec<u32>, mut patterns: Vec<Pattern>) -> Lot {
    let power = f64::from(way.power_tenths) / 10.0;
    let worth: Vec<f64> = (0..bench.kinds()).map(|i| libm::pow(bench.length(i) as f64, power)).collect();
    let mut used = vec![0u32; bench.stocks()];
    patterns.iter().for_each(|p| used[p.stock] += 1);
    while left.iter().any(|n| *n > 0) {
        let best = (0..bench.stocks())
            .filter(|s| bench.left(*s, &used))
            .filter_map(|s| one_board(bench, s, &left, &worth, way.longest_first))
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.stock.cmp(&b.1.stock)));
        let Some((_, pattern)) = best else { break };
        // The same board again as often as the pieces last.
        loop {
            used[pattern.stock] += 1;
            left.iter_mut().zip(&pattern.counts).for_each(|(l, n)| *l -= n);
            patterns.push(pattern.clone());
            let again = left.iter().zip(&pattern.counts).all(|(l, n)| l >= n);
            if !again || !bench.left(pattern.stock, &used) {
                break;
            }
        }
    }
    Lot { patterns, missing: left }
}

/// Fullest pattern in one board and its cost per length cut.
fn one_board(bench: &Bench, stock: usize, left: &[u32], worth: &[f64], longest_first: bool) -> Option<(f64, Pattern)> {
    let room = bench.room(stock);
    let fits = (0..bench.kinds()).filter(|i| left[*i] > 0 && bench.length(*i) <= room);
    let longest = fits.max_by_key(|i| (bench.length(*i), std::cmp::Reverse(*i)))?;
    let counts = if longest_first {
        let mut limits = left.to_vec();
        limits[longest] -= 1;
        let (_, mut counts) = bench.best_pattern(room - bench.length(longest), &limits, worth);
        counts[longest] += 1;
        counts
    } else {
        bench.best_pattern(room, left, worth).1
    };
    let cut: usize = counts.iter().enumerate().map(|(i, n)| bench.length(i) * *n as usize).sum();
    (cut > 0).then(|| (bench.costs[stock] / cut as f64, Pattern { stock, counts }))
}
