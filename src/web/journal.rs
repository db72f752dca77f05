//! The log on a page: what was weighed, counted and woven, how to add and correct it, and what it teaches the plan.

use super::ahead;
use super::change::back;
use super::doors::secret;
use super::layout::{lost, page};
use super::pictures::picture;
use super::state::{Shared, Worked};
use crate::chain::keys::ALL;
use crate::draw::pdf;
use crate::draw::title::Paper;
use crate::log::kinds::{self, Field, Form as Written, Kind};
use crate::log::{Draft, Entry, Moment, Trouble, card};
use crate::units::show;
use axum::Form;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Fields of a form that are no fields of an entry.
const MARK: &str = "form.mark";
const DAY: &str = "form.happened";
/// Page of the bench the form stood on.
const BACK: &str = "form.back";

#[expect(clippy::disallowed_methods, reason = "an entry is kept with its time")]
pub fn now() -> Moment {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Moment::from_millis(since.map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(i64::MAX)))
}

fn entries(shared: &Shared) -> Vec<Entry> {
    shared.log_to_read().and_then(|log| log.list().ok()).unwrap_or_default()
}

/// The answer where the log cannot do what was asked.
pub fn refused(trouble: &Trouble) -> Response {
    (StatusCode::SERVICE_UNAVAILABLE, format!("{trouble}\n")).into_response()
}

/// The screen.
pub async fn index(State(shared): Desks) -> Markup {
    let entries = entries(&shared);
    let desk = shared.desk();
    let worked = Arc::clone(&desk.worked);
    let body = html! {
        p.lead { "Weigh, count, measure, write it down: the plan learns from each entry. Nothing is ever erased; a correction stands beside what it corrects." }
        section {
            h2 { "Write down" }
            ul.kinds { @for kind in kinds::KINDS { li { a href={ "/log/add/" (kind.name) } { (kind.words) } } } }
        }
        (ahead::odd(&worked))
        (ahead::forecasts(&worked))
        (lessons(&worked, desk.with_log))
        @if let Ok(outcome) = &worked.outcome {
            @if outcome.ahead.as_ref().is_some_and(|ahead| ahead.evenness.is_some()) {
                (ahead::evenness(&worked))
                (picture(&worked, outcome, "bobbins"))
                (picture(&worked, outcome, "stripes"))
            }
        }
        section {
            h2 { "Written down so far" }
            @if entries.is_empty() { p.none { "Nothing yet." } } @else { (list(&entries)) }
            form method="post" action="/log/undo" { button type="submit" disabled[entries.is_empty()] { "Take the last one back" } }
        }
        section {
            h2 { "To other programs and paper" }
            @if !entries.is_empty() { p { a href="/log.csv" download { "All entries as CSV" } } }
            @if entries.iter().any(|entry| card::card(entry).is_some()) { p { a href="/cards.pdf" download { "Sample cards to print" } } }
            form.calculator method="post" action="/log/import" {
                label for="csv" { "Entries from a CSV file, pasted whole. Those that are known already are left." }
                textarea id="csv" name="csv" rows="4" {}
                button type="submit" { "Read them in" }
            }
        }
    };
    page("log", "Log", &desk, &body)
}

/// What the log teaches, and whether the plan rests on it.
fn lessons(worked: &Worked, with_log: bool) -> Markup {
    let Ok(outcome) = &worked.outcome else { return html! {} };
    let style = outcome.brief.style;
    let learned = outcome.ahead.as_ref().map(|ahead| &ahead.learned);
    let lessons = learned.map_or(&[][..], |learned| &learned.lessons);
    let findings = learned.map_or(&[][..], |learned| &learned.findings);
    html! {
        section {
            h2 { "What it teaches the plan" }
            @if lessons.is_empty() {
                p.none { "Nothing yet: weigh and count a washed skein first." }
            } @else {
                div.sheet tabindex="0" role="group" aria-label="Lessons" { table.figures {
                    thead { tr { th scope="col" { "What" } th scope="col" { "Measured" } th scope="col" { "8 in 10" } th scope="col" { "How sure" } } }
                    tbody {
                        @for lesson in lessons {
                            @let key = &ALL[lesson.measured.slot as usize];
                            tr {
                                th scope="row" { a href={ "/explain/" (key.name) } { (key.says.trim_end_matches('.')) } }
                                td { (show::quantity(lesson.measured.middle, &key.unit, style)) }
                                td { (show::range(lesson.measured.low, lesson.measured.high, &key.unit, style)) }
                                td.words { (lesson.words) }
                            }
                        }
                        @for found in findings { tr {
                            th scope="row" { (found.says.trim_end_matches('.')) }
                            td { (show::quantity(found.middle, &found.unit, style)) }
                            td { (show::range(found.low, found.high, &found.unit, style)) }
                            td.words { (found.words) }
                        } }
                    }
                } }
                form method="post" action="/log/use" {
                    input type="hidden" name="with_log" value=(!with_log);
                    button type="submit" { @if with_log { "Leave this aside and plan with what was assumed" } @else { "Plan with what was measured" } }
                }
            }
        }
    }
}

fn list(entries: &[Entry]) -> Markup {
    let words = |name: &str| kinds::field_named(name).map_or(name.to_string(), |field| field.words.to_string());
    html! {
        div.sheet tabindex="0" role="group" aria-label="Entries" { table.figures {
            thead { tr { th scope="col" { "Day" } th scope="col" { "What" } th scope="col" { "Values" } th scope="col" { "" } } }
            tbody { @for entry in entries.iter().rev() {
                tr {
                    td { (entry.happened.to_string().chars().take(10).collect::<String>()) }
                    th scope="row" { (kinds::kind(&entry.kind).map_or(entry.kind.as_str(), |kind| kind.words)) @if entry.corrected_by.is_some() { span.how { " corrected" } } }
                    td.words { @for (at, (name, values)) in entry.figures.iter().enumerate() { @if at > 0 { "; " } (words(name)) " " b { (values.iter().map(|v| v.typed.as_str()).collect::<Vec<_>>().join(", ")) } } }
                    td { a href={ "/log/fix/" (entry.id) } aria-label={ "Correct entry " (entry.id) } { "Correct" } }
                }
            } }
        } }
    }
}

/// What stands in a form: texts by field, and what is wrong with each.
#[derive(Default)]
pub struct Filled {
    pub values: BTreeMap<String, String>,
    pub wrong: Vec<(Option<String>, String)>,
}

/// The fields of a kind, filled.
pub fn inputs(kind: &Kind, filled: &Filled, only: Option<&[&str]>) -> Markup {
    let shown = kind.fields().filter(|name| only.is_none_or(|only| only.contains(name)));
    html! {
        @for (field, why) in filled.wrong.iter().filter(|(field, _)| field.as_deref().is_none_or(|name| kind.fields().all(|f| f != name))) {
            p.wrong role="alert" { @if let Some(field) = field { (field) ": " } (why) }
        }
        @for name in shown {
            @if let Some(field) = kinds::field_named(name) { (input(field, kind.needs.contains(&name), filled)) }
        }
    }
}

fn input(field: &Field, needed: bool, filled: &Filled) -> Markup {
    let value = filled.values.get(field.name).map_or("", String::as_str);
    let wrong = filled.wrong.iter().find(|(name, _)| name.as_deref() == Some(field.name));
    let hint = match field.form {
        Written::Quantity(kind) if field.many => format!("{}, several parted by ;", kind.words()),
        Written::Quantity(kind) => kind.words().to_string(),
        _ => String::new(),
    };
    html! {
        div.field {
            label for={ "l-" (field.name) } { (field.words) @if needed { span.how { " needed" } } }
            @if let Written::OneOf(words) = field.form {
                select id={ "l-" (field.name) } name=(field.name) {
                    option value="" { "" }
                    @for word in words { option value=(word) selected[value == *word] { (word) } }
                }
            } @else {
                input id={ "l-" (field.name) } name=(field.name) value=(value) autocomplete="off" placeholder=(hint);
            }
            @if let Some((_, why)) = wrong { p.wrong role="alert" { (why) } }
        }
    }
}

/// A form for a new entry.
pub async fn form(State(shared): Desks, Path(name): Path<String>) -> Response {
    match kinds::kind(&name) {
        Some(kind) => add_page(&shared, kind, &Filled::default()).into_response(),
        None => lost(),
    }
}

fn add_page(shared: &Shared, kind: &'static Kind, filled: &Filled) -> Markup {
    let desk = shared.desk();
    let body = html! {
        form.entry method="post" action={ "/log/add/" (kind.name) } {
            input type="hidden" name=(MARK) value=(secret());
            (inputs(kind, filled, None))
            (day(filled.values.get(DAY).map_or("", String::as_str)))
            button.go type="submit" { "Write it down" }
        }
        p { a href="/log" { "Back to the log" } }
    };
    page("log", &capital(kind.words), &desk, &body)
}

fn day(value: &str) -> Markup {
    html! { div.field {
        label for="l-day" { "when" }
        input id="l-day" name=(DAY) value=(value) placeholder="now, or 2031-04-02, or 2031-04-02 14:30" autocomplete="off";
    } }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// The entry of a filled form, and what is wrong with its time.
fn draft(kind: &Kind, typed: &BTreeMap<String, String>) -> Result<Draft, Filled> {
    let mut draft = Draft::new(kind.name);
    for name in kind.fields() {
        if let Some(text) = typed.get(name).map(|text| text.trim()).filter(|text| !text.is_empty()) {
            draft = draft.with(name, text);
        }
    }
    if let Some(text) = typed.get(DAY).map(|text| text.trim()).filter(|text| !text.is_empty()) {
        match Moment::read(text) {
            Some(moment) => draft = draft.at(moment),
            None => {
                let why = format!("`{text}` is no day: write it like 2031-04-02.");
                return Err(Filled { values: typed.clone(), wrong: vec![(None, why)] });
            }
        }
    }
    if let Some(mark) = typed.get(MARK).filter(|mark| !mark.is_empty()) {
        draft = draft.marked(mark);
    }
    Ok(draft)
}

/// The faults of an entry as a form shows them; other troubles are not the form's.
fn faulty(trouble: Trouble, typed: &BTreeMap<String, String>) -> Result<Filled, Trouble> {
    match trouble {
        Trouble::Entry(faults) => {
            let words = |fault: &crate::log::Fault| {
                let near = fault.near.as_ref().map_or(String::new(), |near| format!(" Did you mean `{near}`?"));
                (fault.field.clone(), format!("{}.{near}", fault.message.trim_end_matches('.')))
            };
            Ok(Filled { values: typed.clone(), wrong: faults.iter().map(words).collect() })
        }
        other => Err(other),
    }
}

/// Writes a filled form into the log. The answer is the entry's number, or the form again.
pub fn write(shared: &Shared, kind: &Kind, typed: &BTreeMap<String, String>) -> Result<Result<i64, Filled>, Trouble> {
    let draft = match draft(kind, typed) {
        Ok(draft) => draft,
        Err(filled) => return Ok(Err(filled)),
    };
    match shared.log().and_then(|mut log| log.add(&draft, now())) {
        Ok(number) => {
            shared.ring();
            Ok(Ok(number))
        }
        Err(trouble) => Ok(Err(faulty(trouble, typed)?)),
    }
}

/// A new entry.
pub async fn add(
    State(shared): Desks,
    Path(name): Path<String>,
    Form(typed): Form<BTreeMap<String, String>>,
) -> Response {
    let Some(kind) = kinds::kind(&name) else { return lost() };
    match write(&shared, kind, &typed) {
        Ok(Ok(number)) => {
            let mut desk = shared.desk();
            let brought = ahead::brought_up(&desk.worked, kind.name);
            desk.say(format!("Entry {number} is written down: {}. {brought}", kind.words).trim_end());
            let bench = typed.get(BACK).filter(|path| path.starts_with("/bench/"));
            Redirect::to(bench.map_or("/log", String::as_str)).into_response()
        }
        Ok(Err(filled)) => (StatusCode::UNPROCESSABLE_ENTITY, add_page(&shared, kind, &filled)).into_response(),
        Err(trouble) => refused(&trouble),
    }
}

/// A form with an entry as it stands.
pub async fn fixing(State(shared): Desks, Path(number): Path<i64>) -> Response {
    let Some(entry) = entries(&shared).into_iter().find(|entry| entry.id == number) else { return lost() };
    let Some(kind) = kinds::kind(&entry.kind) else { return lost() };
    let joined = |(name, values): &(String, Vec<crate::log::Figure>)| {
        (name.clone(), values.iter().map(|v| v.typed.as_str()).collect::<Vec<_>>().join("; "))
    };
    let filled = Filled { values: entry.figures.iter().map(joined).collect(), wrong: Vec::new() };
    fix_page(&shared, kind, number, &filled).into_response()
}

fn fix_page(shared: &Shared, kind: &'static Kind, number: i64, filled: &Filled) -> Markup {
    let desk = shared.desk();
    let body = html! {
        form.entry method="post" action={ "/log/fix/" (number) } {
            (inputs(kind, filled, None))
            button.go type="submit" { "Correct it" }
        }
        form method="post" action="/log/undo" {
            input type="hidden" name="number" value=(number);
            button type="submit" { "Take this entry back" }
        }
        p { a href="/log" { "Back to the log" } }
    };
    page("log", &format!("Correct: {}", kind.words), &desk, &body)
}

/// A correction.
pub async fn fix(
    State(shared): Desks,
    Path(number): Path<i64>,
    Form(typed): Form<BTreeMap<String, String>>,
) -> Response {
    let Some(entry) = entries(&shared).into_iter().find(|entry| entry.id == number) else { return lost() };
    let Some(kind) = kinds::kind(&entry.kind) else { return lost() };
    let changes: Vec<(String, String)> = kind
        .fields()
        .filter_map(|name| Some((name.to_string(), typed.get(name)?.trim().to_string())))
        .filter(|(name, text)| entry.typed(name).is_some() || !text.is_empty())
        .collect();
    match shared.log().and_then(|mut log| log.fix(number, &changes, None, now())) {
        Ok(_) => {
            shared.ring();
            shared.desk().say(format!("Entry {number} is corrected; what it said before is kept."));
            Redirect::to("/log").into_response()
        }
        Err(trouble) => match faulty(trouble, &typed) {
            Ok(filled) => (StatusCode::UNPROCESSABLE_ENTITY, fix_page(&shared, kind, number, &filled)).into_response(),
            Err(trouble) => refused(&trouble),
        },
    }
}

/// Which entry to take back; the last one where none is named.
#[derive(Deserialize)]
pub struct Taken {
    number: Option<i64>,
}

/// Takes an entry back.
pub async fn undo(State(shared): Desks, Form(taken): Form<Taken>) -> Response {
    match shared.log().and_then(|mut log| log.undo(taken.number, now())) {
        Ok(number) => {
            shared.ring();
            shared.desk().say(format!("Entry {number} is taken back."));
            Redirect::to("/log").into_response()
        }
        Err(trouble) => {
            shared.desk().say(trouble.to_string());
            Redirect::to("/log").into_response()
        }
    }
}

/// Whether to rest on the log.
#[derive(Deserialize)]
pub struct Use {
    with_log: bool,
}

/// Rests the plan on the log, or leaves the log aside.
pub async fn use_log(State(shared): Desks, headers: HeaderMap, Form(wish): Form<Use>) -> Response {
    shared.use_log(wish.with_log);
    back(&headers)
}

/// The text of a CSV.
#[derive(Deserialize)]
pub struct Pasted {
    csv: String,
}

/// Entries from a CSV.
pub async fn import(State(shared): Desks, Form(pasted): Form<Pasted>) -> Response {
    let said = match shared.log().and_then(|mut log| log.import_csv(&pasted.csv, now())) {
        Ok(imported) => {
            shared.ring();
            format!("{} entries are new, {} were known.", imported.added, imported.known)
        }
        Err(trouble) => trouble.to_string(),
    };
    shared.desk().say(said);
    Redirect::to("/log").into_response()
}

/// All entries as CSV.
pub async fn export(State(shared): Desks) -> Response {
    let Some(log) = shared.log_to_read() else { return lost() };
    match log.export_csv() {
        Ok(text) => attached("text/csv; charset=utf-8", "log.csv", text.into_bytes()),
        Err(trouble) => refused(&trouble),
    }
}

/// Sample cards as a PDF.
pub async fn cards(State(shared): Desks) -> Response {
    let cards: Vec<card::Card> = entries(&shared).iter().filter_map(card::card).collect();
    if cards.is_empty() {
        let words = "No entry makes a card yet: skeins, bobbins and swatches do.\n";
        return (StatusCode::CONFLICT, words).into_response();
    }
    match pdf::pages(&card::pages(&cards, Paper::A4)) {
        Ok(bytes) => attached("application/pdf", "cards.pdf", bytes),
        Err(fault) => (StatusCode::CONFLICT, fault.to_string()).into_response(),
    }
}

fn attached(kind: &str, name: &str, bytes: Vec<u8>) -> Response {
    let name = format!("attachment; filename=\"{name}\"");
    ([(header::CONTENT_TYPE, kind.to_string()), (header::CONTENT_DISPOSITION, name)], bytes).into_response()
}
