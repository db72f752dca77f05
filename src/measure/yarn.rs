//! What skeins, twist counts and break tests say of the yarn: its count and unevenness, the twist it got, the length it loses
//! in the wash, its strength and how much that varies.

use super::fit::{Ask, Fit, Reading, Scale, fit};
use super::links::normal_weakest;
use super::words::rests_on;
use super::{Estimate, Prior};
use crate::units::{Force, Length, LinearDensity, Mass, PerLength, Q, Ratio};

/// The length whose unevenness is spoken of: one weighing of 10 m. Over other lengths the spread differs.
pub const WEIGHED_LENGTH: Q<Length> = Q::si(10.0);

/// A skein or a length cut from one bobbin, weighed.
#[derive(Clone, Copy, Debug)]
pub struct Skein {
    pub bobbin: u32,
    pub mass: Q<Mass>,
    /// Length as it was counted, on the reel.
    pub counted: Q<Length>,
    /// Length after washing and drying, when it was measured again.
    pub washed: Option<Q<Length>>,
}

/// What is known of the count.
#[derive(Clone, Debug)]
pub struct Count {
    /// Mean count of washed, relaxed yarn over the whole job.
    pub count: Estimate<LinearDensity>,
    /// Spread of the count over lengths of [`WEIGHED_LENGTH`] (standard deviation ÷ mean).
    pub unevenness: Estimate<Ratio>,
    /// Share of that variance which lies between bobbins rather than within them, when any bobbin was weighed twice.
    pub between_bobbins: Option<f64>,
    /// The count of the next 10 m, nine times in ten above `low` and nine in ten below `high`.
    pub next: [Q<LinearDensity>; 3],
}

/// Count and unevenness. A skein whose washed length is missing is taken to lose `loss` of its length.
pub fn count(skeins: &[Skein], loss: Q<Ratio>, prior: &Prior<LinearDensity>, uneven: &Prior<Ratio>) -> Count {
    let reading = |s: &Skein| {
        let length = s.washed.map_or(s.counted.to_si() * (1.0 - loss.to_si()), Q::to_si);
        Reading { group: s.bobbin, value: s.mass.to_si() / length, weight: length / WEIGHED_LENGTH.to_si() }
    };
    let readings: Vec<Reading> = skeins.iter().filter(|s| s.mass.to_si() > 0.0).map(reading).collect();
    let found =
        fit(&readings, &Ask { scale: Scale::Plain, mean: prior.numbers(), spread: uneven.numbers(), relative: true });
    let mut count = estimate(&found, prior, "skein", "bobbin");
    let unwashed = skeins.iter().filter(|s| s.washed.is_none()).count();
    if found.n > 0 && unwashed > 0 {
        count = count.say(&format!("{unwashed} not measured after washing: the usual loss of length was taken."));
    }
    let next = found.next_range().map(Q::si);
    Count { count, unevenness: spread(&found, uneven, "weighing", "bobbin"), between_bobbins: found.between, next }
}

/// Length a skein loses in the wash, as a share of the counted length. Negative when it grew.
pub fn wash_loss(skeins: &[Skein], prior: &Prior<Ratio>, scatter: &Prior<Ratio>) -> Estimate<Ratio> {
    let pairs: Vec<(u32, f64, f64)> =
        skeins.iter().filter_map(|s| Some((s.bobbin, s.counted.to_si(), s.washed?.to_si()))).collect();
    loss(&pairs, prior, scatter, "washed skein", "bobbin")
}

/// A share lost, from pairs (group, before, after), each pair one reading.
pub(super) fn loss(
    pairs: &[(u32, f64, f64)],
    prior: &Prior<Ratio>,
    scatter: &Prior<Ratio>,
    one: &str,
    place: &str,
) -> Estimate<Ratio> {
    let readings: Vec<Reading> = pairs
        .iter()
        .filter(|(_, before, after)| *before > 0.0 && *after >= 0.0)
        .map(|&(group, before, after)| Reading { group, value: 1.0 - after / before, weight: 1.0 })
        .collect();
    let ask = Ask { scale: Scale::Plain, mean: prior.numbers(), spread: scatter.numbers(), relative: false };
    let found = fit(&readings, &ask);
    if found.n == 0 {
        return Estimate::assumed(prior);
    }
    let range = found.mean_range();
    // A loss is judged by what is kept: 8 ± 1 % lost is 92 kept within 1 %.
    let half = (range[2] - range[1]) / (2.0 * (1.0 - range[0]).abs().max(1e-9));
    let words = rests_on(found.n, found.groups, one, place, found.prior_weight, half);
    Estimate::of(range, found.n, found.prior_weight, words)
}

/// Twist counted on a length of yarn spun at a set twist.
#[derive(Clone, Copy, Debug)]
pub struct TwistTest {
    pub bobbin: u32,
    pub set: Q<PerLength>,
    pub counted: Q<PerLength>,
}

/// Twist got ÷ twist set.
pub fn twist_got(tests: &[TwistTest], prior: &Prior<Ratio>, scatter: &Prior<Ratio>) -> Estimate<Ratio> {
    let good = |t: &&TwistTest| t.set.to_si() > 0.0 && t.counted.to_si() > 0.0;
    let readings: Vec<Reading> =
        tests.iter().filter(good).map(|t| Reading { group: t.bobbin, value: t.counted / t.set, weight: 1.0 }).collect();
    let ask = Ask { scale: Scale::Log, mean: prior.numbers(), spread: scatter.numbers(), relative: true };
    estimate(&fit(&readings, &ask), prior, "twist count", "bobbin")
}

/// The length between the hands that break loads are spoken of at.
pub const USUAL_GAUGE: Q<Length> = Q::si(0.5);

/// One break.
#[derive(Clone, Copy, Debug)]
pub struct BreakTest {
    pub bobbin: u32,
    pub load: Q<Force>,
    /// Length between the hands.
    pub gauge: Q<Length>,
}

/// A load as it would have been at [`USUAL_GAUGE`]: a longer piece holds more weak places, so it breaks earlier. The weakest of `n`
/// normal links lies `normal_weakest(n)` spreads below the mean (Peirce 1926); exact for one spread, `cv`.
pub fn at_usual_gauge(test: &BreakTest, cv: Q<Ratio>) -> Q<Force> {
    let links = (test.gauge / USUAL_GAUGE).clamp(0.01, 1000.0);
    let drop = |n: f64| (1.0 - normal_weakest(n) * cv.to_si()).max(0.1);
    test.load * if links >= 1.0 { 1.0 / drop(links) } else { drop(1.0 / links) }
}

/// What is known of the strength.
#[derive(Clone, Debug)]
pub struct Strength {
    /// Mean break load at 50 cm.
    pub mean: Estimate<Force>,
    /// Its spread (standard deviation ÷ mean): what decides how often a warp breaks.
    pub spread: Estimate<Ratio>,
    pub(super) fit: Fit,
}

/// Strength from break tests.
pub fn strength(tests: &[BreakTest], prior: &Prior<Force>, spread_prior: &Prior<Ratio>) -> Strength {
    let cv = spread_prior.middle;
    let load = |t: &BreakTest| if t.gauge == USUAL_GAUGE { t.load } else { at_usual_gauge(t, cv) };
    let reading = |t: &BreakTest| Reading { group: t.bobbin, value: load(t).to_si(), weight: 1.0 };
    let readings: Vec<Reading> = tests.iter().filter(|t| t.load.to_si() > 0.0).map(reading).collect();
    let ask = Ask { scale: Scale::Plain, mean: prior.numbers(), spread: spread_prior.numbers(), relative: true };
    let fit = fit(&readings, &ask);
    let mean = estimate(&fit, prior, "break", "bobbin");
    Strength { mean, spread: spread(&fit, spread_prior, "break", "bobbin"), fit }
}

/// The mean of `found` as an estimate.
pub(super) fn estimate<D: crate::units::Dimension>(
    found: &Fit,
    prior: &Prior<D>,
    one: &str,
    place: &str,
) -> Estimate<D> {
    if found.n == 0 {
        return Estimate::assumed(prior);
    }
    let range = found.mean_range();
    let half = (range[2] - range[1]) / (2.0 * range[0].abs().max(f64::MIN_POSITIVE));
    let words = rests_on(found.n, found.groups, one, place, found.prior_weight, half);
    Estimate::of(range, found.n, found.prior_weight, words)
}

/// The spread of `found` as an estimate. What is left of its prior is the narrowing of its range on the log scale.
pub(super) fn spread(found: &Fit, prior: &Prior<Ratio>, one: &str, place: &str) -> Estimate<Ratio> {
    if found.n < 2 {
        return Estimate::assumed(prior);
    }
    let range = found.spread_range();
    let log_width = |low: f64, high: f64| libm::log(high / low);
    let kept = log_width(range[1], range[2]) / log_width(prior.low.to_si(), prior.high.to_si()).max(1e-9);
    let words = rests_on(found.n, found.groups, one, place, (kept * kept).min(1.0), 0.0);
    // A spread's own precision comes slowly; the sentence on the middle's goodness would mislead.
    let words = words.replace(" A good figure: more would change little.", "");
    let words = format!("{words} A spread needs about twenty to be known to a sixth.");
    Estimate::of(range, found.n, (kept * kept).min(1.0), words)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Five half metres in a row: the rule printed in `peirce-1926` puts the weakest 1.16 spreads below the mean.
    #[test]
    fn a_longer_gauge_is_brought_back_to_the_usual_one() {
        let test = |gauge| BreakTest { bobbin: 1, load: Q::si(4.0), gauge: Q::si(gauge) };
        let load = at_usual_gauge(&test(2.5), Q::si(0.2)).to_si();
        assert!((load - 4.0 / (1.0 - 1.163 * 0.2)).abs() < 2e-3, "{load}");
        let short = at_usual_gauge(&test(0.1), Q::si(0.2)).to_si();
        assert!((short - 4.0 * (1.0 - 1.163 * 0.2)).abs() < 2e-3, "{short}");
        assert!((at_usual_gauge(&test(0.5), Q::si(0.2)).to_si() - 4.0).abs() < 1e-9);
    }
}
