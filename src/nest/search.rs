//! The search: from the bottom-left layout the cloth is made shorter step by step and the overlaps this makes are taken
//! apart; first boldly, starting over from other arrangements where it is stuck, then by ever smaller steps from the best.
//! Several workers go their own ways and compare notes at fixed counts of evaluations, so the result depends on the
//! budget alone, not on threads or time.

use super::chance::Chance;
use super::job::{Fault, Job};
use super::layout::{Found, Layout, Placement};
use super::lot::Lot;
use super::proof::prove;
use super::separate::{Patience, Separation, Standing};
use super::start::bottom_left as lay_bottom_left;
use super::table::{Spot, Table};
use crate::geom::Vec2;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much to search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Places tried, over all workers: about a million a second and core, fewer for outlines of many points.
    pub evaluations: u64,
    /// Independent searches that compare notes; the result depends on this number, not on how many threads run them.
    pub workers: usize,
    pub seed: u64,
}

/// How a search stands, for a caller who may stop it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Places tried so far, about.
    pub evaluations: u64,
    /// Shortest layout so far, mm.
    pub length: f64,
}

impl Budget {
    /// For a garment: some two seconds on two cores.
    pub const LAY: Budget = Budget { evaluations: 2_000_000, workers: 2, seed: 1 };
    /// For each width of a sweep.
    pub const SWEEP: Budget = Budget { evaluations: 60_000, workers: 2, seed: 1 };
}

/// Most workers.
const MOST_WORKERS: usize = 64;
/// Share of the budget spent on bold steps; the rest goes to small ones.
const BOLD_SHARE: f64 = 0.8;
/// Times the workers compare notes, but not before each has tried so many places.
const ROUNDS: u64 = 40;
const LEAST_ROUND: u64 = 500;
/// First and least bold step, as shares of the length.
const BOLD: (f32, f32) = (0.02, 0.001);
/// First and last small step.
const SMALL: (f32, f32) = (0.0005, 0.00001);
const BOLD_PATIENCE: Patience = Patience { passes: 100, strikes: 1 };
const SMALL_PATIENCE: Patience = Patience { passes: 100, strikes: 5 };

/// Lays a job by the bottom-left rule alone.
pub fn bottom_left(job: &Job) -> Result<Layout, Fault> {
    let lot = Lot::new(job, 0)?;
    let table = start(&lot);
    let best = Best { length: table.reach(), spots: table.spots() };
    finish(job, &lot, &best, vec![Found { evaluations: table.evaluations, length: f64::from(best.length) }], false)
}

/// A table long enough for everything, laid by the bottom-left rule.
fn start(lot: &Lot) -> Table<'_> {
    let longest = |f: std::ops::Range<usize>| lot.forms[f].iter().map(|f| f.size.0).fold(0.0, f32::max);
    let room = lot.copies.iter().map(|c| longest(c.forms.clone())).sum::<f32>() * 1.01;
    let gaps = lot.copies.iter().filter_map(|c| lot.forms[c.forms.start].steps.0).map(|steps| 2.0 * steps.every as f32);
    let room = room + gaps.sum::<f32>();
    let mut table = Table::new(lot, room);
    lay_bottom_left(&mut table);
    table
}

#[derive(Clone, Debug)]
struct Best {
    length: f32,
    spots: Vec<Spot>,
}

/// Lays a job with as little cloth as the budget finds. `stop` is asked often, by every worker; once it says true the best
/// so far is given back, marked.
pub fn solve(job: &Job, budget: &Budget, stop: &(dyn Fn(&Progress) -> bool + Sync)) -> Result<Layout, Fault> {
    let lot = Lot::new(job, budget.evaluations)?;
    let laid = start(&lot);
    let mut best = Best { length: laid.reach(), spots: laid.spots() };
    let mut trail = vec![Found { evaluations: laid.evaluations, length: f64::from(best.length) }];
    // stripes may keep every piece off the start of the cloth, so that a layout is shorter than it reaches
    let first = job.repeat.along.map(|_| (best.clone(), trail.clone()));
    let workers = budget.workers.clamp(1, MOST_WORKERS);
    let plan = Plan::new(budget.evaluations / workers as u64);
    let table = fitted(&lot, &best);
    let mut crew: Vec<Worker> =
        (0..workers).map(|w| Worker::new(table.clone(), &best, plan, Chance::new(budget.seed, w as u64))).collect();
    let stopped = AtomicBool::new(false);
    let rounds = (plan.share / LEAST_ROUND).clamp(1, ROUNDS);
    for round in 1..=rounds {
        if best.length <= lot.least_length || stopped.load(Ordering::Relaxed) {
            break;
        }
        let until = (u128::from(plan.share) * u128::from(round) / u128::from(rounds)) as u64;
        let length = f64::from(best.length);
        let ask = |evaluations: u64| {
            let seen = Progress { evaluations: evaluations.saturating_mul(workers as u64), length };
            if !stopped.load(Ordering::Relaxed) && stop(&seen) {
                stopped.store(true, Ordering::Relaxed);
            }
            stopped.load(Ordering::Relaxed)
        };
        crew.par_iter_mut().for_each(|w| w.work(until, &ask));
        for w in &crew {
            if w.best.length < best.length {
                best = w.best.clone();
            }
        }
        if trail.last().is_none_or(|last| f64::from(best.length) < last.length) {
            let evaluations = laid.evaluations + until.saturating_mul(workers as u64);
            trail.push(Found { evaluations, length: f64::from(best.length) });
        }
        crew.iter_mut().filter(|w| w.best.length > best.length).for_each(|w| w.adopt(&best));
    }
    let stopped = stopped.into_inner();
    let found = finish(job, &lot, &best, trail, stopped)?;
    let Some((first, trail)) = first else { return Ok(found) };
    let first = finish(job, &lot, &first, trail, stopped)?;
    Ok(if first.length < found.length { first } else { found })
}

/// How a worker's share of the evaluations is spent.
#[derive(Clone, Copy, Debug)]
struct Plan {
    share: u64,
    /// Up to here by bold steps.
    bold: u64,
}

impl Plan {
    fn new(share: u64) -> Self {
        Plan { share, bold: (share as f64 * BOLD_SHARE) as u64 }
    }

    /// How much of the small steps is done, 0 to 1.
    fn small_done(self, evaluations: u64) -> f32 {
        let (done, all) = (evaluations.saturating_sub(self.bold), self.share.saturating_sub(self.bold).max(1));
        (done as f32 / all as f32).min(1.0)
    }
}

/// A full table just long enough for a layout.
fn fitted<'a>(lot: &'a Lot, best: &Best) -> Table<'a> {
    let mut table = Table::new(lot, best.length);
    for (i, spot) in best.spots.iter().enumerate() {
        table.put(i, *spot);
    }
    table
}

/// Proves a layout and puts it in the caller's terms, moved so that it begins at 0.
fn finish(job: &Job, lot: &Lot, best: &Best, trail: Vec<Found>, stopped_early: bool) -> Result<Layout, Fault> {
    let mut placements: Vec<Placement> = best
        .spots
        .iter()
        .zip(&lot.copies)
        .map(|(spot, copy)| {
            let form = &lot.forms[spot.form];
            let at = form.shift + Vec2::new(spot.x.into(), spot.y.into());
            Placement { piece: copy.piece, copy: copy.copy, turn: form.turn, at }
        })
        .collect();
    let bounds = |p: &Placement| p.bounds(job);
    let least = placements.iter().map(|p| bounds(p).x0).fold(f64::INFINITY, f64::min);
    placements.iter_mut().for_each(|p| p.at.x -= least);
    let length = placements.iter().map(|p| bounds(p).x1).fold(0.0, f64::max);
    let proved = prove(job, length, &placements).map_err(|_| Fault::Unproved)?;
    let used = job.area() / (length * job.strip.width);
    Ok(Layout { length, placements, used, proved, stopped_early, trail })
}

/// One search of its own.
struct Worker<'a> {
    table: Table<'a>,
    best: Best,
    plan: Plan,
    chance: Chance,
    step: f32,
    separation: Separation,
    /// Arrangements that could not be taken apart at this length, with what they cost, best first.
    failed: Vec<(f32, Vec<Spot>)>,
    small: bool,
}

/// Failed arrangements kept.
const MEMORY: usize = 20;

impl<'a> Worker<'a> {
    fn new(mut table: Table<'a>, best: &Best, plan: Plan, chance: Chance) -> Self {
        table.evaluations = 0;
        let separation = Separation::new(&mut table, BOLD_PATIENCE);
        let (best, failed) = (best.clone(), Vec::new());
        let mut worker = Worker { table, best, plan, chance, step: BOLD.0, separation, failed, small: false };
        worker.shorten();
        worker
    }

    /// Searches until so many evaluations were made, no shorter layout can be, or `stop` says so.
    fn work(&mut self, until: u64, stop: &dyn Fn(u64) -> bool) {
        while self.table.evaluations < until
            && self.best.length > self.table.lot.least_length
            && !stop(self.table.evaluations)
        {
            if !self.small && self.table.evaluations >= self.plan.bold {
                self.small = true;
                self.shorten_a_little();
            }
            let before = self.table.evaluations;
            match self.separation.pass(&mut self.table, &mut self.chance, stop) {
                Standing::Going => {}
                Standing::Apart => self.found(),
                Standing::Stuck if self.small => self.shorten_a_little(),
                Standing::Stuck => self.start_over(),
            }
            // A pass that tries nothing must still end the search some day.
            self.table.evaluations = self.table.evaluations.max(before + 1);
        }
    }

    fn found(&mut self) {
        self.best = Best { length: self.table.reach(), spots: self.table.spots() };
        self.go_on();
    }

    /// The next step from a new best layout.
    fn go_on(&mut self) {
        self.failed.clear();
        if self.small { self.shorten_a_little() } else { self.shorten() }
    }

    /// A bold step from the best layout.
    fn shorten(&mut self) {
        let length = (self.best.length * (1.0 - self.step)).max(self.table.lot.least_length);
        self.restore_best();
        self.table.set_length(length);
        self.separation = Separation::new(&mut self.table, BOLD_PATIENCE);
    }

    /// Stuck: a smaller step if that is left, else another arrangement at the same length.
    fn start_over(&mut self) {
        if self.step > BOLD.1 {
            self.step = (self.step / 2.0).max(BOLD.1);
            return self.shorten();
        }
        let entry = (self.separation.least, std::mem::take(&mut self.separation.best));
        let at = self.failed.partition_point(|(cost, _)| *cost <= entry.0);
        self.failed.insert(at, entry);
        self.failed.truncate(MEMORY);
        // The better a failure was, the likelier it is taken up again.
        let u = self.chance.unit();
        let pick = ((u * u * u) * self.failed.len() as f32) as usize;
        let spots = self.failed[pick].1.clone();
        for (i, spot) in spots.iter().enumerate() {
            let spot = self.table.kept_on_cloth(*spot);
            self.table.put(i, spot);
        }
        self.swap_two_large();
        self.separation = Separation::new(&mut self.table, BOLD_PATIENCE);
    }

    /// Two of the large copies change places.
    fn swap_two_large(&mut self) {
        let copies = &self.table.lot.copies;
        let mut order: Vec<usize> = (0..copies.len()).collect();
        order.sort_by(|&a, &b| copies[b].hull.total_cmp(&copies[a].hull).then(a.cmp(&b)));
        let all: f32 = copies.iter().map(|c| c.hull).sum();
        let mut sum = 0.0;
        let large = order.iter().take_while(|&&i| {
            let before = sum;
            sum += copies[i].hull;
            before < 0.75 * all
        });
        let large: Vec<usize> = large.copied().collect();
        let a = large[self.chance.below(large.len())];
        let others: Vec<usize> = large.into_iter().filter(|&b| copies[b].piece != copies[a].piece).collect();
        if others.is_empty() {
            return;
        }
        let b = others[self.chance.below(others.len())];
        let (Some(sa), Some(sb)) = (self.table.spot(a), self.table.spot(b)) else { return };
        for (i, to, from) in [(a, sb, sa), (b, sa, sb)] {
            let (new, old) = (self.table.form(from).size, self.table.form(to).size);
            let (x, y) = (to.x + (old.0 - new.0) / 2.0, to.y + (old.1 - new.1) / 2.0);
            let spot = self.table.kept_on_cloth(Spot { form: from.form, x, y });
            self.table.put(i, spot);
        }
    }

    /// A small step from the best layout, taken out at a random place along the cloth.
    fn shorten_a_little(&mut self) {
        let step = SMALL.0 * (1.0 - self.plan.small_done(self.table.evaluations)) + SMALL.1;
        self.restore_best();
        let gone = self.best.length * step;
        let cut = self.chance.unit() * self.best.length;
        for i in 0..self.table.len() {
            if let Some(spot) = self.table.spot(i).filter(|s| s.x + self.table.form(*s).size.0 / 2.0 > cut) {
                let spot = self.table.kept_on_cloth(Spot { x: spot.x - gone, ..spot });
                self.table.put(i, spot);
            }
        }
        self.table.set_length((self.best.length - gone).max(self.table.lot.least_length));
        self.separation = Separation::new(&mut self.table, SMALL_PATIENCE);
    }

    fn restore_best(&mut self) {
        self.table.length = self.best.length;
        for i in 0..self.table.len() {
            self.table.put(i, self.best.spots[i]);
        }
    }

    /// Takes up another worker's better layout.
    fn adopt(&mut self, best: &Best) {
        self.best = best.clone();
        self.go_on();
    }
}
