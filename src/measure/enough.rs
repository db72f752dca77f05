//! How big a sample? The number of readings that brings the mean within so much, with the maker's own spread.

use super::chance::{normal_quantile, student_quantile};
use super::words::count_of;
use crate::units::{Q, Ratio};
use libm::ceil;

/// How many readings, and in which words.
#[derive(Clone, Debug, PartialEq)]
pub struct Enough {
    /// Readings in all.
    pub needed: usize,
    /// Still to take.
    pub more: usize,
    pub words: String,
}

/// Readings needed so that their mean is within ±`within` of the truth with chance `sure` (0.5 to 0.999), when single readings
/// spread by `spread` (standard deviation ÷ mean). `n = (t s / e)²` with Student's t for n − 1 (Cochran, *Sampling Techniques*,
/// ch. 4, from memory); never fewer than 3, at most 100 000. `one` names a reading: "break test".
pub fn enough(spread: Q<Ratio>, within: Q<Ratio>, sure: f64, have: usize, one: &str) -> Enough {
    let p = 0.5 + 0.5 * sure.clamp(0.5, 0.999);
    let ratio = spread.to_si().abs() / within.to_si().abs().max(1e-6);
    let z = normal_quantile(p) * ratio;
    // Student's t asks for a few more than the normal: walk up from there.
    let mut n = (ceil(z * z).min(100_000.0) as usize).max(3);
    while n < 100_000 {
        let t = student_quantile(p, (n - 1).min(400)) * ratio;
        if t * t <= n as f64 {
            break;
        }
        n += 1;
    }
    let more = n.saturating_sub(have);
    let words = if more == 0 {
        format!("{} are enough.", count_of(have, one))
    } else {
        format!("{} in all, {more} more; spread them over all your bobbins.", count_of(n, one))
    };
    Enough { needed: n, more, words }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half-width 5 % at 95 %: z alone gives 1.96²·(CV/5)²; tables of sample size with t add two.
    #[test]
    fn agrees_with_the_normal_rule_and_a_little_more() {
        for (cv, by_normal) in [(0.10, 16), (0.20, 62), (0.25, 97)] {
            let n = enough(Q::si(cv), Q::si(0.05), 0.95, 0, "break test").needed;
            assert!(n >= by_normal && n <= by_normal + 3, "{cv}: {n}");
        }
        assert_eq!(enough(Q::si(0.0), Q::si(0.05), 0.8, 1, "skein").more, 2);
        assert_eq!(enough(Q::si(1e9), Q::si(0.05), 0.8, 0, "skein").needed, 100_000);
    }
}
