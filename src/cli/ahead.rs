//! Pages of what a log teaches and what lies ahead: for `log learned`, `log ahead` and the page of `plan --with-log`.

use super::show::{FAINT, HEAD, inked, wrapped};
use crate::chain::keys::ALL;
use crate::outlook::ahead::{Ahead, Clock, Forecast, Rescue, evenness_words};
use crate::outlook::day;
use crate::units::show::{self, Style};
use crate::units::{Duration, Kind, Q};
use anstyle::AnsiColor;

/// Width of a paragraph.
const WIDE: usize = 92;

/// What the log taught.
pub fn learned(ahead: &Ahead, planned: &crate::chain::decide::Brief) -> String {
    let style = planned.style;
    let mut out = format!("{}\n", inked(HEAD, "What the log teaches this plan"));
    let mut row = |name: &str, (low, middle, high): (f64, f64, f64), unit, beside: String, words: &str| {
        let (value, range) = (show::quantity(middle, unit, style), show::range(low, high, unit, style));
        out += &format!("  {name:36} {value:>12} {range:>22}  {}\n", inked(FAINT, &beside));
        out += &format!("      {}\n", wrapped(words, WIDE, 6));
    };
    for lesson in &ahead.learned.lessons {
        let key = &ALL[lesson.measured.slot as usize];
        let before = planned.given.si(lesson.measured.slot);
        let before = before.map_or(String::new(), |si| format!("planned {}", show::quantity(si, &key.unit, style)));
        let m = &lesson.measured;
        row(key.name, (m.low, m.middle, m.high), &key.unit, before, &lesson.words);
    }
    for found in &ahead.learned.findings {
        row(found.says, (found.low, found.middle, found.high), &found.unit, String::new(), &found.words);
    }
    if ahead.learned.lessons.is_empty() {
        out += "  nothing yet: weigh and count a washed skein first\n";
    }
    if !ahead.more.is_empty() {
        out += &format!("\n{}\n", inked(HEAD, "How many more for ± 5 %, eight times in ten"));
        for more in &ahead.more {
            out += &format!("  {}: {}\n", more.what, more.enough.words);
        }
    }
    out + &odd(&ahead.odd)
}

/// What does not look like the rest.
pub fn odd(odd: &[String]) -> String {
    if odd.is_empty() {
        return String::new();
    }
    let lines: String = odd.iter().map(|words| format!("  {words}\n")).collect();
    format!("\n{}\n{lines}", inked(HEAD, "What looks odd"))
}

/// What lies ahead.
pub fn page(ahead: &Ahead, plan: &str) -> String {
    let style = ahead.brief.style;
    let mut out = format!("{}\n", inked(HEAD, &ahead.brief.title));
    for forecast in &ahead.forecasts {
        out += &forecast_lines(forecast, style);
    }
    if ahead.forecasts.is_empty() {
        out += "  Nothing can be foretold yet. Log the warp you wound (threads, wound), weft_left with each\n  length woven, bobbins with a length weighed, and break loads.\n";
    }
    if ahead.forecasts.iter().any(|forecast| forecast.rescues.iter().any(|rescue| !rescue.moves.is_empty())) {
        out += &inked(FAINT, &format!("\nTo take a way out that names a key, write that line into {plan}.\n"));
    }
    out += &clock(&ahead.clock, style);
    if let Some(found) = &ahead.evenness {
        out += &format!("\n{}\n", inked(HEAD, "Bobbins"));
        for words in evenness_words(found) {
            out += &format!("  {}\n", wrapped(&words, WIDE, 2));
        }
        out += &inked(FAINT, &format!("  See them: clothwright draw bobbins {plan} -o bobbins.pdf, and stripes\n"));
    }
    out + &odd(&ahead.odd)
}

/// The questions and their answers alone, for the plan's own page.
pub fn briefly(ahead: &Ahead) -> String {
    let line =
        |f: &Forecast| format!("  {:32} {:>2} in 100  {}\n", f.asks, hundredths(f.chance), wrapped(&f.words, 60, 46));
    let lines: String = ahead.forecasts.iter().map(line).collect();
    let hours = ahead.clock.left.map(|time| show::natural(time.to_si(), Kind::Duration, ahead.brief.style));
    format!(
        "\n{}\n{lines}  {} of work left ({} to {}), done about {}. More: clothwright log PLAN ahead\n",
        inked(HEAD, "At the bench, by the log"),
        hours[0],
        hours[1],
        hours[2],
        day::text(ahead.clock.calendar.finish[0])
    )
}

/// A question, its answer, and the ways out.
pub fn forecast_lines(forecast: &Forecast, style: Style) -> String {
    let ink = if forecast.warn { AnsiColor::Yellow.on_default().bold() } else { AnsiColor::Green.on_default() };
    let chance = inked(ink, &format!("{} in 100", hundredths(forecast.chance)));
    let mut out = format!("\n{}  {chance}\n  {}\n", inked(HEAD, forecast.asks), wrapped(&forecast.words, WIDE, 2));
    let [middle, low, high] = forecast.figure.map(|si| show::quantity(si, &forecast.unit, style));
    out += &inked(FAINT, &format!("  {}: {middle} ({low} to {high})\n", forecast.figure_says));
    for rescue in &forecast.rescues {
        out += &rescue_lines(rescue, forecast, style);
    }
    out
}

fn rescue_lines(rescue: &Rescue, forecast: &Forecast, style: Style) -> String {
    let mut out = format!("    {:>3} in 100  {}", hundredths(rescue.chance), wrapped(&rescue.does, WIDE - 16, 16));
    if rescue.gives > 0.0 && forecast.name != "breaks" {
        out += &format!(" (gives {})", show::quantity(rescue.gives, &forecast.unit, style));
    }
    out.push('\n');
    if !rescue.costs.is_empty() {
        out += &inked(FAINT, &format!("                {}\n", rescue.costs));
    }
    for (key, to) in &rescue.moves {
        out += &inked(FAINT, &format!("                {key} = \"{to}\"\n"));
    }
    out
}

/// A chance as whole hundredths that never claims to be sure.
fn hundredths(chance: f64) -> u32 {
    (100.0 * chance).round().clamp(1.0, 99.0) as u32
}

/// Hours left, when it will be done, rest, and other ways.
fn clock(clock: &Clock, style: Style) -> String {
    let time = |time: Q<Duration>| show::natural(time.to_si(), Kind::Duration, style);
    let range = |[_, low, high]: [Q<Duration>; 3]| format!("{} to {}", time(low), time(high));
    let mut out = format!("\n{}\n", inked(HEAD, "Hours left"));
    for step in clock.steps.iter().filter(|step| step.left[0].to_si() > 60.0) {
        let done = if step.done > 0.005 { format!("{:.0} % done", 100.0 * step.done) } else { String::new() };
        let pace = if step.own { "your pace" } else { "" };
        out += &format!("  {:12} {:>10}  {:22} {done:>10}  {pace}\n", step.name, time(step.left[0]), range(step.left));
    }
    out += &format!(
        "  {:12} {:>10}  {:22} {:>10} worked\n",
        "in all",
        time(clock.left[0]),
        range(clock.left),
        time(clock.worked)
    );
    let [middle, low, high] = clock.calendar.finish.map(day::text);
    if clock.left[0].to_si() > 60.0 {
        let week = &clock.calendar.week;
        // ten years are as far as the calendar goes: that far it knows nothing
        let known = clock.calendar.finish[2] - clock.today < 3650;
        let span = if known { format!("{low} to {high}") } else { format!("{low} at the earliest") };
        out += &format!("  Done about {middle} ({span}). {}", clock.calendar.words);
        out += &format!(" {} a week.\n", time(week.middle));
    }
    if let Some(words) = &clock.rest.words {
        out += &format!("  {words}\n");
    }
    out += &format!("\n{}\n", inked(HEAD, "All the yarn, spun and plied"));
    for way in &clock.ways {
        let quicker =
            way.quicker.map_or(String::new(), |chance| format!("quicker {} times in 100", hundredths(chance)));
        out += &format!("  {:48} {:>10}  {:22} {quicker}\n", way.name, time(way.hours[0]), range(way.hours));
    }
    out
}
