//! What swatches say of the cloth: take-up, relaxing off the loom, draw-in in a fixed and a per-cent part, shrinking in the
//! wash. Widths and lengths are kept apart in three states: on the loom, off the loom, washed.

use super::chance::{Mixture, Part};
use super::fit::{Case, log_normal_of, normal_of, posterior};
use super::words::rests_on;
use super::yarn::loss;
use super::{Estimate, Prior};
use crate::units::{Length, Q, Ratio};
use libm::{exp, log, sqrt};

/// A sample of cloth, measured in up to three states. What was not measured stays out.
#[derive(Clone, Copy, Debug, Default)]
pub struct Swatch {
    /// Which warp it was woven on.
    pub warp: u32,
    /// Width of the warp in the reed or heddle.
    pub in_reed: Option<Q<Length>>,
    /// Width at the fell, on the loom.
    pub width_on_loom: Option<Q<Length>>,
    pub width_off_loom: Option<Q<Length>>,
    pub width_washed: Option<Q<Length>>,
    /// Length between two marks, under weaving tension, off the loom, washed.
    pub length_on_loom: Option<Q<Length>>,
    pub length_off_loom: Option<Q<Length>>,
    pub length_washed: Option<Q<Length>>,
    /// A warp thread and a weft thread pulled out of the off-loom cloth and straightened, with the cloth they came from.
    pub warp_thread: Option<(Q<Length>, Q<Length>)>,
    pub weft_thread: Option<(Q<Length>, Q<Length>)>,
}

/// Below this a swatch's edges are too large a share of it: a 12 cm sample that did not shrink came from cloth that lost a
/// seventh of its width.
pub const TOO_NARROW: Q<Length> = Q::si(0.2);

/// What is assumed of the cloth.
#[derive(Clone, Copy, Debug)]
pub struct ClothPriors {
    pub take_up: Prior<Ratio>,
    pub relax: Prior<Ratio>,
    pub shrink_width: Prior<Ratio>,
    pub shrink_length: Prior<Ratio>,
    /// Draw-in: its per-cent part and its fixed part.
    pub draw_in_share: Prior<Ratio>,
    pub draw_in_fixed: Prior<Length>,
    /// How much one swatch differs from the next in these.
    pub scatter: Prior<Ratio>,
    /// How much one measured width differs from what the two parts of draw-in say.
    pub width_scatter: Prior<Length>,
}

/// What is known of the cloth.
#[derive(Clone, Debug)]
pub struct ClothFound {
    /// Share of the warp yarn taken up by crimp, off the loom.
    pub take_up: Estimate<Ratio>,
    /// Length lost on coming off the loom.
    pub relax: Estimate<Ratio>,
    pub shrink_width: Estimate<Ratio>,
    pub shrink_length: Estimate<Ratio>,
    pub draw_in: DrawIn,
}

/// A length in one state and in the next.
type BeforeAfter = (Q<Length>, Q<Length>);

/// All that swatches say.
pub fn cloth(swatches: &[Swatch], priors: &ClothPriors) -> ClothFound {
    let pairs = |of: fn(&Swatch) -> Option<BeforeAfter>| -> Vec<(u32, f64, f64)> {
        swatches.iter().filter_map(|s| of(s).map(|(a, b)| (s.warp, a.to_si(), b.to_si()))).collect()
    };
    let narrow = swatches.iter().filter_map(|s| s.width_off_loom).all(|w| w < TOO_NARROW);
    let ask = |of, prior: &Prior<Ratio>| {
        let found = loss(&pairs(of), prior, &priors.scatter, "swatch", "warp");
        if found.n > 0 && narrow {
            found.say("Your swatches are narrow: a wide cloth often shrinks more. Weave one at least 20 cm wide.")
        } else {
            found
        }
    };
    ClothFound {
        take_up: loss(&pairs(|s| s.warp_thread), &priors.take_up, &priors.scatter, "pulled thread", "warp"),
        relax: ask(|s| s.length_on_loom.zip(s.length_off_loom), &priors.relax),
        shrink_width: ask(|s| s.width_off_loom.zip(s.width_washed), &priors.shrink_width),
        shrink_length: ask(|s| s.length_off_loom.zip(s.length_washed), &priors.shrink_length),
        draw_in: draw_in(swatches, priors),
    }
}

/// Draw-in split in two: `off loom = in reed × (1 − share) − fixed`.
#[derive(Clone, Debug)]
pub struct DrawIn {
    pub share: Estimate<Ratio>,
    pub fixed: Estimate<Length>,
    /// Whether widths differ enough to tell the parts from each other.
    pub split: bool,
    /// (weight, fixed part in m, per-cent part: mean and sd), for [`DrawIn::off_loom`].
    parts: Vec<(f64, f64, f64, f64)>,
}

/// Steps of the fixed part's grid, in standard deviations of its logarithm.
const FIXED_STEP: f64 = 0.4;

/// Fits both parts. The fixed part runs over a grid of its prior; given it, the per-cent part is a weighted mean.
pub fn draw_in(swatches: &[Swatch], priors: &ClothPriors) -> DrawIn {
    let widths: Vec<(f64, f64)> = swatches
        .iter()
        .filter_map(|s| Some((s.in_reed?.to_si(), s.width_off_loom?.to_si())))
        .filter(|(reed, off)| *reed > 0.0 && *off > 0.0)
        .collect();
    let (fixed_mean, fixed_sd) = log_normal_of(priors.draw_in_fixed.numbers());
    let cases: Vec<Case> = (-10..=10)
        .map(|i| {
            let z = f64::from(i) * FIXED_STEP;
            case(&widths, exp(fixed_mean + z * fixed_sd), -0.5 * z * z)
        })
        .collect();
    let share_prior = normal_of(priors.draw_in_share.numbers());
    let points = posterior(&cases, share_prior, log_normal_of(priors.width_scatter.numbers()));
    let parts: Vec<_> = points.iter().map(|p| (p.weight, p.tag, p.mean, p.sd)).collect();
    let reeds = widths.iter().fold((f64::MAX, 0.0_f64), |(a, b), w| (a.min(w.0), b.max(w.0)));
    let split = widths.len() > 1 && reeds.1 >= 1.5 * reeds.0;
    if widths.is_empty() {
        let (share, fixed) = (Estimate::assumed(&priors.draw_in_share), Estimate::assumed(&priors.draw_in_fixed));
        return DrawIn { share, fixed, split, parts };
    }
    let n = widths.len();
    let advice = if split {
        String::new()
    } else {
        let other = if reeds.1 < 0.3 { "three times as wide" } else { "a third as wide" };
        format!("One width only: the total is measured, its split is not. Weave a swatch {other} to tell the parts.")
    };
    let share = Mixture::new(points.iter().map(|p| Part { weight: p.weight, mean: p.mean, sd: p.sd }).collect());
    let step = fixed_sd * FIXED_STEP;
    let fixed =
        Mixture::new(points.iter().map(|p| Part { weight: p.weight, mean: log(p.tag), sd: 0.5 * step }).collect());
    let kept = (share.sd() / share_prior.1).min(1.0);
    let kept_fixed = (fixed.sd() / fixed_sd).min(1.0);
    let range = [0.5, 0.1, 0.9].map(|p| share.quantile(p));
    let fixed_range = [0.5, 0.1, 0.9].map(|p| exp(fixed.quantile(p)));
    let half = (range[2] - range[1]) / 2.0;
    let say = |weight: f64, half: f64| rests_on(n, n, "swatch", "swatch", weight, half);
    DrawIn {
        share: Estimate::of(range, n, kept * kept, say(kept * kept, half)).say(&advice),
        fixed: Estimate::of(fixed_range, n, kept_fixed * kept_fixed, say(kept_fixed * kept_fixed, half)).say(&advice),
        split,
        parts,
    }
}

/// With the fixed part known, each width is a reading of the per-cent part, of weight width².
fn case(widths: &[(f64, f64)], fixed: f64, log_prior: f64) -> Case {
    let reading = |&(reed, off): &(f64, f64)| ((reed - off - fixed) / reed, reed * reed);
    let list: Vec<(f64, f64)> = widths.iter().map(reading).collect();
    let weight: f64 = list.iter().map(|r| r.1).sum();
    let mean = if weight > 0.0 { list.iter().map(|r| r.0 * r.1).sum::<f64>() / weight } else { 0.0 };
    let squares = list.iter().map(|r| r.1 * (r.0 - mean) * (r.0 - mean)).sum();
    Case { log_weight: log_prior, n: list.len() as f64, weight, mean, squares, tag: fixed }
}

impl DrawIn {
    /// `[middle, low, high]` of the mean width off the loom of a warp `in_reed` wide.
    pub fn off_loom(&self, in_reed: Q<Length>) -> [Q<Length>; 3] {
        let w = in_reed.to_si();
        let part = |&(weight, fixed, mean, sd): &(f64, f64, f64, f64)| Part {
            weight,
            mean: w * (1.0 - mean) - fixed,
            sd: sd * w,
        };
        let width = Mixture::new(self.parts.iter().map(part).collect());
        // Mixtures over the fixed part's grid are smooth only where the per-cent part blurs them: at least a tenth of a millimetre.
        let width = Mixture::new(width.parts().iter().map(|p| Part { sd: sqrt(p.sd * p.sd + 1e-8), ..*p }).collect());
        [0.5, 0.1, 0.9].map(|p| Q::si(width.quantile(p)))
    }
}
