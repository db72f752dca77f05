//! At the bench: one thing at a time, large, for busy hands. Where a step stands is kept in the log at every move, so that a phone that
//! sleeps, a reload, another device or a program that is killed loses nothing.

mod spin;
mod steps;

use super::journal::{now, refused};
use super::layout::{lost, page};
use super::state::Shared;
use crate::log::{Progress, Trouble};
use crate::outlook::Outcome;
use axum::Form;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
pub use spin::{spinning, weigh, weighing};
use std::sync::Arc;
use steps::{STEPS, Step, Told, told};

type Desks = State<Arc<Shared>>;

/// All steps, with where each stands.
pub async fn index(State(shared): Desks) -> Markup {
    let stands = shared.log_to_read().and_then(|log| log.all_progress().ok()).unwrap_or_default();
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let at = |step: &Step| stands.iter().rfind(|one| one.step == step.name).map_or(0, |one| one.at);
    let body = html! {
        p.lead { "Prop the phone by the work. Every move is kept at once, and every other screen sees it." }
        @if let Ok(outcome) = &worked.outcome {
            ul.steps {
                li { a href="/bench/spinning" { "Spin to a beat" } }
                li { a href="/bench/weighing" { "Weigh a bobbin in" } }
                @for step in STEPS {
                    @let total = (step.total)(outcome).unwrap_or(0);
                    li { a href={ "/bench/" (step.name) } { (step.title) } " " span.how { (at(step).min(total)) " of " (total) } }
                }
            }
        } @else { p.none { "The plan cannot be worked out yet; its faults are on the " a href="/" { "overview" } "." } }
    };
    page("bench", "Bench", &desk, &body)
}

/// One step.
pub async fn step(State(shared): Desks, Path(name): Path<String>) -> Response {
    let Some(step) = STEPS.iter().find(|step| step.name == name) else { return lost() };
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let Ok(outcome) = &worked.outcome else { return Redirect::to("/").into_response() };
    let stands = match shared.log().and_then(|log| log.progress(step.name)) {
        Ok(stands) => stands,
        Err(trouble) => return refused(&trouble),
    };
    let body = counter(step, outcome, stands.as_ref());
    page("bench", step.title, &desk, &body).into_response()
}

fn counter(step: &Step, outcome: &Outcome, stands: Option<&Progress>) -> Markup {
    let (at, revision) = stands.map_or((0, 0), |stands| (stands.at, stands.revision));
    let total = (step.total)(outcome).unwrap_or(0);
    let at = at.min(total);
    let told = told(step, outcome, at, total);
    html! {
        div.counter data-counter="" {
            p.count aria-live="polite" { (at) span.of { " of " (total) } }
            (spoken(&told))
            div.moves {
                (to(step, at.saturating_sub(1), revision, "Back one", at == 0, "back"))
                (to(step, (at + 1).min(total), revision, &format!("Next {}", step.one), at >= total, "next"))
            }
            progress max=(total.max(1)) value=(at) aria-label={ (step.title) ", done" } {}
            p.rest role="status" data-rest="" {}
        }
        p { (step.says) " Space or Enter moves on, Backspace goes back; a foot switch that types such a key works too." }
        p.caution { (step.caution) }
        p { button type="button" data-speak="" hidden aria-pressed="false" { "Say it aloud" } }
        details {
            summary { "Write down the time worked" }
            form.entry method="post" action="/log/add/minutes" {
                input type="hidden" name="step" value=(step.name);
                input type="hidden" name="form.back" value={ "/bench/" (step.name) };
                @if at > 0 { input type="hidden" name="done_number" value=(at); }
                div.field { label for="time" { "how long, from the start to here" } input id="time" name="time" placeholder="40 min" autocomplete="off"; }
                button type="submit" { "Write it down" }
            }
        }
        @if at > 0 { details {
            summary { "Begin this step anew" }
            (to(step, 0, revision, "Back to the first", false, "first"))
        } }
        @for name in step.drawings { p { a href={ "/part/warp#drawing-" (name) } { "The whole sheet" } } }
    }
}

/// What the hands must know now, large; the first line is what is said aloud.
fn spoken(told: &Told) -> Markup {
    html! {
        div.told data-say=(told.now.join(", ")) {
            @for line in &told.now { p.where { (line) } }
            @for line in &told.besides { p.besides { (line) } }
            @if let Some(must) = &told.must { p.must role="status" { (must) } }
        }
    }
}

fn to(step: &Step, at: u32, revision: i64, words: &str, shut: bool, kind: &str) -> Markup {
    html! {
        form method="post" action={ "/bench/" (step.name) } {
            input type="hidden" name="at" value=(at);
            input type="hidden" name="seen" value=(revision);
            button type="submit" class=(kind) data-move=(kind) disabled[shut] { (words) }
        }
    }
}

/// A move.
#[derive(Deserialize)]
pub struct Move {
    at: u32,
    seen: i64,
}

/// Keeps a move; another device that was quicker wins, and this one shows where the step stands.
pub async fn moved(State(shared): Desks, Path(name): Path<String>, Form(to): Form<Move>) -> Response {
    let Some(step) = STEPS.iter().find(|step| step.name == name) else { return lost() };
    match shared.log().and_then(|mut log| log.set_progress(step.name, to.at, "", to.seen, now())) {
        Ok(_) | Err(Trouble::Moved { .. }) => {
            shared.ring();
            Redirect::to(&format!("/bench/{}", step.name)).into_response()
        }
        Err(trouble) => refused(&trouble),
    }
}
