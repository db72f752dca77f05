//! What to measure next: for each sample a maker could take, how much it would narrow the figure that matters. From one set of trials: each
//! trial in turn plays the truth, the sample is taken from it with its error, and the other trials are weighed by how well they agree.

use super::chance::{normal, uniform};
use super::trials::{self, Trials};
use crate::chain::decide::Brief;
use crate::chain::keys as id;
use crate::trade::fibres::Plant;

/// A sample: what it measures, how well, and what it costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Sample {
    pub name: &'static str,
    /// What to do, for the person.
    pub words: String,
    /// Ids it measures, each with its error (one standard deviation) as a share of the value.
    pub measures: Vec<(u16, f64)>,
    pub minutes: f64,
}

/// What a sample is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    pub sample: Sample,
    /// Width of the 8-in-10 range afterwards, as a share of the width now.
    pub left: f64,
}

impl Worth {
    /// Share of the doubt taken away an hour of work.
    pub fn an_hour(&self) -> f64 {
        (1.0 - self.left) * 60.0 / self.sample.minutes
    }
}

/// Trials that play the truth in turn.
const TRUTHS: usize = 96;
/// Seed of the samples' errors, apart from the trials'.
const ERROR_SEED: u32 = 77;

/// The samples this plan's maker could take. Errors and minutes are common practice, no source: a kitchen scale reads a gram, a rule a
/// millimetre, a skein is counted to a per cent or two.
pub fn samples(brief: &Brief) -> Vec<Sample> {
    let spread = brief.given.get(&id::STRENGTH_CV).map_or(0.22, |cv| cv.to_si());
    let sample = |name, words: &str, minutes, measures: &[(u16, f64)]| Sample {
        name,
        words: words.to_string(),
        minutes,
        measures: measures.to_vec(),
    };
    let (clean, prepare) = match brief.given.choices.plant {
        Plant::Cotton => (
            "Gin 100 g of seed cotton; weigh before and after.",
            "Card 50 g of lint; weigh before and after, by the clock.",
        ),
        Plant::Wool => (
            "Scour 100 g of fleece; weigh dry, before and after.",
            "Comb 50 g of washed wool; weigh before and after, by the clock.",
        ),
        Plant::Flax => {
            ("Scutch 1 kg of straw; weigh before and after.", "Hackle 100 g; weigh before and after, by the clock.")
        }
    };
    let swatch = |name, width: f64, minutes| {
        // a millimetre at each end of the width
        let error = 0.15 / width;
        let measures = [
            (id::SHRINK_WIDTH.slot, error / 0.08),
            (id::SHRINK_LENGTH.slot, error / 0.08),
            (id::DRAW_IN.slot, (error + 0.3 / width) / 0.07),
            (id::TAKE_UP.slot, error / 0.07),
            (id::RELAX.slot, error / 0.04),
            (id::CLOTH_MASS.slot, 0.02),
        ];
        let words =
            format!("Weave a swatch {width:.0} cm wide and as long; measure on the loom, off it, and washed and dry.");
        Sample { name, words, measures: measures.to_vec(), minutes }
    };
    vec![
        sample(
            "skein",
            "Spin 30 m as you will spin the whole; wash, dry, count and weigh it.",
            45.0,
            &[(id::WARP_COUNT.slot, 0.04)],
        ),
        sample(
            "long skein",
            "Spin 120 m over several days; wash, dry, count and weigh it.",
            150.0,
            &[(id::WARP_COUNT.slot, 0.02)],
        ),
        swatch("swatch", 15.0, 240.0),
        swatch("wide swatch", 35.0, 480.0),
        sample(
            "ten breaks",
            "Break ten ends of 50 cm over a hook with a kitchen scale.",
            30.0,
            &[(id::WARP_BREAK.slot, spread / 10f64.sqrt()), (id::STRENGTH_CV.slot, 1.0 / 18f64.sqrt())],
        ),
        sample("cleaning batch", clean, 75.0, &[(id::CLEANING_KEEPS.slot, 0.02), (id::CLEANING_PACE.slot, 0.15)]),
        sample("preparing batch", prepare, 60.0, &[(id::PREPARING_KEEPS.slot, 0.02), (id::PREPARING_PACE.slot, 0.15)]),
        sample(
            "an hour at the wheel",
            "Spin for an hour by the clock; weigh fibre, yarn and waste.",
            60.0,
            &[(id::PACE.slot, 0.10), (id::STOPS.slot, 0.25), (id::SPINNING_KEEPS.slot, 0.015)],
        ),
        sample(
            "a few plants",
            "Pick five plants clean; count bolls and weigh the cotton with its seeds.",
            40.0,
            &[(id::BOLLS.slot, 0.15), (id::BOLL_MASS.slot, 0.06)],
        ),
        sample(
            "a hundred picks",
            "Weave a hundred picks by the clock, stops and all.",
            20.0,
            &[(id::PICKING_PACE.slot, 0.12), (id::STOPS.slot, 0.3)],
        ),
    ]
}

/// Ranks the samples by the share of an id's doubt that they take away; ones that take away less than a hundredth are left out.
pub fn next(brief: &Brief, slot: u16, seed: u32) -> Vec<Worth> {
    let samples = samples(brief);
    let mut slots: Vec<u16> = samples.iter().flat_map(|sample| sample.measures.iter().map(|(slot, _)| *slot)).collect();
    slots.push(slot);
    slots.sort_unstable();
    slots.dedup();
    let run = trials::trials(brief, seed, trials::FEW, &slots);
    // an id that some trial does not have has no range to narrow
    let Some(target) = run.column(slot).filter(|column| column.iter().all(|value| value.is_finite())).map(Target::new)
    else {
        return Vec::new();
    };
    let now = target.whole();
    if now <= 0.0 {
        return Vec::new();
    }
    let mut all: Vec<Worth> = samples
        .into_iter()
        .enumerate()
        .map(|(at, sample)| Worth { left: after(&run, &target, &sample, at as u32) / now, sample })
        .filter(|worth| worth.left < 0.99)
        .collect();
    all.sort_by(|a, b| a.left.total_cmp(&b.left));
    all
}

/// Mean width of the target's range after the sample.
fn after(run: &Trials, target: &Target, sample: &Sample, stream: u32) -> f64 {
    let columns: Vec<(Vec<f64>, f64)> =
        sample.measures.iter().filter_map(|(slot, error)| Some((run.column(*slot)?, *error))).collect();
    // an id that this plan does not doubt tells nothing
    let columns: Vec<_> =
        columns.into_iter().filter(|(column, _)| column.iter().any(|value| *value != column[0])).collect();
    if columns.is_empty() || columns.iter().any(|(column, _)| column.iter().any(|value| value.is_nan())) {
        return target.whole();
    }
    let mut sum = 0.0;
    let mut weights = vec![0.0; run.count];
    for truth in 0..TRUTHS {
        let at = truth * run.count / TRUTHS;
        weights.fill(0.0);
        for (dimension, (column, error)) in columns.iter().enumerate() {
            let scale = (column[at].abs() * error).max(f64::MIN_POSITIVE);
            let seen = column[at] + scale * normal(uniform(ERROR_SEED ^ stream, truth, dimension as u32));
            for (weight, value) in weights.iter_mut().zip(column) {
                let z = (value - seen) / scale;
                *weight -= 0.5 * z * z;
            }
        }
        let most = weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for weight in &mut weights {
            *weight = libm::exp(*weight - most);
        }
        sum += target.width(&weights);
    }
    sum / TRUTHS as f64
}

/// A figure's values over the trials, and their order.
struct Target {
    values: Vec<f64>,
    order: Vec<usize>,
}

impl Target {
    fn new(values: Vec<f64>) -> Self {
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
        Target { values, order }
    }
    /// Width between the weighted 10 % and 90 % points.
    fn width(&self, weights: &[f64]) -> f64 {
        let whole: f64 = weights.iter().sum();
        let point = |share: f64| {
            let mut sum = 0.0;
            for at in &self.order {
                sum += weights[*at];
                if sum >= share * whole {
                    return self.values[*at];
                }
            }
            self.values[self.order[self.order.len() - 1]]
        };
        point(0.9) - point(0.1)
    }
    /// The same with nothing known.
    fn whole(&self) -> f64 {
        self.width(&vec![1.0; self.values.len()])
    }
}
