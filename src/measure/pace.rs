//! The maker's own clock: how fast each step goes with handling and all, the hours left, the calendar at the maker's own
//! rhythm, and when to rest. Days are whole numbers counted from any one day; nothing here knows what day it is.

use super::chance::{Mixture, Part, Z90, normal_below};
use super::fit::{Ask, Fit, HERMITE, Reading, Scale, fit, log_normal_of};
use super::words::{count_of, rests_on};
use super::{Estimate, Prior};
use crate::units::{Dimension, Duration, Length, Mass, MassRate, Number, Q, Rate, Speed};
use libm::{exp, log, sqrt};

/// What a step's work is counted in, and the pace that belongs to it.
pub trait Worked: Dimension {
    type Pace: Dimension;
}
impl Worked for Length {
    type Pace = Speed;
}
impl Worked for Number {
    type Pace = Rate;
}
impl Worked for Mass {
    type Pace = MassRate;
}

/// One sitting at one step.
#[derive(Clone, Copy, Debug)]
pub struct Session<A> {
    /// All of it, with stops, joins and looking for the scissors.
    pub time: Q<Duration>,
    pub done: Q<A>,
}

/// Own pace at a step, over the whole job: all that was done ÷ all the time it took.
pub fn pace<A: Worked>(
    sessions: &[Session<A>],
    prior: &Prior<A::Pace>,
    scatter: &Prior<crate::units::Ratio>,
) -> Estimate<A::Pace> {
    // Time adds up, so time per amount is what is averaged; one hour counts as one sample.
    let reading = |(i, s): (usize, &Session<A>)| Reading {
        group: i as u32,
        value: s.time.to_si() / s.done.to_si(),
        weight: s.time.get(&crate::units::HOUR),
    };
    let good = |s: &&Session<A>| s.time.to_si() > 0.0 && s.done.to_si() > 0.0;
    let readings: Vec<Reading> = sessions.iter().filter(good).enumerate().map(reading).collect();
    let [middle, low, high] = prior.numbers();
    let ask = Ask {
        scale: Scale::Log,
        mean: [1.0 / middle, 1.0 / high, 1.0 / low],
        spread: scatter.numbers(),
        relative: true,
    };
    let found = fit(&readings, &ask);
    if found.n == 0 {
        return Estimate::assumed(prior);
    }
    let [time, quick, slow] = found.mean_range();
    let half = (slow - quick) / (2.0 * time);
    let words = rests_on(found.n, found.groups, "sitting", "sitting", found.prior_weight, half);
    Estimate::of([1.0 / time, 1.0 / slow, 1.0 / quick], found.n, found.prior_weight, words)
}

/// Time a step still takes.
#[derive(Clone, Debug)]
pub struct Left {
    pub step: String,
    /// Middle, 10 % and 90 %.
    pub time: [Q<Duration>; 3],
    /// How much of the pace is still assumed.
    pub prior_weight: f64,
}

/// Time left at a step from the amount left and the pace, both with their ranges.
pub fn left<A: Worked>(step: &str, amount: [Q<A>; 3], pace: &Estimate<A::Pace>) -> Left {
    let (step, prior_weight) = (step.to_string(), pace.prior_weight);
    if amount[0].to_si() <= 0.0 {
        return Left { step, time: [Q::si(0.0); 3], prior_weight };
    }
    let middle = amount[0].to_si() / pace.middle.to_si();
    // Ranges multiply: their logarithms' squares add.
    let up = |a: f64, b: f64| exp(sqrt(log(a) * log(a) + log(b) * log(b)));
    let high = middle * up(amount[2] / amount[0], pace.middle / pace.low);
    let low = middle / up(amount[0].to_si() / amount[1].to_si().max(f64::MIN_POSITIVE), pace.high / pace.middle);
    Left { step, time: [middle, low, high].map(Q::si), prior_weight }
}

/// How far assumed paces err together: one pair of hands, one way of working. Common practice, no source.
const TOGETHER: f64 = 0.5;

/// Time left over all steps. Steps whose pace is still assumed err together, measured ones singly; the sum of skewed times is
/// taken as one skewed time of the same mean and variance (Fenton 1960, from memory).
pub fn total(steps: &[Left]) -> [Q<Duration>; 3] {
    let parts: Vec<(f64, f64, f64)> = steps
        .iter()
        .filter(|s| s.time[0].to_si() > 0.0)
        .map(|s| {
            let range = s.time.map(Q::to_si);
            let (m, sd) = log_normal_of(range);
            let mean = exp(m + 0.5 * sd * sd);
            (mean, mean * sqrt(exp(sd * sd) - 1.0), s.prior_weight.clamp(0.0, 1.0))
        })
        .collect();
    let mean: f64 = parts.iter().map(|p| p.0).sum();
    if mean <= 0.0 {
        return [Q::si(0.0); 3];
    }
    let mut variance = 0.0;
    for (i, a) in parts.iter().enumerate() {
        for (j, b) in parts.iter().enumerate() {
            variance += a.1 * b.1 * if i == j { 1.0 } else { TOGETHER * sqrt(a.2 * b.2) };
        }
    }
    let spread = sqrt(log(1.0 + variance / (mean * mean)));
    let middle = mean / sqrt(1.0 + variance / (mean * mean));
    [middle, middle * exp(-Z90 * spread), middle * exp(Z90 * spread)].map(Q::si)
}

/// Minutes worked on a day.
#[derive(Clone, Copy, Debug)]
pub struct Day {
    pub day: i64,
    pub time: Q<Duration>,
}

/// When the work will be done.
#[derive(Clone, Debug)]
pub struct Calendar {
    /// Time worked in a week.
    pub week: Estimate<Duration>,
    /// Day of finishing: middle, 10 %, 90 %. Beyond ten years the last day is given.
    pub finish: [i64; 3],
    pub words: String,
}

/// Weeks looked back on: older ones say little of now.
const LOOK_BACK: i64 = 12;

/// Finish at the maker's own rhythm. `days`: what was worked, in any order; whole weeks before `today` count, idle ones too.
pub fn calendar(
    days: &[Day],
    today: i64,
    need: [Q<Duration>; 3],
    prior: &Prior<Duration>,
    scatter: &Prior<crate::units::Ratio>,
) -> Calendar {
    let found = rhythm(days, today, prior, scatter);
    let week = super::yarn::estimate(&found, prior, "week", "week");
    let need = need.map(Q::to_si);
    let finish = [0.5, 0.1, 0.9].map(|p| today + days_until(&found, need, p));
    let words = if need[0] <= 0.0 {
        "Nothing left to do.".to_string()
    } else if found.n == 0 {
        "Your own week is not known yet: log the minutes of each sitting.".to_string()
    } else {
        format!("At the rhythm of your last {}.", count_of(found.n, "week"))
    };
    Calendar { week, finish, words }
}

/// Time worked in the weeks behind.
fn rhythm(days: &[Day], today: i64, prior: &Prior<Duration>, scatter: &Prior<crate::units::Ratio>) -> Fit {
    let past = days.iter().filter(|d| d.day < today && d.time.to_si() > 0.0);
    let first = past.clone().map(|d| d.day).min().unwrap_or(today);
    let weeks = ((today - first) / 7).clamp(0, LOOK_BACK);
    let readings: Vec<Reading> = (0..weeks)
        .map(|w| {
            let (from, to) = (today - 7 * (w + 1), today - 7 * w);
            let value = past.clone().filter(|d| d.day >= from && d.day < to).map(|d| d.time.to_si()).sum();
            Reading { group: w as u32, value, weight: 1.0 }
        })
        .collect();
    let ask = Ask { scale: Scale::Plain, mean: prior.numbers(), spread: scatter.numbers(), relative: true };
    fit(&readings, &ask)
}

/// Chance that the work is done by the day `by`.
pub fn chance_by(
    days: &[Day],
    today: i64,
    need: [Q<Duration>; 3],
    prior: &Prior<Duration>,
    scatter: &Prior<crate::units::Ratio>,
    by: i64,
) -> f64 {
    let need = need.map(Q::to_si);
    match (need[0] <= 0.0, by - today) {
        (true, _) => 1.0,
        (false, days_left) if days_left <= 0 => 0.0,
        (false, days_left) => chance_in(&rhythm(days, today, prior, scatter), need, days_left),
    }
}

const LAST_DAY: i64 = 3653;

/// Days after which the work is done with chance `p`.
fn days_until(found: &Fit, need: [f64; 3], p: f64) -> i64 {
    if need[0] <= 0.0 {
        return 0;
    }
    let (mut low, mut high) = (0, LAST_DAY);
    while high - low > 1 {
        let middle = (low + high) / 2;
        if chance_in(found, need, middle) < p { low = middle } else { high = middle }
    }
    high
}

/// Chance that so many days are enough.
fn chance_in(found: &Fit, need: [f64; 3], days: i64) -> f64 {
    let (m, sd) = if need[1] > 0.0 { log_normal_of(need) } else { (log(need[0]), 1e-9) };
    let (weekly, spread) = (found.mean(), found.spread_range()[0] * found.mean_range()[0]);
    let weeks = days as f64 / 7.0;
    let part = |q: &Part| Part {
        weight: q.weight,
        mean: q.mean * weeks,
        sd: sqrt(q.sd * q.sd * weeks * weeks + spread * spread * weeks),
    };
    let worked = Mixture::new(weekly.parts().iter().map(part).collect());
    HERMITE.iter().map(|&(z, w)| w * (1.0 - worked.below(exp(m + z * sd)))).sum::<f64>()
}

/// Ways to do the same, each with the time it takes.
#[derive(Clone, Debug)]
pub struct Way {
    pub name: String,
    pub time: [Q<Duration>; 3],
}

/// Chance that the first way is the quicker one.
pub fn quicker(a: &Way, b: &Way) -> f64 {
    let (ma, sa) = log_normal_of(a.time.map(Q::to_si));
    let (mb, sb) = log_normal_of(b.time.map(Q::to_si));
    normal_below((mb - ma) / sqrt(sa * sa + sb * sb))
}

/// Yarn as singles, or plied from `folds` finer ones: singles spun, then plied. `yarn` is the length of finished yarn; plying
/// takes up a little length, `uptake` ≥ 1 the singles laid in per finished length.
pub fn plied(
    name: &str,
    yarn: [Q<Length>; 3],
    folds: u32,
    uptake: f64,
    single: &Estimate<Speed>,
    ply: &Estimate<Speed>,
) -> Way {
    let spin = left::<Length>("spinning", yarn.map(|q| q * (f64::from(folds) * uptake)), single);
    let time = if folds > 1 { total(&[spin, left::<Length>("plying", yarn, ply)]) } else { spin.time };
    Way { name: name.to_string(), time }
}

/// What is sound for hands and back. Common practice, no source; a physician's word goes before it.
#[derive(Clone, Copy, Debug)]
pub struct RestRule {
    /// Sitting at most this long without a pause.
    pub at_a_stretch: Q<Duration>,
    pub pause: Q<Duration>,
    pub a_day: Q<Duration>,
    /// This week at most so many times the usual week.
    pub more_than_usual: f64,
}

/// The rule used unless the maker has an own one.
pub const REST: RestRule = RestRule {
    at_a_stretch: Q::si(45.0 * 60.0),
    pause: Q::si(10.0 * 60.0),
    a_day: Q::si(4.0 * 3600.0),
    more_than_usual: 1.5,
};

/// Whether to rest now.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// Time until the next pause is due; nothing left when it is due now.
    pub due_in: Q<Duration>,
    pub words: Option<String>,
}

/// When the next rest is due, from the time worked since the last pause, today, this week, and in the usual week if known.
pub fn rest(
    since: Q<Duration>,
    today: Q<Duration>,
    week: Q<Duration>,
    usual: Option<Q<Duration>>,
    rule: &RestRule,
) -> Rest {
    let due_in = Q::si((rule.at_a_stretch.to_si() - since.to_si()).min(rule.a_day.to_si() - today.to_si()).max(0.0));
    let much = usual.is_some_and(|u| u.to_si() > 0.0 && week.to_si() > rule.more_than_usual * u.to_si());
    let words = if today >= rule.a_day {
        Some("Enough for today. Stop, stretch, and go on tomorrow.".to_string())
    } else if since >= rule.at_a_stretch {
        let minutes = rule.pause.get(&crate::units::MINUTE);
        Some(format!("Rest {minutes:.0} minutes: stand up, shake out hands and shoulders, look far away."))
    } else if much {
        Some("Far more than your usual week. Sore wrists take months to mend: ease off.".to_string())
    } else {
        None
    };
    Rest { due_in, words }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{HOUR, M_H, MINUTE};

    fn known(speed: f64) -> Estimate<Speed> {
        Estimate::of([speed, speed * 0.9, speed / 0.9].map(|x| Q::<Speed>::new(x, &M_H).to_si()), 5, 0.1, String::new())
    }

    #[test]
    fn time_left_is_amount_over_pace() {
        let left = left::<Length>("spinning", [5400.0, 4900.0, 5940.0].map(Q::si), &known(90.0));
        assert!((left.time[0].get(&HOUR) - 60.0).abs() < 1e-9);
        // 10 % and 11 % together: about 15 %.
        assert!((left.time[2] / left.time[0] - 1.152).abs() < 0.01 && left.time[1] < left.time[0]);
    }

    #[test]
    fn plying_takes_twice_the_singles_and_its_own_time() {
        let yarn = [1000.0, 950.0, 1050.0].map(Q::si);
        let one = plied("singles", yarn, 1, 1.0, &known(100.0), &known(300.0));
        let two = plied("two-ply", yarn, 2, 1.03, &known(100.0), &known(300.0));
        assert!((one.time[0].get(&HOUR) - 10.0).abs() < 1e-9);
        assert!((two.time[0].get(&HOUR) - 23.9).abs() < 0.2, "{}", two.time[0].get(&HOUR));
        assert!(quicker(&one, &two) > 0.99 && (quicker(&one, &one) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn the_calendar_counts_idle_weeks() {
        let prior = Prior::new(5.0, 2.0, 10.0, &HOUR, "test");
        let scatter = Prior { middle: Q::si(0.5), low: Q::si(0.25), high: Q::si(1.0), source: "test" };
        let day = |day| Day { day, time: Q::new(4.0, &HOUR) };
        let busy: Vec<Day> = (0..8).map(|w| day(7 * w)).collect();
        let every_other: Vec<Day> = (0..4).map(|w| day(14 * w)).collect();
        let need = [Q::new(20.0, &HOUR), Q::new(18.0, &HOUR), Q::new(22.0, &HOUR)];
        let (a, b) = (calendar(&busy, 56, need, &prior, &scatter), calendar(&every_other, 56, need, &prior, &scatter));
        assert!((a.finish[0] - 56 - 35).abs() < 8, "{a:?}");
        assert!(b.finish[0] > a.finish[0] + 14 && a.finish[1] <= a.finish[0] && a.finish[0] <= a.finish[2]);
        let done = calendar(&busy, 56, [Q::si(0.0); 3], &prior, &scatter);
        assert_eq!(done.finish, [56; 3]);
        assert!(calendar(&[], 0, need, &prior, &scatter).words.contains("not known"));
    }

    #[test]
    fn rest_is_due_in_time() {
        let m = |x: f64| Q::new(x, &MINUTE);
        assert_eq!(rest(m(20.0), m(20.0), m(20.0), None, &REST), Rest { due_in: m(25.0), words: None });
        assert!(rest(m(50.0), m(60.0), m(60.0), None, &REST).words.unwrap().starts_with("Rest 10 minutes"));
        assert!(rest(m(1.0), m(241.0), m(300.0), None, &REST).words.unwrap().starts_with("Enough"));
        assert!(rest(m(1.0), m(60.0), m(601.0), Some(m(300.0)), &REST).words.unwrap().starts_with("Far more"));
    }
}
