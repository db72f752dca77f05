//! What matters: how much of an id's spread each doubt makes, alone (first index) and with all others (total index). Saltelli's first-order
//! and Jansen's total estimator on quasi-random points; proved on the Ishigami function.

use super::chance::uniform;
use super::trials::doubts;
use crate::chain::decide::Brief;
use crate::chain::mode::{Numbers, Trace};
use crate::chain::stages::run;
use rayon::prelude::*;

/// A doubt's part in the spread of an id.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    pub slot: u16,
    /// Share of the variance that knowing this alone would take away.
    pub first: f64,
    /// Share that would be left if all but this were known.
    pub total: f64,
}

/// First and total indices of a function of `dimensions` uniform numbers, from `count` base points.
///
/// Saltelli et al. 2010 (Computer Physics Communications 181, 259) for the first, Jansen 1999 (same journal 117, 35) for the total; formulas
/// from memory, proved on Ishigami's function in the tests.
pub fn indices(dimensions: usize, count: usize, seed: u32, f: &(dyn Fn(&[f64]) -> f64 + Sync)) -> Vec<(f64, f64)> {
    let rows: Vec<Vec<f64>> = (0..count).into_par_iter().map(|at| one_point(dimensions, seed, at, f)).collect();
    let mean = rows.iter().map(|row| row[0] + row[1]).sum::<f64>() / (2 * count) as f64;
    let variance =
        rows.iter().map(|row| (row[0] - mean) * (row[0] - mean) + (row[1] - mean) * (row[1] - mean)).sum::<f64>()
            / (2 * count) as f64;
    (0..dimensions)
        .map(|d| {
            if variance <= 0.0 {
                return (0.0, 0.0);
            }
            // centred, which changes nothing in the limit and much at few points
            let first = rows.iter().map(|row| (row[1] - mean) * (row[2 + d] - row[0])).sum::<f64>() / count as f64;
            let total =
                rows.iter().map(|row| (row[0] - row[2 + d]) * (row[0] - row[2 + d])).sum::<f64>() / (2 * count) as f64;
            (first / variance, total / variance)
        })
        .collect()
}

/// f at point A, at point B, and at A with each coordinate taken from B.
fn one_point(dimensions: usize, seed: u32, at: usize, f: &(dyn Fn(&[f64]) -> f64 + Sync)) -> Vec<f64> {
    let half = dimensions as u32;
    let mut a: Vec<f64> = (0..half).map(|d| uniform(seed, at, d)).collect();
    let b: Vec<f64> = (0..half).map(|d| uniform(seed, at, half + d)).collect();
    let mut out = vec![f(&a), f(&b)];
    for d in 0..dimensions {
        let kept = std::mem::replace(&mut a[d], b[d]);
        out.push(f(&a));
        a[d] = kept;
    }
    out
}

/// Points for each doubt's indices: errors of a few hundredths.
const POINTS: usize = 1024;

/// The doubts that make an id uncertain, the greatest first.
pub fn matters(brief: &Brief, slot: u16, seed: u32) -> Vec<Share> {
    let mut trace = Trace::default();
    run(&brief.given, &mut trace);
    // only what feeds the id can matter; this keeps the points few
    let feeding = feeding(&trace, slot);
    let doubts: Vec<_> = doubts(brief).into_iter().filter(|doubt| feeding.contains(&doubt.slot)).collect();
    let one_yarn = brief.wishes.open.same_yarn;
    let value = |u: &[f64]| {
        let mut given = brief.given.clone();
        for (doubt, u) in doubts.iter().zip(u) {
            given.set_si(doubt.slot, doubt.at(*u));
        }
        if one_yarn {
            given.copy_warp_to_weft();
        }
        let mut numbers = Numbers::default();
        run(&given, &mut numbers);
        // an id that a trial does not have stands where it is planned: it moves nothing
        numbers.si(slot).or(trace.node(slot).map(|node| node.si)).unwrap_or(0.0)
    };
    let mut shares: Vec<Share> = indices(doubts.len(), POINTS, seed, &value)
        .into_iter()
        .zip(&doubts)
        .map(|((first, total), doubt)| Share { slot: doubt.slot, first, total })
        .collect();
    shares.sort_by(|a, b| b.total.total_cmp(&a.total));
    shares
}

/// Ids that an id is made from, all the way back; the warp's stand for the weft's where one yarn is both.
pub fn feeding(trace: &Trace, slot: u16) -> Vec<u16> {
    let mut out = Vec::new();
    let mut left: Vec<_> = trace.node(slot).into_iter().collect();
    let mut seen = std::collections::BTreeSet::new();
    while let Some(node) = left.pop() {
        if !seen.insert(std::ptr::from_ref(node) as usize) {
            continue;
        }
        out.extend(node.slot);
        left.extend(trace.inputs(node));
    }
    for (warp, weft) in crate::chain::given::ONE_YARN {
        if out.contains(weft) && !out.contains(warp) {
            out.push(*warp);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Ishigami and Homma 1990, a = 7, b = 0.1: S1 0.3139, 0.4424, 0; ST 0.5576, 0.4424, 0.2437 (analytic).
    #[test]
    fn the_indices_of_ishigami() {
        let f = |u: &[f64]| {
            let x: Vec<f64> = u.iter().map(|u| -PI + 2.0 * PI * u).collect();
            let sine = libm::sin(x[1]);
            libm::sin(x[0]) + 7.0 * sine * sine + 0.1 * x[2] * x[2] * x[2] * x[2] * libm::sin(x[0])
        };
        let found = indices(3, 8192, 5, &f);
        for ((first, total), (s1, st)) in found.iter().zip([(0.3139, 0.5576), (0.4424, 0.4424), (0.0, 0.2437)]) {
            assert!((first - s1).abs() < 0.02 && (total - st).abs() < 0.02, "{found:?}");
        }
    }
}
