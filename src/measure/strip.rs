//! What a printed test strip says of the cloth: its finest line, gap and dot, as multiples of the widest thread spacing and as the spread of
//! ink past an edge. A strip is read at a few widths only, so one strip moves the rule of thumb half way, three settle it.

use super::fit::{Ask, Reading, Scale, fit};
use super::yarn::estimate;
use super::{Estimate, Prior, priors};
use crate::units::{Dimension, Length, Q, Ratio};

/// One strip, washed: the finest that came out whole, where it was read.
#[derive(Clone, Copy, Debug, Default)]
pub struct Strip {
    pub line: Option<Q<Length>>,
    pub gap: Option<Q<Length>>,
    pub dot: Option<Q<Length>>,
}

/// What strips say.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Line and dot that hold, in the widest thread spacing.
    pub line: Estimate<Ratio>,
    pub dot: Estimate<Ratio>,
    /// How far ink spreads past an edge: half of what the finest gap is wider than the finest line.
    pub gain: Estimate<Length>,
}

/// Limits from strips printed on a cloth whose widest thread spacing is `spacing`.
pub fn limits(
    strips: &[Strip],
    spacing: Q<Length>,
    line: &Prior<Ratio>,
    dot: &Prior<Ratio>,
    gain: &Prior<Length>,
) -> Limits {
    let shares = |of: fn(&Strip) -> Option<Q<Length>>| -> Vec<f64> {
        strips.iter().filter_map(of).map(|width| width / spacing).collect()
    };
    // a gap that is finer than the line says that nothing spread: as good as nothing, and above it for the logarithm
    let least = 0.1 * gain.low.to_si();
    let spread = |strip: &Strip| Some(((strip.gap?.to_si() - strip.line?.to_si()) / 2.0).max(least));
    Limits {
        line: one(&shares(|strip| strip.line), line),
        dot: one(&shares(|strip| strip.dot), dot),
        gain: one(&strips.iter().filter_map(spread).collect::<Vec<_>>(), gain),
    }
}

fn one<D: Dimension>(values: &[f64], prior: &Prior<D>) -> Estimate<D> {
    let reading = |(group, value): (usize, &f64)| Reading { group: group as u32, value: *value, weight: 1.0 };
    let readings: Vec<Reading> = values.iter().enumerate().map(reading).collect();
    let ask =
        Ask { scale: Scale::Log, mean: prior.numbers(), spread: priors::strip_scatter().numbers(), relative: true };
    estimate(&fit(&readings, &ask), prior, "strip", "strip")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::MM;

    fn strip(line: f64, gap: f64, dot: f64) -> Strip {
        Strip { line: Some(Q::new(line, &MM)), gap: Some(Q::new(gap, &MM)), dot: Some(Q::new(dot, &MM)) }
    }

    #[test]
    fn strips_move_the_rule_of_thumb_towards_themselves() {
        let line = Prior { middle: Q::si(1.5), low: Q::si(1.2), high: Q::si(2.5), source: "practice" };
        let dot = Prior { middle: Q::si(2.0), low: Q::si(1.6), high: Q::si(3.0), source: "practice" };
        let gain = Prior::new(0.15, 0.08, 0.3, &MM, "practice");
        let of = |strips: &[Strip]| limits(strips, Q::new(0.7, &MM), &line, &dot, &gain);
        let none = of(&[]);
        assert_eq!((none.line.n, none.line.middle.to_si()), (0, 1.5));
        // 1.4 mm on 0.7 mm is two spacings; the gap is 0.5 mm wider
        let (one, three) = (of(&[strip(1.4, 1.9, 1.8)]), of(&[strip(1.4, 1.9, 1.8); 3]));
        let (a, b) = (one.line.middle.to_si(), three.line.middle.to_si());
        assert!(1.6 < a && a < b && b < 2.05, "{a} {b}");
        assert!(three.line.high.to_si() - three.line.low.to_si() < one.line.high.to_si() - one.line.low.to_si());
        assert!(three.gain.middle.get(&MM) > 0.19 && three.gain.middle.get(&MM) < 0.26, "{:?}", three.gain.middle);
        assert!(three.dot.middle.to_si() > 2.2);
        // a gap finer than the line is no NaN
        assert!(of(&[strip(1.4, 1.2, 1.8)]).gain.middle.get(&MM) < 0.15);
    }
}
