//! The few distributions the estimates stand on: normal, Student's t with whole degrees of freedom, the Weibull shape from a
//! spread, and mixtures of normals. All through `libm`, so the same numbers come out on every machine.
//!
//! Pure numbers; knows no yarn and no unit. Checked in the tests against an independent library and against published tables.

use libm::{atan, cos, erfc, exp, lgamma, log, sin, sqrt};
use std::f64::consts::{FRAC_1_SQRT_2, FRAC_2_PI, PI};

/// The 90 % point of the standard normal: half of a 10–90 % range in standard deviations.
pub const Z90: f64 = 1.281_551_565_544_600_4;

/// Density of the standard normal.
pub fn normal_density(z: f64) -> f64 {
    exp(-0.5 * z * z) / sqrt(2.0 * PI)
}

/// Chance that a standard normal lies below `z`.
pub fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z * FRAC_1_SQRT_2)
}

/// The `z` a standard normal lies below with chance `p`; ±38 at the ends, where a double has no smaller chance.
pub fn normal_quantile(p: f64) -> f64 {
    // Work in the lower half, where erfc keeps its digits.
    if p > 0.5 {
        return -normal_quantile(1.0 - p);
    }
    root(|z| normal_below(z) - p, -38.0, 0.0)
}

/// Chance that Student's t with `df` ≥ 1 whole degrees of freedom lies below `t`. Finite sums of Abramowitz & Stegun
/// 26.7.3–26.7.4; good to 1e-15, so not for chances below 1e-12.
pub fn student_below(t: f64, df: usize) -> f64 {
    let nu = df.max(1);
    let theta = atan(t.abs() / sqrt(nu as f64));
    let (s, c) = (sin(theta), cos(theta));
    let between = if nu % 2 == 1 {
        let mut term = c;
        let mut sum = if nu > 1 { c } else { 0.0 };
        let mut j = 3;
        while j < nu {
            term *= c * c * (j - 1) as f64 / j as f64;
            sum += term;
            j += 2;
        }
        FRAC_2_PI * (theta + s * sum)
    } else {
        let (mut term, mut sum) = (1.0, 1.0);
        let mut j = 2;
        while j < nu {
            term *= c * c * (j - 1) as f64 / j as f64;
            sum += term;
            j += 2;
        }
        s * sum
    };
    let tail = 0.5 * (1.0 - between).max(0.0);
    if t < 0.0 { tail } else { 1.0 - tail }
}

/// The `t` that Student's t with `df` degrees of freedom lies below with chance `p`, 1e-9 < p < 1 − 1e-9.
pub fn student_quantile(p: f64, df: usize) -> f64 {
    if p > 0.5 {
        return -student_quantile(1.0 - p, df);
    }
    let mut low = -2.0;
    while student_below(low, df) > p && low > -1e12 {
        low *= 2.0;
    }
    root(|t| student_below(t, df) - p, low, 0.0)
}

/// Bisection of a rising `f` between `low` and `high`: 200 halvings at most, ends where the doubles end.
pub fn root(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Spread (standard deviation ÷ mean) of a Weibull with shape `k`.
pub fn weibull_spread(k: f64) -> f64 {
    let (one, two) = (lgamma(1.0 + 1.0 / k), lgamma(1.0 + 2.0 / k));
    sqrt((exp(two - 2.0 * one) - 1.0).max(0.0))
}

/// Shape of the Weibull whose spread is `cv`, for 0.5 % to 200 %; the nearer end outside.
pub fn weibull_shape(cv: f64) -> f64 {
    // ln spread falls almost straight with ln k: the secant needs a handful of steps.
    let want = log(cv.clamp(0.005, 2.0));
    let miss = |ln_k: f64| log(weibull_spread(exp(ln_k))) - want;
    let (mut a, mut b) = (-1.086 * want, -1.086 * want + 0.05);
    let mut at_a = miss(a);
    for _ in 0..30 {
        let at_b = miss(b);
        if at_b.abs() < 1e-13 || at_a == at_b {
            break;
        }
        (a, b, at_a) = (b, (b - at_b * (b - a) / (at_b - at_a)).clamp(-1.0, 6.0), at_b);
    }
    exp(b)
}

/// One part of a mixture.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    pub weight: f64,
    pub mean: f64,
    pub sd: f64,
}

/// A mixture of normals: what is believed of one number after seeing data, the doubt about the spread included.
#[derive(Clone, Debug)]
pub struct Mixture {
    parts: Vec<Part>,
}

impl Mixture {
    /// From parts with positive weights in any total; parts of no account are dropped. At least one part must remain.
    pub fn new(mut parts: Vec<Part>) -> Self {
        let top = parts.iter().fold(0.0_f64, |m, p| m.max(p.weight));
        parts.retain(|p| p.weight > top * 1e-6);
        let total: f64 = parts.iter().map(|p| p.weight).sum();
        parts.iter_mut().for_each(|p| p.weight /= total);
        Mixture { parts }
    }

    /// One normal.
    pub fn normal(mean: f64, sd: f64) -> Self {
        Mixture { parts: vec![Part { weight: 1.0, mean, sd }] }
    }

    /// Its parts, weights adding to one.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// Chance of lying below `x`.
    pub fn below(&self, x: f64) -> f64 {
        self.parts
            .iter()
            .map(|p| p.weight * if p.sd > 0.0 { normal_below((x - p.mean) / p.sd) } else { step(x, p.mean) })
            .sum()
    }

    /// Its mean.
    pub fn mean(&self) -> f64 {
        self.parts.iter().map(|p| p.weight * p.mean).sum()
    }

    /// Its standard deviation.
    pub fn sd(&self) -> f64 {
        let mean = self.mean();
        sqrt(self.parts.iter().map(|p| p.weight * (p.sd * p.sd + (p.mean - mean) * (p.mean - mean))).sum())
    }

    /// The number it lies below with chance `p`.
    pub fn quantile(&self, p: f64) -> f64 {
        let ends = self
            .parts
            .iter()
            .fold((f64::MAX, f64::MIN), |(a, b), q| (a.min(q.mean - 9.0 * q.sd), b.max(q.mean + 9.0 * q.sd)));
        let (mut low, mut high) = ends;
        let mut x = (self.mean() + self.sd() * normal_quantile_near(p)).clamp(low, high);
        // Newton inside a shrinking bracket.
        for _ in 0..80 {
            let miss = self.below(x) - p;
            if miss.abs() < 1e-10 {
                break;
            }
            if miss < 0.0 {
                low = x
            } else {
                high = x
            }
            let slope: f64 = self
                .parts
                .iter()
                .filter(|q| q.sd > 0.0)
                .map(|q| q.weight * normal_density((x - q.mean) / q.sd) / q.sd)
                .sum();
            let next = x - miss / slope;
            x = if next > low && next < high { next } else { 0.5 * (low + high) };
            if high - low <= 1e-13 * (low.abs() + high.abs()) {
                break;
            }
        }
        x
    }
}

/// 0 below, 1 above.
fn step(x: f64, at: f64) -> f64 {
    if x < at { 0.0 } else { 1.0 }
}

/// A start for Newton: good to 0.5 (Abramowitz & Stegun 26.2.22 is good to 0.003).
fn normal_quantile_near(p: f64) -> f64 {
    let q = p.min(1.0 - p).max(1e-300);
    let t = sqrt(-2.0 * log(q));
    let z = t - (2.30753 + 0.27061 * t) / (1.0 + 0.99229 * t + 0.04481 * t * t);
    if p < 0.5 { -z } else { z }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

    #[test]
    fn normal_and_student_agree_with_an_independent_library() {
        let normal = Normal::new(0.0, 1.0).unwrap();
        for i in -60..=60 {
            let z = f64::from(i) * 0.1;
            assert!((normal_below(z) - normal.cdf(z)).abs() < 1e-9, "{z}");
            for df in [1, 2, 3, 4, 7, 12, 30, 101] {
                let theirs = StudentsT::new(0.0, 1.0, df as f64).unwrap().cdf(z);
                assert!((student_below(z, df) - theirs).abs() < 1e-9, "t {z} with {df}");
            }
        }
        for p in [1e-6, 0.025, 0.1, 0.5, 0.9, 0.999] {
            assert!((normal_below(normal_quantile(p)) - p).abs() < 1e-12 * (1.0 + p));
            assert!((normal_quantile(p) - normal_quantile_near(p)).abs() < 0.01);
        }
    }

    /// Student's table as printed in every statistics text (two-sided 5 %).
    #[test]
    fn students_table() {
        for (df, printed) in [(1, 12.706), (2, 4.303), (4, 2.776), (9, 2.262), (19, 2.093), (29, 2.045)] {
            assert!((student_quantile(0.975, df) - printed).abs() < 5.1e-4, "{df}");
        }
    }

    #[test]
    fn weibull_shape_undoes_its_spread() {
        for k in [0.55, 1.0, 2.0, 3.6, 6.5, 20.0, 100.0, 250.0] {
            assert!(
                (weibull_shape(weibull_spread(k)) - k).abs() < 1e-6 * k,
                "{k}: {}",
                weibull_shape(weibull_spread(k))
            );
        }
        assert!(weibull_shape(1e-9).is_finite() && weibull_shape(1e9) > 0.0);
        // An exponential is the Weibull of shape 1; Rayleigh's spread is sqrt(4/pi - 1).
        assert!((weibull_spread(1.0) - 1.0).abs() < 1e-12);
        assert!((weibull_spread(2.0) - sqrt(4.0 / PI - 1.0)).abs() < 1e-12);
    }

    #[test]
    fn mixture_quantiles_are_where_its_chance_is() {
        let parts = vec![
            Part { weight: 2.0, mean: 0.0, sd: 1.0 },
            Part { weight: 1.0, mean: 5.0, sd: 0.2 },
            Part { weight: 1e-12, mean: 1e6, sd: 1.0 },
        ];
        let m = Mixture::new(parts);
        assert_eq!(m.parts().len(), 2);
        for p in [0.001, 0.1, 0.5, 0.66, 0.67, 0.9, 0.999] {
            assert!((m.below(m.quantile(p)) - p).abs() < 1e-8, "{p}");
        }
        assert!((m.mean() - 5.0 / 3.0).abs() < 1e-12);
    }
}
