//! The screens of a plan: the overview, and one for each part of the material. Each reads the desk and writes a page.

use super::ahead;
use super::layout::{lost, page};
use super::pictures::picture;
use super::state::{Desk, Shared, Worked, words};
use crate::chain::decide::inputs::How;
use crate::chain::keys::{self as id, ALL, slot};
use crate::checks::Severity;
use crate::checks::mend::{Mend, Move};
use crate::diag::Diagnostic;
use crate::draw::of_plan::parts::{self, Part};
use crate::outlook::Outcome;
use crate::outlook::outcome::Verdict;
use crate::plan::keys::{Key, TABLE, Takes};
use crate::units::{Kind, show};
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// The first screen: flow, checks, the figures that matter, what to measure next.
pub async fn overview(State(shared): Desks) -> Markup {
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = match &worked.outcome {
        Err(found) => faults(found, &worked),
        Ok(outcome) => html! {
            (next_step(outcome))
            (picture(&worked, outcome, "flow"))
            (checks(outcome))
            section {
                h2 { "Plan with these" }
                @if worked.measured { p { "With what was measured: " a href="/log" { "the log" } "." } }
                (figures(outcome, &desk, &[id::RAW_FIBRE.slot, id::PLANTS.slot, id::YARN_MASS.slot, id::YARN_LENGTH.slot, id::WARP_LENGTH.slot, id::ENDS.slot, id::WIDTH_IN_REED.slot, id::LAY_LENGTH.slot, id::CLOTH_MASS.slot, id::BOBBINS.slot, id::TOTAL_HOURS.slot]))
            }
            (ahead::briefly(&worked))
            (measure_next(&worked, outcome))
            nav.more aria-label="More about the plan" {
                a href="/sure" { "How sure it is" } " "
                a href="/designs" { "Other designs that work" } " "
                a href="/book.html" { "The workshop book, to print" } " "
                a href="/phone" { "A phone at the bench" }
            }
        },
    };
    page("overview", "Overview", &desk, &body)
}

/// A screen of one part.
pub async fn part(State(shared): Desks, Path(name): Path<String>) -> Response {
    let Some(part) = parts::find(&name) else { return lost() };
    part_page(&shared.desk(), part, None).into_response()
}

/// A field that was not taken: key, what was typed, why.
pub type Wrong<'a> = (&'a str, &'a str, &'a str);

/// The page of a part, with what is wrong beside its field.
pub fn part_page(desk: &Desk, part: &Part, wrong: Option<Wrong>) -> Markup {
    let worked = &desk.worked;
    let plan_says = html! { section { h2 { "The plan says" } (fields(part, worked, wrong)) } };
    let body = html! {
        p.lead { (part.says) }
        @if let Some((key, _, why)) = wrong {
            @if !TABLE.keys.iter().any(|known| known.path == key) { p.wrong role="alert" { (why) } }
        }
        @match &worked.outcome {
            Err(found) => { (faults(found, worked)) (plan_says) },
            Ok(outcome) => {
                div.columns { section { h2 { "Figures" } (figures(outcome, desk, part.slots)) } (plan_says) }
                (part_checks(outcome, part))
                @for name in part.drawings { (picture(worked, outcome, name)) }
                @if part.name == "hours" { (ahead::clock(worked)) }
            },
        }
    };
    page(part.name, part.title, desk, &body)
}

/// Faults of a plan that cannot be worked out, each at its line.
fn faults(found: &[Diagnostic], worked: &Worked) -> Markup {
    html! {
        section.faults {
            h2 { "The plan cannot be worked out yet" }
            ul { @for fault in found {
                li {
                    @if let Some(span) = &fault.span {
                        b { "Line " (1 + worked.text[..span.start.min(worked.text.len())].matches('\n').count()) ": " }
                    }
                    (words(fault))
                    @if let Some(help) = &fault.help { " " (help) }
                }
            } }
        }
    }
}

/// A table of figures: value, range, the safe one, where it is from. What the last change moved is marked.
pub fn figures(outcome: &Outcome, desk: &Desk, slots: &[u16]) -> Markup {
    let style = outcome.brief.style;
    html! {
        table.figures {
            thead { tr { th scope="col" { "What" } th scope="col" { "Planned" } th scope="col" { "8 in 10" } th scope="col" { "Safe" } } }
            tbody { @for slot in slots {
                @let key = &ALL[*slot as usize];
                @if let Some(si) = outcome.numbers.si(*slot) {
                    tr.moved[desk.moved.contains(slot)] {
                        th scope="row" { a href={ "/explain/" (key.name) } { (key.says.trim_end_matches('.')) } @if outcome.how(*slot) == How::Assumed { span.how { " assumed" } } }
                        td { (show::quantity(si, &key.unit, style)) }
                        td { @if let Some(s) = outcome.spread(*slot) { (show::range(s.low, s.high, &key.unit, style)) } }
                        td { @if let Some(safe) = outcome.safe(*slot) { (show::quantity(safe, &key.unit, style)) } }
                    }
                }
            } }
        }
    }
}

/// All checks that speak, the gravest first.
fn checks(outcome: &Outcome) -> Markup {
    html! {
        section #checks {
            h2 { "Checks" }
            @for verdict in &outcome.verdicts { (one_check(verdict, outcome)) }
            p.passed { (outcome.passed.len()) @if outcome.verdicts.is_empty() { " checks apply, and all pass." } @else { " others pass." } }
        }
    }
}

fn part_checks(outcome: &Outcome, part: &Part) -> Markup {
    let about = |verdict: &&Verdict| {
        verdict.check.is_some_and(|check| {
            check.about.iter().any(|name| slot(name).is_some_and(|slot| part.slots.contains(&slot)))
        })
    };
    let mine: Vec<&Verdict> = outcome.verdicts.iter().filter(about).collect();
    html! { @if !mine.is_empty() { section { h2 { "Checks" } @for verdict in mine { (one_check(verdict, outcome)) } } } }
}

fn one_check(verdict: &Verdict, outcome: &Outcome) -> Markup {
    html! {
        div class={ "check " (verdict.severity.word()) } {
            p { b { (verdict.severity.word()) } " " (verdict.message) }
            @if let Some(check) = verdict.check { details { summary { "Why it matters" } p { (check.why) } } }
            @for (number, mend) in verdict.mends.iter().take(3).enumerate() {
                form method="post" action="/mend" {
                    input type="hidden" name="code" value=(verdict.code);
                    input type="hidden" name="number" value=(number);
                    button type="submit" { "Set " (mend_words(mend, outcome)) }
                }
            }
        }
    }
}

fn mend_words(mend: &Mend, outcome: &Outcome) -> String {
    let turn = |m: &Move| {
        let unit = ALL[m.knob.slot as usize].unit;
        let shown = |value| show::quantity(unit.scale.to_si(value), &unit, outcome.brief.style);
        format!("{} to {} (now {})", m.knob.path, shown(m.to), shown(m.from))
    };
    mend.moves.iter().map(turn).collect::<Vec<_>>().join(" and ")
}

/// What to do now, in one sentence: what stands against the plan first, then what would make it surer, then the work.
fn next_step(outcome: &Outcome) -> Markup {
    let fails = outcome.verdicts.iter().filter(|verdict| verdict.severity == Severity::Fail).count();
    html! {
        p.step { b { "Next: " }
            @if fails > 0 { "mend the " a href="#checks" { (fails) @if fails == 1 { " check that fails" } @else { " checks that fail" } } ", here or on its own screen." }
            @else { "take one of " a href="#measure" { "the samples below" } ", enter it in the " a href="/log" { "log" } ", and the plan grows surer. Then " a href="/part/spinner" { "build" } " and " a href="/bench" { "begin" } "." }
        }
    }
}

fn measure_next(worked: &Worked, outcome: &Outcome) -> Markup {
    let worth = worked.worth();
    html! {
        section #measure {
            h2 { "What to measure next" }
            @if worth.is_empty() { p { "Nothing that a sample could tell is in doubt." } }
            ol.next { @for one in worth.iter().take(3) {
                li { b { (one.sample.name) } " takes " (format!("{:.0}", 100.0 * (1.0 - one.left))) " % of the doubt about the fibre away in "
                    (show::natural(one.sample.minutes * 60.0, Kind::Duration, outcome.brief.style)) ". " (one.sample.words) }
            } }
        }
    }
}

/// A form a key: what the plan says, as it was typed.
fn fields(part: &Part, worked: &Worked, fault: Option<Wrong>) -> Markup {
    let mine = |key: &&Key| !key.path.contains("[]") && part.keys.iter().any(|start| key.path.starts_with(start));
    let said = |key: &Key| worked.plan.as_ref().and_then(|plan| plan.typed(key.path)).map(str::to_string);
    let (stated, open): (Vec<&Key>, Vec<&Key>) = TABLE
        .keys
        .iter()
        .filter(mine)
        .partition(|key| said(key).is_some() || fault.is_some_and(|(path, _, _)| path == key.path));
    html! {
        @for key in &stated { (field(key, &said(key), fault, part)) }
        @if !open.is_empty() { details { summary { "Left open (" (open.len()) ")" } @for key in &open { (field(key, &None, fault, part)) } } }
    }
}

fn field(key: &Key, said: &Option<String>, fault: Option<Wrong>, part: &Part) -> Markup {
    let wrong = fault.filter(|(path, _, _)| *path == key.path);
    let value = wrong.map(|(_, typed, _)| typed.to_string()).or_else(|| said.clone());
    let name = format!("f-{}", key.path.replace('.', "-"));
    let words = key.takes.words();
    html! {
        form.field method="post" action="/edit" {
            input type="hidden" name="key" value=(key.path);
            input type="hidden" name="part" value=(part.name);
            input type="hidden" name="was" value=(said.as_deref().unwrap_or(""));
            label for=(name) { (key.path) }
            @if matches!(key.takes, Takes::Choice(_)) {
                select id=(name) name="value" {
                    option value="" { "left open: " (key.absent) }
                    @for word in words { option value=(word.word) selected[value.as_deref() == Some(word.word)] { (word.word) } }
                }
            } @else {
                input id=(name) name="value" value=[value.as_deref()] placeholder=(key.absent) aria-describedby={ (name) "-says" } autocomplete="off";
            }
            button type="submit" { "Set" }
            p.says id={ (name) "-says" } { (key.doc) }
            @if let Some((_, _, why)) = wrong { p.wrong role="alert" { (why) } }
        }
    }
}
