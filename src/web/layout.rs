//! The frame of every page: head, the row of screens, what was said last, the ways back.

use super::parts;
use super::state::Desk;
use crate::draw::style;
use axum::http::header;
use axum::response::IntoResponse;
use maud::{DOCTYPE, Markup, html};

/// The stylesheet: the drawings' own, then the pages'.
pub async fn style() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], style::page_css() + include_str!("style.css"))
}

/// The one module.
pub async fn script() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "text/javascript; charset=utf-8")], include_str!("workbench.js"))
}

/// A page. `here` is the word of its screen.
pub fn page(here: &str, title: &str, desk: &Desk, body: &Markup) -> Markup {
    let plan = match &desk.worked.outcome {
        Ok(outcome) => outcome.brief.title.as_str(),
        Err(_) => "The plan has faults",
    };
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · " (plan) }
                link rel="stylesheet" href="/style.css";
                link rel="icon" href="data:,";
                script type="module" src="/workbench.js" {}
            }
            body {
                a.skip href="#main" { "To the page" }
                header {
                    a.name href="/" { (plan) }
                    nav aria-label="Screens" {
                        (tab("/", "overview", "Overview", here))
                        @for part in parts::ALL { (tab(&format!("/part/{}", part.name), part.name, part.title, here)) }
                        (tab("/bench", "bench", "Bench", here))
                        (tab("/formulas", "formulas", "Formulas", here))
                    }
                    div.ways {
                        (way("/undo", "Undo", desk.back.is_empty()))
                        (way("/redo", "Redo", desk.forth.is_empty()))
                    }
                }
                main id="main" {
                    h1 { (title) }
                    @if let Some(said) = &desk.said { p.said role="status" { (said) } }
                    (body)
                }
                footer {
                    p { "Every number has its reason: follow it. Mains, motors, blades, dust, heat and tension can hurt: mind the cautions on the sheets, and local codes." }
                }
            }
        }
    }
}

fn tab(to: &str, name: &str, words: &str, here: &str) -> Markup {
    html! { @if name == here { a href=(to) aria-current="page" { (words) } } @else { a href=(to) { (words) } } }
}

fn way(to: &str, words: &str, shut: bool) -> Markup {
    html! { form method="post" action=(to) { button type="submit" disabled[shut] { (words) } } }
}
