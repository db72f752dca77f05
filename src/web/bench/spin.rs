//! At the spinner: a beat to draw by, so that the twist comes out; and each bobbin weighed in as it is done.

use super::super::journal::{Filled, inputs, refused, write};
use super::super::layout::page;
use super::super::pictures::picture;
use super::super::state::{Shared, Worked};
use crate::chain::keys as id;
use crate::log::kinds;
use crate::log::samples::{Samples, samples};
use crate::measure::watch::watch;
use crate::outlook::Outcome;
use crate::units::show::{self, Style};
use crate::units::{G, Kind, Mass, Q, TEX, text};
use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// The beat: a draw each time it comes round, at the set speed.
pub async fn spinning(State(shared): Desks) -> Response {
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let Ok(outcome) = &worked.outcome else { return Redirect::to("/").into_response() };
    let body = html! { (beat(outcome)) (picture(&worked, outcome, "knob")) (picture(&worked, outcome, "brake")) };
    page("bench", "Spin to a beat", &desk, &body).into_response()
}

fn beat(outcome: &Outcome) -> Markup {
    let Some(beat) = outcome.get(&id::BEAT) else {
        return html! { p.none { "This plan has no beat: it needs a spindle speed and a stroke." } };
    };
    let text = |slot: u16| {
        let shown = |si| show::quantity(si, &id::ALL[slot as usize].unit, outcome.brief.style);
        outcome.numbers.si(slot).map(shown).unwrap_or_default()
    };
    html! {
        p { "Spindle at " b { (text(id::SPINDLE_SPEED.slot)) } ": draw " b { (text(id::STROKE.slot)) } " and wind it on, once every "
            b { (text(id::BEAT.slot)) } ". Then each metre gets " b { (text(id::WARP_TWIST.slot)) } "." }
        p.beat data-seconds=(format!("{:.2}", beat.to_si())) { "Draw" }
        p { button.go type="button" data-beat="" { "Start the beat" } }
        p.rest role="status" data-rest="" {}
        p.caution { "Foot off before a finger nears the flyer. Tie back hair, sleeves and scarves. A fine yarn at speed cuts: let it slip rather than hold it." }
        p { a href="/bench/weighing" { "The bobbin is full: weigh it in" } }
    }
}

/// The fields of a weigh-in.
const FIELDS: &[&str] = &["bobbin", "mass", "counted", "note"];

/// The field that says that the bobbin was on the scales too.
const FULL: &str = "form.full";

/// What an empty bobbin weighs, where the plan says so.
fn tare(worked: &Worked) -> Option<Q<Mass>> {
    Some(worked.plan.as_ref()?.quantity::<Mass>("spinner.bobbin.tare")?.middle)
}

/// What was typed, the empty bobbin taken off where it was weighed too. A mass that cannot be read is left for the log to refuse.
fn net(worked: &Worked, typed: &BTreeMap<String, String>) -> BTreeMap<String, String> {
    let mut typed = typed.clone();
    let full = typed.contains_key(FULL);
    let read = typed.get("mass").and_then(|mass| text::quantity::<Mass>(mass).ok());
    if let (true, Some(tare), Some(read)) = (full, tare(worked), read) {
        typed.insert("mass".into(), format!("{:.2} g", (read.middle - tare).get(&G)));
    }
    typed
}

fn known(shared: &Shared) -> Samples {
    samples(&shared.log_to_read().and_then(|log| log.list().ok()).unwrap_or_default())
}

/// A place to weigh a bobbin in, and the bobbins so far.
pub async fn weighing(State(shared): Desks) -> Response {
    let number = known(&shared).bobbins.len() + 1;
    let values = BTreeMap::from([("bobbin".to_string(), number.to_string())]);
    weigh_page(&shared, &Filled { values, wrong: Vec::new() }).into_response()
}

fn weigh_page(shared: &Shared, filled: &Filled) -> Markup {
    let bobbins = known(shared);
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = html! {
        p.lead { "Weigh the full bobbin, take the empty one off it, and say how many metres were counted." }
        @if let Some(tare) = tare(&worked) { p { "An empty bobbin weighs " (show::natural(tare.to_si(), Kind::Mass, Style::Metric)) " by the plan." } }
        form.entry.large method="post" action="/bench/weighing" {
            input type="hidden" name="form.mark" value=(super::super::doors::secret());
            @if let Some(kind) = kinds::kind("bobbin") { (inputs(kind, filled, Some(FIELDS))) }
            @if tare(&worked).is_some() {
                label.tick { input type="checkbox" name=(FULL) value="yes" checked[filled.values.contains_key(FULL)]; " Weighed full: take the empty bobbin off" }
            }
            button.go type="submit" { "Weigh it in" }
        }
        (so_far(&bobbins, &worked))
    };
    page("bench", "Weigh a bobbin in", &desk, &body)
}

/// The bobbins, each against the plan and the others.
fn so_far(samples: &Samples, worked: &Worked) -> Markup {
    if samples.bobbins.is_empty() {
        return html! { p.none { "No bobbin yet." } };
    }
    let counts: Vec<_> = samples.bobbins.iter().map(|bobbin| bobbin.count).collect();
    let odd = watch(&counts, Q::new(1.0, &TEX), 20).odd;
    let planned = worked.outcome.as_ref().ok().and_then(|outcome| outcome.get(&id::WARP_COUNT));
    html! {
        h2 { "So far" }
        @if let Some(planned) = planned { p { "Planned: " b { (format!("{:.1} tex", planned.get(&TEX))) } "." } }
        table.figures {
            thead { tr { th scope="col" { "Bobbin" } th scope="col" { "Count" } th scope="col" { "" } } }
            tbody { @for (at, bobbin) in samples.bobbins.iter().enumerate() { tr {
                th scope="row" { (bobbin.name) }
                td { (format!("{:.1} tex", bobbin.count.get(&TEX))) }
                td.words { @if odd.contains(&at) { b { "not like the others: keep it apart, weigh it again" } } }
            } } }
        }
        p { a href="/log" { "All of the log" } }
    }
}

/// Writes a bobbin down.
pub async fn weigh(State(shared): Desks, Form(typed): Form<BTreeMap<String, String>>) -> Response {
    let Some(kind) = kinds::kind("bobbin") else { return Redirect::to("/bench").into_response() };
    let worked = Arc::clone(&shared.desk().worked);
    match write(&shared, kind, &net(&worked, &typed)) {
        Ok(Ok(_)) => {
            shared.desk().say("The bobbin is weighed in.");
            Redirect::to("/bench/weighing").into_response()
        }
        // shown as it was typed
        Ok(Err(Filled { wrong, .. })) => {
            (StatusCode::UNPROCESSABLE_ENTITY, weigh_page(&shared, &Filled { values: typed, wrong })).into_response()
        }
        Err(trouble) => refused(&trouble),
    }
}
