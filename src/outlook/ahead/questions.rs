//! The questions a maker asks while the work goes on, each answered by trials of the plan as it stands: does the fibre last, is the
//! warp long and wide enough, does the weft last, will the warp hold?

use super::rescues;
use super::{Forecast, Stand};
use crate::chain::decide::Brief;
use crate::chain::keys as id;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::formulas::registry::Key;
use crate::measure::links::{self, Warp};
use crate::measure::runout::{self, WARN_BELOW};
use crate::measure::yarn::{Strength, strength};
use crate::measure::{Prior, priors};
use crate::outlook::outcome::SEED;
use crate::outlook::trials::{Trials, trials};
use crate::units::show::{self, Style};
use crate::units::*;

/// Trials behind a forecast: its chance is good to a hundredth or two.
const TRIALS: usize = 2048;

/// Cloth a little narrow costs a little ease, no more: the warning waits for worse.
const NARROW_BELOW: f64 = 0.35;

/// An answer: the chance, and the figure with its 10 % and 90 % points.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub chance: f64,
    pub figure: [f64; 3],
    pub words: String,
}

/// What is asked of a plan as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Question {
    Fibre,
    Warp,
    Width,
    Weft,
}

/// All forecasts that can be made from what was logged.
pub(super) fn forecasts(stand: &Stand, brief: &Brief, rescue: bool) -> Vec<Forecast> {
    let mut all: Vec<Forecast> = [Question::Fibre, Question::Warp, Question::Width, Question::Weft]
        .into_iter()
        .filter_map(|question| forecast(stand, brief, question, rescue))
        .collect();
    all.extend(breaks(stand, brief));
    all
}

fn forecast(stand: &Stand, brief: &Brief, question: Question, rescue: bool) -> Option<Forecast> {
    let answer = question.ask(stand, brief, &Weft::of(stand))?;
    let warn = answer.chance < if question == Question::Width { NARROW_BELOW } else { WARN_BELOW };
    let rescues = if warn && rescue { rescues::rescues(stand, brief, question, &answer) } else { Vec::new() };
    let (name, asks, figure_says) = question.names();
    let (unit, kind) = match question {
        Question::Fibre | Question::Weft => (any(&G), Kind::Mass),
        Question::Warp | Question::Width => (any(&CM), Kind::Length),
    };
    Some(Forecast {
        name,
        asks,
        chance: answer.chance,
        warn,
        figure_says,
        figure: if kind == Kind::Length { answer.figure.map(to_mm) } else { answer.figure },
        unit,
        kind,
        words: answer.words,
        rescues,
    })
}

fn any<D>(unit: &Unit<D>) -> AnyUnit {
    AnyUnit { name: unit.name, scale: unit.scale }
}

/// The weft that is there and how it was used.
#[derive(Clone, Debug, Default)]
pub(super) struct Weft {
    pub left: f64,
    pub used: Vec<runout::Used>,
}

impl Weft {
    pub(super) fn of(stand: &Stand) -> Self {
        Weft { left: stand.samples.weft_left.map_or(0.0, Q::to_si), used: stand.samples.used.clone() }
    }
}

impl Question {
    fn names(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Question::Fibre => ("fibre", "Will the fibre last?", "yarn over at the end"),
            Question::Warp => ("warp", "Is the warp long enough?", "warp over at the end"),
            Question::Width => ("width", "Will the cloth be wide enough?", "width over in the heddle"),
            Question::Weft => ("weft", "Will the weft last?", "weft over at the end"),
        }
    }

    /// The answer for a plan; none where the log does not say enough, or the question is behind.
    pub(super) fn ask(self, stand: &Stand, brief: &Brief, weft: &Weft) -> Option<Answer> {
        match self {
            Question::Fibre if stand.samples.is_warped() => None,
            Question::Fibre => fibre(&with_fibre(stand, brief)?),
            Question::Warp => {
                let wound = stand.samples.warp?.length.to_si();
                spare(brief, &id::WARP_LENGTH, wound, &WARP_WORDS)
            }
            Question::Width => {
                let wide = stand.samples.warp?.in_reed?.to_si();
                spare(brief, &id::WIDTH_IN_REED, wide, &WIDTH_WORDS)
            }
            Question::Weft => weft_lasts(stand, brief, weft),
        }
    }
}

/// The plan with the fibre and yarn that are there now, by form. None where nobody said what was there to begin with.
fn with_fibre(stand: &Stand, brief: &Brief) -> Option<Brief> {
    let mut brief = brief.clone();
    let there = |slot: u16| brief.given.si(slot);
    let raw = there(id::RAW_ON_HAND.slot)?;
    let (clean, ready, yarn) = (
        there(id::CLEAN_ON_HAND.slot).unwrap_or(0.0),
        there(id::SPUN_ON_HAND.slot).unwrap_or(0.0),
        there(id::YARN_ON_HAND.slot).unwrap_or(0.0),
    );
    let sum = |map: &std::collections::BTreeMap<String, Q<Mass>>, names: &[&str]| {
        names.iter().filter_map(|name| map.get(*name)).map(|mass| mass.to_si()).sum::<f64>()
    };
    let (cleaning, preparing) = crate::outlook::learned::stages_of(brief.given.choices.plant);
    let s = stand.samples;
    let spun = s.spun.map_or(0.0, Q::to_si);
    let keeps = brief.given.get(&id::SPINNING_KEEPS).map_or(1.0, Q::to_si);
    // what left one form has come into the next; spinning takes from what is ready
    let raw = (raw - sum(&s.taken, cleaning)).max(0.0);
    let clean = (clean + sum(&s.prepared, cleaning) - sum(&s.taken, preparing)).max(0.0);
    let ready = (ready + sum(&s.prepared, preparing) - spun / keeps).max(0.0);
    let forms = [(&id::RAW_ON_HAND, raw), (&id::CLEAN_ON_HAND, clean), (&id::SPUN_ON_HAND, ready)];
    for (key, si) in forms.into_iter().chain([(&id::YARN_ON_HAND, yarn + spun)]) {
        brief.given.set(key, Q::si(si));
    }
    Some(brief)
}

/// Middle, 10 % and 90 % points.
fn points(mut values: Vec<f64>) -> Option<[f64; 3]> {
    values.retain(|value| value.is_finite());
    if values.is_empty() {
        return None;
    }
    values.sort_by(f64::total_cmp);
    let at = |share: f64| values[((share * values.len() as f64) as usize).min(values.len() - 1)];
    Some([at(0.5), at(0.1), at(0.9)])
}

fn share_above(values: &[f64]) -> f64 {
    values.iter().filter(|over| **over >= 0.0).count() as f64 / values.len().max(1) as f64
}

fn columns<const N: usize>(run: &Trials, slots: [u16; N]) -> Option<[Vec<f64>; N]> {
    let found: Vec<Vec<f64>> = slots.iter().filter_map(|slot| run.column(*slot)).collect();
    found.try_into().ok()
}

fn fibre(brief: &Brief) -> Option<Answer> {
    let slots = [id::YARN_POSSIBLE.slot, id::YARN_MASS.slot];
    let [have, need] = columns(&trials(brief, SEED, TRIALS, &slots), slots)?;
    let over: Vec<f64> = have.iter().zip(&need).map(|(have, need)| have - need).collect();
    let (chance, figure) = (share_above(&over), points(over)?);
    let words = verdict(chance, figure, (Kind::Mass, brief.style), "yarn");
    Some(Answer { chance, figure, words })
}

/// How a length that was wound compares with what the plan needs now.
fn spare(brief: &Brief, key: &Key<Length>, have: f64, words: &Words) -> Option<Answer> {
    let [need] = columns(&trials(brief, SEED, TRIALS, &[key.slot]), [key.slot])?;
    let over: Vec<f64> = need.iter().map(|need| have - need).collect();
    let (chance, figure) = (share_above(&over), points(over)?);
    let text = |si: f64| show::quantity(to_mm(si), &any(&CM), brief.style);
    let said = match figure {
        [over, low, _] if low >= 0.0 => format!("{} About {} over.", words.enough, text(over)),
        [over, ..] if chance >= WARN_BELOW => format!("{} About {} over.", words.likely, text(over.max(0.0))),
        [over, low, _] if over >= 0.0 => format!("{} At worst {} short.", words.maybe, text(-low)),
        [over, low, _] => format!("{} About {} short, at worst {}.", words.short, text(-over), text(-low)),
    };
    Some(Answer { chance, figure, words: said })
}

/// A length as a ruler reads it: whole millimetres.
fn to_mm(metres: f64) -> f64 {
    (metres * 1000.0).round() / 1000.0
}

/// Sentences for a length that is enough, likely enough, doubtful, and short.
struct Words {
    enough: &'static str,
    likely: &'static str,
    maybe: &'static str,
    short: &'static str,
}
const WARP_WORDS: Words = Words {
    enough: "The warp is long enough.",
    likely: "The warp is probably long enough.",
    maybe: "The warp may be too short.",
    short: "The warp is probably too short.",
};
const WIDTH_WORDS: Words = Words {
    enough: "The cloth will be wide enough.",
    likely: "The cloth is probably wide enough.",
    maybe: "The cloth may come out narrow: wash a sample before you cut, and keep the edges from pulling in.",
    short: "The cloth will probably come out narrow: keep the edges from pulling in, and take the pieces off the washed width.",
};

/// The words of running out.
fn verdict(chance: f64, figure: [f64; 3], (kind, style): (Kind, Style), what: &str) -> String {
    let text = |si: f64| show::natural(si.abs(), kind, style);
    let how = match chance {
        c if c >= 0.95 => "There is enough.",
        c if c >= WARN_BELOW => "Probably enough. Weigh again soon.",
        c if c >= 0.5 => "It may not be enough. Decide now, while there is still a choice.",
        c if c >= 0.1 => "Probably not enough. Choose a way out before you go on.",
        _ => "Not enough.",
    };
    let by = match figure {
        [middle, low, _] if low >= 0.0 => format!("About {} of {what} over.", text(middle)),
        [middle, low, _] if middle >= 0.0 => {
            format!("About {} of {what} over; at worst {} short.", text(middle), text(low))
        }
        [middle, low, _] => format!("About {} of {what} short; at worst {}.", text(middle), text(low)),
    };
    format!("{how} {by}")
}

/// Cloth on the loom in all, header and sample counted, and the weft it takes a length, over trials.
fn cloth_and_rate(brief: &Brief) -> Option<([f64; 3], [f64; 3])> {
    let slots = [id::PICKS.slot, id::PICKS_ON_LOOM.slot, id::WEFT_MASS.slot];
    let [picks, close, mass] = columns(&trials(brief, SEED, TRIALS, &slots), slots)?;
    let length: Vec<f64> = picks.iter().zip(&close).map(|(picks, close)| picks / close).collect();
    let rate = mass.iter().zip(&length).map(|(mass, length)| mass / length).collect();
    Some((points(length)?, points(rate)?))
}

fn weft_lasts(stand: &Stand, brief: &Brief, weft: &Weft) -> Option<Answer> {
    let at = stand.samples.weighed_at?.to_si();
    let (cloth, rate) = cloth_and_rate(brief)?;
    let to_weave = cloth.map(|length| Q::<Length>::si((length - at).max(0.0)));
    let [middle, low, high] = rate;
    let planned = Prior {
        middle: Q::si(middle),
        low: Q::si(low.min(0.98 * middle)),
        high: Q::si(high.max(1.02 * middle)),
        source: "the plan with the yarn as measured",
    };
    let scatter = priors::weft_scatter();
    let found = runout::weaving(Q::si(weft.left), &weft.used, &planned, &scatter, to_weave);
    let use_now = runout::weft_use(&weft.used, &planned, &scatter);
    let reach = runout::reach(Q::si(weft.left), &use_now)[0].to_si() + at;
    let text = |si: f64| show::quantity(to_mm(si), &any(&CM), brief.style);
    let short = if found.warn {
        format!(
            " At the present rate it ends at {} of {}: {} short.",
            text(reach),
            text(cloth[0]),
            text(cloth[0] - reach)
        )
    } else {
        String::new()
    };
    let words = format!("{}{}", found.words, if cloth[0] > reach { short } else { String::new() });
    Some(Answer { chance: found.chance.to_si(), figure: found.over.map(Q::to_si), words })
}

/// Broken ends that can be mended without losing heart.
const FEW_BREAKS: u32 = 5;

/// The maker's own strength, as the chain holds it.
fn own_strength(stand: &Stand, brief: &Brief) -> Option<Strength> {
    let mut numbers = Numbers::default();
    run(&stand.planned.given, &mut numbers);
    let planned = numbers.get(&id::WARP_BREAK).or(brief.given.get(&id::WARP_BREAK))?;
    (!stand.samples.breaks.is_empty())
        .then(|| strength(&stand.samples.breaks, &priors::rule_of_thumb(planned), &priors::strength_spread()))
}

/// Whether the warp holds, and what would make it hold better.
fn breaks(stand: &Stand, brief: &Brief) -> Option<Forecast> {
    let strength = own_strength(stand, brief)?;
    let mut numbers = Numbers::default();
    run(&brief.given, &mut numbers);
    let yarn = match stand.samples.warp {
        Some(warp) => warp.length * warp.ends,
        None => numbers.get(&id::WARP_YARN)?,
    };
    let gauge = brief.given.get(&id::GAUGE)?;
    let warp = Warp { yarn, gauge, peak: numbers.get(&id::PEAK_LOAD)?, retained: priors::retained() };
    let lives = links::survival(&strength, &warp);
    let figure = [lives.breaks.middle, lives.breaks.low, lives.breaks.high].map(Q::to_si);
    let chance = links::few(&strength, &warp, &links::AS_IT_IS, FEW_BREAKS);
    let warn = chance < WARN_BELOW;
    // what size, ply, twist and tension buy is worth knowing while there is still a choice
    let choice = warn || !stand.samples.is_weaving();
    let rescues = if choice { rescues::of_breaks(&strength, &warp, FEW_BREAKS) } else { Vec::new() };
    let so_far = stand.samples.ends_broken;
    let words = match so_far {
        n if n >= 1.0 => format!("{} {n:.0} broke so far.", lives.breaks.words),
        _ => lives.breaks.words,
    };
    let (name, asks, figure_says) = ("breaks", "Will the warp hold?", "ends likely to break in all");
    Some(Forecast {
        name,
        asks,
        chance,
        warn,
        figure_says,
        figure,
        unit: any(&EACH),
        kind: Kind::Number,
        words,
        rescues,
    })
}
