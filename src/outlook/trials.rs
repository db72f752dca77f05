//! Trials: the decided plan run many times with its doubts shaken. Decisions stand: what is shaken is the world, not the heddle that was
//! built. The same bytes for the same seed whatever the number of threads.

use super::chance::{Doubt, normals, uniforms};
use crate::chain::decide::Brief;
use crate::chain::decide::inputs::path_of;
use crate::chain::given::Given;
use crate::chain::keys::{self as id, ALL, IDS};
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::checks::{self, Facts};
use crate::plan::keys::{TABLE, Takes};
use crate::trade::fibres::Plant;
use crate::units::Kind;
use crate::units::show::Style;
use rayon::prelude::*;

/// Trials that ranges on a page are taken from.
pub const FEW: usize = 4096;

/// Values of some ids over all trials, and which checks passed.
pub struct Trials {
    /// Ids that were kept.
    pub slots: Vec<u16>,
    /// Blocks of trials, each with one stretch an id, in the order of `slots`; NaN where a trial had no such value.
    values: Vec<f32>,
    /// Trials in which each check passed, by its place in the list of checks; `None` where it never applied.
    pub passed: Vec<Option<usize>>,
    pub count: usize,
}

/// Trials in a block: what is kept of one id lies together, and a whole block near at hand while it is filled.
const BLOCK: usize = 32;

/// What a run of trials says of one id, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    pub low: f64,
    pub middle: f64,
    pub high: f64,
}

impl Trials {
    /// What was kept of an id, in stretches of trials.
    fn stretches(&self, slot: u16) -> Option<impl Iterator<Item = &[f32]>> {
        let at = self.slots.iter().position(|kept| *kept == slot)?;
        let blocks = self.values.chunks(BLOCK * self.slots.len()).enumerate();
        Some(blocks.map(move |(n, block)| &block[at * BLOCK..][..BLOCK.min(self.count - n * BLOCK)]))
    }

    /// The values of an id, one a trial.
    pub fn column(&self, slot: u16) -> Option<Vec<f64>> {
        Some(self.stretches(slot)?.flatten().map(|value| f64::from(*value)).collect())
    }

    /// 10 %, middle and 90 % points of an id; none where a trial had no value.
    pub fn spread(&self, slot: u16) -> Option<Spread> {
        let mut column: Vec<f32> = Vec::with_capacity(self.count);
        self.stretches(slot)?.for_each(|some| column.extend_from_slice(some));
        spread(&column)
    }

    /// Share of the trials in which a check passed.
    pub fn chance(&self, check: usize) -> Option<f64> {
        self.passed[check].map(|passed| passed as f64 / self.count as f64)
    }
}

/// The points of one column.
fn spread(column: &[f32]) -> Option<Spread> {
    let first = *column.first()?;
    if column.iter().fold(false, |none, value| none | value.is_nan()) {
        return None;
    }
    // most ids do not move
    if column.iter().fold(true, |still, value| still & (*value == first)) {
        return Some(Spread { low: first.into(), middle: first.into(), high: first.into() });
    }
    // whole numbers in the same order are put in order sooner
    let mut column: Vec<i32> = column.iter().map(|value| in_order(value.to_bits() as i32)).collect();
    let place = |share: f64| ((share * column.len() as f64) as usize).min(column.len() - 1);
    let [low, middle, high] = [0.1, 0.5, 0.9].map(place);
    // what is below the middle holds the low point, what is above it the high one
    let (below, half, above) = column.select_nth_unstable(middle);
    let half = *half;
    let point = |part: &mut [i32], at: usize| *part.select_nth_unstable(at).1;
    let low = if low < middle { point(below, low) } else { half };
    let high = if high > middle { point(above, high - middle - 1) } else { half };
    let [low, middle, high] = [low, half, high].map(|bits| f64::from(f32::from_bits(in_order(bits) as u32)));
    Some(Spread { low, middle, high })
}

/// The bits of a number as a whole number that lies in order among others as the number does; and back.
fn in_order(bits: i32) -> i32 {
    bits ^ ((bits >> 31) & i32::MAX)
}

/// The doubts of a plan as distributions, cut off at what the plan could state at all. The count is decided, but a hand does not quite spin
/// what was decided: where nothing was said of its doubt, the batch misses it by `yarn.count_miss`.
pub fn doubts(brief: &Brief) -> Vec<Doubt> {
    let mut all: Vec<Doubt> =
        brief.doubts().map(|input| doubt(input.slot, input.low, input.middle, input.high)).collect();
    let miss = brief.given.get(&id::COUNT_MISS).map_or(0.0, |miss| miss.to_si());
    let one_yarn = brief.wishes.open.same_yarn;
    for key in [&id::WARP_COUNT, &id::WEFT_COUNT].into_iter().take(if one_yarn { 1 } else { 2 }) {
        let Some(count) = brief.given.get(key).map(|count| count.to_si()) else { continue };
        if miss > 0.0 && all.iter().all(|doubt| doubt.slot != key.slot) {
            all.push(doubt(key.slot, count * (1.0 - miss), count, count * (1.0 + miss)));
        }
    }
    all
}

fn doubt(slot: u16, low: f64, middle: f64, high: f64) -> Doubt {
    let (least, most) = validity(slot, low, high);
    Doubt { slot, low, middle, high, least, most }
}

/// What an input can be at all, in SI: the range of its plan key; for one without a key, a quarter to four times its usual range, and a share
/// that is below 1 stays there.
fn validity(slot: u16, low: f64, high: f64) -> (f64, f64) {
    let kind = ALL[slot as usize].kind;
    let stated = can_state(slot);
    let usual = || {
        let least = if low > 0.0 { low / 4.0 } else { low };
        let most = if kind == Kind::Ratio && high <= 1.0 { 1.0 } else { high * 4.0 };
        (least, most)
    };
    let (least, most) = stated.unwrap_or_else(usual);
    (least.min(low), most.max(high))
}

/// What a plan can state an id as at all, in SI, where it has a key.
pub fn can_state(slot: u16) -> Option<(f64, f64)> {
    let kind = ALL[slot as usize].kind;
    path_of(slot).and_then(|path| TABLE.key(path)).and_then(|key| match &key.takes {
        Takes::Quantity { spans, .. } => spans.iter().find(|span| span.kind == kind).map(|span| span.in_si()),
        _ => None,
    })
}

/// Trial `at`: the decided plan with every doubt shaken.
pub fn shaken(given: &Given, doubts: &[Doubt], one_yarn: bool, seed: u32, at: usize) -> Given {
    let mut shaken = given.clone();
    for (four, doubts) in doubts.chunks(4).enumerate() {
        for (doubt, z) in doubts.iter().zip(normals(uniforms(seed, at, four as u32))) {
            shaken.set_si(doubt.slot, doubt.of(z));
        }
    }
    if one_yarn {
        shaken.copy_warp_to_weft();
    }
    shaken
}

/// Runs `count` trials and keeps `slots`.
pub fn trials(brief: &Brief, seed: u32, count: usize, slots: &[u16]) -> Trials {
    let doubts = doubts(brief);
    let one_yarn = brief.wishes.open.same_yarn;
    let wool = brief.given.choices.plant == Plant::Wool;
    let kept = slots.len().max(1);
    let mut values = vec![0f32; count.div_ceil(BLOCK) * BLOCK * kept];
    let blocks = values.par_chunks_mut(BLOCK * kept).enumerate().with_min_len(8);
    let nothing = || (Numbers::default(), vec![None; checks::ALL.len()]);
    let counted = blocks.fold(nothing, |(mut numbers, mut passed), (block, out)| {
        for at in 0..BLOCK.min(count - block * BLOCK) {
            let shaken = shaken(&brief.given, &doubts, one_yarn, seed, block * BLOCK + at);
            numbers.clear();
            run(&shaken, &mut numbers);
            let facts = Facts { numbers: &numbers, style: Style::Metric, wool };
            for (out, slot) in out[at..].iter_mut().step_by(BLOCK).zip(slots) {
                *out = numbers.si(*slot).map_or(f32::NAN, |si| si as f32);
            }
            for (sum, check) in passed.iter_mut().zip(checks::ALL) {
                *sum = both(*sum, (check.margin)(&facts).map(|margin| usize::from(margin >= 0.0)));
            }
        }
        (numbers, passed)
    });
    let sum = |a: Vec<Option<usize>>, b: Vec<Option<usize>>| a.into_iter().zip(b).map(|(a, b)| both(a, b)).collect();
    let passed = counted.map(|(_, passed)| passed).reduce(|| vec![None; checks::ALL.len()], sum);
    Trials { slots: slots.to_vec(), values, passed, count }
}

/// The sum of two counts of passes; none where the check applied in neither.
fn both(a: Option<usize>, b: Option<usize>) -> Option<usize> {
    a.map_or(b, |a| Some(a + b.unwrap_or(0)))
}

/// Every id, for callers that want all ranges.
pub fn all_slots() -> Vec<u16> {
    (0..IDS as u16).collect()
}
