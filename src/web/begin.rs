//! A new plan from a few questions, one at a time; what was answered travels along in the form, so that nothing is kept before the plan is
//! written.

use super::layout::bare;
use super::state::Shared;
use crate::disk;
use crate::plan::new::{Answers, QUESTIONS, Question, words, write};
use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// Field of the question that is answered now, of the answer, and of the step back.
const ASKED: &str = "asked";
const TYPED: &str = "typed";
const BACK: &str = "back";
/// What stands before the keys of the answers so far, those left open among them.
const SO_FAR: &str = "so-far.";

/// The first question.
pub async fn ask(State(shared): Desks) -> Response {
    if shared.path().is_some() {
        return Redirect::to("/").into_response();
    }
    question(&Vec::new(), None).into_response()
}

/// Questions answered so far in their order; an empty text left one open.
type SoFar = Vec<(&'static Question, String)>;

fn find(path: &str) -> Option<&'static Question> {
    QUESTIONS.iter().find(|question| question.path == path)
}

fn answers(so_far: &SoFar) -> Answers {
    so_far.iter().filter(|(_, typed)| !typed.is_empty()).map(|(q, typed)| (q.path.to_string(), typed.clone())).collect()
}

/// The next question that matters.
fn next(so_far: &SoFar) -> Option<&'static Question> {
    let answers = answers(so_far);
    QUESTIONS
        .iter()
        .find(|question| question.matters(&answers) && so_far.iter().all(|(had, _)| had.path != question.path))
}

/// Takes an answer and asks on, or writes the plan.
pub async fn answer(State(shared): Desks, Form(form): Form<BTreeMap<String, String>>) -> Response {
    if shared.path().is_some() {
        return Redirect::to("/").into_response();
    }
    let mut so_far: SoFar = Vec::new();
    for question in QUESTIONS {
        if let Some(typed) = form.get(&format!("{SO_FAR}{}", question.path)) {
            so_far.push((question, typed.trim().to_string()));
        }
    }
    if form.contains_key(BACK) {
        let last = so_far.pop();
        return question(&so_far, last.map(|(_, typed)| (typed, None))).into_response();
    }
    if let Some(asked) = form.get(ASKED).and_then(|path| find(path)) {
        let typed = form.get(TYPED).map_or("", |typed| typed.trim());
        let fault = if typed.is_empty() {
            (!asked.optional).then(|| "This one is needed before the plan can be worked out.".to_string())
        } else {
            asked.takes(typed).err().map(|fault| super::state::words(&fault))
        };
        if let Some(why) = fault {
            return (StatusCode::UNPROCESSABLE_ENTITY, question(&so_far, Some((typed.to_string(), Some(why)))))
                .into_response();
        }
        so_far.push((asked, typed.to_string()));
    }
    if next(&so_far).is_some() {
        return question(&so_far, None).into_response();
    }
    match written(&shared, &answers(&so_far)) {
        Ok(()) => Redirect::to("/").into_response(),
        Err(why) => {
            let body = html! { p.wrong role="alert" { (why) } };
            (StatusCode::UNPROCESSABLE_ENTITY, bare("The plan is not written", "A new plan", &html! {}, &body))
                .into_response()
        }
    }
}

/// Writes the plan beside what is there already, never over it, and takes it up.
fn written(shared: &Shared, answers: &Answers) -> Result<(), String> {
    let text = write(answers).map_err(|fault| super::state::words(&fault))?;
    let name = answers.get("title").map_or("garment", String::as_str);
    let stem: String =
        name.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(40).collect();
    let stem = stem.trim_matches('-');
    let stem = if stem.is_empty() { "garment" } else { stem };
    let names = std::iter::once(format!("{stem}.toml")).chain((2..1000).map(|at| format!("{stem}-{at}.toml")));
    let free = names.map(|name| shared.folder().join(name)).find(|path: &std::path::PathBuf| !Path::exists(path));
    let path = free.ok_or("There are too many plans of this name here already.")?;
    disk::replace(&path, text.as_bytes())?;
    shared.begin(&path)?;
    shared.desk().say(format!("{} is written. Everything in it may still be changed.", super::file_name(&path)));
    Ok(())
}

/// A page with one question. `typed` is what stands in the field, and what is wrong with it.
fn question(so_far: &SoFar, typed: Option<(String, Option<String>)>) -> Markup {
    let Some(question) = next(so_far) else { return html! {} };
    let (typed, wrong) = typed.unwrap_or_default();
    let choices = words(question);
    let key = question.key();
    // each question has a field of its own, so that nothing typed for one stands in the next
    let field = format!("typed-{}", question.path.replace('.', "-"));
    let body = html! {
        p.lead { "A few questions, then a first plan. What you do not know yet may stay open: the program decides it and says why." }
        form.question method="post" action="/new" {
            @for (had, typed) in so_far { input type="hidden" name={ (SO_FAR) (had.path) } value=(typed); }
            input type="hidden" name=(ASKED) value=(question.path);
            label for=(field) { (question.ask) }
            @if choices.is_empty() {
                input id=(field) name=(TYPED) value=(typed) autocomplete="off" autofocus aria-describedby="typed-says";
            } @else {
                select id=(field) name=(TYPED) autofocus aria-describedby="typed-says" {
                    @if question.optional { option value="" { "left open" } }
                    @for word in &choices { option value=(word) selected[typed == *word] { (word) } }
                }
            }
            p.says id="typed-says" { (key.doc) @if question.optional { " May be left open." } }
            @if let Some(why) = &wrong { p.wrong role="alert" { (why) } }
            div.moves {
                // first in the page, for the Enter key presses the first; the style sheet puts it on the right
                button.go type="submit" { "Go on" }
                button.back type="submit" name=(BACK) value="1" formnovalidate disabled[so_far.is_empty()] { "Back" }
            }
        }
        @if !so_far.is_empty() {
            h2 { "So far" }
            dl.sofar { @for (had, typed) in so_far { dt { (had.ask) } dd { @if typed.is_empty() { "left open" } @else { (typed) } } } }
        }
    };
    bare("What shall it become?", "A new plan", &html! { span.name { "A new plan" } }, &body)
}
