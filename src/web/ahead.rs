//! What lies ahead by the log: will it last, what can be done, when will it be done, what does not look like the rest.

use super::state::Worked;
use crate::outlook::ahead::{Clock, Forecast, Rescue, evenness_words, odd_lately};
use crate::outlook::day;
use crate::units::show::{self, Style};
use crate::units::{Duration, Kind, Q};
use maud::{Markup, html};

/// What does not look like the rest.
pub fn odd(worked: &Worked) -> Markup {
    let odd = worked.outcome.as_ref().ok().and_then(|outcome| outcome.ahead.as_ref()).map_or(&[][..], |a| &a.odd);
    html! { @if !odd.is_empty() { section { h2 { "What looks odd" } @for words in odd { p.must { (words) } } } } }
}

/// What an entry that was just written down brings up, in a sentence or none.
pub fn brought_up(worked: &Worked, kind: &str) -> String {
    let mut said =
        if ["bobbin", "picks", "woven", "fibre"].contains(&kind) { odd_lately(worked.samples()) } else { Vec::new() };
    let question = match kind {
        "woven" | "weft" => "weft",
        "warp" => "warp",
        "bobbin" | "fibre" => "fibre",
        "skein" => "breaks",
        _ => "",
    };
    let ahead = worked.outcome.as_ref().ok().and_then(|outcome| outcome.ahead.as_ref());
    if kind == "minutes" {
        said.extend(ahead.and_then(|ahead| ahead.clock.rest.words.clone()));
    }
    let warned = ahead.and_then(|ahead| ahead.forecasts.iter().find(|f| f.name == question && f.warn));
    said.extend(warned.map(|f| format!("{} {}", f.asks, f.words)));
    said.join(" ")
}

/// A chance as whole hundredths that never claims to be sure.
fn hundredths(chance: f64) -> u32 {
    (100.0 * chance).round().clamp(1.0, 99.0) as u32
}

/// The questions, their answers, and ways out as buttons.
pub fn forecasts(worked: &Worked) -> Markup {
    let Some(ahead) = worked.ahead() else { return html! {} };
    let style = ahead.brief.style;
    html! {
        section {
            h2 { "Will it last?" }
            @if ahead.forecasts.is_empty() {
                p.none { "Nothing can be foretold yet. Write down the warp you wound, the weft left with each length woven, bobbins with a length weighed, and break loads." }
            }
            @for forecast in &ahead.forecasts { (one(forecast, style)) }
        }
        @for more in &ahead.more { p { "How many more of " (more.what) "? " (more.enough.words) } }
    }
}

/// The questions in short, for the overview.
pub fn briefly(worked: &Worked) -> Markup {
    let ahead = worked.outcome.as_ref().ok().and_then(|outcome| outcome.ahead.as_ref());
    let Some(ahead) = ahead else { return html! {} };
    html! {
        section {
            h2 { "At the bench, by the log" }
            @for f in &ahead.forecasts { p class=(if f.warn { "must" } else { "well" }) { b { (f.asks) } " " (hundredths(f.chance)) " in 100. " (f.words) } }
            (odd(worked))
            p { (left(&ahead.clock, ahead.brief.style)) " " a href="/log" { "More, and ways out" } }
        }
    }
}

fn one(forecast: &Forecast, style: Style) -> Markup {
    let [middle, low, high] = forecast.figure.map(|si| show::quantity(si, &forecast.unit, style));
    html! {
        div class={ "check " (if forecast.warn { "warn" } else { "note" }) } {
            p { b { (forecast.asks) } " " (hundredths(forecast.chance)) " in 100. " (forecast.words) }
            p.how { (forecast.figure_says) ": " (middle) " (" (low) " to " (high) ")" }
            @if !forecast.rescues.is_empty() { ul { @for rescue in &forecast.rescues { li { (way_out(rescue, forecast, style)) } } } }
        }
    }
}

fn way_out(rescue: &Rescue, forecast: &Forecast, style: Style) -> Markup {
    let gives = rescue.gives > 0.0 && forecast.name != "breaks";
    html! {
        (rescue.does) ": then " b { (hundredths(rescue.chance)) " in 100" }
        @if gives { ", gives " (show::quantity(rescue.gives, &forecast.unit, style)) }
        @if !rescue.costs.is_empty() { ". " (rescue.costs) }
        @if let [(key, to)] = rescue.moves.as_slice() {
            form.inline method="post" action="/edit" {
                input type="hidden" name="key" value=(key);
                input type="hidden" name="value" value=(to);
                input type="hidden" name="part" value="warp";
                button type="submit" { "Set " (key) " to " (to) }
            }
        } @else if !rescue.moves.is_empty() {
            span.how { " In the plan: " @for (key, to) in &rescue.moves { (key) " = " (to) "; " } }
        }
    }
}

/// What the bobbins say, in words.
pub fn evenness(worked: &Worked) -> Markup {
    let found = worked.outcome.as_ref().ok().and_then(|o| o.ahead.as_ref()).and_then(|a| a.evenness.as_ref());
    html! { @if let Some(found) = found { section { h2 { "Bobbins" } ul { @for words in evenness_words(found) { li { (words) } } } } } }
}

fn range(times: [Q<Duration>; 3], style: Style) -> String {
    let [middle, low, high] = times.map(|time| show::natural(time.to_si(), Kind::Duration, style));
    format!("{middle} ({low} to {high})")
}

fn left(clock: &Clock, style: Style) -> String {
    format!("{} of work left; done about {}.", range(clock.left, style), day::text(clock.calendar.finish[0]))
}

/// The maker's own clock.
pub fn clock(worked: &Worked) -> Markup {
    let ahead = worked.outcome.as_ref().ok().and_then(|outcome| outcome.ahead.as_ref());
    let Some(ahead) = ahead else { return html! {} };
    let (clock, style) = (&ahead.clock, ahead.brief.style);
    html! {
        section {
            h2 { "Your own clock" }
            p { (left(clock, style)) " " (clock.calendar.words) }
            @if let Some(words) = &clock.rest.words { p.must { (words) } }
            div.sheet tabindex="0" role="group" aria-label="Steps left" { table.figures {
                thead { tr { th scope="col" { "Step" } th scope="col" { "Done" } th scope="col" { "Left" } th scope="col" { "Pace" } } }
                tbody { @for step in &clock.steps { tr {
                    th scope="row" { (step.name) }
                    td { (format!("{:.0} %", 100.0 * step.done)) }
                    td { (range(step.left, style)) }
                    td { @if step.own { "your own" } @else { "assumed" } }
                } } }
            } }
            @if !clock.ways.is_empty() {
                h3 { "Other ways to make the yarn" }
                ul { @for way in &clock.ways { li { (way.name) ": " (range(way.hours, style)) @if let Some(chance) = way.quicker { ", quicker " (hundredths(chance)) " times in 100" } } } }
            }
        }
    }
}
