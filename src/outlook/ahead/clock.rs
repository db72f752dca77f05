//! The maker's own clock: hours left at each step, when it will be done at one's own rhythm, when to rest, and what another way of
//! spinning would take. Hours come from the chain, which has the paces that were logged.

use super::Forecast;
use crate::chain::decide::Brief;
use crate::chain::decide::inputs::How;
use crate::chain::keys as id;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::formulas::registry::Key;
use crate::measure::pace::{self, Calendar, Left, REST, Rest, quicker};
use crate::measure::priors;
use crate::measure::runout::WARN_BELOW;
use crate::measure::samples::Samples;
use crate::outlook::outcome::SEED;
use crate::outlook::trials::{Spread, trials};
use crate::trade::fibres::Plant;
use crate::units::show::{self, Style};
use crate::units::*;

/// A step and what is left of it.
#[derive(Clone, Debug)]
pub struct StepLeft {
    pub name: &'static str,
    /// Share done, 0 to 1.
    pub done: f64,
    /// Time left: middle, 10 % and 90 %.
    pub left: [Q<Duration>; 3],
    /// Time it takes in all at this pace.
    pub whole: Q<Duration>,
    /// Whether the pace is the maker's own.
    pub own: bool,
}

/// Another way to make the yarn.
#[derive(Clone, Debug)]
pub struct Way {
    pub name: String,
    /// Hours of spinning and plying all of it: middle, 10 % and 90 %.
    pub hours: [Q<Duration>; 3],
    /// Chance that it is quicker than the plan's way; none for that way itself.
    pub quicker: Option<f64>,
}

/// The clock.
#[derive(Clone, Debug)]
pub struct Clock {
    pub steps: Vec<StepLeft>,
    /// Time worked and logged so far.
    pub worked: Q<Duration>,
    /// Time left in all.
    pub left: [Q<Duration>; 3],
    /// Day of finishing, and the rhythm it rests on.
    pub calendar: Calendar,
    pub rest: Rest,
    pub ways: Vec<Way>,
    /// Today, counted as the samples count days.
    pub today: i64,
}

/// A step: its name in the log, its hours, the pace they are counted at.
type Step = (&'static str, &'static Key<Duration>, u16);

const TRIALS: usize = 1024;

fn steps(plant: Plant) -> Vec<Step> {
    let fibre: [Step; 2] = match plant {
        Plant::Cotton => {
            [("ginning", &id::GINNING, id::CLEANING_PACE.slot), ("carding", &id::CARDING, id::PREPARING_PACE.slot)]
        }
        Plant::Wool => {
            [("scouring", &id::SCOURING, id::CLEANING_PACE.slot), ("combing", &id::COMBING, id::PREPARING_PACE.slot)]
        }
        Plant::Flax => {
            [("breaking", &id::SCUTCHING, id::CLEANING_PACE.slot), ("hackling", &id::HACKLING, id::PREPARING_PACE.slot)]
        }
    };
    let rest: [Step; 10] = [
        ("sampling", &id::SAMPLING, id::SAMPLING_ONCE.slot),
        ("spinning", &id::SPINNING, id::SPINNING_PACE.slot),
        ("plying", &id::PLYING, id::PLYING_PACE.slot),
        ("washing", &id::SKEINING, id::SKEINING_PACE.slot),
        ("warping", &id::WINDING, id::WINDING_PACE.slot),
        ("threading", &id::THREADING, id::THREADING_PACE.slot),
        ("weaving", &id::WEAVING, id::PICKING_PACE.slot),
        ("finishing", &id::FINISHING, id::FINISHING_ONCE.slot),
        ("sewing", &id::SEWING, id::SEWING_PACE.slot),
        ("printing", &id::PRINTING, id::PRINTING_PACE.slot),
    ];
    fibre.into_iter().chain(rest).collect()
}

/// The clock of a plan as it stands, on the day `today`.
pub(super) fn clock(brief: &Brief, samples: &Samples, today: i64) -> Clock {
    let steps = steps(brief.given.choices.plant);
    let slots: Vec<u16> = steps.iter().map(|step| step.1.slot).collect();
    let run_of = trials(brief, SEED, TRIALS, &slots);
    let mut numbers = Numbers::default();
    run(&brief.given, &mut numbers);
    let mut list = Vec::new();
    for (name, key, pace) in steps {
        let Some(whole) = numbers.get(key) else { continue };
        let si = whole.to_si();
        if !si.is_finite() {
            continue;
        }
        let spread = run_of.spread(key.slot).unwrap_or(Spread { low: si, middle: si, high: si });
        let done = done(name, &numbers, samples, whole);
        let left = [si, spread.low, spread.high].map(|time| Q::si(time * (1.0 - done)));
        let own = brief.inputs.get(&pace).is_some_and(|input| input.how == How::Measured);
        list.push(StepLeft { name, done, left, whole, own });
    }
    let left = total(&list);
    let worked = Q::si(samples.days.iter().map(|day| day.time.to_si()).sum());
    let week = brief.given.get(&id::HOURS_A_WEEK).map_or_else(priors::week, priors::rule_of_thumb);
    let calendar = pace::calendar(&samples.days, today, left, &week, &priors::week_scatter());
    let rest = rest(samples, today);
    Clock { steps: list, worked, left, calendar, rest, ways: ways(brief), today }
}

fn total(steps: &[StepLeft]) -> [Q<Duration>; 3] {
    let part = |step: &StepLeft| {
        // a range that is no range stands a hair apart, so that it has a logarithm
        let [middle, low, high] = step.left.map(Q::to_si);
        let time = [middle, low.min(0.999 * middle), high.max(1.001 * middle)].map(Q::si);
        Left { step: step.name.into(), time, prior_weight: if step.own { 0.2 } else { 1.0 } }
    };
    pace::total(&steps.iter().map(part).collect::<Vec<_>>())
}

/// Share of a step that is done: by what was counted; by the hours, where it is a thing of hours; all of it once a later step has begun.
fn done(name: &str, numbers: &Numbers, s: &Samples, whole: Q<Duration>) -> f64 {
    let of = |have: f64, need: Option<f64>| need.map_or(0.0, |need| if need > 0.0 { have / need } else { 1.0 });
    let prepared = |stage: &str| s.prepared.get(stage).map_or(0.0, |mass| mass.to_si());
    let hours = of(s.time_at(name).to_si(), Some(whole.to_si()));
    let yarn = numbers.get(&id::YARN_LENGTH).map(Q::to_si);
    let spun: f64 = s.bobbins.iter().map(|bobbin| bobbin.length.to_si()).sum();
    let share = match name {
        "ginning" | "scouring" | "breaking" => of(prepared(name), numbers.get(&id::CLEAN_FIBRE).map(Q::to_si)),
        "carding" | "combing" | "hackling" => of(prepared(name), numbers.get(&id::SPUN_FIBRE).map(Q::to_si)),
        "spinning" => of(spun.max(s.length_done(name).to_si()), yarn),
        "plying" => of(s.length_done(name).to_si(), yarn),
        "warping" => {
            if s.warp.is_some() {
                1.0
            } else {
                hours
            }
        }
        "threading" => of(s.number_done(name), numbers.get(&id::ENDS).map(Q::to_si)),
        "weaving" => {
            let cloth = numbers.get(&id::PICKS).zip(numbers.get(&id::PICKS_ON_LOOM));
            of(s.woven.map_or(0.0, Q::to_si), cloth.map(|(picks, close)| picks.to_si() / close.to_si()))
        }
        "sewing" => of(s.length_done(name).to_si(), numbers.get(&id::SEAM_LENGTH).map(Q::to_si)),
        "sampling" => {
            if s.swatches.is_empty() {
                0.0
            } else {
                1.0
            }
        }
        _ => hours,
    };
    let behind = match name {
        "weaving" => s.time_at("finishing").to_si() > 0.0 || s.time_at("sewing").to_si() > 0.0,
        "finishing" => s.time_at("sewing").to_si() > 0.0,
        "sewing" | "printing" => false,
        "threading" => s.is_weaving(),
        _ => s.is_warped(),
    };
    if behind { 1.0 } else { share.clamp(0.0, 1.0) }
}

/// When to rest, by what was written down today.
fn rest(s: &Samples, today: i64) -> Rest {
    let worked = |from: i64| {
        let days = s.days.iter().filter(|day| day.day >= from && day.day <= today);
        days.map(|day| day.time.to_si()).sum::<f64>()
    };
    let past = s.days.iter().filter(|day| day.day < today - 6);
    let weeks = s.days.first().map_or(0, |first| (today - 6 - first.day) / 7);
    let usual = (weeks >= 2).then(|| past.map(|day| day.time.to_si()).sum::<f64>() / weeks as f64);
    // sittings are written down when they end: how long since the last pause is not known from them
    pace::rest(Q::si(0.0), Q::si(worked(today)), Q::si(worked(today - 6)), usual.map(Q::si), &REST)
}

/// The plan's yarn as singles and plied, by hand and by motor, each through the chain.
fn ways(brief: &Brief) -> Vec<Way> {
    let plies = brief.given.get(&id::WARP_PLIES).map_or(1.0, Q::to_si);
    let own = brief.inputs.get(&id::SPINNING_PACE.slot).is_some_and(|input| input.how == How::Measured);
    let motor = brief.given.get(&id::PACE).is_some();
    let word = |plies: f64| if plies > 1.0 { format!("{plies:.0} plied together") } else { "singles".to_string() };
    let other = if plies > 1.0 { 1.0 } else { 2.0 };
    let hand = priors::spinning_pace();
    let mut all =
        vec![(format!("As planned: {}{}", word(plies), if own { ", at your pace" } else { "" }), brief.clone())];
    let mut folded = brief.clone();
    folded.given.set(&id::WARP_PLIES, Q::si(other));
    folded.given.set(&id::WEFT_PLIES, Q::si(other));
    all.push((capital(&word(other)), folded));
    let mut by_hand = brief.clone();
    by_hand.given.set(&id::SPINNING_PACE, hand.middle);
    let measured = crate::chain::decide::inputs::Input {
        slot: id::SPINNING_PACE.slot,
        how: How::Assumed,
        middle: hand.middle.to_si(),
        low: hand.low.to_si(),
        high: hand.high.to_si(),
        source: None,
        path: None,
    };
    by_hand.inputs.insert(measured.slot, measured);
    all.push(("On a hand wheel, as diaries have it".into(), by_hand));
    if motor && own {
        let mut powered = brief.clone();
        powered.given.forget(&id::SPINNING_PACE);
        powered.inputs.remove(&id::SPINNING_PACE.slot);
        all.push(("On the motor spinner, at the pace the plan sets".into(), powered));
    }
    compared(all)
}

fn compared(all: Vec<(String, Brief)>) -> Vec<Way> {
    let mut out: Vec<Way> = Vec::new();
    let mut first: Option<pace::Way> = None;
    for (name, brief) in all {
        let Some(hours) = yarn_hours(&brief) else { continue };
        let way = pace::Way { name: name.clone(), time: hours };
        let chance = first.as_ref().map(|first| quicker(&way, first));
        first.get_or_insert(way);
        out.push(Way { name, hours, quicker: chance });
    }
    out
}

/// Spinning and plying together.
fn yarn_hours(brief: &Brief) -> Option<[Q<Duration>; 3]> {
    let slots = [id::SPINNING.slot, id::PLYING.slot];
    let run_of = trials(brief, SEED, TRIALS, &slots);
    let (spin, ply) = (run_of.column(slots[0])?, run_of.column(slots[1])?);
    let mut sums: Vec<f64> =
        spin.iter().zip(&ply).map(|(spin, ply)| spin + if ply.is_nan() { 0.0 } else { *ply }).collect();
    sums.retain(|sum| sum.is_finite());
    sums.sort_by(f64::total_cmp);
    let at = |share: f64| sums.get((share * sums.len() as f64) as usize).copied();
    let (middle, low, high) = (at(0.5)?, at(0.1)?, at(0.9)?);
    Some([middle, low.min(0.999 * middle), high.max(1.001 * middle)].map(Q::si))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Whether it will be done by a day, and what a longer week would do.
pub fn in_time(clock: &Clock, samples: &Samples, by: i64, style: Style) -> Forecast {
    let chance = |longer: f64| chance_by(clock, samples, by, longer);
    let now = chance(1.0);
    let days = clock.calendar.finish.map(|day| (by - day) as f64 * 86_400.0);
    let days_in = |si: f64| match (si.abs() / 86_400.0).round() {
        1.0 => "a day".to_string(),
        days => format!("{days:.0} days"),
    };
    let words = match days[0] {
        over if now >= WARN_BELOW => format!("Likely: about {} to spare.", days_in(over.max(0.0))),
        over if over >= 0.0 => {
            format!("It will be close: about {} to spare, at worst {} late.", days_in(over), days_in(days[2].min(0.0)))
        }
        over => format!("Not at this rhythm: about {} late.", days_in(over)),
    };
    let warn = now < WARN_BELOW;
    let longer = [1.25, 1.5, 2.0, 3.0].into_iter().find(|longer| chance(*longer) >= 0.9).unwrap_or(3.0);
    let week = clock.calendar.week.middle.to_si();
    let text = |si: f64| show::natural(si, Kind::Duration, style);
    let rescue = super::Rescue {
        does: format!("Work {} a week instead of {}", text(week * longer), text(week)),
        moves: Vec::new(),
        gives: 0.0,
        chance: chance(longer),
        costs: "rest between sittings all the same".into(),
    };
    Forecast {
        name: "time",
        asks: "Will it be done in time?",
        chance: now,
        warn,
        figure_says: "days to spare",
        figure: [days[0], days[2], days[1]],
        unit: AnyUnit { name: DAY.name, scale: DAY.scale },
        kind: Kind::Duration,
        words,
        rescues: if warn { vec![rescue] } else { Vec::new() },
    }
}

/// Chance to be done by a day when every week is so many times as long as it was.
fn chance_by(clock: &Clock, samples: &Samples, by: i64, longer: f64) -> f64 {
    let (week, scatter) = (priors::week(), priors::week_scatter());
    let days: Vec<pace::Day> = samples.days.iter().map(|day| pace::Day { time: day.time * longer, ..*day }).collect();
    let week = crate::measure::Prior {
        middle: week.middle * longer,
        low: week.low * longer,
        high: week.high * longer,
        ..week
    };
    pace::chance_by(&days, clock.today, clock.left, &week, &scatter, by)
}
