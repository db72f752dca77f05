//! The drawings: on a page, and as files; the book; the outcome for another program.

use super::layout::{lost, page};
use super::state::{Shared, Worked};
use crate::book;
use crate::chain::decide::print::artwork;
use crate::draw::sheet::Sheet;
use crate::draw::{of_plan, svg};
use crate::outlook::{Outcome, json as outcome_json};
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Longest drawing that is written into a page, in bytes; one of thousands of threads is sent as a picture.
const LONGEST_INLINE: usize = 600_000;

/// A drawing of the plan, with its files; a plan that has none says why in a line. One that takes long comes after the page.
pub fn picture(worked: &Worked, outcome: &Outcome, name: &'static str) -> Markup {
    match worked.known(name) {
        Some(known) => PreEscaped(known.to_string()),
        None if takes_long(outcome, name) => awaited(worked, name),
        None => PreEscaped(worked.once(name, || composed(worked, outcome, name).into_string()).to_string()),
    }
}

/// The drawings of the print, for which the artwork is parted into inks first.
const OF_PRINT: &[&str] = &["preview", "film", "placement", "teststrip"];

/// Whether a drawing takes so long to make that nobody wants to wait for the page till then.
fn takes_long(outcome: &Outcome, name: &str) -> bool {
    name == "cloth" || (OF_PRINT.contains(&name) && artwork(&outcome.brief.plan).is_some())
}

/// Where a drawing will stand. A page without scripts shows it as a picture.
fn awaited(worked: &Worked, name: &str) -> Markup {
    let Ok(drawing) = of_plan::find(name) else { return html! {} };
    let stamp = worked.stamp();
    html! {
        figure id={ "drawing-" (name) } data-late={ "/drawing/" (name) "?of=" (stamp) } {
            (caption(drawing))
            p.coming { "Being drawn …" }
            noscript { img src={ "/drawing/" (name) ".png?of=" (stamp) } alt=(drawing.says) loading="lazy"; }
        }
    }
}

/// A drawing as it stands on a page, asked for by a page that was sent without it.
async fn late(worked: Arc<Worked>, drawing: &'static of_plan::Drawing) -> Response {
    let made = tokio::task::spawn_blocking(move || match &worked.outcome {
        Ok(outcome) => worked.once(drawing.name, || composed(&worked, outcome, drawing.name).into_string()).to_string(),
        Err(_) => String::new(),
    });
    match made.await {
        Ok(made) => Html(made).into_response(),
        Err(fault) => (StatusCode::INTERNAL_SERVER_ERROR, fault.to_string()).into_response(),
    }
}

fn composed(worked: &Worked, outcome: &Outcome, name: &str) -> Markup {
    let Ok(drawing) = of_plan::find(name) else { return html! {} };
    let shown = |sheet: &Sheet, alone: bool| shown(worked, sheet, drawing, alone);
    match of_plan::sheets(outcome, name) {
        Ok(sheets) => {
            let narrow = of_plan::narrow(outcome, name);
            html! {
                figure id={ "drawing-" (name) } {
                    (caption(drawing))
                    @if let Some(narrow) = narrow {
                        div.wide { @for sheet in &sheets { (shown(sheet, sheets.len() == 1)) } }
                        div.narrow { (shown(&narrow, true)) }
                    } @else {
                        @for sheet in &sheets { (shown(sheet, sheets.len() == 1)) }
                    }
                }
            }
        }
        Err(why) => html! { p.none { (drawing.title) ": " (why) } },
    }
}

fn caption(drawing: &of_plan::Drawing) -> Markup {
    html! { figcaption { b { (drawing.title) } " " (drawing.says) " "
    @for format in drawing.formats { a href={ "/drawing/" (drawing.name) "." (format.ending()) } { (format.ending()) } " " } } }
}

fn shown(worked: &Worked, sheet: &Sheet, drawing: &of_plan::Drawing, alone: bool) -> Markup {
    let inline = svg::inline(sheet);
    if alone && inline.len() > LONGEST_INLINE && drawing.formats.contains(&of_plan::Format::Png) {
        let source = format!("/drawing/{0}.png?which={0}.png&of={1}", drawing.name, worked.stamp());
        return html! { img src=(source) alt=(drawing.says) loading="lazy"; };
    }
    // a drawing wider than the screen is moved about, by keys too
    html! { div.sheet tabindex="0" role="group" aria-label=(drawing.title) { (PreEscaped(inline)) } }
}

/// Which file of a drawing that is several.
#[derive(Deserialize)]
pub struct Which {
    which: Option<String>,
}

/// A drawing as a file; one that is several files is a page of them; one without an ending as it stands on a page.
pub async fn drawing(State(shared): Desks, Path(file): Path<String>, Query(asked): Query<Which>) -> Response {
    if let Ok(drawing) = of_plan::find(&file) {
        let worked = Arc::clone(&shared.desk().worked);
        return late(worked, drawing).await;
    }
    let named = file.rsplit_once('.').and_then(|(name, ending)| Some((name, of_plan::Format::of_ending(ending)?)));
    let Some((name, format)) = named else { return lost() };
    let Ok(drawing) = of_plan::find(name) else { return lost() };
    let worked = Arc::clone(&shared.desk().worked);
    let made = tokio::task::spawn_blocking(move || match &worked.outcome {
        Ok(outcome) => of_plan::export(outcome, drawing.name, format, &of_plan::Options::default()),
        Err(_) => Err("The plan cannot be worked out yet; its faults are on the overview.".into()),
    });
    let files = match made.await {
        Ok(Ok(files)) => files,
        // the plan as it is has no such file; the words say what would make one
        Ok(Err(why)) => return (StatusCode::CONFLICT, why).into_response(),
        Err(fault) => return (StatusCode::INTERNAL_SERVER_ERROR, fault.to_string()).into_response(),
    };
    let chosen = match &asked.which {
        Some(which) => files.iter().position(|one| one.file_name == *which),
        None => (files.len() == 1).then_some(0),
    };
    match chosen {
        Some(at) => {
            let kind = match format {
                of_plan::Format::Svg => "image/svg+xml",
                of_plan::Format::Pdf => "application/pdf",
                of_plan::Format::Png => "image/png",
                _ => "application/octet-stream",
            };
            let mut files = files;
            let one = files.swap_remove(at);
            let attached = format!("attachment; filename=\"{}\"", one.file_name);
            ([(header::CONTENT_TYPE, kind.to_string()), (header::CONTENT_DISPOSITION, attached)], one.bytes)
                .into_response()
        }
        None if asked.which.is_some() => lost(),
        None => {
            let body = html! { p { (drawing.says) } ul { @for one in &files {
                li { a href={ "/drawing/" (file) "?which=" (one.file_name) } download { (one.file_name) } }
            } } };
            page("drawing", drawing.title, &shared.desk(), &body).into_response()
        }
    }
}

/// The outcome for another program.
pub async fn json(State(shared): Desks) -> Response {
    let worked = Arc::clone(&shared.desk().worked);
    match &worked.outcome {
        Ok(outcome) => axum::Json(outcome_json::outcome(outcome)).into_response(),
        Err(found) => {
            (StatusCode::UNPROCESSABLE_ENTITY, axum::Json(crate::diag::show::json(found, &worked.text))).into_response()
        }
    }
}

/// The workshop book.
pub async fn book(State(shared): Desks) -> Response {
    let worked = Arc::clone(&shared.desk().worked);
    let made = tokio::task::spawn_blocking(move || match &worked.outcome {
        Ok(outcome) => Some(book::html(outcome)),
        Err(_) => None,
    });
    match made.await {
        Ok(Some(text)) => {
            // the book carries its own style, and nothing else; it is the same file that `book` writes
            let policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'none'; base-uri 'none'";
            let headers =
                [(header::CONTENT_TYPE, "text/html; charset=utf-8"), (header::CONTENT_SECURITY_POLICY, policy)];
            (headers, text).into_response()
        }
        _ => (StatusCode::CONFLICT, "The plan cannot be worked out yet; its faults are on the overview.\n")
            .into_response(),
    }
}
