//! Sample cards with blanks: what the log asks of a skein, a bobbin and a swatch, to fill in by hand at the bench.

use crate::log::kinds;
use crate::outlook::Outcome;
use maud::{Markup, html};

/// Kinds that are cards, how many of each on the pages, and what is kept with them.
static CARDS: &[(&str, usize, &str)] = &[
    ("skein", 2, "Wind a few turns here, one loose end to ply back on itself."),
    ("bobbin", 2, "Wind a few turns of this bobbin here."),
    ("swatch", 2, "Sew the swatch on here, the washed half beside the unwashed."),
    ("strip", 2, "Pin the printed strip here."),
];

/// The cards.
pub fn blank(_: &Outcome) -> Markup {
    let one = |kind: &kinds::Kind, keep: &str| {
        html! { div.card {
            h3 { (kind.words) }
            dl { @for name in kind.fields().filter(|name| *name != "note") { @if let Some(field) = kinds::field_named(name) { dt { (field.words) } dd {} } } }
            p.how { (keep) }
        } }
    };
    html! {
        p { "Cut apart along the lines. What is filled in here goes into the log afterwards." }
        div.cards { @for (name, copies, keep) in CARDS { @if let Some(kind) = kinds::kind(name) { @for _ in 0..*copies { (one(kind, keep)) } } } }
    }
}
