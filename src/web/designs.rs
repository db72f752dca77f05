//! Other designs that work: every design that passes with what the plan fixes, and the best of them to take.

use super::layout::page;
use super::state::{Shared, Worked};
use crate::draw::{sheets, svg};
use crate::outlook::explore::{Design, Found};
use axum::Form;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Has the search done, off the threads that answer.
async fn search(worked: &Arc<Worked>) {
    let worked = Arc::clone(worked);
    // a search that failed is told by there being no designs
    let _ = tokio::task::spawn_blocking(move || worked.designs().is_some()).await;
}

/// The screen.
pub async fn designs(State(shared): Desks) -> Response {
    let worked = Arc::clone(&shared.desk().worked);
    search(&worked).await;
    let Some(found) = worked.designs() else { return Redirect::to("/").into_response() };
    let body = html! {
        p.lead { "What the plan fixes stays; what it leaves open is tried: count, plies, twist, closeness, heddles, width." }
        p { (found.tried) " designs looked through, " (found.passed) " pass every check that can fail." }
        @if found.front.is_empty() {
            p { "None passes. The " a href="/" { "overview" } " says what stands against the plan." }
        } @else {
            @if let Ok(outcome) = &worked.outcome { figure { div.sheet tabindex="0" role="group" aria-label="Designs as points" { (PreEscaped(svg::inline(&sheets::designs::sheet(found, outcome.brief.style)))) } } }
            (table(found))
        }
    };
    page("designs", "Other designs that work", &shared.desk(), &body).into_response()
}

fn table(found: &Found) -> Markup {
    let row = |at: usize, d: &Design| {
        html! { tr {
            td { @if let Some(cut) = d.cut { (cut) ", " } (format!("{:.1} tex", d.count)) @if d.plies > 1 { ", " (d.plies) " plies" } }
            td { (format!("{:.2} TM", d.twist)) }
            td { (format!("{:.0} %", 100.0 * d.firmness)) }
            td { (d.heddles) }
            td { (format!("{:.1} cm", d.width)) }
            td { (format!("{:.0} g/m²", d.mass)) }
            td { (format!("{:.0} h", d.hours)) }
            td { (format!("{:.0} g", d.fibre)) }
            td { form method="post" action="/designs" {
                input type="hidden" name="number" value=(at);
                button type="submit" aria-label={ "Take the design of " (format!("{:.1}", d.count)) " tex and " (format!("{:.0}", d.mass)) " g/m²" } { "Take" }
            } }
        } }
    };
    html! {
        p { "In each ten g/m², those that no other beats in hours and in fibre. Taking one writes it into the plan; undo brings the plan back." }
        div.sheet tabindex="0" role="group" aria-label="Designs" { table.figures {
            thead { tr { @for head in ["Yarn", "Twist", "Of the closest sett", "Heddles", "Width", "Cloth", "Work", "Fibre", ""] { th scope="col" { (head) } } } }
            tbody { @for (at, design) in found.front.iter().enumerate() { (row(at, design)) } }
        } }
    }
}

/// A design of the list.
#[derive(Deserialize)]
pub struct Taken {
    number: usize,
}

/// Writes a design into the plan.
pub async fn take(State(shared): Desks, Form(taken): Form<Taken>) -> Response {
    let worked = Arc::clone(&shared.desk().worked);
    search(&worked).await;
    let design = worked.designs().and_then(|found| found.front.get(taken.number));
    if let Some(design) = design {
        let changes = design.typed();
        let changes: Vec<(&str, Option<&str>)> =
            changes.iter().map(|(key, typed)| (*key, Some(typed.as_str()))).collect();
        let said = format!("The design of {:.1} tex and {:.0} g/m² is in the plan.", design.count, design.mass);
        if let Err(why) = shared.change(&changes, said) {
            shared.desk().say(why);
        }
    }
    Redirect::to("/").into_response()
}
