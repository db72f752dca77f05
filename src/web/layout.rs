//! The frame of every page: head, the row of screens, what was said last, the ways back; and the files a page is made with.

use super::state::Desk;
use crate::draw::of_plan::parts;
use crate::draw::style::{self, Face};
use crate::draw::text;
use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, Markup, html};

/// The stylesheet: the drawings' faces and roles, then the pages'.
pub async fn style() -> impl IntoResponse {
    let faces = style::font_css(|face| format!("/font/{}.ttf", word(face)));
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], faces + &style::page_css() + include_str!("style.css"))
}

/// The one module.
pub async fn script() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "text/javascript; charset=utf-8")], include_str!("workbench.js"))
}

fn word(face: Face) -> &'static str {
    match face {
        Face::Plain => "plain",
        Face::Bold => "bold",
        Face::Serif => "serif",
    }
}

/// A face of the letters.
pub async fn font(Path(name): Path<String>) -> Response {
    let Some(face) = Face::ALL.into_iter().find(|face| name.strip_suffix(".ttf") == Some(word(*face))) else {
        return lost();
    };
    // the faces are part of the program: they change with it alone
    let headers = [(header::CONTENT_TYPE, "font/ttf"), (header::CACHE_CONTROL, "max-age=86400")];
    (headers, text::face_bytes(face)).into_response()
}

/// A page. `here` is the word of its screen.
pub fn page(here: &str, title: &str, desk: &Desk, body: &Markup) -> Markup {
    let plan = match &desk.worked.outcome {
        Ok(outcome) => outcome.brief.title.as_str(),
        Err(_) => "The plan has faults",
    };
    let heading = html! {
        a.name href="/" { (plan) }
        nav aria-label="Screens" {
            (tab("/", "overview", "Overview", here))
            @for part in parts::ALL { (tab(&format!("/part/{}", part.name), part.name, part.title, here)) }
            (tab("/bench", "bench", "Bench", here))
            (tab("/log", "log", "Log", here))
            (tab("/formulas", "formulas", "Formulas", here))
        }
        div.ways {
            (way("/undo", "Undo", desk.back.is_empty()))
            (way("/redo", "Redo", desk.forth.is_empty()))
        }
    };
    let whole = html! {
        @if let Some(said) = desk.said() { p.said role="status" { (said) } }
        (body)
    };
    bare(title, plan, &heading, &whole)
}

/// A page without the row of screens.
pub fn bare(title: &str, plan: &str, heading: &Markup, body: &Markup) -> Markup {
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
                header { (heading) }
                main id="main" tabindex="-1" {
                    h1 { (title) }
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

/// There is no such page.
pub async fn nowhere() -> Response {
    lost()
}

/// The answer where there is no such page.
pub fn lost() -> Response {
    (StatusCode::NOT_FOUND, "There is no such page. The workbench begins at /.\n").into_response()
}
