//! From the linear answer to whole boards: fix what the linear answer uses a whole number of times, solve the rest again, and
//! go on (diving on the residual job), each time also finished by the quick ways. Counted effort, no clock.

use super::bound::worths;
use super::fill::{self, WAYS};
use super::pattern::{Bench, Lot, Pattern};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// Dives tried, each starting from another pattern.
const DIVES: usize = 6;
/// Most linear solutions over all dives.
const MOST_SOLUTIONS: usize = 400;

/// A cutting not dearer than `best`, stopping once `least` is reached.
pub(super) fn improve(bench: &Bench, columns: &mut Vec<Pattern>, mut best: Lot, least: f64) -> Lot {
    let mut budget = MOST_SOLUTIONS;
    for skip in 0..DIVES {
        best = dive(bench, columns, best, least, skip, &mut budget);
        if bench.cost(&best) <= least || budget == 0 || bench.is_tired() {
            break;
        }
    }
    best
}

fn dive(bench: &Bench, pool: &mut Vec<Pattern>, mut best: Lot, least: f64, skip: usize, budget: &mut usize) -> Lot {
    let mut left = bench.demand.clone();
    let mut fixed: Vec<Pattern> = Vec::new();
    let mut skip = skip;
    while left.iter().any(|n| *n > 0) && *budget > 0 && !bench.is_tired() {
        *budget -= 1;
        let limits = limits_left(bench, &fixed);
        let mut columns: Vec<Pattern> =
            pool.iter().filter(|p| p.counts.iter().zip(&left).all(|(n, l)| n <= l)).cloned().collect();
        let known = columns.len();
        columns.extend(super::bound::singles(bench, &left));
        worths(bench, &left, &limits, &mut columns);
        pool.extend(columns[known..].iter().cloned());
        let Some(shares) = shares(bench, &left, &limits, &columns) else { break };
        let chosen = choose(&shares, skip);
        if chosen.is_empty() {
            break;
        }
        skip = 0;
        for (column, times) in chosen {
            take(bench, &columns[column], times, &mut left, &mut fixed);
        }
        for way in WAYS.iter().take(3) {
            best = bench.cheaper(best, fill::finish(bench, *way, left.clone(), fixed.clone()));
        }
        if bench.cost(&best) <= least {
            return best;
        }
    }
    best
}

/// All whole parts, or, where there are none, the pattern nearest to one (the `skip`-th nearest on a later dive).
fn choose(shares: &[f64], skip: usize) -> Vec<(usize, u32)> {
    let whole: Vec<(usize, u32)> = (shares.iter().enumerate())
        .map(|(i, x)| (i, (x + 1e-7).floor().max(0.0) as u32))
        .filter(|(_, n)| *n > 0)
        .collect();
    if !whole.is_empty() && skip == 0 {
        return whole;
    }
    let mut order: Vec<usize> = (0..shares.len()).filter(|i| shares[*i] > 1e-7).collect();
    order.sort_by(|a, b| shares[*b].total_cmp(&shares[*a]).then(a.cmp(b)));
    order.get(skip.min(order.len().saturating_sub(1))).map(|i| (*i, 1)).into_iter().collect()
}

fn take(bench: &Bench, pattern: &Pattern, times: u32, left: &mut [u32], fixed: &mut Vec<Pattern>) {
    for _ in 0..times {
        let used = fixed.iter().filter(|p| p.stock == pattern.stock).count() as u32;
        let fits = pattern.counts.iter().zip(left.iter()).all(|(n, l)| n <= l);
        if !fits || bench.at_most[pattern.stock].is_some_and(|n| used >= n) {
            return;
        }
        left.iter_mut().zip(&pattern.counts).for_each(|(l, n)| *l -= n);
        fixed.push(pattern.clone());
    }
}

fn limits_left(bench: &Bench, fixed: &[Pattern]) -> Vec<Option<u32>> {
    (0..bench.stocks())
        .map(|s| {
            let used = fixed.iter().filter(|p| p.stock == s).count() as u32;
            bench.at_most[s].map(|n| n.saturating_sub(used))
        })
        .collect()
}

/// How often the linear answer uses each column.
fn shares(bench: &Bench, left: &[u32], limits: &[Option<u32>], columns: &[Pattern]) -> Option<Vec<f64>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let used: Vec<Variable> =
        columns.iter().map(|p| problem.add_var(bench.costs[p.stock], (0.0, f64::INFINITY))).collect();
    for (piece, wanted) in left.iter().enumerate().filter(|(_, n)| **n > 0) {
        let unmade = problem.add_var(bench.penalty(), (0.0, f64::INFINITY));
        let mut row: Vec<(Variable, f64)> = (columns.iter().zip(&used))
            .filter(|(p, _)| p.counts[piece] > 0)
            .map(|(p, v)| (*v, f64::from(p.counts[piece])))
            .collect();
        row.push((unmade, 1.0));
        problem.add_constraint(&row[..], ComparisonOp::Ge, f64::from(*wanted));
    }
    for (stock, limit) in limits.iter().enumerate() {
        if let Some(limit) = limit {
            let row: Vec<(Variable, f64)> =
                columns.iter().zip(&used).filter(|(p, _)| p.stock == stock).map(|(_, v)| (*v, 1.0)).collect();
            if !row.is_empty() {
                problem.add_constraint(&row[..], ComparisonOp::Le, f64::from(*limit));
            }
        }
    }
    let solution = problem.solve().ok()?;
    Some(used.iter().map(|v| *solution.var_value(*v)).collect())
}
