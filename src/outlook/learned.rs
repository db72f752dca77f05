//! What a log teaches a plan: samples, weighed against what the plan assumed, as inputs of the chain. Works nothing out by itself: the
//! estimators are `measure`'s, the priors the plan's own.

use super::trials::can_state;
use crate::chain::decide::inputs::How;
use crate::chain::decide::{Brief, Measured};
use crate::chain::given::Given;
use crate::chain::keys::{self as id, ALL};
use crate::formulas::registry::Key;
use crate::measure::chance::root;
use crate::measure::cloth::{ClothFound, cloth};
use crate::measure::pace::{Session, Worked, pace};
use crate::measure::samples::{Samples, Work};
use crate::measure::stage::keeps;
use crate::measure::strip::limits;
use crate::measure::yarn::{count, strength, twist_got, wash_loss};
use crate::measure::{Estimate, Prior, priors};
use crate::trade::fibres::Plant;
use crate::units::*;

/// One thing learned that the chain takes in.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    pub measured: Measured,
    /// Readings it rests on.
    pub n: usize,
    /// How sure, in plain words.
    pub words: String,
}

/// One figure of the maker's own, whether the chain takes it in or not; in SI.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Stable name, in the JSON.
    pub name: &'static str,
    /// What it is, as a heading.
    pub says: &'static str,
    pub unit: AnyUnit,
    pub low: f64,
    pub middle: f64,
    pub high: f64,
    pub n: usize,
    pub words: String,
}

/// All that a log taught.
#[derive(Clone, Debug, Default)]
pub struct Learned {
    /// What the chain takes in.
    pub lessons: Vec<Lesson>,
    /// What stands beside it: unevenness, twist, wash, take-up, draw-in, strength.
    pub findings: Vec<Finding>,
}

impl Learned {
    /// The lesson about an id.
    pub fn of(&self, slot: u16) -> Option<&Lesson> {
        self.lessons.iter().find(|lesson| lesson.measured.slot == slot)
    }
    /// The lessons as inputs of [`Brief::with_measured`].
    pub fn measured(&self) -> Vec<Measured> {
        self.lessons.iter().map(|lesson| lesson.measured).collect()
    }
}

/// Stages of a log that clean this fibre, and that make it ready for the wheel.
pub fn stages_of(plant: Plant) -> (&'static [&'static str], &'static [&'static str]) {
    match plant {
        Plant::Cotton => (&["ginning"], &["carding"]),
        Plant::Wool => (&["scouring"], &["combing", "carding"]),
        Plant::Flax => (&["breaking"], &["hackling", "carding"]),
    }
}

/// Everything a log says of a plan. Needs at least one reading for a lesson; what nobody measured stays assumed.
pub fn learned(brief: &Brief, samples: &Samples) -> Learned {
    let mut class = Class { brief, out: Learned::default() };
    class.yarn(samples);
    class.strength(samples);
    class.cloth(samples);
    class.stages(samples);
    class.paces(samples);
    class.print(samples);
    class.out
}

/// Least share that a stage is taken to keep.
const LEAST_KEPT: f64 = 0.02;

struct Class<'a> {
    brief: &'a Brief,
    out: Learned,
}

impl Class<'_> {
    fn find<D: Dimension>(&mut self, name: &'static str, says: &'static str, unit: &Unit<D>, found: &Estimate<D>) {
        if found.n == 0 {
            return;
        }
        let (low, middle, high) = (found.low.to_si(), found.middle.to_si(), found.high.to_si());
        let unit = AnyUnit { name: unit.name, scale: unit.scale };
        self.out.findings.push(Finding { name, says, unit, low, middle, high, n: found.n, words: found.words.clone() });
    }

    fn learn<D: Dimension>(&mut self, key: &Key<D>, found: &Estimate<D>) {
        if found.n == 0 {
            return;
        }
        let (low, middle, high) = (found.low.to_si(), found.middle.to_si(), found.high.to_si());
        // never past what a plan could state: a range may touch 0 where a loss is small
        let least = match ALL[key.slot as usize].kind {
            // what goes on is divided by what is kept: a batch that was lost whole is no measure of the next
            Kind::Ratio if key.name.starts_with("losses.") => LEAST_KEPT,
            Kind::Ratio => 0.0,
            _ => f64::MIN_POSITIVE,
        };
        let (least, most) = can_state(key.slot).unwrap_or((least, f64::MAX));
        let [low, middle, high] = [low, middle, high].map(|si| si.clamp(least, most));
        let measured = Measured { slot: key.slot, low, middle, high };
        self.out.lessons.push(Lesson { measured, n: found.n, words: found.words.clone() });
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
        self.find("wash_loss", "Length a skein loses in the wash", &PERCENT, &loss);
        if let Some(planned) = self.brief.given.get(&id::WARP_COUNT) {
            let found = count(&samples.skeins, loss.middle, &priors::aimed_count(planned), &priors::unevenness());
            self.learn(&id::WARP_COUNT, &found.count);
            self.find("unevenness", "Unevenness of the count, 10 m to 10 m", &PERCENT, &found.unevenness);
        }
        let got = twist_got(&samples.twists, &priors::twist_got(), &priors::twist_scatter());
        self.find("twist_got", "Twist counted, of the twist set", &PERCENT, &got);
        let (Some(multiplier), Some(planned)) =
            (self.brief.given.get(&id::WARP_MULTIPLIER), self.numbers().get(&id::WARP_TWIST))
        else {
            return;
        };
        if got.n > 0 {
            // what the machine was set to, in turns, and what came of it: the yarn's own twist, free of its count
            let set = samples.twists.iter().map(|test| test.set.to_si()).sum::<f64>() / samples.twists.len() as f64;
            let factor = |share: Q<Ratio>| Q::si(multiplier.to_si() * share.to_si() * set / planned.to_si());
            let own = Estimate {
                low: factor(got.low),
                middle: factor(got.middle),
                high: factor(got.high),
                n: got.n,
                prior_weight: got.prior_weight,
                words: got.words.clone(),
            };
            self.learn(&id::WARP_MULTIPLIER, &own);
        }
    }

    fn strength(&mut self, samples: &Samples) {
        let Some(planned) = self.planned_break() else { return };
        let found = strength(&samples.breaks, &priors::rule_of_thumb(planned), &priors::strength_spread());
        self.find("break_load", "Load that breaks your yarn, at 50 cm", &CN, &found.mean);
        self.learn(&id::STRENGTH_CV, &found.spread);
        if found.mean.n > 0
            && let Some(share) = self.brief.given.get(&id::HAND_SHARE)
        {
            // the hand's share is what the break tests bear on: the fibre and the twist are known
            let scaled = |load: Q<Force>| Q::<Ratio>::si(share.to_si() * (load / planned));
            let (low, middle, high) = (scaled(found.mean.low), scaled(found.mean.middle), scaled(found.mean.high));
            let measured =
                Measured { slot: id::HAND_SHARE.slot, low: low.to_si(), middle: middle.to_si(), high: high.to_si() };
            self.out.lessons.push(Lesson { measured, n: found.mean.n, words: found.mean.words.clone() });
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
        self.find("take_up", "Warp length lost to bending", &PERCENT, &found.take_up);
        self.find("draw_in_share", "Draw-in, its per-cent part", &PERCENT, &found.draw_in.share);
        self.find("draw_in_fixed", "Draw-in, its fixed part at both edges", &MM, &found.draw_in.fixed);
        if found.draw_in.split {
            self.learn(&id::EDGE_DRAW_IN, &found.draw_in.fixed);
        }
        self.bending(&found);
    }

    /// Take-up and draw-in follow from how warp and weft share the bending and from the slack laid in with the weft: the two inputs at
    /// which the chain comes to what was measured.
    fn bending(&mut self, found: &ClothFound) {
        let mut bend = Bend::new(&self.brief.given);
        if found.take_up.n == 0 && found.draw_in.share.n == 0 {
            return;
        }
        for _ in 0..6 {
            if found.take_up.n > 0 {
                bend.share = bend.share_at(found.take_up.middle.to_si());
            }
            if found.draw_in.share.n > 0 {
                bend.slack = bend.slack_at(found.draw_in.share.middle.to_si());
            }
        }
        let estimate = |at: [f64; 3], from: &Estimate<Ratio>| Estimate {
            low: Q::si(at[0].min(at[2])),
            middle: Q::si(at[1]),
            high: Q::si(at[0].max(at[2])),
            n: from.n,
            prior_weight: from.prior_weight,
            words: from.words.clone(),
        };
        let (up, draw) = (&found.take_up, &found.draw_in.share);
        let shares = [bend.share_at(up.low.to_si()), bend.share, bend.share_at(up.high.to_si())];
        let slacks = [bend.slack_at(draw.high.to_si()), bend.slack, bend.slack_at(draw.low.to_si())];
        self.learn(&id::CRIMP_SHARE, &estimate(shares, up));
        self.learn(&id::WEFT_SLACK, &estimate(slacks, draw));
    }

    /// A test strip's limits, as the multiples of the cloth's widest spacing that the chain works with.
    fn print(&mut self, samples: &Samples) {
        if samples.strips.is_empty() {
            return;
        }
        let numbers = self.numbers();
        let (Some(of_cloth), Some(factor)) = (numbers.get(&id::LINE_OF_CLOTH), self.brief.given.get(&id::LINE_FACTOR))
        else {
            return;
        };
        let spacing = Q::si(of_cloth.to_si() / factor.to_si());
        let priors = (self.prior(&id::LINE_FACTOR), self.prior(&id::DOT_FACTOR), self.prior(&id::INK_GAIN));
        let (Some(line), Some(dot), Some(gain)) = priors else { return };
        let found = limits(&samples.strips, spacing, &line, &dot, &gain);
        self.learn(&id::LINE_FACTOR, &found.line);
        self.learn(&id::DOT_FACTOR, &found.dot);
        self.learn(&id::INK_GAIN, &found.gain);
    }

    fn stages(&mut self, samples: &Samples) {
        let (cleaning, preparing) = stages_of(self.brief.given.choices.plant);
        let stages =
            [(&id::CLEANING_KEEPS, cleaning), (&id::PREPARING_KEEPS, preparing), (&id::SPINNING_KEEPS, &["spinning"])];
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
        self.pace(&id::PRINTING_PACE, work("printing").map(|work| &work.by_number));
        let weaving = self.weaving(samples);
        self.pace(&id::PICKING_PACE, Some(&weaving).filter(|sessions| !sessions.is_empty()));
    }

    /// Sittings at the loom in picks, stops taken out: the chain adds them again.
    fn weaving(&self, samples: &Samples) -> Vec<Session<Number>> {
        let Some(work) = samples.work.get("weaving") else { return Vec::new() };
        let running = 1.0 - self.brief.given.get(&id::STOPS).map_or(0.0, Q::to_si);
        let checked = samples.picks.iter().map(|picks| picks.to_si()).sum::<f64>() / samples.picks.len().max(1) as f64;
        let planned = self.numbers().get(&id::PICKS_ON_LOOM).map_or(0.0, Q::to_si);
        let picks = if samples.picks.is_empty() { planned } else { checked };
        let by_length =
            work.by_length.iter().map(|s| Session { time: s.time * running, done: Q::si(s.done.to_si() * picks) });
        let by_number = work.by_number.iter().map(|s| Session { time: s.time * running, done: s.done });
        by_length.chain(by_number).collect()
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

/// The chain's take-up and draw-in over the share of the bending and the slack of the weft.
struct Bend {
    given: Given,
    share: f64,
    slack: f64,
}

impl Bend {
    fn new(given: &Given) -> Self {
        let value = |key: &Key<Ratio>, usual: f64| given.get(key).map_or(usual, Q::to_si);
        let (share, slack) = (value(&id::CRIMP_SHARE, 0.5), value(&id::WEFT_SLACK, 0.0));
        Bend { given: given.clone(), share, slack }
    }
    /// What an id comes to.
    fn at(&self, share: f64, slack: f64, key: &Key<Ratio>) -> f64 {
        let mut given = self.given.clone();
        given.set(&id::CRIMP_SHARE, Q::si(share));
        given.set(&id::WEFT_SLACK, Q::si(slack));
        let mut numbers = crate::chain::mode::Numbers::default();
        crate::chain::stages::run(&given, &mut numbers);
        numbers.get(key).map_or(0.0, Q::to_si)
    }
    /// The warp's share of the bending at which take-up is this; 0.15 to 0.85.
    fn share_at(&self, take_up: f64) -> f64 {
        root(|share| self.at(share, self.slack, &id::TAKE_UP) - take_up, 0.15, 0.85)
    }
    /// The slack at which draw-in is this; 0 to 8 %. Draw-in falls as slack grows.
    fn slack_at(&self, draw_in: f64) -> f64 {
        root(|slack| draw_in - self.at(self.share, slack, &id::DRAW_IN), 0.0, 0.08)
    }
}
