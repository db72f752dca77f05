//! How sure the plan is: what makes a figure unsure, which checks may fail, what each sample would take away.

use super::layout::page;
use super::screens::figures;
use super::state::Shared;
use crate::chain::keys::{self as id, ALL, slot};
use crate::checks;
use crate::outlook::outcome::SEED;
use crate::outlook::trials::{FEW, trials};
use crate::outlook::{Outcome, matters, next};
use crate::units::{Kind, show};
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;

/// Figures that can be asked about.
static ABOUT: &[u16] = &[
    id::RAW_FIBRE.slot,
    id::YARN_MASS.slot,
    id::WARP_LENGTH.slot,
    id::WIDTH_IN_REED.slot,
    id::CLOTH_MASS.slot,
    id::EXPECTED_BREAKS.slot,
    id::SPINNING.slot,
    id::WEAVING.slot,
    id::TOTAL_HOURS.slot,
];

/// The figure asked about.
#[derive(Deserialize)]
pub struct Asked {
    about: Option<String>,
}

/// The screen.
pub async fn sure(State(shared): State<Arc<Shared>>, Query(asked): Query<Asked>) -> Response {
    let about = asked.about.as_deref().and_then(slot).unwrap_or(id::RAW_FIBRE.slot);
    let worked = Arc::clone(&shared.desk().worked);
    let for_work = Arc::clone(&worked);
    let work = move || {
        let outcome = for_work.outcome.as_ref().ok()?;
        let name = format!("sure of {}", ALL[about as usize].name);
        let chances = for_work.once("sure chances", || chances(outcome).into_string());
        Some((chances, for_work.once(&name, || weighed(outcome, about).into_string())))
    };
    let Ok(Some((chances, weighed))) = tokio::task::spawn_blocking(work).await else {
        return Redirect::to("/").into_response();
    };
    let desk = shared.desk();
    let Ok(outcome) = &worked.outcome else { return Redirect::to("/").into_response() };
    let body = html! {
        p.lead { "Every doubted figure was shaken within its doubt, " (FEW) " times. Between “8 in 10” lie eight of ten makers with this plan." }
        div.columns {
            section { h2 { "Ranges" } (figures(outcome, &desk, ABOUT)) }
            (PreEscaped(chances.to_string()))
        }
        (PreEscaped(weighed.to_string()))
    };
    page("sure", "How sure it is", &desk, &body).into_response()
}

/// How often each check passes over the trials, where it does not always.
fn chances(outcome: &Outcome) -> Markup {
    let run = trials(&outcome.brief, SEED, FEW, &[]);
    let chance = |(at, check): (usize, &&checks::Check)| {
        // a note speaks only where it has something to say: how often it does is no chance
        let asked = check.severity != checks::Severity::Note;
        Some((check.title, run.chance(at).filter(|chance| asked && *chance < 0.995)?))
    };
    let chances: Vec<(&str, f64)> = checks::ALL.iter().enumerate().filter_map(chance).collect();
    html! {
        section {
            h2 { "How often each check passes" }
            @if chances.is_empty() { p.passed { "Every check passes in all but a few trials." } }
            ul.bars { @for (title, chance) in &chances { (bar(title.trim_end_matches('.'), *chance, "of the trials")) } }
        }
    }
}

/// What makes a figure unsure, and what each sample would take away.
fn weighed(outcome: &Outcome, about: u16) -> Markup {
    let shares = matters::matters(&outcome.brief, about, SEED);
    let samples = next::next(&outcome.brief, about, SEED);
    html! {
        section {
            h2 { "What makes it unsure" }
            form.inline method="get" action="/sure" data-live="" {
                label for="about" { "About" }
                select id="about" name="about" {
                    @for slot in ABOUT { @let key = &ALL[*slot as usize]; option value=(key.name) selected[*slot == about] { (key.says.trim_end_matches('.')) } }
                }
                button type="submit" { "Show" }
            }
            ul.bars { @for share in shares.iter().take(8).filter(|share| share.total > 0.01) {
                (bar(ALL[share.slot as usize].says.trim_end_matches('.'), share.total.min(1.0), "of the doubt"))
            } }
        }
        section {
            h2 { "What to measure next" }
            @if samples.is_empty() { p.none { "No sample narrows this figure: nothing that feeds it is doubted." } }
            ol.next { @for worth in samples.iter().take(6) {
                li { b { (worth.sample.name) } " takes " (format!("{:.0}", 100.0 * (1.0 - worth.left))) " % of the doubt away in "
                    (show::natural(worth.sample.minutes * 60.0, Kind::Duration, outcome.brief.style)) ". " (worth.sample.words) }
            } }
        }
    }
}

/// A share as words and as a bar.
fn bar(name: &str, share: f64, words: &str) -> Markup {
    let percent = format!("{:.0}", 100.0 * share);
    html! { li {
        span { (name) ": " b { (percent) " %" } " " (words) }
        meter min="0" max="100" value=(percent) aria-label=(name) {}
    } }
}
