//! Odd ones and drift, as soon as they start: a bobbin not like the others, picks that creep.
//!
//! The maker's own level and spread are not known at the start, so each reading is judged by those before it: its Student
//! score against them, turned into a normal score, is an independent standard normal as long as nothing changes, whatever the
//! level and spread (self-starting chart: Hawkins, *The Statistician* 36, 1987, 299–315). One score too great is an odd
//! reading. Their cumulative sums (Page, *Biometrika* 41, 1954) find drift. The limits are set so that a job in which nothing
//! is wrong gives **one false call of each kind in twenty jobs** of the stated number of readings, held by simulation.
//! Afterwards, the whole set is searched by the generalised extreme deviate test (Rosner, *Technometrics* 25, 1983, 165–172).

use super::chance::{normal_below, normal_quantile, root, student_below, student_quantile};
use crate::units::{Dimension, Q};
use libm::{log, sqrt};

/// Chance of a false call of one kind over a whole job.
pub const FALSE_CALL: f64 = 0.05;

/// Shift looked for by the sums, in standard deviations: half of it is the slack.
const SLACK: f64 = 0.5;

/// A lasting change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// Reading at which it was noticed, from 0.
    pub noticed: usize,
    /// The first reading that belongs to it.
    pub began: usize,
    /// Whether readings rise.
    pub up: bool,
    /// Mean since then ÷ mean before − 1.
    pub by: f64,
}

/// What watching found.
#[derive(Clone, Debug, Default)]
pub struct Watched {
    /// Normal score of each reading against those before it; the first three have none.
    pub scores: Vec<Option<f64>>,
    /// Readings not like those before them, as they came.
    pub odd: Vec<usize>,
    pub drifts: Vec<Drift>,
    /// Score from which one reading counts as odd.
    pub odd_limit: f64,
    /// Sum from which drift is called.
    pub drift_limit: f64,
}

/// Watches readings in the order they were taken, of which about `expected` will be taken in the job (at least 20 are allowed
/// for). Logarithms are watched when all are positive: yarn and cloth vary in per cent.
/// `finest` is the least step the readings are taken in (0.1 g, one pick): a change of one step is no news.
pub fn watch<D: Dimension>(readings: &[Q<D>], finest: Q<D>, expected: usize) -> Watched {
    let values: Vec<f64> = readings.iter().map(|q| q.to_si()).collect();
    let positive = values.iter().all(|v| *v > 0.0 && v.is_finite());
    let judged: Vec<f64> = if positive { values.iter().map(|v| log(*v)).collect() } else { values.clone() };
    let count = expected.max(values.len()).clamp(20, 2000);
    let odd_limit = odd_limit(count);
    let middle = values.iter().sum::<f64>() / values.len().max(1) as f64;
    let least = 0.5 * finest.to_si().abs() / if positive { middle } else { 1.0 };
    let drift_limit = drift_limit(count);
    let mut state =
        Watching { judged: &judged, values: &values, least, from: 0, skipped: Vec::new(), up: 0.0, down: 0.0 };
    let mut out = Watched { odd_limit, drift_limit, ..Watched::default() };
    for i in 0..judged.len() {
        let score = state.score(i);
        out.scores.push(score);
        let Some(score) = score else { continue };
        if score.abs() > odd_limit {
            out.odd.push(i);
        }
        if let Some(drift) = state.add(i, score, odd_limit, drift_limit) {
            out.drifts.push(drift);
        }
    }
    out
}

struct Watching<'a> {
    judged: &'a [f64],
    values: &'a [f64],
    /// Least spread that can be told from rounding.
    least: f64,
    /// First reading of the present level.
    from: usize,
    /// Odd readings, kept out of the level.
    skipped: Vec<usize>,
    /// Sums upward and downward.
    up: f64,
    down: f64,
}

impl Watching<'_> {
    /// Mean and sum of squares of the level before reading `i`, and how many make it.
    fn level(&self, i: usize) -> (usize, f64, f64) {
        let kept = || (self.from..i).filter(|j| !self.skipped.contains(j)).map(|j| self.judged[j]);
        let n = kept().count();
        let mean = kept().sum::<f64>() / n.max(1) as f64;
        (n, mean, kept().map(|x| (x - mean) * (x - mean)).sum())
    }

    fn score(&self, i: usize) -> Option<f64> {
        let (n, mean, squares) = self.level(i);
        if n < 3 {
            return None;
        }
        let sd = sqrt(squares / (n - 1) as f64).max(self.least).max(mean.abs() * 1e-9 + 1e-12);
        let t = sqrt(n as f64 / (n + 1) as f64) * (self.judged[i] - mean) / sd;
        // Both tails from the lower side, where the digits are.
        let tail = student_below(-t.abs(), n - 1).max(1e-12);
        Some(if t > 0.0 { -normal_quantile(tail) } else { normal_quantile(tail) })
    }

    fn add(&mut self, i: usize, score: f64, odd_limit: f64, drift_limit: f64) -> Option<Drift> {
        if score.abs() > odd_limit {
            self.skipped.push(i);
        }
        // One wild reading must not make a drift by itself.
        let score = score.clamp(-MOST, MOST);
        self.up = (self.up + score - SLACK).max(0.0);
        self.down = (self.down - score - SLACK).max(0.0);
        let up = self.up > drift_limit;
        if !up && self.down <= drift_limit {
            return None;
        }
        let began = self.change(i);
        let by = self.mean(began, i + 1)? / self.mean(self.from, began)? - 1.0;
        // A new level starts where the old one ended.
        (self.from, self.up, self.down) = (began, 0.0, 0.0);
        self.skipped.clear();
        Some(Drift { noticed: i, began, up, by })
    }

    /// Mean of the sound readings of a stretch; of all of them where none is sound.
    fn mean(&self, from: usize, to: usize) -> Option<f64> {
        let sound: Vec<f64> = (from..to).filter(|j| !self.skipped.contains(j)).map(|j| self.values[j]).collect();
        let list = if sound.is_empty() { self.values.get(from..to)? } else { &sound };
        (!list.is_empty()).then(|| list.iter().sum::<f64>() / list.len() as f64)
    }

    /// The likeliest first reading of the new level: where the two means differ most for their numbers.
    fn change(&self, now: usize) -> usize {
        let gain = |at: usize| {
            let (Some(before), Some(after)) = (self.mean(self.from, at), self.mean(at, now + 1)) else { return 0.0 };
            let (m, n) = ((at - self.from) as f64, (now + 1 - at) as f64);
            m * n / (m + n) * (after - before) * (after - before)
        };
        let mut best = (f64::MIN, now);
        for at in self.from + 2..=now {
            let g = gain(at);
            if g > best.0 {
                best = (g, at);
            }
        }
        best.1
    }
}

/// Readings in a job, and the sum at which drift is called: standard normal scores (cut at [`MOST`]) pass it, one way or the
/// other, in one of twenty runs of so many. Brook & Evans, *Biometrika* 59, 1972, 539–549: the sum as a Markov chain; the test
/// `limits_are_those_of_the_chain` works them out again.
const DRIFT_LIMITS: [(usize, f64); 8] =
    [(20, 4.08), (30, 4.50), (50, 5.03), (100, 5.66), (200, 6.32), (500, 7.20), (1000, 7.69), (2000, 8.26)];

/// The limit for `count` readings, between the table's rows by the logarithm of the number.
fn drift_limit(count: usize) -> f64 {
    let next = DRIFT_LIMITS.iter().position(|row| row.0 >= count).unwrap_or(DRIFT_LIMITS.len() - 1).max(1);
    let ((n, low), (m, high)) = (DRIFT_LIMITS[next - 1], DRIFT_LIMITS[next]);
    let share = log(count as f64 / n as f64) / log(m as f64 / n as f64);
    low + (high - low) * share.clamp(0.0, 1.0)
}

/// Scores count no more than this in the sums: a single odd reading is no drift, two or three in a row are.
const MOST: f64 = 2.0;

/// Readings that do not belong to the rest, looked for all at once among the whole set, at most `most` of them, the oddest
/// first. One set in twenty of sound readings gives a false one. Fewer than 5 readings give none.
pub fn odd_ones<D: Dimension>(readings: &[Q<D>], most: usize) -> Vec<usize> {
    let mut left: Vec<(usize, f64)> = readings.iter().map(|q| q.to_si()).enumerate().collect();
    let n = left.len();
    let (mut found, mut keep) = (Vec::new(), 0);
    for i in 1..=most {
        if left.len() < 5 {
            break;
        }
        let (r, at) = extreme(&left);
        found.push(left.remove(at).0);
        if r > extreme_limit(n, i) {
            keep = i;
        }
    }
    found.truncate(keep);
    found
}

/// The greatest deviation in standard deviations and where it stands.
fn extreme(list: &[(usize, f64)]) -> (f64, usize) {
    let n = list.len() as f64;
    let mean = list.iter().map(|x| x.1).sum::<f64>() / n;
    let sd = sqrt(list.iter().map(|x| (x.1 - mean) * (x.1 - mean)).sum::<f64>() / (n - 1.0));
    let mut top = (0.0, 0);
    for (at, x) in list.iter().enumerate() {
        let r = (x.1 - mean).abs() / sd.max(f64::MIN_POSITIVE);
        if r > top.0 {
            top = (r, at);
        }
    }
    top
}

/// Critical value of the `i`-th extreme deviate of `n` readings at 5 %.
fn extreme_limit(n: usize, i: usize) -> f64 {
    let left = (n - i + 1) as f64;
    let df = n - i - 1;
    let t = student_quantile(1.0 - FALSE_CALL / (2.0 * left), df);
    (left - 1.0) * t / sqrt((df as f64 + t * t) * left)
}

/// What to tell the maker of drift in `what` ("picks", "yarn count"), `more` and `less` the words for up and down.
pub fn drift_words(drift: &Drift, what: &str, more: &str, less: &str) -> String {
    let word = if drift.up { more } else { less };
    format!("Your {what}: {word} by {:.0} % since reading {}.", (drift.by * 100.0).abs(), drift.began + 1)
}

/// The score at which `count` readings give one false odd call in twenty jobs.
pub fn odd_limit(count: usize) -> f64 {
    root(|z| FALSE_CALL / 2.0 / count.max(1) as f64 - normal_below(-z), 0.0, 30.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Ratio, TEX};

    fn plain(list: &[f64]) -> Vec<Q<Ratio>> {
        list.iter().map(|x| Q::si(*x)).collect()
    }

    const STATES: usize = 80;

    /// One side's chances of going from state to state below `limit`, scores cut at `most`.
    fn chain(limit: f64, most: f64) -> Vec<Vec<f64>> {
        let width = 2.0 * limit / (2 * STATES - 1) as f64;
        let below = |from: usize, to: usize| match (to as f64 + 0.5 - from as f64) * width + SLACK {
            z if z >= most => 1.0,
            z if z < -most => 0.0,
            z => normal_below(z),
        };
        (0..STATES)
            .map(|i| (0..STATES).map(|j| if j == 0 { below(i, 0) } else { below(i, j) - below(i, j - 1) }).collect())
            .collect()
    }

    /// Chance that the sum has not passed after each of `count` readings.
    fn alive(chain: &[Vec<f64>], count: usize) -> Vec<f64> {
        let mut at = vec![0.0; STATES];
        at[0] = 1.0;
        let mut list = vec![1.0];
        for _ in 0..count {
            at = (0..STATES).map(|j| (0..STATES).map(|i| at[i] * chain[i][j]).sum()).collect();
            list.push(at.iter().sum());
        }
        list
    }

    /// Mean readings until a sum of uncut scores passes `limit`, one side. Once the chain has settled the rest is geometric.
    fn run_length(limit: f64) -> f64 {
        let list = alive(&chain(limit, f64::MAX), 400);
        list[..400].iter().sum::<f64>() + list[400] / (1.0 - list[400] / list[399])
    }

    /// The two sides hardly ever pass both, so each may in one of forty. Takes 0.3 s.
    #[test]
    fn limits_are_those_of_the_chain() {
        for (count, limit) in DRIFT_LIMITS {
            let passed = |limit: f64| 1.0 - alive(&chain(limit, MOST), count)[count];
            let want = FALSE_CALL / 2.0;
            assert!(passed(limit - 0.006) > want && passed(limit + 0.006) < want, "{count}: {limit}");
        }
    }

    /// Mean run length of the sum with slack 0.5, two-sided, as printed in texts on process control: 168 at 4, 465 at 5.
    #[test]
    fn run_lengths_as_printed() {
        assert!((run_length(4.0) / 2.0 - 168.0).abs() < 4.0, "{}", run_length(4.0) / 2.0);
        assert!((run_length(5.0) / 2.0 - 465.0).abs() < 12.0, "{}", run_length(5.0) / 2.0);
    }

    /// Rosner's 54 readings as tabulated in the NIST/SEMATECH e-handbook 1.3.5.17.3: statistics, limits, three outliers.
    #[test]
    fn extreme_deviates_as_printed() {
        let data = [
            -0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69,
            1.70, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37,
            2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21, 3.26, 3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42,
            6.01,
        ];
        let mut left: Vec<(usize, f64)> = data.iter().copied().enumerate().collect();
        let printed = [(3.118, 3.158), (2.942, 3.151), (3.179, 3.143), (2.810, 3.136), (2.815, 3.128)];
        for (i, (r, limit)) in printed.iter().enumerate() {
            let (got, at) = extreme(&left);
            assert!(
                (got - r).abs() < 1.1e-3 && (extreme_limit(54, i + 1) - limit).abs() < 1.1e-3,
                "{got} {}",
                extreme_limit(54, i + 1)
            );
            left.remove(at);
        }
        assert_eq!(odd_ones(&plain(&data), 10), [53, 52, 51]);
    }

    /// Grubbs' two-sided 5 % table.
    #[test]
    fn grubbs_table() {
        for (n, printed) in [(5, 1.715), (10, 2.290), (20, 2.709), (30, 2.908)] {
            assert!((extreme_limit(n, 1) - printed).abs() < 1.1e-3, "{n}: {}", extreme_limit(n, 1));
        }
    }

    #[test]
    fn an_odd_bobbin_and_a_creep_are_called() {
        let mut counts = [50.0, 51.0, 49.5, 50.5, 50.2, 49.0, 51.2, 62.0, 50.4, 49.6].map(|t| Q::new(t, &TEX)).to_vec();
        let seen = watch(&counts, Q::new(0.1, &TEX), 20);
        assert_eq!(seen.odd, [7]);
        assert!(seen.drifts.is_empty());
        counts.extend([52.5, 53.0, 53.4, 52.8, 53.6].map(|t| Q::new(t, &TEX)));
        let seen = watch(&counts, Q::new(0.1, &TEX), 20);
        assert_eq!(seen.drifts.len(), 1);
        assert!(seen.drifts[0].up && (9..=11).contains(&seen.drifts[0].began), "{:?}", seen.drifts);
        assert!(drift_words(&seen.drifts[0], "yarn", "thicker", "thinner").starts_with("Your yarn: thicker by "));
    }

    #[test]
    fn one_step_of_the_counting_glass_is_no_news() {
        let mut picks = vec![12.0; 30];
        (picks[9], picks[20]) = (13.0, 11.0);
        let seen = watch(&plain(&picks), Q::si(1.0), 40);
        assert!(seen.odd.is_empty() && seen.drifts.is_empty(), "{seen:?}");
    }

    #[test]
    fn hostile_readings_do_no_harm() {
        let same = plain(&[1.0; 40]);
        assert!(watch(&same, Q::si(0.0), 0).odd.is_empty());
        let wild = plain(&[0.0, -1.0, 1e300, f64::MIN_POSITIVE, 3.0, 3.0, 3.0]);
        assert!(watch(&wild, Q::si(0.1), 5).scores.iter().flatten().all(|s| s.is_finite()));
        assert!(odd_ones(&plain(&[1.0, 9.0]), 5).is_empty());
    }
}
