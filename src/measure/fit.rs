//! The one page of mathematics under every estimate: the mean of a maker's work and its spread, from few readings.
//!
//! Model: reading `j` of group `g` (a bobbin, a session) is `m + b_g + e_gj`. The readings' variance `σ²` is shared out as
//! `ρσ²` between groups and `(1−ρ)σ²/w` within, `w` the number of unit samples a reading averages (metres of skein per 10 m,
//! say): ten breaks from one bobbin tell less than ten breaks from ten. Prior: `m` normal, `ln σ` normal (both from a middle
//! and a 10–90 % range), `ρ` spread over 0.02 to 0.85. Given `σ` and `ρ` the mean is conjugate, so it is integrated in closed
//! form; `σ` and `ρ` are summed over a grid. The answer is a mixture of normals, whose shape is that of Student's t: with few
//! readings its tails are as long as they must be. Semi-conjugate normal model as in Gelman et al., *Bayesian Data Analysis*,
//! ch. 3 and 5 (from memory); the checks are simulations with known truth.

use super::chance::{Mixture, Part, Z90};
use libm::{exp, log, sqrt};

/// On which scale readings scatter evenly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// In their own unit.
    Plain,
    /// In per cent of themselves: readings and prior are positive.
    Log,
}

/// One reading in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Which bobbin, skein or session it comes from.
    pub group: u32,
    pub value: f64,
    /// How many unit samples it averages, > 0.
    pub weight: f64,
}

/// What is asked of [`fit`]; ranges are `[middle, low, high]`, low and high the 10 % and 90 % points, low < high.
#[derive(Clone, Copy, Debug)]
pub struct Ask {
    pub scale: Scale,
    /// The mean, in SI.
    pub mean: [f64; 3],
    /// The spread of unit samples: on the log scale and where `relative`, a share of the mean; else in SI.
    pub spread: [f64; 3],
    pub relative: bool,
}

/// What the readings say.
#[derive(Clone, Debug)]
pub struct Fit {
    scale: Scale,
    asked: Ask,
    /// The mean over the whole job, on the scale.
    mean: Mixture,
    /// Logarithm of the spread.
    spread: Mixture,
    /// One more unit sample, on the scale.
    next: Mixture,
    /// Spread and mean together: (weight, spread, mean on the scale, its sd).
    joint: Vec<(f64, f64, Part)>,
    /// Readings.
    pub n: usize,
    /// Groups they come from.
    pub groups: usize,
    /// Share of the answer that is still the prior.
    pub prior_weight: f64,
    /// Share of the variance that lies between groups, when any group was read twice.
    pub between: Option<f64>,
}

/// What one way to share out the variance makes of the readings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    /// Logarithm of its prior weight times what does not depend on mean and spread.
    pub log_weight: f64,
    /// Readings.
    pub n: f64,
    /// Sum of weights, their weighted mean, and the weighted sum of squares about it.
    pub weight: f64,
    pub mean: f64,
    pub squares: f64,
    /// What distinguishes the case: ρ here, a fixed draw-in elsewhere.
    pub tag: f64,
}

/// One point of the grid: spread, case, and the mean given them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    pub weight: f64,
    pub sigma: f64,
    pub tag: f64,
    pub mean: f64,
    pub sd: f64,
}

/// Five points and weights that stand for a standard normal (Gauss–Hermite): right for its first nine moments.
pub(super) const HERMITE: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_720_69),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_64),
    (0.0, 0.533_333_333_333_333_3),
    (1.355_626_179_974_266, 0.222_075_922_005_612_64),
    (2.856_970_013_872_806, 0.011_257_411_327_720_69),
];

const SHARES_BETWEEN: [f64; 7] = [0.02, 0.1, 0.25, 0.4, 0.55, 0.7, 0.85];

/// A normal's mean and standard deviation from middle, 10 % and 90 % points.
pub(super) fn normal_of(range: [f64; 3]) -> (f64, f64) {
    (range[0], ((range[2] - range[1]) / (2.0 * Z90)).max(range[0].abs() * 1e-9 + 1e-300))
}

/// The same of logarithms.
pub(super) fn log_normal_of(range: [f64; 3]) -> (f64, f64) {
    (log(range[0]), (log(range[2] / range[1]) / (2.0 * Z90)).max(1e-9))
}

/// Groups summed up for a share `rho` of the variance between them.
fn case(groups: &[Vec<(f64, f64)>], rho: f64) -> Case {
    let (mut n, mut log_weight) = (0.0, 0.0);
    let (mut weight, mut sum, mut squares) = (0.0, 0.0, 0.0);
    let mut centres = Vec::with_capacity(groups.len());
    for group in groups {
        let units: f64 = group.iter().map(|r| r.1).sum();
        let centre = group.iter().map(|r| r.0 * r.1).sum::<f64>() / units;
        squares += group.iter().map(|r| r.1 * (r.0 - centre) * (r.0 - centre)).sum::<f64>() / (1.0 - rho);
        log_weight -= 0.5 * group.iter().map(|r| log((1.0 - rho) / r.1)).sum::<f64>();
        log_weight -= 0.5 * log(1.0 + rho * units / (1.0 - rho));
        let w = 1.0 / (rho + (1.0 - rho) / units);
        n += group.len() as f64;
        weight += w;
        sum += w * centre;
        centres.push((w, centre));
    }
    let mean = if weight > 0.0 { sum / weight } else { 0.0 };
    squares += centres.iter().map(|(w, c)| w * (c - mean) * (c - mean)).sum::<f64>();
    Case { log_weight, n, weight, mean, squares, tag: rho }
}

/// Posterior over spread and case, the mean integrated out. `mean`: prior mean and sd; `spread`: prior mean and sd of ln σ.
pub(super) fn posterior(cases: &[Case], mean: (f64, f64), spread: (f64, f64)) -> Vec<Point> {
    let (m0, s0) = mean;
    let score = |c: &Case, ln_sigma: f64| {
        let sigma2 = exp(2.0 * ln_sigma);
        let z = (ln_sigma - spread.0) / spread.1;
        let apart = if c.weight > 0.0 {
            let v = s0 * s0 + sigma2 / c.weight;
            0.5 * log(sigma2 / c.weight) - 0.5 * log(v) - (c.mean - m0) * (c.mean - m0) / (2.0 * v)
        } else {
            0.0
        };
        c.log_weight - 0.5 * z * z - c.n * ln_sigma - c.squares / (2.0 * sigma2) + apart
    };
    // Look coarsely where the weight lies, then finely there.
    let wide: Vec<f64> = (0..=72).map(|i| spread.0 + spread.1 * (f64::from(i) - 36.0) / 6.0).collect();
    let best = |s: f64| cases.iter().map(|c| score(c, s)).fold(f64::MIN, f64::max);
    let heights: Vec<f64> = wide.iter().map(|&s| best(s)).collect();
    let top = heights.iter().copied().fold(f64::MIN, f64::max);
    let inside: Vec<usize> = (0..wide.len()).filter(|&i| heights[i] > top - 12.0).collect();
    let (Some(first), Some(last)) = (inside.first(), inside.last()) else {
        // numbers beyond all arithmetic tell nothing: what was believed before stands
        let (sigma, tag) = (exp(spread.0), cases.first().map_or(0.0, |c| c.tag));
        return vec![Point { weight: 1.0, sigma, tag, mean: m0, sd: s0 }];
    };
    let (first, last) = (first.saturating_sub(1), (last + 1).min(wide.len() - 1));
    let fine = (0..=40).map(|i| wide[first] + (wide[last] - wide[first]) * f64::from(i) / 40.0);
    let mut points = Vec::new();
    let mut peak = f64::MIN;
    for s in fine {
        for c in cases {
            let height = score(c, s);
            peak = peak.max(height);
            let sigma = exp(s);
            let precision = 1.0 / (s0 * s0) + c.weight / (sigma * sigma);
            let centre = (m0 / (s0 * s0) + c.weight * c.mean / (sigma * sigma)) / precision;
            points.push(Point { weight: height, sigma, tag: c.tag, mean: centre, sd: sqrt(1.0 / precision) });
        }
    }
    points.iter_mut().for_each(|p| p.weight = exp(p.weight - peak));
    points.retain(|p| p.weight > 3e-5);
    let total: f64 = points.iter().map(|p| p.weight).sum();
    points.iter_mut().for_each(|p| p.weight /= total);
    points
}

/// A reading so many times the range of what makers have away from its middle is a slip of the pen, not a reading.
const SLIP: f64 = 1e4;

/// Fits `readings`. Those that are not finite, have no weight, lie beyond all that can be, or (on the log scale) are not positive are
/// left out.
pub fn fit(readings: &[Reading], ask: &Ask) -> Fit {
    let logs = ask.scale == Scale::Log;
    let [middle, low, high] = ask.mean;
    let can_be = |value: f64| {
        if logs {
            value > low / SLIP && value < high * SLIP
        } else {
            (value - middle).abs() < SLIP * (high - low).abs().max(middle.abs())
        }
    };
    let sound = |weight: f64| weight > 1e-9 && weight < 1e9;
    let good = |r: &&Reading| r.value.is_finite() && sound(r.weight) && can_be(r.value);
    let mut list: Vec<(u32, f64, f64)> =
        readings.iter().filter(good).map(|r| (r.group, if logs { log(r.value) } else { r.value }, r.weight)).collect();
    list.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2)));
    let mut groups: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut last = None;
    for (group, value, weight) in &list {
        if last != Some(*group) {
            groups.push(Vec::new());
            last = Some(*group);
        }
        if let Some(open) = groups.last_mut() {
            open.push((*value, *weight));
        }
    }
    // One unit sample a group: how the variance is shared out cannot matter.
    let alike = groups.iter().all(|g| g.len() == 1 && g[0].1 == 1.0);
    let shares: &[f64] = if alike { &[0.25] } else { &SHARES_BETWEEN };
    let cases: Vec<Case> = shares.iter().map(|&rho| case(&groups, rho)).collect();
    let mean = if logs { log_normal_of(ask.mean) } else { normal_of(ask.mean) };
    let points = posterior(&cases, mean, spread_prior(ask, &cases[cases.len() / 2], mean));
    sum_up(ask, &points, mean.1, list.len(), &groups)
}

/// Prior of ln σ. A relative spread on the plain scale is a share of the mean as it now looks.
fn spread_prior(ask: &Ask, case: &Case, mean: (f64, f64)) -> (f64, f64) {
    let (centre, sd) = log_normal_of(ask.spread);
    if ask.scale == Scale::Log || !ask.relative {
        return (centre, sd);
    }
    let sigma = ask.spread[0] * mean.0.abs();
    let pull = (sigma * sigma) / (sigma * sigma + case.weight * mean.1 * mean.1);
    let looks = pull * mean.0 + (1.0 - pull) * case.mean;
    (centre + log(looks.abs().max(f64::MIN_POSITIVE)), sd)
}

fn sum_up(ask: &Ask, points: &[Point], s0: f64, n: usize, groups: &[Vec<(f64, f64)>]) -> Fit {
    let logs = ask.scale == Scale::Log;
    // What a sum over the job needs is the arithmetic mean: exp(m + σ²/2) where readings scatter in per cent.
    let lift = |p: &Point| if logs { 0.5 * p.sigma * p.sigma } else { 0.0 };
    let whole = |p: &Point| Part { weight: p.weight, mean: p.mean + lift(p), sd: p.sd };
    let next = |p: &Point| Part { weight: p.weight, mean: p.mean, sd: sqrt(p.sd * p.sd + p.sigma * p.sigma) };
    let spread_of = |p: &Point| match (logs, ask.relative) {
        (true, _) => sqrt(exp(p.sigma * p.sigma) - 1.0),
        (false, true) => p.sigma / p.mean.abs().max(f64::MIN_POSITIVE),
        (false, false) => p.sigma,
    };
    // Half a step of the grid smooths its points into a curve.
    let step =
        points.windows(2).map(|w| log(w[1].sigma / w[0].sigma).abs()).filter(|s| *s > 0.0).fold(f64::MAX, f64::min);
    let step = if step < 1.0 { step } else { 1e-6 };
    let of_spread = |p: &Point| {
        let doubt = if !logs && ask.relative { p.sd / p.mean.abs().max(f64::MIN_POSITIVE) } else { 0.0 };
        Part { weight: p.weight, mean: log(spread_of(p)), sd: sqrt(doubt * doubt + 0.25 * step * step) }
    };
    let read_twice = groups.iter().any(|g| g.len() > 1);
    Fit {
        scale: ask.scale,
        asked: *ask,
        mean: Mixture::new(points.iter().map(whole).collect()),
        spread: Mixture::new(points.iter().map(of_spread).collect()),
        next: Mixture::new(points.iter().map(next).collect()),
        joint: points.iter().map(|p| (p.weight, spread_of(p), whole(p))).collect(),
        n,
        groups: groups.len(),
        prior_weight: if n == 0 { 1.0 } else { points.iter().map(|p| p.weight * p.sd * p.sd / (s0 * s0)).sum() },
        between: read_twice.then(|| points.iter().map(|p| p.weight * p.tag).sum()),
    }
}

impl Fit {
    fn back(&self, x: f64) -> f64 {
        if self.scale == Scale::Log { exp(x) } else { x }
    }

    /// `[middle, low, high]` of the mean over the whole job, in SI. Without readings the prior as it was given.
    pub fn mean_range(&self) -> [f64; 3] {
        if self.n == 0 { self.asked.mean } else { [0.5, 0.1, 0.9].map(|p| self.mean_at(p)) }
    }

    /// The mean's point of chance `p`, in SI.
    pub fn mean_at(&self, p: f64) -> f64 {
        self.back(self.mean.quantile(p))
    }

    /// `[middle, low, high]` of the spread of unit samples.
    pub fn spread_range(&self) -> [f64; 3] {
        if self.n == 0 { self.asked.spread } else { [0.5, 0.1, 0.9].map(|p| exp(self.spread.quantile(p))) }
    }

    /// `[middle, low, high]` of one more unit sample, in SI.
    pub fn next_range(&self) -> [f64; 3] {
        [0.5, 0.1, 0.9].map(|p| self.back(self.next.quantile(p)))
    }

    /// Mean over the job, on the scale (logarithms for [`Scale::Log`]).
    pub fn mean(&self) -> &Mixture {
        &self.mean
    }

    /// Mean and spread together, as `(weight, mean in SI, spread)`: 5 points of the mean for each spread. For what depends on
    /// both, such as the weakest of many links.
    pub fn joint(&self) -> Vec<(f64, f64, f64)> {
        let mut list = Vec::with_capacity(self.joint.len() * HERMITE.len());
        let top = self.joint.iter().fold(0.0_f64, |m, j| m.max(j.0));
        for &(weight, spread, part) in self.joint.iter().filter(|j| j.0 > 0.01 * top) {
            list.extend(HERMITE.iter().map(|&(z, w)| (weight * w, self.back(part.mean + z * part.sd), spread)));
        }
        list
    }
}
