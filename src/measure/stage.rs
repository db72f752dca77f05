//! What is kept at each stage of preparing fibre: batches weighed in and out.

use super::fit::{Ask, Reading, Scale, fit};
use super::yarn::estimate;
use super::{Estimate, Prior};
use crate::units::{Mass, Q, Ratio};

/// One batch through one stage, both weighings at the same humidity (a point of moisture is a point of loss).
#[derive(Clone, Copy, Debug)]
pub struct Batch {
    pub before: Q<Mass>,
    pub after: Q<Mass>,
}

/// The batch that counts as one sample; larger ones weigh more, though never in proportion: what differs between days stays.
pub const USUAL_BATCH: Q<Mass> = Q::si(0.05);

/// Share of the mass a stage keeps.
pub fn keeps(batches: &[Batch], prior: &Prior<Ratio>, scatter: &Prior<Ratio>) -> Estimate<Ratio> {
    let good = |b: &&Batch| b.before.to_si() > 0.0 && b.after.to_si() >= 0.0;
    let readings: Vec<Reading> = batches
        .iter()
        .filter(good)
        .enumerate()
        .map(|(i, b)| Reading { group: i as u32, value: b.after / b.before, weight: b.before / USUAL_BATCH })
        .collect();
    let ask = Ask { scale: Scale::Plain, mean: prior.numbers(), spread: scatter.numbers(), relative: false };
    let found = estimate(&fit(&readings, &ask), prior, "batch", "batch");
    if readings.iter().any(|r| r.value > 1.0) {
        return found.say("One batch came out heavier than it went in: damp, or two batches in one?");
    }
    found
}
