//! Estimates against simulated makers whose truth is known: 2 000 of them for every estimator, each with own level, own spread,
//! own share of it between bobbins, and readings rounded as a kitchen scale and a tape round them. Half the truths are drawn
//! from a normal, half from a flat law of the same 10–90 % range; strengths are normal or Weibull: none is quite what the
//! estimator assumes. An 80 % range must cover 75 to 85 % of the truths.
//!
//! Run time of this file in the dev profile: about 10 s on one core.

mod printed;
mod running;
mod watching;

use clothwright::measure::chance::{Z90, weibull_shape};
use clothwright::measure::cloth::{ClothPriors, Swatch, cloth};
use clothwright::measure::fit::{Ask, Reading, Scale, fit};
use clothwright::measure::links::{HELPS, Tail, Warp, buys, expected_breaks, link_breaks, survival};
use clothwright::measure::pace::{Day, Left, Session, calendar, left, pace, total};
use clothwright::measure::stage::{Batch, keeps};
use clothwright::measure::yarn::{BreakTest, Skein, TwistTest, USUAL_GAUGE, count, strength, twist_got, wash_loss};
use clothwright::measure::{Estimate, Prior, priors};
use clothwright::units::*;
use libm::{cos, exp, lgamma, log, pow, round, sqrt};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::f64::consts::PI;

const MAKERS: u32 = 2000;

/// A source of chance for maker `i` of test `name`.
struct Chance(Pcg64Mcg);

impl Chance {
    fn new(name: u64, i: u32) -> Self {
        Chance(Pcg64Mcg::seed_from_u64(name * 1_000_003 + u64::from(i)))
    }
    fn flat(&mut self) -> f64 {
        self.0.random::<f64>().max(1e-12)
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.flat()
    }
    fn whole(&mut self, low: u32, high: u32) -> u32 {
        low + (self.flat() * f64::from(high - low + 1)) as u32
    }
    fn normal(&mut self) -> f64 {
        sqrt(-2.0 * log(self.flat())) * cos(2.0 * PI * self.flat())
    }
    /// A truth with the prior's 10–90 % range: half the makers normal, half flat.
    fn truth(&mut self, middle: f64, low: f64, high: f64) -> f64 {
        let half = 0.5 * (high - low);
        if self.flat() < 0.5 {
            middle + half / Z90 * self.normal()
        } else {
            middle + half / 0.8 * self.between(-1.0, 1.0)
        }
    }
    /// The same in per cent of itself.
    fn log_truth<D: Dimension>(&mut self, p: &Prior<D>) -> f64 {
        exp(self.truth(log(p.middle.to_si()), log(p.low.to_si()), log(p.high.to_si())))
    }
    fn plain_truth<D: Dimension>(&mut self, p: &Prior<D>) -> f64 {
        self.truth(p.middle.to_si(), p.low.to_si(), p.high.to_si())
    }
}

fn rounded(x: f64, step: f64) -> f64 {
    round(x / step) * step
}

/// Counts how often ranges hold the truth.
#[derive(Default)]
struct Cover {
    held: u32,
    asked: u32,
    above: u32,
}

impl Cover {
    fn see(&mut self, low: f64, high: f64, truth: f64) {
        assert!(low.is_finite() && high.is_finite() && low <= high, "{low} {high}");
        self.asked += 1;
        self.held += u32::from(low <= truth && truth <= high);
        self.above += u32::from(truth > high);
    }
    fn see_estimate<D: Dimension>(&mut self, e: &Estimate<D>, truth: f64) {
        assert!(e.low <= e.middle && e.middle <= e.high && (0.0..=1.0).contains(&e.prior_weight), "{}", e.words);
        self.see(e.low.to_si(), e.high.to_si(), truth);
    }
    fn check(&self, what: &str) {
        let share = f64::from(self.held) / f64::from(self.asked);
        println!(
            "{what:<32} covers {:.1} %, above {:.1} %",
            share * 100.0,
            f64::from(self.above) / f64::from(self.asked) * 100.0
        );
        assert!(self.asked >= MAKERS, "{what}: only {} makers", self.asked);
        assert!((0.75..=0.85).contains(&share), "{what}: an 80 % range covers {:.1} %", share * 100.0);
    }
}

#[test]
fn count_unevenness_and_the_next_ten_metres() {
    let (aim, uneven) = (priors::aimed_count(Q::new(52.0, &TEX)), priors::unevenness());
    let (mut mean, mut spread, mut next) = (Cover::default(), Cover::default(), Cover::default());
    for i in 0..MAKERS {
        let mut c = Chance::new(1, i);
        let (truth, cv, rho) = (c.log_truth(&aim), c.log_truth(&uneven), c.between(0.05, 0.75));
        let (sd_between, sd_within) = (truth * cv * sqrt(rho), truth * cv * sqrt(1.0 - rho));
        let mut skeins = Vec::new();
        for bobbin in 0..c.whole(2, 6) {
            let level = truth + sd_between * c.normal();
            for _ in 0..c.whole(1, 3) {
                let tens = c.whole(1, 4);
                let grams = (0..tens).map(|_| (level + sd_within * c.normal()) * 10.0 * 1e3).sum::<f64>();
                let length = Q::si(10.0 * f64::from(tens));
                skeins.push(Skein {
                    bobbin,
                    mass: Q::new(rounded(grams, 0.01), &G),
                    counted: length,
                    washed: Some(length),
                });
            }
        }
        let found = count(&skeins, Q::si(0.03), &aim, &uneven);
        mean.see_estimate(&found.count, truth);
        spread.see_estimate(&found.unevenness, cv);
        let ten = truth + sd_between * c.normal() + sd_within * c.normal();
        next.see(found.next[1].to_si(), found.next[2].to_si(), ten);
    }
    mean.check("count");
    spread.check("unevenness");
    next.check("next 10 m");
}

#[test]
fn one_skein_alone() {
    let (aim, uneven) = (priors::aimed_count(Q::new(52.0, &TEX)), priors::unevenness());
    let mut mean = Cover::default();
    for i in 0..MAKERS {
        let mut c = Chance::new(2, i);
        let (truth, cv) = (c.log_truth(&aim), c.log_truth(&uneven));
        let mass = Q::si(rounded(10.0 * truth * (1.0 + cv * c.normal()), 1e-5));
        let skein = Skein { bobbin: 0, mass, counted: Q::si(10.0), washed: Some(Q::si(10.0)) };
        let found = count(&[skein], Q::si(0.0), &aim, &uneven);
        assert_eq!(found.unevenness.n, 0, "one skein says nothing of the spread");
        mean.see_estimate(&found.count, truth);
    }
    mean.check("count from one skein");
}

#[test]
fn twist_and_wash_loss() {
    let (mut twist, mut wash) = (Cover::default(), Cover::default());
    let (got, scatter) = (priors::twist_got(), priors::twist_scatter());
    let (loss, loss_scatter) = (priors::wash_loss_wool(), priors::wash_scatter());
    for i in 0..MAKERS {
        let mut c = Chance::new(3, i);
        let (truth, cv, rho) = (c.log_truth(&got), c.log_truth(&scatter), c.between(0.0, 0.8));
        let mut tests = Vec::new();
        for bobbin in 0..c.whole(1, 4) {
            let level = log(truth) - 0.5 * cv * cv + cv * sqrt(rho) * c.normal();
            for _ in 0..c.whole(1, 4) {
                // 10 cm untwisted, counted to half a turn; 550 turns a metre set.
                let turns = rounded(55.0 * exp(level + cv * sqrt(1.0 - rho) * c.normal()), 0.5);
                tests.push(TwistTest { bobbin, set: Q::new(550.0, &PER_M), counted: Q::new(turns * 10.0, &PER_M) });
            }
        }
        twist.see_estimate(&twist_got(&tests, &got, &scatter), truth);

        let (truth, sd) = (c.plain_truth(&loss), c.log_truth(&loss_scatter));
        let skein = |bobbin| {
            let washed = 100.0 * (1.0 - truth - sd * c.normal());
            let (mass, counted) = (Q::new(5.0, &G), Q::si(100.0));
            Skein { bobbin, mass, counted, washed: Some(Q::si(rounded(washed, 0.1))) }
        };
        let skeins: Vec<Skein> = (0..1 + i % 4).map(skein).collect();
        wash.see_estimate(&wash_loss(&skeins, &loss, &loss_scatter), truth);
    }
    twist.check("twist got");
    wash.check("wash loss of length");
}

/// A break load: bobbin level, then normal or Weibull about it.
fn break_load(c: &mut Chance, weibull: bool, level: f64, mean: f64, cv_within: f64) -> f64 {
    if weibull {
        let k = weibull_shape(cv_within);
        level * pow(-log(c.flat()), 1.0 / k) / exp(lgamma(1.0 + 1.0 / k))
    } else {
        level + mean * cv_within * c.normal()
    }
}

#[test]
fn strength_its_spread_and_the_breaks_to_expect() {
    let (prior, spread_prior) = (priors::rule_of_thumb(Q::new(520.0, &CN)), priors::strength_spread());
    let (mut mean, mut spread, mut breaks) = (Cover::default(), Cover::default(), Cover::default());
    for i in 0..MAKERS {
        let mut c = Chance::new(4, i);
        let (truth, cv, rho) = (c.log_truth(&prior), c.log_truth(&spread_prior).min(0.5), c.between(0.02, 0.5));
        let weibull = c.flat() < 0.5;
        let mut tests = Vec::new();
        for bobbin in 0..c.whole(2, 5) {
            let level = truth * (1.0 + cv * sqrt(rho) * c.normal());
            for _ in 0..c.whole(3, 6) {
                let load = break_load(&mut c, weibull, level, truth, cv * sqrt(1.0 - rho));
                tests.push(BreakTest {
                    bobbin,
                    load: Q::new(rounded(load * 100.0, 5.0).max(5.0), &CN),
                    gauge: USUAL_GAUGE,
                });
            }
        }
        let found = strength(&tests, &prior, &spread_prior);
        mean.see_estimate(&found.mean, truth);
        spread.see_estimate(&found.spread, cv);
        let kept = c.truth(0.65, 0.6, 0.7);
        let warp =
            Warp { yarn: Q::si(2700.0), gauge: Q::si(0.5), peak: Q::new(67.0, &CN), retained: priors::retained() };
        let tail = if weibull { Tail::Weibull } else { Tail::Normal };
        let expected = 5400.0 * link_breaks(0.67, truth * kept, cv, tail);
        let found = survival(&found, &warp);
        assert!((0.0..=1.0).contains(&found.none.to_si()));
        breaks.see_estimate(&found.breaks, expected);
    }
    mean.check("break load");
    spread.check("spread of break load");
    breaks.check("expected breaks");
}

fn cloth_priors() -> ClothPriors {
    priors::cloth(Q::si(0.07), Q::si(0.07))
}

#[test]
fn cloth_in_three_states() {
    let p = cloth_priors();
    let [mut take, mut relax, mut width, mut length] = [(); 4].map(|()| Cover::default());
    for i in 0..MAKERS {
        let mut c = Chance::new(5, i);
        let (t, r) = (c.plain_truth(&p.take_up), c.plain_truth(&p.relax));
        let (w, l, sd) = (c.plain_truth(&p.shrink_width), c.plain_truth(&p.shrink_length), c.log_truth(&p.scatter));
        let mm = |x: f64| Some(Q::si(rounded(x, 0.001)));
        let swatches: Vec<Swatch> = (0..c.whole(1, 3))
            .map(|warp| {
                let on = c.between(0.12, 0.3);
                let off = on * (1.0 - r - sd * c.normal());
                let wide = c.between(0.1, 0.4);
                Swatch {
                    warp,
                    width_off_loom: mm(wide),
                    width_washed: mm(wide * (1.0 - w - sd * c.normal())),
                    length_on_loom: mm(on),
                    length_off_loom: mm(off),
                    length_washed: mm(off * (1.0 - l - sd * c.normal())),
                    warp_thread: mm(off / (1.0 - t - sd * c.normal())).zip(mm(off)),
                    ..Swatch::default()
                }
            })
            .collect();
        let found = cloth(&swatches, &p);
        take.see_estimate(&found.take_up, t);
        relax.see_estimate(&found.relax, r);
        width.see_estimate(&found.shrink_width, w);
        length.see_estimate(&found.shrink_length, l);
    }
    take.check("take-up");
    relax.check("relaxing off the loom");
    width.check("shrinking in width");
    length.check("shrinking in length");
}

#[test]
fn draw_in_in_two_parts() {
    let p = cloth_priors();
    let [mut share, mut fixed, mut wide] = [(); 3].map(|()| Cover::default());
    let (mut narrowed, mut alone) = (0.0, 0.0);
    for i in 0..MAKERS {
        let mut c = Chance::new(6, i);
        let (a, f, sd) =
            (c.plain_truth(&p.draw_in_share), c.log_truth(&p.draw_in_fixed), c.log_truth(&p.width_scatter));
        let two_widths = i % 2 == 0;
        let widths: &[f64] = if two_widths { &[0.15, 0.6, 0.15] } else { &[0.25, 0.25] };
        let swatch = |&w: &f64| Swatch {
            in_reed: Some(Q::si(w)),
            width_off_loom: Some(Q::si(rounded(w * (1.0 - a) - f + sd * c.normal(), 0.001))),
            ..Swatch::default()
        };
        let swatches: Vec<Swatch> = widths.iter().map(swatch).collect();
        let found = cloth(&swatches, &p).draw_in;
        assert_eq!(found.split, two_widths);
        assert_eq!(found.share.words.contains("One width only"), !two_widths, "{}", found.share.words);
        share.see_estimate(&found.share, a);
        fixed.see_estimate(&found.fixed, f);
        let off = found.off_loom(Q::si(0.7));
        wide.see(off[1].to_si(), off[2].to_si(), 0.7 * (1.0 - a) - f);
        *if two_widths { &mut narrowed } else { &mut alone } += (found.share.high - found.share.low).to_si();
    }
    share.check("draw-in, per-cent part");
    fixed.check("draw-in, fixed part");
    wide.check("width off the loom");
    assert!(narrowed < 0.8 * alone, "two widths must tell more of the split than one: {narrowed} {alone}");
}

#[test]
fn what_each_stage_keeps() {
    let (prior, scatter) = (priors::carding_keeps(), priors::batch_scatter());
    let mut cover = Cover::default();
    for i in 0..MAKERS {
        let mut c = Chance::new(7, i);
        let (truth, sd, rho) = (c.plain_truth(&prior), c.log_truth(&scatter), c.between(0.1, 0.7));
        let batches: Vec<Batch> = (0..c.whole(1, 5))
            .map(|_| {
                let before = c.between(0.02, 0.2);
                let keeps = truth + sd * sqrt(rho + (1.0 - rho) * 0.05 / before) * c.normal();
                Batch { before: Q::si(before), after: Q::si(rounded((before * keeps).max(0.0), 1e-4)) }
            })
            .collect();
        cover.see_estimate(&keeps(&batches, &prior, &scatter), truth);
    }
    cover.check("kept at carding");
}

#[test]
fn own_pace() {
    let (prior, scatter) = (priors::spinning_pace(), priors::pace_scatter());
    let mut cover = Cover::default();
    for i in 0..MAKERS {
        let mut c = Chance::new(8, i);
        let (truth, cv, rho) = (c.log_truth(&prior), c.log_truth(&scatter), c.between(0.05, 0.75));
        let s = sqrt(log(1.0 + cv * cv));
        // Mean time per metre is 1/truth; sittings and half hours scatter about it.
        let sessions: Vec<Session<Length>> = (0..c.whole(2, 7))
            .map(|_| {
                let level = -log(truth) - 0.5 * s * s + s * sqrt(rho) * c.normal();
                let halves = c.whole(1, 5);
                let done =
                    (0..halves).map(|_| 1800.0 / exp(level + s * sqrt(2.0 * (1.0 - rho)) * c.normal())).sum::<f64>();
                Session { time: Q::new(30.0 * f64::from(halves), &MINUTE), done: Q::si(rounded(done, 1.0).max(1.0)) }
            })
            .collect();
        cover.see_estimate(&pace(&sessions, &prior, &scatter), truth);
    }
    cover.check("own pace");
}

#[test]
fn hours_left_and_the_calendar() {
    let (prior, scatter) = (priors::week(), priors::week_scatter());
    let (mut hours, mut finish) = (Cover::default(), Cover::default());
    for i in 0..MAKERS {
        let mut c = Chance::new(9, i);
        let steps: Vec<(f64, f64)> = (0..4).map(|_| (c.between(2.0, 40.0), c.between(0.05, 0.5))).collect();
        let list: Vec<Left> = steps
            .iter()
            .map(|&(h, sd)| Left {
                step: String::new(),
                time: [h, h * exp(-Z90 * sd), h * exp(Z90 * sd)].map(|x| Q::new(x, &HOUR)),
                prior_weight: 0.0,
            })
            .collect();
        let sum = total(&list);
        let truth: f64 = steps.iter().map(|&(h, sd)| h * exp(sd * c.normal())).sum();
        hours.see(sum[1].get(&HOUR), sum[2].get(&HOUR), truth);

        // A maker's weeks: some idle, the rest uneven.
        let weekly = c.plain_truth(&prior).max(3600.0);
        let cv = c.log_truth(&scatter).min(0.9);
        let week = |c: &mut Chance| weekly * exp(sqrt(log(1.0 + cv * cv)) * c.normal() - 0.5 * log(1.0 + cv * cv));
        let known = c.whole(4, 10);
        let mut days = Vec::new();
        for w in 0..known {
            let time = week(&mut c);
            days.extend((0..3).map(|d| Day { day: i64::from(7 * w + 2 * d), time: Q::si(time / 3.0) }));
        }
        let today = i64::from(7 * known);
        let need = weekly * c.between(4.0, 12.0);
        let plan = calendar(&days, today, [need, need * 0.97, need * 1.03].map(Q::si), &prior, &scatter);
        let (mut done, mut day) = (0.0, today);
        let truth = need * exp(0.03 / Z90 * c.normal());
        while done < truth {
            let time = week(&mut c);
            day += 7;
            if done + time >= truth {
                day -= (7.0 * (done + time - truth) / time) as i64;
            }
            done += time;
        }
        finish.see(plan.finish[1] as f64, plan.finish[2] as f64, day as f64);
    }
    hours.check("hours over four steps");
    finish.check("day of finishing");
}

#[test]
fn what_helps_a_warp_does_help() {
    let tests: Vec<BreakTest> = (0..20)
        .map(|i| BreakTest { bobbin: i % 4, load: Q::new(430.0 + 45.0 * f64::from(i % 5), &CN), gauge: USUAL_GAUGE })
        .collect();
    let found = strength(&tests, &priors::rule_of_thumb(Q::new(520.0, &CN)), &priors::strength_spread());
    let warp = Warp { yarn: Q::si(2700.0), gauge: Q::si(0.5), peak: Q::new(90.0, &CN), retained: priors::retained() };
    let now = survival(&found, &warp);
    for (help, breaks) in buys(&found, &warp, &HELPS) {
        assert!(breaks[0] < now.breaks.middle.to_si(), "{}: {breaks:?} against {:?}", help.name, now.breaks);
        assert!(!help.source.is_empty() && breaks[1] <= breaks[0] && breaks[0] <= breaks[2]);
    }
    assert!(expected_breaks(&warp, Q::new(520.0, &CN), Q::si(0.2), Tail::Weibull) > 1.0);
}

/// With very many readings the prior no longer speaks, with none it speaks alone.
#[test]
fn from_prior_to_own_figure() {
    let ask = Ask { scale: Scale::Plain, mean: [52.0, 45.0, 60.0], spread: [0.1, 0.05, 0.2], relative: true };
    assert_eq!(fit(&[], &ask).mean_range(), ask.mean);
    let mut c = Chance::new(16, 0);
    let many: Vec<Reading> =
        (0..2000).map(|g| Reading { group: g, value: 80.0 + 4.0 * c.normal(), weight: 1.0 }).collect();
    let found = fit(&many, &ask);
    let [m, low, high] = found.mean_range();
    assert!((m - 80.0).abs() < 0.3 && high - low < 0.3 && found.prior_weight < 0.001, "{m} {low} {high}");
    let [cv, ..] = found.spread_range();
    assert!((cv - 0.05).abs() < 0.003, "{cv}");
    // Readings a scale cannot have given do no harm.
    let wild = [f64::NAN, f64::INFINITY, -1.0].map(|value| Reading { group: 0, value, weight: 1.0 });
    assert!(fit(&wild, &Ask { scale: Scale::Log, ..ask }).mean_range().iter().all(|x| x.is_finite()));
}

#[test]
fn words_say_what_to_do_next() {
    let p = cloth_priors();
    let narrow = Swatch { width_off_loom: Some(Q::si(0.1)), width_washed: Some(Q::si(0.092)), ..Swatch::default() };
    assert!(cloth(&[narrow], &p).shrink_width.words.contains("20 cm wide"));
    assert!(cloth(&[], &p).take_up.words.starts_with("Assumed: nobody has measured yours yet"));
    let from_nothing = left::<Length>(
        "spinning",
        [Q::si(0.0); 3],
        &pace::<Length>(&[], &priors::spinning_pace(), &priors::pace_scatter()),
    );
    assert_eq!(from_nothing.time, [Q::si(0.0); 3]);
}
