//! Will I run out: the chance to finish with what is spun or left to spin, from what was weighed and woven so far.
//!
//! Knows masses, lengths and ranges; what is needed is handed in. Rescues are worked out elsewhere, through the whole plan.

use super::chance::{Mixture, Part, Z90, normal_below};
use super::fit::{Ask, HERMITE, Reading, Scale, fit, log_normal_of};
use super::watch::watch;
use super::{Estimate, Prior};
use crate::units::{Length, LinearDensity, Mass, Q, Ratio};
use libm::{exp, log, sqrt};

/// Below this chance to finish the maker is warned.
pub const WARN_BELOW: f64 = 0.8;

/// How it stands.
#[derive(Clone, Debug)]
pub struct Finish<D> {
    /// Chance that there is enough.
    pub chance: Q<Ratio>,
    /// What will be left over at the end: middle, 10 % and 90 %; below zero it is missing.
    pub over: [Q<D>; 3],
    pub warn: bool,
    pub words: String,
}

fn words(chance: f64, n: usize) -> String {
    let how = match chance {
        c if c >= 0.95 => "There is enough.",
        c if c >= WARN_BELOW => "Probably enough. Weigh again soon.",
        c if c >= 0.5 => "It may not be enough. Decide now, while there is still a choice.",
        c if c >= 0.1 => "Probably not enough. Choose a way out before you go on.",
        _ => "Not enough.",
    };
    if n < 3 { format!("{how} Few weighings yet.") } else { how.to_string() }
}

/// Spinning: yarn done and fibre left.
#[derive(Clone, Copy, Debug)]
pub struct Spinning<'a> {
    /// Yarn spun so far.
    pub spun: Q<Mass>,
    /// Fibre ready for the wheel, still to be spun.
    pub fibre: Q<Mass>,
    /// Share of it that becomes yarn.
    pub keeps: &'a Estimate<Ratio>,
    /// The yarn's count.
    pub count: &'a Estimate<LinearDensity>,
    /// Yarn length the job needs: middle, 10 %, 90 %.
    pub need: [Q<Length>; 3],
}

/// Whether the fibre lasts.
pub fn spinning(state: &Spinning) -> Finish<Length> {
    let keeps = range(state.keeps);
    let (count, count_sd) = log_normal_of(range(state.count));
    let (need, need_sd) = log_normal_of(state.need.map(Q::to_si));
    let keeps_sd = (keeps[2] - keeps[1]) / (2.0 * super::chance::Z90);
    let mass =
        |z: f64| (state.spun.to_si() + state.fibre.to_si() * (keeps[0] + z * keeps_sd).clamp(0.0, 1.0)).max(1e-12);
    // Yarn that can be had ÷ yarn needed is lognormal for each share kept.
    let sd = sqrt(count_sd * count_sd + need_sd * need_sd);
    let chance: f64 = HERMITE.iter().map(|&(z, w)| w * normal_below((log(mass(z)) - count - need) / sd)).sum();
    let points = HERMITE.iter().flat_map(|&(zk, wk)| {
        HERMITE.iter().flat_map(move |&(zc, wc)| HERMITE.iter().map(move |&(zn, wn)| (wk * wc * wn, zk, zc, zn)))
    });
    let over: Vec<(f64, f64)> =
        points.map(|(w, zk, zc, zn)| (w, mass(zk) / exp(count + zc * count_sd) - exp(need + zn * need_sd))).collect();
    let over = super::links::weighted_range(&over).map(Q::si);
    Finish { chance: Q::si(chance), over, warn: chance < WARN_BELOW, words: words(chance, state.count.n) }
}

fn range<D: crate::units::Dimension>(e: &Estimate<D>) -> [f64; 3] {
    [e.middle.to_si(), e.low.to_si(), e.high.to_si()]
}

/// Weft used over a length of cloth between two weighings.
#[derive(Clone, Copy, Debug)]
pub struct Used {
    pub weft: Q<Mass>,
    pub woven: Q<Length>,
}

/// The length whose use of weft is one sample.
pub const USUAL_ADVANCE: Q<Length> = Q::si(0.1);

/// Weft used per length of cloth; only since the last drift, if its use has drifted. The prior is the plan's own figure and its range.
pub fn weft_use(used: &[Used], prior: &Prior<LinearDensity>, scatter: &Prior<Ratio>) -> Estimate<LinearDensity> {
    super::yarn::estimate(&weft_fit(used, prior, scatter), prior, "weighing", "weighing")
}

fn weft_fit(used: &[Used], prior: &Prior<LinearDensity>, scatter: &Prior<Ratio>) -> super::fit::Fit {
    let sound: Vec<&Used> = used.iter().filter(|u| u.woven.to_si() > 0.0 && u.weft.to_si() >= 0.0).collect();
    let rate = |u: &Used| -> Q<LinearDensity> { Q::si(u.weft.to_si() / u.woven.to_si()) };
    // Once the use has drifted, what was before says nothing of what is to come.
    let rates: Vec<Q<LinearDensity>> = sound.iter().map(|u| rate(u)).collect();
    let from = watch(&rates, Q::si(0.0), rates.len()).drifts.last().map_or(0, |d| d.began);
    let reading =
        |(i, u): (usize, &&Used)| Reading { group: i as u32, value: rate(u).to_si(), weight: u.woven / USUAL_ADVANCE };
    let readings: Vec<Reading> = sound[from..].iter().enumerate().map(reading).collect();
    // And the level that was assumed has moved: from here it is a rule of thumb again.
    let [middle, low, high] = prior.numbers();
    let mean = if from > 0 { [middle, low.min(0.75 * middle), high.max(middle / 0.75)] } else { [middle, low, high] };
    fit(&readings, &Ask { scale: Scale::Plain, mean, spread: scatter.numbers(), relative: true })
}

/// Whether the weft lasts for `to_weave` (middle, 10 %, 90 %) of cloth, with `left` of weft.
pub fn weaving(
    left: Q<Mass>,
    used: &[Used],
    prior: &Prior<LinearDensity>,
    scatter: &Prior<Ratio>,
    to_weave: [Q<Length>; 3],
) -> Finish<Mass> {
    let found = weft_fit(used, prior, scatter);
    let spread = found.spread_range()[0] * found.mean_range()[0].abs();
    if to_weave[0].to_si() <= 0.0 {
        return Finish { chance: Q::si(1.0), over: [left; 3], warn: false, words: "Woven to the end.".to_string() };
    }
    let [length, least, most] = to_weave.map(Q::to_si);
    let mut parts = Vec::new();
    for (z, w) in HERMITE {
        // two half-normals: near the end the doubt of the length is not small against it, and it may be nothing
        let side = if z < 0.0 { length - least } else { most - length };
        let metres = (length + z / Z90 * side).max(1e-6);
        let units = metres / USUAL_ADVANCE.to_si();
        // The mean is in doubt, and what is still to come scatters about it.
        let part = |p: &Part| Part {
            weight: p.weight * w,
            mean: p.mean * metres,
            sd: metres * sqrt(p.sd * p.sd + spread * spread / units.max(1.0)),
        };
        parts.extend(found.mean().parts().iter().map(part));
    }
    let need = Mixture::new(parts);
    let chance = need.below(left.to_si());
    let over = [0.5, 0.9, 0.1].map(|p| Q::si(left.to_si() - need.quantile(p)));
    Finish { chance: Q::si(chance), over, warn: chance < WARN_BELOW, words: words(chance, found.n) }
}

/// How much cloth the weft left over will give: middle, 10 %, 90 %.
pub fn reach(left: Q<Mass>, weft_use: &Estimate<LinearDensity>) -> [Q<Length>; 3] {
    let r = range(weft_use);
    [left.to_si() / r[0], left.to_si() / r[2], left.to_si() / r[1]].map(Q::si)
}

/// The first moment at which a history of chances calls a warning that stands: its place in the list.
pub fn first_warning<D>(history: &[Finish<D>]) -> Option<usize> {
    history.iter().position(|f| f.warn)
}
