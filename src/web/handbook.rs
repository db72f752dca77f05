//! Why a figure is what it is, and the handbook: every formula, with a place to work it out.

use super::layout::{lost, page};
use super::state::Shared;
use crate::chain::decide::inputs::How;
use crate::chain::keys::slot;
use crate::formulas::registry::ArgInfo;
use crate::formulas::{TOPICS, find, sources};
use crate::outlook::explain::{self, Explanation};
use crate::units::{show, text};
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Why a figure is what it is.
pub async fn explain(State(shared): Desks, Path(name): Path<String>) -> Response {
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let Ok(outcome) = &worked.outcome else { return Redirect::to("/").into_response() };
    let Some(found) = slot(&name).and_then(|slot| explain::explain(outcome, slot)) else { return lost() };
    page("explain", found.says.trim_end_matches('.'), &desk, &explanation(&found)).into_response()
}

fn explanation(e: &Explanation) -> Markup {
    html! {
        p.big { (e.value) @if let Some(range) = &e.range { span.range { " 8 makers in 10: " (range) } } @if let Some(safe) = &e.safe { span.range { " safe: " (safe) } } }
        p.lead { "In the plan's words " code { (e.id) } "." }
        p { (e.why) }
        @if let Some(equation) = &e.equation { pre.equation { (equation) @if let Some(worked) = &e.worked { "\n" (worked) } } }
        @if !e.letters.is_empty() { table.figures {
            thead { tr { th scope="col" { "Letter" } th scope="col" { "What" } th scope="col" { "Value" } th scope="col" { "From" } } }
            tbody { @for l in &e.letters { tr {
                th scope="row" { (l.letter) }
                td { @if l.is_id { a href={ "/explain/" (l.name) } { (l.name) } } @else { (l.name) } }
                td { (l.value) } td { (l.how.map_or("on the way", How::word)) }
            } } }
        } }
        @if let Some((source, evidence)) = &e.source { p { "Who says so: " (sources::title(source.key)) @if !source.at.is_empty() { ", " (source.at) } " (" (evidence.words()) ")." } }
        @if !e.feeds.is_empty() { p { "Feeds: " @for name in &e.feeds { a href={ "/explain/" (name) } { (name) } " " } } }
        @if let Some(formula) = e.formula { p { a href={ "/formulas/" (formula) } { "Work the formula with numbers of your own" } } }
    }
}

/// The handbook.
pub async fn formulas(State(shared): Desks) -> Markup {
    let desk = shared.desk();
    let body = html! { @for topic in TOPICS { section { h2 { (topic.title) } dl.formulas { @for entry in topic.entries {
        dt { a href={ "/formulas/" (entry.name()) } { (entry.name()) } } dd { (entry.says()) }
    } } } } };
    page("formulas", "Formulas", &desk, &body)
}

/// One formula, and a place to work it out.
pub async fn formula(
    State(shared): Desks,
    Path(name): Path<String>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Response {
    let Some(entry) = find(&name) else { return lost() };
    let desk = shared.desk();
    let (letter, unit, _) = entry.gives();
    let takes = entry.takes();
    let read = |arg: &ArgInfo| -> Result<f64, String> {
        let typed = typed.get(arg.name).map_or("", |typed| typed.trim());
        if let Ok(number) = typed.parse::<f64>()
            && number.is_finite()
        {
            return Ok(number);
        }
        let reading = text::read(typed, &[arg.kind]).map_err(|fault| fault.to_string())?;
        let unit = arg.kind.units().iter().find(|unit| unit.name == arg.unit).unwrap_or(&arg.kind.units()[0]);
        Ok(unit.scale.from_si(reading.middle))
    };
    let values: Vec<Result<f64, String>> = if typed.is_empty() { Vec::new() } else { takes.iter().map(read).collect() };
    let numbers: Option<Vec<f64>> = values.iter().map(|value| value.as_ref().ok().copied()).collect();
    let result = numbers
        .filter(|numbers| !numbers.is_empty())
        .map(|numbers| entry.eval(&numbers))
        .filter(|value| value.is_finite());
    let source = entry.source();
    let body = html! {
        p { (entry.says()) }
        pre.equation { (letter) " = " (entry.text()) }
        form.calculator method="get" {
            @for (at, arg) in takes.iter().enumerate() {
                label for={ "v-" (arg.name) } { (arg.name) ", " (arg.kind.words()) " from " (show::number(arg.from)) " to " (show::number(arg.to)) " " (arg.unit) }
                input id={ "v-" (arg.name) } name=(arg.name) value=[typed.get(arg.name)] autocomplete="off";
                @if let Some(Err(why)) = values.get(at) { p.wrong role="alert" { (why) } }
            }
            button type="submit" { "Work it out" }
        }
        @if let Some(result) = result { p.big { (letter) " = " (show::number(result)) " " (unit) } }
        p { "Who says so: " (sources::title(source.key)) @if !source.at.is_empty() { ", " (source.at) } " (" (entry.evidence().words()) ")." }
    };
    page("formulas", entry.name(), &desk, &body).into_response()
}
