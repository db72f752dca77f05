//! The screens of a plan. Each reads the desk and writes a page; a change is a form that comes back to where it was sent from.

use super::layout::page;
use super::parts::{self, Part};
use super::state::{Desk, Shared, Worked, words};
use crate::chain::decide::inputs::How;
use crate::chain::keys::{self as id, ALL, slot};
use crate::checks::mend::Mend;
use crate::diag::Diagnostic;
use crate::draw::{of_plan, svg};
use crate::formulas::{TOPICS, find, sources};
use crate::outlook::explain::{self, Explanation};
use crate::outlook::outcome::Verdict;
use crate::outlook::{Outcome, json as outcome_json, next};
use crate::plan::keys::{Key, TABLE, Takes};
use crate::units::{Kind, show, text};
use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Seed of the screens' own trials; the same plan shows the same figures.
const SEED: u32 = 1;

/// The first screen: flow, checks, the figures that matter, what to measure next.
pub async fn overview(State(shared): Desks) -> Markup {
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = match &worked.outcome {
        Err(found) => faults(found, &worked),
        Ok(outcome) => html! {
            (picture(outcome, "flow"))
            (checks(outcome))
            section {
                h2 { "Plan with these" }
                (figures(outcome, &desk, &[id::RAW_FIBRE.slot, id::PLANTS.slot, id::YARN_MASS.slot, id::YARN_LENGTH.slot, id::WARP_LENGTH.slot, id::ENDS.slot, id::WIDTH_IN_REED.slot, id::LAY_LENGTH.slot, id::CLOTH_MASS.slot, id::BOBBINS.slot, id::TOTAL_HOURS.slot]))
            }
            (measure_next(outcome))
        },
    };
    page("overview", "Overview", &desk, &body)
}

/// A screen of one part.
pub async fn part(State(shared): Desks, Path(name): Path<String>) -> Response {
    let Some(part) = parts::find(&name) else { return lost() };
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = html! {
        p.lead { (part.says) }
        @match &worked.outcome {
            Err(found) => (faults(found, &worked)),
            Ok(outcome) => {
                div.columns {
                    section { h2 { "Figures" } (figures(outcome, &desk, part.slots)) }
                    section { h2 { "The plan says" } (fields(part, &worked, None)) }
                }
                (part_checks(outcome, part))
                @for name in part.drawings { (picture(outcome, name)) }
            },
        }
        @if worked.outcome.is_err() { section { h2 { "The plan says" } (fields(part, &worked, None)) } }
    };
    page(part.name, part.title, &desk, &body).into_response()
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
fn figures(outcome: &Outcome, desk: &Desk, slots: &[u16]) -> Markup {
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
                        td { @if let Some(s) = outcome.spreads[*slot as usize] { (show::range(s.low, s.high, &key.unit, style)) } }
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
        section {
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
    let turn = |m: &crate::checks::mend::Move| {
        let unit = ALL[m.knob.slot as usize].unit;
        let shown = |value| show::quantity(unit.scale.to_si(value), &unit, outcome.brief.style);
        format!("{} to {} (now {})", m.knob.path, shown(m.to), shown(m.from))
    };
    mend.moves.iter().map(turn).collect::<Vec<_>>().join(" and ")
}

fn measure_next(outcome: &Outcome) -> Markup {
    let worth = next::next(&outcome.brief, id::RAW_FIBRE.slot, SEED);
    html! {
        section {
            h2 { "What to measure next" }
            @if worth.is_empty() { p { "Nothing that a sample could tell is in doubt." } }
            ol.next { @for one in worth.iter().take(3) {
                li { b { (one.sample.name) } " takes " (format!("{:.0}", 100.0 * (1.0 - one.left))) " % of the doubt about the fibre away in "
                    (show::natural(one.sample.minutes * 60.0, Kind::Duration, outcome.brief.style)) ". " (one.sample.words) }
            } }
        }
    }
}

/// A drawing of the plan, with its files; a plan that has none says why in a line.
fn picture(outcome: &Outcome, name: &str) -> Markup {
    let Ok(drawing) = of_plan::find(name) else { return html! {} };
    match of_plan::sheets(outcome, name) {
        Ok(sheets) => html! {
            figure {
                figcaption { b { (drawing.title) } " " (drawing.says) " "
                    @for format in drawing.formats { a href={ "/drawing/" (name) "." (format.ending()) } { (format.ending()) } " " } }
                @for sheet in &sheets { (shown(sheet, drawing, sheets.len() == 1)) }
            }
        },
        Err(why) => html! { p.none { (drawing.title) ": " (why) } },
    }
}

/// Longest drawing that is written into a page, in bytes; one of thousands of threads is sent as a picture.
const LONGEST_INLINE: usize = 600_000;

fn shown(sheet: &crate::draw::sheet::Sheet, drawing: &of_plan::Drawing, alone: bool) -> Markup {
    let inline = svg::inline(sheet);
    if alone && inline.len() > LONGEST_INLINE && drawing.formats.contains(&of_plan::Format::Png) {
        return html! { img src={ "/drawing/" (drawing.name) ".png?which=" (drawing.name) ".png" } alt=(drawing.says) loading="lazy"; };
    }
    PreEscaped(inline)
}

/// A form a key: what the plan says, as it was typed.
fn fields(part: &Part, worked: &Worked, fault: Option<(&str, &str, &str)>) -> Markup {
    let mine = |key: &&Key| !key.path.contains("[]") && part.keys.iter().any(|start| key.path.starts_with(start));
    let said = |key: &Key| worked.plan.as_ref().and_then(|plan| plan.typed(key.path)).map(str::to_string);
    let (stated, open): (Vec<&Key>, Vec<&Key>) = TABLE
        .keys
        .iter()
        .filter(mine)
        .partition(|key| said(key).is_some() || fault.is_some_and(|(path, _, _)| path == key.path));
    html! {
        @for key in &stated { (field(key, said(key), fault, part)) }
        @if !open.is_empty() { details { summary { "Left open (" (open.len()) ")" } @for key in &open { (field(key, None, fault, part)) } } }
    }
}

fn field(key: &Key, said: Option<String>, fault: Option<(&str, &str, &str)>, part: &Part) -> Markup {
    let wrong = fault.filter(|(path, _, _)| *path == key.path);
    let value = wrong.map(|(_, typed, _)| typed.to_string()).or(said);
    let name = format!("f-{}", key.path.replace('.', "-"));
    let words = key.takes.words();
    html! {
        form.field method="post" action="/edit" {
            input type="hidden" name="key" value=(key.path);
            input type="hidden" name="part" value=(part.name);
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

/// One change of one key.
#[derive(Deserialize)]
pub struct Change {
    key: String,
    value: String,
    part: String,
}

/// Sets or takes out a key.
pub async fn edit(State(shared): Desks, Form(change): Form<Change>) -> Response {
    let Some(part) = parts::find(&change.part) else { return lost() };
    let typed = change.value.trim();
    let value = (!typed.is_empty()).then_some(typed);
    let said = match value {
        Some(value) => format!("{} is {value} now.", change.key),
        None => format!("{} is left open now.", change.key),
    };
    match shared.change(&[(&change.key, value)], said) {
        Ok(()) => Redirect::to(&format!("/part/{}", part.name)).into_response(),
        Err(why) => {
            let desk = shared.desk();
            let worked = Arc::clone(&desk.worked);
            let body = html! { @if !TABLE.keys.iter().any(|key| key.path == change.key) { p.wrong role="alert" { (why) } } section { h2 { "The plan says" } (fields(part, &worked, Some((&change.key, typed, &why)))) } };
            (StatusCode::UNPROCESSABLE_ENTITY, page(part.name, part.title, &desk, &body)).into_response()
        }
    }
}

/// A mend by its check and place.
#[derive(Deserialize)]
pub struct Chosen {
    code: String,
    number: usize,
}

/// Applies a mend.
pub async fn mend(State(shared): Desks, headers: HeaderMap, Form(chosen): Form<Chosen>) -> Response {
    let found = {
        let desk = shared.desk();
        let Ok(outcome) = &desk.worked.outcome else { return Redirect::to("/").into_response() };
        let mend = outcome.verdicts.iter().find(|v| v.code == chosen.code).and_then(|v| v.mends.get(chosen.number));
        mend.map(|mend| {
            let typed = |m: &crate::checks::mend::Move| {
                let key = &ALL[m.knob.slot as usize];
                let plan = desk.worked.plan.as_ref();
                plan.map_or(String::new(), |plan| plan.phrase(m.knob.path, key.kind, key.unit.scale.to_si(m.to)))
            };
            mend.moves.iter().map(|m| (m.knob.path, typed(m))).collect::<Vec<_>>()
        })
    };
    if let Some(moves) = found {
        let changes: Vec<(&str, Option<&str>)> =
            moves.iter().map(|(path, typed)| (*path, Some(typed.as_str()))).collect();
        let said = format!(
            "Mended: {}.",
            moves.iter().map(|(path, typed)| format!("{path} is {typed}")).collect::<Vec<_>>().join(", ")
        );
        if let Err(why) = shared.change(&changes, said) {
            shared.desk().said = Some(why);
        }
    }
    back(&headers)
}

/// One step back.
pub async fn undo(State(shared): Desks, headers: HeaderMap) -> Response {
    if let Err(why) = shared.step(false) {
        shared.desk().said = Some(why);
    }
    back(&headers)
}

/// One step forth again.
pub async fn redo(State(shared): Desks, headers: HeaderMap) -> Response {
    if let Err(why) = shared.step(true) {
        shared.desk().said = Some(why);
    }
    back(&headers)
}

/// To the page the form was on, by its path alone.
fn back(headers: &HeaderMap) -> Response {
    let from = headers.get(header::REFERER).and_then(|from| from.to_str().ok()).unwrap_or("");
    let path = from
        .splitn(4, '/')
        .nth(3)
        .map_or("/".to_string(), |path| format!("/{}", path.split(['?', '#']).next().unwrap_or("")));
    Redirect::to(if path.starts_with("//") { "/" } else { &path }).into_response()
}

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
    let read = |arg: &crate::formulas::registry::ArgInfo| -> Result<f64, String> {
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

/// Which file of a drawing that is several.
#[derive(Deserialize)]
pub struct Which {
    which: Option<String>,
}

/// A drawing as a file; one that is several files is a page of them.
pub async fn drawing(State(shared): Desks, Path(file): Path<String>, Query(asked): Query<Which>) -> Response {
    let named = file.rsplit_once('.').and_then(|(name, ending)| Some((name, of_plan::Format::of_ending(ending)?)));
    let Some((name, format)) = named else { return lost() };
    let Ok(drawing) = of_plan::find(name) else { return lost() };
    let worked = Arc::clone(&shared.desk().worked);
    let Ok(outcome) = &worked.outcome else { return lost() };
    let files = match of_plan::export(outcome, name, format, &of_plan::Options::default()) {
        Ok(files) => files,
        // the plan as it is has no such file; the words say what would make one
        Err(why) => return (StatusCode::CONFLICT, why).into_response(),
    };
    let chosen = match &asked.which {
        Some(which) => files.iter().find(|one| one.file_name == *which),
        None => files.first().filter(|_| files.len() == 1),
    };
    match chosen {
        Some(one) => {
            let kind = match format {
                of_plan::Format::Svg => "image/svg+xml",
                of_plan::Format::Pdf => "application/pdf",
                of_plan::Format::Png => "image/png",
                _ => "application/octet-stream",
            };
            let attached = format!("attachment; filename=\"{}\"", one.file_name);
            ([(header::CONTENT_TYPE, kind.to_string()), (header::CONTENT_DISPOSITION, attached)], one.bytes.clone())
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

/// There is no such page.
pub async fn nowhere() -> Response {
    lost()
}

/// The answer where there is no such page.
pub fn lost() -> Response {
    (StatusCode::NOT_FOUND, "There is no such page. The workbench begins at /.\n").into_response()
}
