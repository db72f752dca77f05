//! Mends: the nearest value of a knob at which a failed check passes and no check that passed fails, found by running the chain. Needs only
//! pass or fail, so whole ends and snapped pitches do no harm. Where one knob is not enough, the smallest pair.

use super::knobs::{Knob, Turn};
use super::{ALL, Check, Facts, Severity};
use crate::chain::given::Given;
use crate::chain::keys;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::chain::wishes::Wishes;
use crate::trade::fibres::Plant;
use crate::units::show::Style;

/// One turn of one knob, in the unit its id is printed in.
#[derive(Clone, Copy, Debug)]
pub struct Move {
    pub knob: &'static Knob,
    pub from: f64,
    pub to: f64,
}

/// One or two turns that mend a check, and what else they mend.
#[derive(Clone, Debug)]
pub struct Mend {
    pub moves: Vec<Move>,
    /// Codes of all failed checks that pass afterwards, the one asked for among them.
    pub mends: Vec<&'static str>,
}

impl Mend {
    /// How far it goes from what is planned: the sum of the knobs' relative changes.
    pub fn effort(&self) -> f64 {
        self.moves.iter().map(|m| libm::log(m.to / m.from).abs()).sum()
    }
}

/// Margins of all checks; `None` where one does not apply.
pub type Margins = Vec<Option<f64>>;

/// Margins of a settled plan.
pub fn margins(given: &Given, numbers: &mut Numbers) -> Margins {
    numbers.clear();
    run(given, numbers);
    let facts = Facts { numbers, style: Style::Metric, wool: given.choices.plant == Plant::Wool };
    ALL.iter().map(|check| (check.margin)(&facts)).collect()
}

/// Looks for mends of one plan.
pub struct Mender<'a> {
    wishes: &'a Wishes,
    settled: Given,
    before: Margins,
}

impl<'a> Mender<'a> {
    /// For a plan that settles; `None` for one that does not.
    pub fn new(wishes: &'a Wishes) -> Option<Self> {
        let (settled, _) = wishes.settle().ok()?;
        let before = margins(&settled, &mut Numbers::default());
        Some(Mender { wishes, settled, before })
    }

    /// Places in [`ALL`] of the checks that fail.
    pub fn failed(&self) -> Vec<usize> {
        (0..ALL.len()).filter(|at| self.before[*at].is_some_and(|margin| margin < 0.0)).collect()
    }

    /// Every single knob that mends a check, the least effort first.
    pub fn singles(&self, check: usize) -> Vec<Mend> {
        let mut found: Vec<Mend> =
            ALL[check].knobs.iter().filter_map(|knob| self.single(check, knob, self.wishes)).collect();
        found.sort_by(|a, b| a.effort().total_cmp(&b.effort()));
        found
    }

    /// The smallest pair of knobs that mends a check. The first is one of its own; the second may belong to any check that fails, or that the
    /// first turn would break: what mends one is often held back by another.
    pub fn pair(&self, check: usize) -> Option<Mend> {
        self.best_pair(check, better)
    }

    /// The pair of the least effort, whatever else it mends: for a check that a single knob mends too, the gentler way.
    pub fn smallest_pair(&self, check: usize) -> Option<Mend> {
        self.best_pair(check, |a, b| a.effort() < b.effort())
    }

    fn best_pair(&self, check: usize, better: impl Fn(&Mend, &Mend) -> bool) -> Option<Mend> {
        let mut best: Option<Mend> = None;
        for first in ALL[check].knobs {
            let Some(from) = self.here(first) else { continue };
            for to in self.stations(first) {
                let mut wishes = self.wishes.clone();
                wishes.state(first.slot, si(first, to));
                for second in self.seconds(check, first, &wishes) {
                    let Some(mut mend) = self.single(check, second, &wishes) else { continue };
                    mend.moves.insert(0, Move { knob: first, from, to });
                    if best.as_ref().is_none_or(|best| better(&mend, best)) {
                        best = Some(mend);
                    }
                }
            }
        }
        best
    }

    /// Knobs worth turning second: of the check, of those that fail, and of those that fail once the first is turned.
    fn seconds(&self, check: usize, first: &Knob, turned: &Wishes) -> Vec<&'static Knob> {
        let Ok((given, _)) = turned.settle() else { return Vec::new() };
        let now = margins(&given, &mut Numbers::default());
        let fails = |at: &usize| now[*at].is_some_and(|margin| margin < 0.0);
        let mut out: Vec<&'static Knob> = Vec::new();
        for at in std::iter::once(check).chain((0..ALL.len()).filter(fails)) {
            for knob in ALL[at].knobs {
                if knob.slot != first.slot && !out.iter().any(|other| other.slot == knob.slot) {
                    out.push(knob);
                }
            }
        }
        out
    }

    /// Values of a knob to try as the first of a pair: out from here in growing steps.
    fn stations(&self, knob: &Knob) -> Vec<f64> {
        let Some(here) = self.here(knob) else { return Vec::new() };
        let mut out = Vec::new();
        for way in ways(knob) {
            let mut steps = 1.0;
            while let Some(value) = on_grid(knob, here, way * steps) {
                out.push(value);
                steps = (steps * 1.5f64).ceil();
            }
        }
        out
    }

    /// The knob's value as settled, in its unit.
    fn here(&self, knob: &Knob) -> Option<f64> {
        let unit = keys::ALL[knob.slot as usize].unit;
        let stated = if knob.slot == keys::FIRMNESS.slot {
            (self.wishes.open.sett && self.wishes.given.get(&keys::HEDDLE_SETT).is_none()
                || self.wishes.open.warp_count)
                .then_some(self.wishes.firmness)
        } else if knob.slot == keys::MASS_WISHED.slot {
            // the wish moves the count only where count and sett are both open
            let open = self.wishes.open;
            self.wishes.mass.filter(|_| open.warp_count && open.sett).map(|mass| mass.to_si())
        } else if knob.slot == keys::SETT_IN_REED.slot && self.wishes.given.get(&keys::HEDDLE_SETT).is_some() {
            // a heddle that is there has the sett it has
            None
        } else {
            self.settled.si(knob.slot)
        };
        stated.map(|si| unit.scale.from_si(si))
    }

    /// The nearest value of one knob, starting from wishes that may already be turned.
    fn single(&self, check: usize, knob: &'static Knob, base: &Wishes) -> Option<Mend> {
        let here = self.here(knob)?;
        let passes = |value: f64| self.passes(check, base, knob, value);
        let mut best: Option<(f64, f64, Vec<&'static str>)> = None;
        for way in ways(knob) {
            let (mut bad, mut steps) = (0.0, 1.0);
            while let Some(value) = on_grid(knob, here, way * steps) {
                if passes(value).is_some() {
                    let good = halve(bad, steps, |middle| {
                        on_grid(knob, here, way * middle).is_some_and(|value| passes(value).is_some())
                    });
                    let value = on_grid(knob, here, way * good)?;
                    let mends = passes(value)?;
                    let effort = libm::log(value / here).abs();
                    if best.as_ref().is_none_or(|(least, _, _)| effort < *least) {
                        best = Some((effort, value, mends));
                    }
                    break;
                }
                bad = steps;
                steps = (steps * 1.6f64).ceil();
            }
        }
        let (_, to, mends) = best?;
        Some(Mend { moves: vec![Move { knob, from: here, to }], mends })
    }

    /// The checks that a value mends, where it mends the one asked for and breaks none that passed.
    fn passes(&self, check: usize, base: &Wishes, knob: &Knob, value: f64) -> Option<Vec<&'static str>> {
        let mut wishes = base.clone();
        wishes.state(knob.slot, si(knob, value));
        let (given, _) = wishes.settle().ok()?;
        let now = margins(&given, &mut Numbers::default());
        if now[check].is_none_or(|margin| margin < 0.0) {
            return None;
        }
        // what is only worth knowing may come up on the way
        let held = |at: usize| ALL[at].severity != Severity::Note && self.before[at].is_none_or(|m| m >= 0.0);
        let broken = |at: usize| held(at) && now[at].is_some_and(|m| m < 0.0);
        if (0..ALL.len()).any(broken) {
            return None;
        }
        let mended = |at: &usize| self.before[*at].is_some_and(|m| m < 0.0) && now[*at].is_some_and(|m| m >= 0.0);
        Some((0..ALL.len()).filter(mended).map(|at| ALL[at].code).collect())
    }
}

/// More checks mended is better; among equals the smaller effort.
fn better(a: &Mend, b: &Mend) -> bool {
    match a.mends.len().cmp(&b.mends.len()) {
        std::cmp::Ordering::Equal => a.effort() < b.effort(),
        more => more.is_gt(),
    }
}

fn ways(knob: &Knob) -> &'static [f64] {
    match knob.turn {
        Turn::Either => &[1.0, -1.0],
        Turn::DownOnly => &[-1.0],
    }
}

/// The knob's value so many steps from here, on its own grid and inside its range.
fn on_grid(knob: &Knob, here: f64, steps: f64) -> Option<f64> {
    // the first step lands on the grid, on the far side of here
    let base = if steps > 0.0 { (here / knob.step + 1e-6).floor() } else { (here / knob.step - 1e-6).ceil() };
    let value = (base + steps) * knob.step;
    (value >= knob.from - 1e-9 && value <= knob.to + 1e-9).then_some(value)
}

fn si(knob: &Knob, value: f64) -> f64 {
    keys::ALL[knob.slot as usize].unit.scale.to_si(value)
}

/// Least whole number of steps above `bad` that passes, given that `good` does.
fn halve(mut bad: f64, mut good: f64, passes: impl Fn(f64) -> bool) -> f64 {
    while good - bad > 1.0 {
        let middle = ((bad + good) / 2.0).floor();
        if passes(middle) { good = middle } else { bad = middle }
    }
    good
}

/// The check of that code.
pub fn find(code: &str) -> Option<&'static Check> {
    ALL.iter().copied().find(|check| check.code == code)
}
