//! The drawings: on a page, and as files; the book; the outcome for another program.

use super::layout::{lost, page};
use super::state::{Shared, Worked};
use crate::book;
use crate::chain::decide::print::artwork;
use crate::draw::sheet::Sheet;
use crate::draw::style::Look;
use crate::draw::{of_plan, png, svg};
use crate::outlook::{Outcome, json as outcome_json};
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::convert::Infallible;
use std::sync::Arc;
use tokio::sync::mpsc;
use tokio_stream::wrappers::UnboundedReceiverStream;

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

/// Drawings that are pictures of many dots: a page shows where they go and the browser asks for them when they come into sight.
const PAINTED: &[&str] = &["cloth", "preview"];
/// Drawings for which the artwork is parted into inks first.
const PARTED: &[&str] = &["film", "placement", "teststrip"];

/// Whether a drawing takes so long to make that nobody wants to wait for the page till then.
fn takes_long(outcome: &Outcome, name: &str) -> bool {
    let printed = artwork(&outcome.brief.plan).is_some();
    name == "cloth" || (printed && (PAINTED.contains(&name) || PARTED.contains(&name)))
}

/// Where a drawing will stand. Without scripts every one is a picture.
fn awaited(worked: &Worked, name: &str) -> Markup {
    let Ok(drawing) = of_plan::find(name) else { return html! {} };
    if PAINTED.contains(&name) {
        return html! { figure id={ "drawing-" (name) } { (caption(drawing)) (painted(worked, drawing)) } };
    }
    html! {
        figure id={ "drawing-" (name) } data-late={ "/drawing/" (name) "?of=" (worked.stamp()) } {
            (caption(drawing))
            p.coming { "Being drawn …" }
            noscript { (painted(worked, drawing)) }
        }
    }
}

/// A drawing as a picture; its address changes with the plan.
fn painted(worked: &Worked, drawing: &of_plan::Drawing) -> Markup {
    html! { img src={ "/painted/" (drawing.name) "?of=" (worked.stamp()) } alt=(drawing.says) loading="lazy"; }
}

/// Dots an inch of a picture on a page: two on each of a usual screen.
const DOTS: f64 = 144.0;

/// The first sheet of a drawing as a picture for a page. Its address changes with the plan, so a browser may keep it.
pub async fn paint(State(shared): Desks, Path(name): Path<String>) -> Response {
    let Ok(drawing) = of_plan::find(&name) else { return lost() };
    let worked = Arc::clone(&shared.desk().worked);
    let made = tokio::task::spawn_blocking(move || {
        let outcome = worked.outcome.as_ref().map_err(|_| "The plan cannot be worked out yet.".to_string())?;
        let sheets = of_plan::sheets(outcome, drawing.name)?;
        let first = sheets.first().ok_or("There is no such picture.")?;
        png::bytes(first, DOTS, Look::Light).map_err(|why| why.to_string())
    });
    match made.await {
        Ok(Ok(bytes)) => {
            let kept = (header::CACHE_CONTROL, "private, max-age=86400");
            ([(header::CONTENT_TYPE, "image/png"), kept], bytes).into_response()
        }
        Ok(Err(why)) => (StatusCode::CONFLICT, why).into_response(),
        Err(fault) => (StatusCode::INTERNAL_SERVER_ERROR, fault.to_string()).into_response(),
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
        return painted(worked, drawing);
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

/// The workshop book, sent as it is made: its pictures take seconds, and the first chapters are read meanwhile.
pub async fn book(State(shared): Desks) -> Response {
    let worked = Arc::clone(&shared.desk().worked);
    if worked.outcome.is_err() {
        let why = "The plan cannot be worked out yet; its faults are on the overview.\n";
        return (StatusCode::CONFLICT, why).into_response();
    }
    // no bound: a reader who is slow, or stands still, holds no worker back
    let (give, take) = mpsc::unbounded_channel::<Result<String, Infallible>>();
    tokio::task::spawn_blocking(move || {
        if let Ok(outcome) = &worked.outcome {
            // a reader who has gone takes nothing more
            let _ = book::pieces(outcome).try_for_each(|piece| give.send(Ok(piece)));
        }
    });
    // the book carries its own style, and nothing else; it is the same file that `book` writes
    let policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'none'; base-uri 'none'";
    let headers = [(header::CONTENT_TYPE, "text/html; charset=utf-8"), (header::CONTENT_SECURITY_POLICY, policy)];
    (headers, Body::from_stream(UnboundedReceiverStream::new(take))).into_response()
}
