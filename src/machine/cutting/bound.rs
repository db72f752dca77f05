//! The linear bound: worths of the pieces such that no pattern is worth more than its board, built pattern by pattern.
//!
//! The worths are the dual of Gilmore and Gomory's covering programme (Operations Research 9, 1961, and 11, 1963): maximise
//! the worth of all pieces, each pattern found by the knapsack that breaks the rule is added as a row. The bound returned is
//! Farley's (Operations Research 38, 1990): the worths scaled down until the rule holds for every pattern, so that rounding
//! in the solver cannot make it too high.

use super::pattern::{Bench, Pattern};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// Most rows added before the bound so far is taken.
const MOST_ROUNDS: usize = 400;
const TOLERANCE: f64 = 1e-7;

/// Bound for the whole job, worths of the pieces under which no board is worth more than it costs (whatever boards are to be
/// had, so they bound any part of the job), and the patterns met on the way.
pub(super) fn root(bench: &Bench) -> (f64, Vec<f64>, Vec<Pattern>) {
    let mut columns = singles(bench, &bench.demand);
    let (bound, worth) = worths(bench, &bench.demand, &bench.at_most, &mut columns);
    let by_length = material(bench);
    let whole: f64 = by_length.iter().zip(&bench.demand).map(|(w, d)| w * f64::from(*d)).sum();
    let limited = bench.at_most.iter().any(Option::is_some);
    let worth = if limited || whole > bound { by_length } else { worth };
    (bound.max(whole), worth, columns)
}

/// The bound any child knows: a piece is worth its length at the cheapest board's rate.
fn material(bench: &Bench) -> Vec<f64> {
    let rate = (0..bench.stocks())
        .filter(|s| bench.room(*s) > 0)
        .map(|s| bench.costs[s] / bench.room(s) as f64)
        .fold(f64::INFINITY, f64::min);
    let rate = if rate.is_finite() { rate } else { 0.0 };
    (0..bench.kinds()).map(|i| bench.length(i) as f64 * rate).collect()
}

/// As many of one piece as its board and the demand allow, for each piece and board.
pub(super) fn singles(bench: &Bench, demand: &[u32]) -> Vec<Pattern> {
    let mut out = Vec::new();
    for stock in 0..bench.stocks() {
        for piece in 0..bench.kinds() {
            let most = (bench.room(stock) / bench.length(piece)).min(demand[piece] as usize) as u32;
            if most > 0 {
                let mut counts = vec![0; bench.kinds()];
                counts[piece] = most;
                out.push(Pattern { stock, counts });
            }
        }
    }
    out
}

struct Duals {
    worth: Vec<Variable>,
    shortage: Vec<Option<Variable>>,
}

/// Adds patterns to `columns` until none is worth more than its board; returns the best proved bound for `demand`
/// and the worths that prove it.
pub(super) fn worths(
    bench: &Bench,
    demand: &[u32],
    limits: &[Option<u32>],
    columns: &mut Vec<Pattern>,
) -> (f64, Vec<f64>) {
    let mut best = (0.0f64, vec![0.0; bench.kinds()]);
    let Some((duals, mut solution)) = start(bench, demand, limits, columns) else { return best };
    for _ in 0..MOST_ROUNDS {
        let worth: Vec<f64> = duals.worth.iter().map(|v| solution.var_value(*v).max(0.0)).collect();
        let price: Vec<f64> = (0..bench.stocks())
            .map(|s| bench.costs[s] + duals.shortage[s].map_or(0.0, |v| solution.var_value(v).max(0.0)))
            .collect();
        let found: Vec<(f64, Pattern)> = (0..bench.stocks())
            .filter(|s| limits[*s] != Some(0))
            .map(|stock| {
                let (value, counts) = bench.best_pattern(bench.room(stock), demand, &worth);
                (value / price[stock], Pattern { stock, counts })
            })
            .collect();
        let dearest = found.iter().map(|f| f.0).fold(1.0f64, f64::max);
        let total: f64 = worth.iter().zip(demand).map(|(w, d)| w * f64::from(*d)).sum();
        let short: f64 =
            (0..bench.stocks()).map(|s| limits[s].map_or(0.0, |n| f64::from(n) * (price[s] - bench.costs[s]))).sum();
        if total / dearest - short > best.0 {
            best = (total / dearest - short, worth.iter().map(|w| w / dearest).collect());
        }
        let new: Vec<Pattern> = found.into_iter().filter(|f| f.0 > 1.0 + TOLERANCE).map(|f| f.1).collect();
        if new.is_empty() || bench.is_tired() {
            break;
        }
        for pattern in new {
            let row = row(&duals, &pattern);
            match solution.add_constraint(&row[..], ComparisonOp::Le, bench.costs[pattern.stock]) {
                Ok(next) => solution = next,
                // The solver gave up: the bound so far stands.
                Err(_) => return best,
            }
            columns.push(pattern);
        }
    }
    best
}

fn start(bench: &Bench, demand: &[u32], limits: &[Option<u32>], columns: &[Pattern]) -> Option<(Duals, Solution)> {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let worth = demand.iter().map(|d| problem.add_var(f64::from(*d), (0.0, bench.penalty()))).collect();
    let shortage =
        limits.iter().map(|n| n.map(|n| problem.add_var(-f64::from(n), (0.0, 1e3 * bench.penalty())))).collect();
    let duals = Duals { worth, shortage };
    for pattern in columns {
        problem.add_constraint(&row(&duals, pattern)[..], ComparisonOp::Le, bench.costs[pattern.stock]);
    }
    problem.solve().ok().map(|s| (duals, s))
}

fn row(duals: &Duals, pattern: &Pattern) -> Vec<(Variable, f64)> {
    let mut row: Vec<(Variable, f64)> = (pattern.counts.iter().enumerate())
        .filter(|(_, n)| **n > 0)
        .map(|(i, n)| (duals.worth[i], f64::from(*n)))
        .collect();
    if let Some(short) = duals.shortage[pattern.stock] {
        row.push((short, -1.0));
    }
    row
}
