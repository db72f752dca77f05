//! Changes of the plan: a field, a mend, a step back or forth. Each is a form that comes back to where it was sent from.

use super::layout::lost;
use super::screens::part_page;
use super::state::Shared;
use crate::chain::keys::ALL;
use crate::checks::mend::Move;
use crate::draw::of_plan::parts;
use axum::Form;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// One change of one key.
#[derive(Deserialize)]
pub struct Change {
    key: String,
    value: String,
    part: String,
    /// What the field showed when it was filled in.
    was: Option<String>,
}

/// Sets or takes out a key. A key that was changed elsewhere since the page was made is not written over unseen.
pub async fn edit(State(shared): Desks, Form(change): Form<Change>) -> Response {
    let Some(part) = parts::find(&change.part) else { return lost() };
    let typed = change.value.trim();
    let value = (!typed.is_empty()).then_some(typed);
    let said = match value {
        Some(value) => format!("{} is {value} now.", change.key),
        None => format!("{} is left open now.", change.key),
    };
    let stands = {
        let desk = shared.desk();
        desk.worked.plan.as_ref().map(|plan| plan.typed(&change.key).unwrap_or("").to_string())
    };
    let elsewhere = match (&change.was, stands) {
        (Some(was), Some(stands)) if *was != stands && stands != typed => {
            let stands = if stands.is_empty() { "left open".to_string() } else { format!("“{stands}”") };
            Some(format!("This was changed elsewhere meanwhile and is {stands} now. Set it again to have yours."))
        }
        _ => None,
    };
    let done = match elsewhere {
        Some(why) => Err((StatusCode::CONFLICT, why)),
        None => shared.change(&[(&change.key, value)], said).map_err(|why| (StatusCode::UNPROCESSABLE_ENTITY, why)),
    };
    match done {
        Ok(()) => Redirect::to(&format!("/part/{}", part.name)).into_response(),
        Err((status, why)) => {
            (status, part_page(&shared.desk(), part, Some((&change.key, typed, &why)))).into_response()
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
            let typed = |m: &Move| {
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
            shared.desk().say(why);
        }
    }
    back(&headers)
}

/// One step back.
pub async fn undo(State(shared): Desks, headers: HeaderMap) -> Response {
    stepped(&shared, &headers, false)
}

/// One step forth again.
pub async fn redo(State(shared): Desks, headers: HeaderMap) -> Response {
    stepped(&shared, &headers, true)
}

fn stepped(shared: &Shared, headers: &HeaderMap, forth: bool) -> Response {
    if let Err(why) = shared.step(forth) {
        shared.desk().say(why);
    }
    back(headers)
}

/// To the page the form was on, by its path alone.
pub fn back(headers: &HeaderMap) -> Response {
    let from = headers.get(header::REFERER).and_then(|from| from.to_str().ok()).unwrap_or("");
    let path = from
        .splitn(4, '/')
        .nth(3)
        .map_or("/".to_string(), |path| format!("/{}", path.split(['?', '#']).next().unwrap_or("")));
    // an answer to a form has no page of its own to go back to
    let path = if path.starts_with("//") || path == "/edit" { "/".to_string() } else { path };
    Redirect::to(&path).into_response()
}
