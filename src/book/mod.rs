//! The workshop book: one self-contained page to read or to print, with everything that is needed away from the screen. It works nothing out
//! and reaches for nothing: drawings stand in it as they are, pictures as data.

mod cards;

use crate::chain::decide::inputs::How;
use crate::chain::keys::ALL;
use crate::draw::caution::Hazard;
use crate::draw::of_plan::parts::{self, Part};
use crate::draw::{of_plan, style, svg};
use crate::outlook::Outcome;
use crate::outlook::outcome::Verdict;
use crate::plan::keys::TABLE;
use crate::units::show;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// A chapter that is no part of the plan.
struct Chapter {
    name: &'static str,
    title: &'static str,
    body: fn(&Outcome) -> Markup,
}

/// What stands before the parts.
static BEFORE: &[Chapter] = &[
    Chapter { name: "glance", title: "The whole at a glance", body: glance },
    Chapter { name: "checks", title: "Checks", body: checks },
    Chapter { name: "first", title: "First of all: thirty metres and a swatch", body: first },
];
/// What stands after them.
static AFTER: &[Chapter] = &[
    Chapter { name: "cautions", title: "Cautions", body: cautions },
    Chapter { name: "cards", title: "Sample cards", body: cards::blank },
    Chapter { name: "plan", title: "The plan as it was decided", body: plan },
];

/// Pixels across the picture of the cloth.
const CLOTH: usize = 1400;

/// The book as HTML.
pub fn html(outcome: &Outcome) -> String {
    pieces(outcome).collect()
}

/// The same piece by piece, each made when it is asked for: what stands before the chapters, the chapters, and the end. For a reader who
/// need not wait for the last drawing to begin.
pub fn pieces(outcome: &Outcome) -> impl Iterator<Item = String> {
    const CHAPTERS: &str = "<!-- chapters -->";
    let title = outcome.brief.title.as_str();
    let body = html! {
        h1 { (title) }
        p.lead { "The workshop book: what to grow, build, spin, weave, cut, sew and print, and what to mind." }
        nav aria-label="Contents" { ol.contents {
            @for one in BEFORE { li { a href={ "#" (one.name) } { (one.title) } } }
            @for part in parts::ALL { li { a href={ "#" (part.name) } { (part.title) } } }
            @for one in AFTER { li { a href={ "#" (one.name) } { (one.title) } } }
        } }
        (PreEscaped(CHAPTERS))
    };
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · workshop book" }
                style { (PreEscaped(style::page_css())) (PreEscaped(include_str!("book.css"))) }
            }
            body { (body) }
        }
    };
    let page = page.into_string();
    let (begin, end) = page.split_once(CHAPTERS).unwrap_or((&page, ""));
    let (begin, end) = (begin.to_string(), end.to_string());
    let chapter = |name: &str, title: &str, body: Markup| {
        html! { section.chapter id=(name) { h2 { (title) } (body) } }.into_string()
    };
    let own = move |one: &'static Chapter| chapter(one.name, one.title, (one.body)(outcome));
    let parts = parts::ALL.iter().map(move |one| chapter(one.name, one.title, part(outcome, one)));
    std::iter::once(begin)
        .chain(BEFORE.iter().map(own))
        .chain(parts)
        .chain(AFTER.iter().map(own))
        .chain(std::iter::once(end))
}

/// Figures: what is planned, its range, the safe one, and where it is from.
fn figures(outcome: &Outcome, slots: &[u16]) -> Markup {
    let style = outcome.brief.style;
    html! { table {
        thead { tr { th scope="col" { "What" } th scope="col" { "Planned" } th scope="col" { "8 makers in 10" } th scope="col" { "Safe" } } }
        tbody { @for slot in slots {
            @let key = &ALL[*slot as usize];
            @if let Some(si) = outcome.numbers.si(*slot) { tr {
                th scope="row" { (key.says.trim_end_matches('.')) @if outcome.how(*slot) == How::Assumed { span.how { " assumed" } } }
                td { (show::quantity(si, &key.unit, style)) }
                td { @if let Some(s) = outcome.spread(*slot) { (show::range(s.low, s.high, &key.unit, style)) } }
                td { @if let Some(safe) = outcome.safe(*slot) { (show::quantity(safe, &key.unit, style)) } }
            } }
        } }
    } }
}

/// A drawing, where this plan has it.
fn drawing(outcome: &Outcome, name: &str) -> Markup {
    let Ok(drawing) = of_plan::find(name) else { return html! {} };
    if name == "cloth" {
        return cloth(outcome);
    }
    match of_plan::sheets(outcome, name) {
        Ok(sheets) => html! {
            @for (at, sheet) in sheets.iter().enumerate() { figure {
                @if at == 0 { figcaption { b { (drawing.title) } " " (drawing.says) } }
                (PreEscaped(svg::inline(sheet)))
            } }
        },
        Err(why) => html! { p.how { (drawing.title) ": " (why) } },
    }
}

fn cloth(outcome: &Outcome) -> Markup {
    let one = |name: &str, words: &str| match of_plan::picture(outcome, name, CLOTH) {
        Ok(png) => html! { figure {
            figcaption { b { (words) } }
            img src={ "data:image/png;base64," (STANDARD.encode(png)) } alt=(words);
        } },
        Err(why) => html! { p.how { (why) } },
    };
    html! { (one("cloth", "The washed cloth, face")) (one("cloth-light", "Held against the light")) }
}

fn part(outcome: &Outcome, part: &Part) -> Markup {
    html! {
        p.lead { (part.says) }
        (figures(outcome, part.slots))
        @for name in part.drawings {
            // at full size the pattern goes on a sheet or on tiles of its own
            @if *name == "pattern" { p { "The pattern at full size is a file of its own: " code { "clothwright draw pattern" } "." } }
            @else { (drawing(outcome, name)) }
        }
    }
}

fn glance(outcome: &Outcome) -> Markup {
    html! { (drawing(outcome, "flow")) }
}

fn checks(outcome: &Outcome) -> Markup {
    let one = |verdict: &Verdict| {
        html! { div class={ "check " (verdict.severity.word()) } {
            p { b { (verdict.severity.word()) } " " (verdict.message) }
            @if let Some(check) = verdict.check { p.how { (check.why) } }
        } }
    };
    html! {
        @for verdict in &outcome.verdicts { (one(verdict)) }
        p { (outcome.passed.len()) @if outcome.verdicts.is_empty() { " checks apply, and all pass." } @else { " others pass." } }
    }
}

/// What to spin and weave before the plan is trusted.
fn first(_: &Outcome) -> Markup {
    html! {
        p { "Before anything large is begun, make a little of it and measure. Each figure below replaces one that this book assumes." }
        ol {
            li { "Weigh 100 g of fibre before and after each stage you do yourself. Kept: " span.blank {} }
            li { "Spin 30 m at the speed and beat of the spinning chapter. Let it rest a day; wash it as the cloth will be washed; dry it under a light load. Length before " span.blank {} " and after " span.blank {} ", mass " span.blank {} }
            li { "Break ten lengths, 50 cm between the knots, with a scale that keeps its highest reading: " span.blank {} }
            li { "Weave 15 cm of the full sett, as wide as you can spare. Measure the width in the reed, on the loom, off it and washed: " span.blank {} }
            li { "Write the clock down at each step: minutes and how much was done. " span.blank {} }
        }
        p { "Enter them with " code { "clothwright log" } " or on the Log screen, and work the plan out again with the log." }
    }
}

fn cautions(_: &Outcome) -> Markup {
    html! {
        p { "Usual cautions, not a promise of safety. Local codes and licensed practice come first." }
        @for hazard in Hazard::ALL {
            @let (name, act, codes) = hazard.words();
            div.caution { p { b { (name) ". " } (act) } @if !codes.is_empty() { p.how { "Look up: " (codes) } } }
        }
    }
}

/// What the plan says, and what was decided for it.
fn plan(outcome: &Outcome) -> Markup {
    let typed = TABLE.keys.iter().filter_map(|key| Some((key.path, outcome.brief.plan.typed(key.path)?)));
    html! {
        h3 { "Said" }
        table { tbody { @for (path, typed) in typed { tr { th scope="row" { (path) } td.words { (typed) } } } } }
        h3 { "Decided" }
        table { tbody { @for decision in &outcome.brief.decisions {
            @let key = &ALL[decision.slot as usize];
            @if let Some(si) = outcome.numbers.si(decision.slot) { tr {
                th scope="row" { (key.name) }
                td { (show::quantity(si, &key.unit, outcome.brief.style)) }
                td.words { (decision.why) }
            } }
        } } }
    }
}
