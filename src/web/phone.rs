//! A phone at the bench: the code to scan, the door it comes in by.

use super::doors::{COOKIE, Try};
use super::layout::{bare, page};
use super::state::Shared;
use axum::Form;
use axum::extract::{Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use qrcodegen::{QrCode, QrCodeEcc};
use serde::Deserialize;
use std::fmt::Write;
use std::sync::Arc;

type Desks = State<Arc<Shared>>;

/// The code, on this machine's own screen.
pub async fn invite(State(shared): Desks) -> Markup {
    let body = match shared.doors.invitation() {
        Some(address) => html! {
            p.lead { "Scan this with a phone on the same network. The code lets one device in, once, within ten minutes." }
            @if let Some(code) = code(&address) { figure.code { (PreEscaped(code)) } }
            p { "Or type: " code { (address) } }
            p { "What passes between the devices is not encrypted: do this only on a network whose users you trust." }
        },
        None => html! {
            p { "The workbench serves this machine alone now. To let a phone on the same network in, end it and start it with "
                code { "--lan" } ". It then shows a code here to scan." }
        },
    };
    page("phone", "A phone at the bench", &shared.desk(), &body)
}

/// A code as SVG, with the quiet rim it needs.
fn code(text: &str) -> Option<String> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let size = code.size();
    let mut path = String::new();
    for y in 0..size {
        for x in (0..size).filter(|x| code.get_module(*x, y)) {
            let _ = write!(path, "M{} {}h1v1h-1z", x + 4, y + 4);
        }
    }
    let side = size + 8;
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 {side} {side}\"><title>A code to scan</title>\
         <path fill=\"#fff\" d=\"M0 0h{side}v{side}h-{side}z\"/><path fill=\"#000\" d=\"{path}\"/></svg>"
    ))
}

/// A code for a terminal whose letters are light on dark: two rows of squares a line.
pub fn code_in_words(text: &str) -> String {
    let Ok(code) = QrCode::encode_text(text, QrCodeEcc::Low) else { return String::new() };
    let (size, rim) = (code.size(), 2);
    let dark = |x: i32, y: i32| code.get_module(x, y);
    let mut out = String::new();
    for y in (-rim..size + rim).step_by(2) {
        for x in -rim..size + rim {
            out.push(match (dark(x, y), dark(x, y + 1)) {
                (false, false) => '█',
                (false, true) => '▀',
                (true, false) => '▄',
                (true, true) => ' ',
            });
        }
        out.push('\n');
    }
    out
}

/// The word that was scanned.
#[derive(Deserialize)]
pub struct Word {
    word: Option<String>,
}

/// The door: a button, since looking at an address must not use the word up.
pub async fn door(Query(shown): Query<Word>) -> Markup {
    let body = html! {
        p.lead { "This device can count threads and picks, keep the log and show the sheets." }
        form method="post" action="/join" {
            input type="hidden" name="word" value=(shown.word.as_deref().unwrap_or(""));
            button.go type="submit" { "Join the bench" }
        }
    };
    bare("Join the bench", "Workbench", &html! { span.name { "Workbench" } }, &body)
}

/// Lets a device in.
pub async fn join(State(shared): Desks, Form(shown): Form<Word>) -> Response {
    let told = |status: StatusCode, words: &str| {
        let body = html! { p.wrong role="alert" { (words) } };
        (status, bare("Not joined", "Workbench", &html! { span.name { "Workbench" } }, &body)).into_response()
    };
    match shared.doors.try_word(shown.word.as_deref().unwrap_or("")) {
        Try::Welcome(cookie) => {
            let cookie = format!("{COOKIE}={cookie}; Path=/; HttpOnly; SameSite=Strict");
            (StatusCode::SEE_OTHER, [(header::SET_COOKIE, cookie), (header::LOCATION, "/bench".to_string())])
                .into_response()
        }
        Try::Wrong => told(
            StatusCode::FORBIDDEN,
            "This code was used already or is too old. The other screen shows a new one: scan that.",
        ),
        Try::Wait => told(StatusCode::TOO_MANY_REQUESTS, "Too many tries. Wait a minute, then scan again."),
    }
}
