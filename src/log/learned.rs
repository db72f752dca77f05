//! What a log teaches a plan: samples, weighed against what the plan assumed, as inputs of the chain. Works nothing out by itself: the
//! estimators are `measure`'s, the priors the plan's own.

use super::samples::{Samples, Work};
use crate::chain::decide::inputs::How;
use crate::chain::decide::{Brief, Measured};
use crate::chain::keys::{self as id, ALL};
use crate::formulas::registry::Key;
use crate::measure::cloth::cloth;
use crate::measure::pace::{Session, Worked, pace};
use crate::measure::stage::keeps;
use crate::measure::yarn::{count, strength, wash_loss};
use crate::measure::{Estimate, Prior, priors};
use crate::trade::fibres::Plant;
use crate::units::*;

/// One thing learned.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    pub measured: Measured,
    /// Readings it rests on.
    pub n: usize,
    /// How sure, in plain words.
    pub words: String,
}

/// Everything a log says of a plan's inputs. Needs at least one reading for a lesson; what nobody measured stays assumed.
pub fn learned(brief: &Brief, samples: &Samples) -> Vec<Lesson> {
    let mut class = Class { brief, lessons: Vec::new() };
    class.yarn(samples);
    class.cloth(samples);
    class.stages(samples);
    class.paces(samples);
    class.lessons
}

struct Class<'a> {
    brief: &'a Brief,
    lessons: Vec<Lesson>,
}

impl Class<'_> {
    fn learn<D: Dimension>(&mut self, key: &Key<D>, found: &Estimate<D>) {
        if found.n == 0 {
            return;
        }
        let (low, middle, high) = (found.low.to_si(), found.middle.to_si(), found.high.to_si());
        // never past what the input can be: a range may touch 0 where a loss is small
        let least = if ALL[key.slot as usize].kind == Kind::Ratio { 0.0 } else { f64::MIN_POSITIVE };
        let measured =
            Measured { slot: key.slot, low: low.max(least), middle: middle.max(least), high: high.max(least) };
        self.lessons.push(Lesson { measured, n: found.n, words: found.words.clone() });
    }

    /// What the plan took an input to be, before the log.
    fn prior<D: Dimension>(&self, key: &Key<D>) -> Option<Prior<D>> {
        let input = self.brief.inputs.get(&key.slot)?;
        let (low, high) = if input.is_doubted() {
            (input.low, input.high)
        } else {
            // a bare number is a rule of thumb until it is measured: off by a third
            let prior = priors::rule_of_thumb(Q::<D>::si(input.middle));
            (prior.low.to_si(), prior.high.to_si())
        };
        let source = if input.how == How::Given { "your plan" } else { "the trade's usual range" };
        Some(Prior { middle: Q::si(input.middle), low: Q::si(low), high: Q::si(high), source })
    }

    fn yarn(&mut self, samples: &Samples) {
        let wool = self.brief.given.choices.plant == Plant::Wool;
        let loss_prior = if wool { priors::wash_loss_wool() } else { priors::wash_loss_cotton() };
        let loss = wash_loss(&samples.skeins, &loss_prior, &priors::wash_scatter());
        if let Some(planned) = self.brief.given.get(&id::WARP_COUNT) {
            let found = count(&samples.skeins, loss.middle, &priors::aimed_count(planned), &priors::unevenness());
            self.learn(&id::WARP_COUNT, &found.count);
        }
        let Some(planned) = self.planned_break() else { return };
        let found = strength(&samples.breaks, &priors::rule_of_thumb(planned), &priors::strength_spread());
        self.learn(&id::STRENGTH_CV, &found.spread);
        if found.mean.n > 0
            && let Some(share) = self.brief.given.get(&id::HAND_SHARE)
        {
            // the hand's share is what the break tests bear on: the fibre and the twist are known
            let scaled = |load: Q<Force>| Q::<Ratio>::si(share.to_si() * (load / planned));
            let (low, middle, high) = (scaled(found.mean.low), scaled(found.mean.middle), scaled(found.mean.high));
            let measured =
                Measured { slot: id::HAND_SHARE.slot, low: low.to_si(), middle: middle.to_si(), high: high.to_si() };
            self.lessons.push(Lesson { measured, n: found.mean.n, words: found.mean.words.clone() });
        }
    }

    /// Break load of the decided plan.
    fn planned_break(&self) -> Option<Q<Force>> {
        self.numbers().get(&id::WARP_BREAK)
    }

    fn numbers(&self) -> crate::chain::mode::Numbers {
        let mut numbers = crate::chain::mode::Numbers::default();
        crate::chain::stages::run(&self.brief.given, &mut numbers);
        numbers
    }

    fn cloth(&mut self, samples: &Samples) {
        if samples.swatches.is_empty() {
            return;
        }
        let numbers = self.numbers();
        let (Some(take_up), Some(draw_in)) = (numbers.get(&id::TAKE_UP), numbers.get(&id::DRAW_IN)) else { return };
        let mut assumed = priors::cloth(take_up, draw_in);
        assumed.relax = self.prior(&id::RELAX).unwrap_or(assumed.relax);
        assumed.shrink_width = self.prior(&id::SHRINK_WIDTH).unwrap_or(assumed.shrink_width);
        assumed.shrink_length = self.prior(&id::SHRINK_LENGTH).unwrap_or(assumed.shrink_length);
        let found = cloth(&samples.swatches, &assumed);
        self.learn(&id::RELAX, &found.relax);
        self.learn(&id::SHRINK_WIDTH, &found.shrink_width);
        self.learn(&id::SHRINK_LENGTH, &found.shrink_length);
        if found.draw_in.split {
            self.learn(&id::EDGE_DRAW_IN, &found.draw_in.fixed);
        }
    }

    fn stages(&mut self, samples: &Samples) {
        let (cleaning, preparing) = match self.brief.given.choices.plant {
            Plant::Cotton => ("ginning", &["carding"][..]),
            Plant::Wool => ("scouring", &["combing", "carding"][..]),
            Plant::Flax => ("breaking", &["hackling", "carding"][..]),
        };
        let stages = [
            (&id::CLEANING_KEEPS, &[cleaning][..]),
            (&id::PREPARING_KEEPS, preparing),
            (&id::SPINNING_KEEPS, &["spinning"]),
        ];
        for (key, names) in stages {
            let batches = names.iter().find_map(|name| samples.batches.get(*name));
            if let (Some(batches), Some(prior)) = (batches, self.prior(key)) {
                self.learn(key, &keeps(batches, &prior, &priors::batch_scatter()));
            }
        }
    }

    fn paces(&mut self, samples: &Samples) {
        let (cleaning, preparing) = match self.brief.given.choices.plant {
            Plant::Cotton => ("ginning", "carding"),
            Plant::Wool => ("scouring", "combing"),
            Plant::Flax => ("breaking", "hackling"),
        };
        let work = |step: &str| samples.work.get(step);
        self.pace(&id::CLEANING_PACE, work(cleaning).map(|work: &Work| &work.by_mass));
        self.pace(&id::PREPARING_PACE, work(preparing).map(|work| &work.by_mass));
        self.pace(&id::SPINNING_PACE, work("spinning").map(|work| &work.by_length));
        self.pace(&id::PLYING_PACE, work("plying").map(|work| &work.by_length));
        self.pace(&id::WINDING_PACE, work("warping").map(|work| &work.by_length));
        self.pace(&id::THREADING_PACE, work("threading").map(|work| &work.by_number));
        self.pace(&id::SEWING_PACE, work("sewing").map(|work| &work.by_length));
    }

    fn pace<A: Worked>(&mut self, key: &Key<A::Pace>, sessions: Option<&Vec<Session<A>>>)
    where
        A::Pace: Dimension,
    {
        let Some(sessions) = sessions.filter(|sessions| !sessions.is_empty()) else { return };
        let prior = self.prior(key).or_else(|| {
            // no pace was planned for this step: the sittings alone speak, loosely held
            let (time, done) = sessions.iter().fold((0.0, 0.0), |(t, d), s| (t + s.time.to_si(), d + s.done.to_si()));
            (time > 0.0 && done > 0.0).then(|| priors::rule_of_thumb(Q::si(done / time)))
        });
        if let Some(prior) = prior {
            self.learn(key, &pace(sessions, &prior, &priors::pace_scatter()));
        }
    }
}
